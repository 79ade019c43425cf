"""Runs the bench in a terminal: full screen, signals caught, the terminal always given back."""

from __future__ import annotations

import asyncio
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial

from prompt_toolkit.application import Application
from prompt_toolkit.input import Input
from prompt_toolkit.layout import Layout, Window
from prompt_toolkit.output import ColorDepth, Output

from diagtree.case.walker import Walker
from diagtree.model.workshop import Workshop
from diagtree.screens.bench.advice import Advice, Adviser, Beside
from diagtree.screens.bench.bench import Bench, BenchResult
from diagtree.screens.bench.control import BenchControl
from diagtree.screens.bench.glyphs import glyphs_for
from diagtree.screens.bench.guard import Clock
from diagtree.screens.bench.keys import bindings
from diagtree.screens.bench.look import OWN, style_for
from diagtree.screens.bench.papers import Papers

ESCAPE_AFTER = 0.2
"""Seconds after which an Esc is a key of its own and not the start of an arrow key."""

REST = 0.3
"""Seconds without a key after which advice is weighed."""

SIGNALS = ("SIGTERM", "SIGHUP")


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

    def failed(error: BaseException) -> None:
        if not application.is_done:
            application.exit(exception=error)

    def advised(advice: Advice | BaseException) -> None:
        # In the thread of the adviser: only the loop may touch the screen.
        if application.loop is not None:
            with suppress(RuntimeError):  # the loop has been closed meanwhile
                application.loop.call_soon_threadsafe(shown, advice)

    def shown(advice: Advice | BaseException) -> None:
        if isinstance(advice, BaseException):
            failed(advice)
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
                failed(error)
            application.invalidate()
        # The thread would slow the keys down, so it begins when they have rested for a moment.
        while waiting:
            waiting.pop().cancel()
        if beside is not None and application.loop is not None and not application.is_done:
            want = partial(beside.want, bench.walker.case)
            waiting.append(application.loop.call_later(REST, want))

    if output is None:
        from prompt_toolkit.application.current import get_app_session

        output = get_app_session().output
    depth = color_depth or ColorDepth.from_env() or output.get_default_color_depth()
    control = BenchControl(bench, glyphs_for(output.encoding()), failed)
    application = Application(
        layout=Layout(Window(control, style=f"class:{OWN}paper", always_hide_cursor=False)),
        style=style_for(depth),
        color_depth=depth,
        key_bindings=bindings(bench, clock, pressed, failed),
        full_screen=True,
        mouse_support=False,
        include_default_pygments_style=False,
        erase_when_done=True,
        input=input,
        output=output,
    )
    application.after_render += drawn
    application.ttimeoutlen = ESCAPE_AFTER
    application.timeoutlen = ESCAPE_AFTER
    return application


def run_bench(
    walker: Walker,
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    clock: Callable[[], float] = time.monotonic,
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

    async def run() -> BenchResult:
        with _caught(application):
            return await application.run_async(set_exception_handler=False)

    try:
        return asyncio.run(run())
    except EOFError:
        return BenchResult("closed", 3)
    except OSError:
        # The terminal went away while the screen was being given back; the case is on disk.
        return bench.result or BenchResult("closed", 3)


@contextmanager
def _caught(application: Application[BenchResult]) -> Iterator[None]:
    """Leave in good order on TERM and HUP; in a thread, where that cannot be asked for, do without."""
    loop = asyncio.get_running_loop()
    caught: list[int] = []

    def leave(number: int) -> None:
        if not application.is_done:
            application.exit(result=BenchResult("signal", 128 + number))

    for name in SIGNALS:
        number = getattr(signal, name, None)
        if number is None:
            continue
        with suppress(NotImplementedError, RuntimeError, ValueError):
            loop.add_signal_handler(number, leave, number)
            caught.append(number)
    try:
        yield
    finally:
        for number in caught:
            loop.remove_signal_handler(number)
