"""Line mode: a fastener that no torque rules is ticked off; the help of a trial promises nothing."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import yaml

from diagtree.case.events import DONE
from diagtree.case.log import MemoryLog, ScratchLog
from diagtree.case.walker import Walker
from diagtree.library.library import join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.model.workshop import Workshop
from diagtree.screens.bench import explain
from diagtree.screens.bench.bench import Bench
from diagtree.screens.line import LineMode

KETTLE = Path(__file__).parents[1] / "kettle"


@pytest.fixture(scope="module")
def by_feel():
    """The kettle with a nut that is tightened until it is snug."""

    def read(name):
        return yaml.load((KETTLE / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)

    family = read("catalogue.yaml")
    nut = family["fasteners"]["element-nut"]
    del nut["torque"]
    nut["until"] = "it is snug"
    return join(
        [Family.model_validate(family)],
        [Conditions.model_validate(read("conditions.yaml"))],
        [Tree.model_validate(read("no-heat.yaml"))],
    )


def talk(library, lines, log, **options):
    walker = Walker(library, log, complaints=("no-heat",))
    for look in walker.looks:
        walker.cannot_tell(look.place)
    sink = io.StringIO()
    LineMode(walker, io.StringIO("".join(f"{line}\n" for line in lines)), sink, resume="", **options).run()
    return sink.getvalue(), walker


def test_a_number_is_refused_where_no_torque_rules_and_done_is_taken(by_feel):
    lines = ["finish", "torque element nut 5", "torque element nut done"]
    said, walker = talk(by_feel, lines, MemoryLog())
    assert "No torque rules this. Until: it is snug. Then type: torque element nut done" in said
    assert "Element nut: done." in said
    assert walker.case.torques["kettle/element-nut"].value == DONE


def test_the_workshops_own_torque_is_entered_as_a_number(by_feel):
    own = Workshop.model_validate(
        {"torques": {"kettle/element-nut": {"from": "4", "to": "6", "basis": "our own"}}}
    )
    _, walker = talk(by_feel, ["finish", "torque element nut 5"], MemoryLog(), workshop=own)
    assert walker.case.torques["kettle/element-nut"].value == "5"


def test_the_help_of_a_trial_says_that_nothing_is_kept(kettle):
    said, _ = talk(kettle, ["?", "finish", "?", "quit"], ScratchLog())
    assert "saved" not in said
    assert said.count("leave; this is a trial: nothing is kept") == 2
    assert "end the trial" in said
    kept, _ = talk(kettle, ["?", "quit"], MemoryLog())
    assert "leave; everything is saved" in kept
    pages = {keeps: " ".join(each.text for each in explain.keys("kettle", keeps)) for keeps in (True, False)}
    assert "saved" in pages[True]
    assert "saved" not in pages[False]


def test_on_the_bench_enter_ticks_such_a_fastener_off_and_takes_it_back(by_feel):
    walker = Walker(by_feel, MemoryLog(), complaints=("no-heat",))
    for look in walker.looks:
        walker.cannot_tell(look.place)
    bench = Bench(walker, clock=iter(range(1000)).__next__)
    for key in ("2", "1"):
        bench.press(key)
    for _ in range(60):
        chosen = getattr(bench.page, "chosen", None)
        if getattr(chosen, "kind", "") == "torque" and chosen.name == "kettle/element-nut":
            break
        bench.press("down")
        bench.compose(100, 100)
    else:
        raise AssertionError(bench.compose(100, 100).text)
    bench.press("enter")
    assert walker.case.torques["kettle/element-nut"].value == DONE
    assert "N·m: " not in bench.compose(100, 100).text
    bench.press("enter")
    assert not walker.case.torques
