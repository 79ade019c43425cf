"""The bench screen: a case on the full screen. Nothing slow is imported before it is put there."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from diagtree.screens.bench.papers import Papers
from diagtree.screens.bench.terminal import fits_terminal

if TYPE_CHECKING:
    from prompt_toolkit.input import Input
    from prompt_toolkit.output import Output

    from diagtree.case.walker import Walker
    from diagtree.model.workshop import Workshop
    from diagtree.screens.bench.bench import BenchResult

__all__ = ["Papers", "fits_terminal", "run_bench"]


def run_bench(
    walker: Walker,
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    clock: Callable[[], float] = time.monotonic,
    workshop: Workshop | None = None,
    papers: Papers | None = None,
) -> BenchResult:
    """Put a case on the full screen until it is left; see `diagtree.screens.bench.application.run_bench`."""
    from diagtree.screens.bench.application import run_bench as run

    return run(walker, input=input, output=output, clock=clock, workshop=workshop, papers=papers)
