"""From a key to the redrawn screen with 200 causes, against prompt-toolkit's bare redraw in the same run."""

from __future__ import annotations

import asyncio
import gc
import itertools
import time
from statistics import median

import pytest
from prompt_toolkit.application import Application
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.layout import Layout, Window
from prompt_toolkit.layout.controls import UIContent, UIControl
from prompt_toolkit.output import ColorDepth
from prompt_toolkit.output.vt100 import Vt100_Output

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.library.library import Library, join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.screens.bench.application import make_application
from diagtree.screens.bench.bench import Bench
from diagtree.screens.bench.look import OWN, style_for

CAUSES, TREES, CHECKS = 200, 5, 40
MOST = 3
"""How often the bare redraw fits into answering, weighing all causes and redrawing; 2 when it was written."""
MOST_SECONDS = 0.016
COLUMNS, ROWS = 120, 40


@pytest.fixture(scope="module")
def large() -> Library:
    """Make a library of 200 causes, all of them behind the complaints: each check finds one or goes on."""
    causes = {
        f"c{n}": {
            "title": f"Cause number {n}",
            "out-of-100": str(1 + n % 9),
            "more-likely": {"kept": {"damp": str(1 + n % 3)}},
            "risk": "nuisance",
            "why": "It wore out.",
            "remedies": ["mend"],
        }
        for n in range(CAUSES)
    }
    family = {
        "family": "thing",
        "title": "Thing",
        "causes": causes,
        "remedies": {"mend": {"title": "Mend it", "verdict": "service", "holds": "90"}},
    }
    conditions = {
        "conditions": {
            "kept": {
                "title": "Kept",
                "states": {
                    "dry": {"says": "dry", "out-of-100": "60"},
                    "damp": {"says": "damp", "out-of-100": "40"},
                },
            }
        }
    }
    trees = []
    for t in range(TREES):
        checks = {}
        for q in range(CHECKS):
            found = {"says": "Yes", "found": {f"c{t * CHECKS + q}": "2"}}
            on = {"says": "No", "healthy": "true"}
            on |= {"next": f"q{q + 1}"} if q + 1 < CHECKS else {"found": {f"c{t * CHECKS}": "1"}}
            checks[f"q{q}"] = {
                "ask": f"Is it number {q}?",
                "minutes": "1",
                "answers": {"no": on, "yes": found},
            }
        trees.append(
            {
                "symptom": f"s{t}",
                "title": f"Complaint {t}",
                "family": "thing",
                "first": "q0",
                "checks": checks,
            }
        )
    return join(
        [Family.model_validate(family)],
        [Conditions.model_validate(conditions)],
        [Tree.model_validate(tree) for tree in trees],
    )


class Sink:
    """A terminal that takes everything and costs nothing."""

    encoding = "utf-8"

    def write(self, text: str) -> None:
        """Drop it."""

    def flush(self) -> None:
        """Nothing is held back."""

    def isatty(self) -> bool:
        """Pretend."""
        return True

    def fileno(self) -> int:
        """There is no file."""
        raise OSError


def output() -> Vt100_Output:
    return Vt100_Output(Sink(), lambda: Size(rows=ROWS, columns=COLUMNS), term="xterm-256color")


class Still(UIControl):
    """Shows ready-made pictures, one after the other."""

    def __init__(self, pictures) -> None:
        self._pictures = itertools.cycle(pictures)

    def create_content(self, width: int, height: int) -> UIContent:
        rows = next(self._pictures)
        return UIContent(get_line=lambda number: rows[number], line_count=len(rows))


async def running(application, measure):
    task = asyncio.ensure_future(application.run_async(set_exception_handler=False))
    while application.render_counter == 0:
        await asyncio.sleep(0)
    try:
        return measure()
    finally:
        application.exit(result=None)
        await task


def timed(work, *arguments) -> float:
    """Tell the processor's seconds: what other programs do meanwhile is not the bench's doing."""
    gc.collect()
    began = time.process_time()
    work(*arguments)
    return time.process_time() - began


def test_from_a_key_to_the_redrawn_screen(benchmark, large):
    now = [0.0]
    symptoms = list(large.trees)
    bench = Bench(Walker(large, MemoryLog(), complaints=symptoms), clock=lambda: now[0])
    pictures = []
    with create_pipe_input() as keyboard:
        application = make_application(bench, lambda: now[0], input=keyboard, output=output())

        def press(key: str) -> None:
            now[0] += 1.0
            bench.press(key)
            application._redraw()

        def measure() -> list[float]:
            seconds = []
            for number in range(30):
                seconds.append(timed(press, "1"))
                if number < 2:
                    rows = bench.compose(COLUMNS, ROWS).lines
                    pictures.append([[(f"class:{OWN}{style}", text) for style, text in row] for row in rows])
            benchmark.pedantic(press, args=("down",), rounds=20)
            return seconds[5:]

        whole = asyncio.run(running(application, measure))
        still: Application[None] = Application(
            layout=Layout(Window(Still(pictures))),
            style=style_for(ColorDepth.DEPTH_8_BIT),
            full_screen=True,
            input=keyboard,
            output=output(),
        )
        bare = asyncio.run(running(still, lambda: [timed(still._redraw) for _ in range(30)]))[5:]
    assert len(bench.walker.way) == 30
    assert len(bench.facts.ranking) >= CHECKS
    benchmark.extra_info["answer, weigh and redraw, ms"] = round(1000 * median(whole), 2)
    benchmark.extra_info["bare redraw, ms"] = round(1000 * median(bare), 2)
    assert median(whole) <= MOST_SECONDS
    assert median(whole) <= MOST * median(bare)
