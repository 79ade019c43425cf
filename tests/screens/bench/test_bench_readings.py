"""Measured values on the bench: entered, echoed, questioned, and what they mean told."""

from dataclasses import replace

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker


@pytest.fixture
def measuring(walk, pressed):
    bench = pressed(walk("slow-boil"))
    bench.press("2", "2")
    assert "How hot is the water" in bench.text()
    return bench


def test_a_reading_is_entered_and_echoed(measuring):
    assert "> r ( ) Enter what you measured, for example 97 °C" in measuring.text(120, 40)
    measuring.press("r")
    measuring.type("85 °C")
    measuring.press("enter")
    given = measuring.walker.way[-1]
    assert given.answer == "low"
    assert "85 °C" in given.says
    assert "85 °C" in measuring.text()


def test_what_is_no_reading_says_how_to_write_it_and_nothing_is_taken(measuring):
    measuring.press("enter")
    measuring.type("hot")
    measuring.press("enter")
    assert "'hot' is no" in measuring.text()
    assert "Write it like this: 97 °C" in measuring.text()
    assert measuring.walker.question is not None


def test_an_odd_value_is_questioned_and_no_is_the_first_choice(measuring):
    measuring.press("r")
    measuring.type("970")
    measuring.press("enter")
    assert "970 °C is more than 101 °C. Is that right?" in measuring.text()
    assert "> 1 No, go back" in measuring.text()
    measuring.press("enter")
    assert measuring.walker.question.name == "heat"
    assert "> 970" in measuring.text()
    measuring.press("enter", "2")
    assert measuring.walker.way[-1].answer == "full"


def test_a_reading_can_be_answered_by_eye_as_well(measuring):
    measuring.press("2")
    assert measuring.walker.way[-1].answer == "full"


def test_back_on_a_reading_shows_what_was_entered(measuring):
    measuring.press("r")
    measuring.type("97")
    measuring.press("enter")
    measuring.press("b")
    assert "Measured: 97" in measuring.text()
    measuring.press("r")
    assert "> 97" in measuring.text()


@pytest.mark.parametrize("note", ["Boil it dry never.", "Boil it dry never. " * 6])
def test_what_a_measured_answer_means_is_told_as_for_any_other(kettle, pressed, note):
    tree = kettle.trees["slow-boil"]
    check = tree.checks["heat"]
    low = check.answers["low"].model_copy(update={"caution": ("Steam scalds.",), "note": note.strip()})
    check = check.model_copy(update={"answers": {**check.answers, "low": low}})
    tree = tree.model_copy(update={"checks": {**tree.checks, "heat": check}})
    library = replace(kettle, trees={**kettle.trees, "slow-boil": tree})
    bench = pressed(Walker(library, MemoryLog(), complaints=["slow-boil"]))
    bench.press("end", "enter", "2", "2", "r")
    bench.type("85")
    bench.press("enter")
    told = " ".join(bench.text().split())
    assert "! Steam scalds." in told
    assert note.strip() in told
    assert "85 °C" in told


def test_in_a_small_window_it_is_said_where_the_rest_of_the_how_to_can_be_read(kettle, pressed):
    tree = kettle.trees["slow-boil"]
    how = tuple(f"Hold the probe at place number {n} of the water." for n in range(9))
    check = tree.checks["heat"].model_copy(update={"how": how})
    tree = tree.model_copy(update={"checks": {**tree.checks, "heat": check}})
    library = replace(kettle, trees={**kettle.trees, "slow-boil": tree})
    bench = pressed(Walker(library, MemoryLog(), complaints=["slow-boil"]))
    bench.press("end", "enter", "2", "2", "r")
    small = bench.text(40, 12)
    assert "more lines: Esc, then i)" in small
    assert "For example: 97 °C" in small
    bench.press("escape", "i")
    assert "place number 8" in bench.text(80, 30)


@pytest.mark.parametrize("size", [(60, 20), (40, 12)])
def test_a_question_that_the_head_cuts_off_stands_whole_above_its_choices(measuring, size):
    measuring.press("r")
    measuring.type("970")
    measuring.press("enter")
    assert "970 °C is more than 101 °C. Is that right?" in " ".join(measuring.text(*size).split())
    assert "> 1 No, go back" in measuring.text(*size)
