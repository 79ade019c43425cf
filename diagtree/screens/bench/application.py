"""Runs the bench in a terminal, with the advice that is weighed beside it."""

from __future__ import annotations

import asyncio
import time
from contextlib import suppress
from functools import partial

from prompt_toolkit.application import Application
from prompt_toolkit.input import Input
from prompt_toolkit.output import ColorDepth, Output

from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.model.workshop import Workshop
from diagtree.screens.bench.advice import Advice, Adviser, Beside
from diagtree.screens.bench.bench import Bench, BenchResult
from diagtree.screens.bench.full_screen import fail, full_screen, run
from diagtree.screens.bench.guard import Clock
from diagtree.screens.bench.papers import Papers

REST = 0.3
"""Seconds without a key after which advice is weighed."""


def make_application(
    bench: Bench,
    clock: Clock,
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    color_depth: ColorDepth | None = None,
    adviser: Adviser | None = None,
) -> Application[BenchResult]:
    """Make the full-screen application around a bench; `run_bench` runs it.

    Parameters
    ----------
    bench
        What is shown and takes the keys.
    clock
        Seconds that only go forward.
    input, output
        Of prompt-toolkit; the terminal if None.
    color_depth
        How many colours; None asks the environment (``NO_COLOR``) and the terminal.
    adviser
        Weighs the case beside the screen after each answer; None does without advice.
    """
    application: Application[BenchResult]

    def advised(advice: Advice | BaseException) -> None:
        # In the thread of the adviser: only the loop may touch the screen.
        if application.loop is not None:
            with suppress(RuntimeError):  # the loop has been closed meanwhile
                application.loop.call_soon_threadsafe(shown, advice)

    def shown(advice: Advice | BaseException) -> None:
        if isinstance(advice, BaseException):
            fail(application, advice)
            return
        bench.take_advice(advice)
        application.invalidate()

    beside = Beside(adviser, advised) if adviser is not None else None

    def pressed() -> None:
        if bench.result is not None and not application.is_done:
            if beside is not None:
                beside.close()
            application.exit(result=bench.result)

    waiting: list[asyncio.TimerHandle] = []

    def drawn(_: Application[BenchResult]) -> None:
        if bench.page.due and not application.is_done:
            # It has just been drawn that this takes a moment.
            try:
                bench.page.settle()
            except Exception as error:
                fail(application, error)
            application.invalidate()
        # The thread would slow the keys down, so it begins when they have rested for a moment.
        while waiting:
            waiting.pop().cancel()
        if beside is not None and application.loop is not None and not application.is_done:
            want = partial(beside.want, bench.walker.case)
            waiting.append(application.loop.call_later(REST, want))

    application = full_screen(bench, clock, pressed, input=input, output=output, color_depth=color_depth)
    application.after_render += drawn
    return application


def run_bench(
    walker: Walker,
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    clock: Clock = time.monotonic,
    workshop: Workshop | None = None,
    papers: Papers | None = None,
    color_depth: ColorDepth | None = None,
) -> BenchResult:
    """Put a case on the full screen until it is left.

    Each answer is in the case before the screen changes, so nothing is lost however the bench is left.

    Parameters
    ----------
    walker
        The case.
    input, output
        Of prompt-toolkit; the terminal if None.
    clock
        Seconds that only go forward.
    workshop
        Rates, tax and wrenches for the work at the end; the defaults if None.
    papers
        Writes the papers at the end; None offers none.
    color_depth
        How many colours; None asks the environment and the terminal.

    Returns
    -------
    BenchResult
        How it was left, with the exit status for the program: 130 after Ctrl-C, 128 and the signal's number
        after TERM and HUP.
    """
    bench = Bench(walker, clock=clock, workshop=workshop, papers=papers)
    application = make_application(
        bench,
        clock,
        input=input,
        output=output,
        color_depth=color_depth,
        adviser=Adviser(walker.library, bench.workshop),
    )

    def by_signal(number: int) -> BenchResult:
        _keep(bench)
        return BenchResult("signal", 128 + number)

    result = run(application, by_signal)
    if result is None and bench.result is None:
        _keep(bench)
    return result or bench.result or BenchResult("closed", 3)


def _keep(bench: Bench) -> None:
    """Keep what stands on the pages only; where the disk is full, there is nobody left to be told."""
    with suppress(ExpectedError):
        bench.keep()
