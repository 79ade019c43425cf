"""Runs practice in a terminal."""

from __future__ import annotations

import time
from collections.abc import Callable

from prompt_toolkit.application import Application
from prompt_toolkit.input import Input
from prompt_toolkit.output import ColorDepth, Output

from diagtree.practice.debrief import Debrief
from diagtree.practice.play import Play
from diagtree.screens.bench.full_screen import full_screen, run
from diagtree.screens.bench.guard import Clock
from diagtree.screens.practice.bench import PracticeBench

LEFT = 3


def make_application(
    bench: PracticeBench,
    clock: Clock,
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    color_depth: ColorDepth | None = None,
) -> Application[int]:
    """Make the full-screen application around a machine; `run_practice` runs it.

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
    """
    application: Application[int]

    def pressed() -> None:
        if bench.result is not None and not application.is_done:
            application.exit(result=bench.result)

    application = full_screen(bench, clock, pressed, input=input, output=output, color_depth=color_depth)
    return application


def run_practice(play: Play, learner: str, at_end: Callable[[], Debrief]) -> int:
    """Practise on the full screen until the machine is left.

    Parameters
    ----------
    play
        The machine.
    learner
        Who practises.
    at_end
        Called once at the end: keeps the result and returns the debrief.

    Returns
    -------
    int
        The exit status: 0 at the end, 3 if it was left before, 130 after Ctrl-C, 128 and the signal's number
        after TERM and HUP. Every move is on the disk before the screen changes.
    """
    bench = PracticeBench(play, learner, at_end)
    result = run(make_application(bench, time.monotonic), lambda number: 128 + number)
    if result is not None:
        return result
    return LEFT if bench.result is None else bench.result
