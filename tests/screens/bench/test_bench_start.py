"""The start on the bench: what the customer says, what the machine is called, the quick looks."""

from dataclasses import replace

import pytest
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.errors import CannotWriteError
from diagtree.screens.bench import application
from diagtree.screens.bench.bench import BenchResult


def test_complaints_are_found_by_what_the_customer_says(walk, pressed):
    bench = pressed(walk(label="", looked=False))
    assert "What does the customer say?" in bench.text()
    bench.type("its dead")
    assert "> [ ] The water stays cold" in bench.text()
    bench.press("enter")
    bench.type("drips water on the table")
    bench.press("enter")
    assert "Go on with 2 complaints" in bench.text()
    bench.press("enter")
    bench.type("Mrs Hill, red")
    bench.press("enter")
    assert bench.walker.case.complaints == ("no-heat", "leaks")
    assert bench.walker.case.label == "Mrs Hill, red"
    assert "How was the kettle kept and used?" in bench.text()


def test_a_complaint_can_be_put_out_again(walk, pressed):
    bench = pressed(walk(label="", looked=False))
    bench.type("slow")
    bench.press("enter", "down", "enter")
    assert "taken" not in bench.text().splitlines()[0]


def test_nothing_that_sounds_like_it_is_said_and_enter_does_nothing(walk, pressed):
    bench = pressed(walk(label="", looked=False))
    bench.type("qqqq")
    assert "Nothing sounds like that." in bench.text()
    bench.press("enter")
    assert bench.walker.case.complaints == ()


def test_pasting_what_the_customer_wrote_finds_but_takes_nothing(walk, pressed):
    bench = pressed(walk(label="", looked=False))
    bench.bench.paste("it is\ndead")
    assert "> [ ] The water stays cold" in bench.text()
    assert bench.walker.case.complaints == ()


def test_the_quick_looks_are_answered_on_one_page(walk, pressed):
    bench = pressed(walk("no-heat", looked=False))
    text = bench.text()
    assert "Is there lime around the spout?" in text
    assert "How worn is the handle?" in text
    bench.press("2")
    assert "Limed" in bench.text()
    assert "> 1 ( ) Like new" in bench.text()
    bench.press("right", "enter")
    assert dict(bench.walker.evidence.looks) == {"lime": "limed", "handle": "worn"}
    assert "Does the lamp come on?" in bench.text()


def test_looks_that_nobody_made_are_taken_as_can_t_tell(walk, pressed):
    bench = pressed(walk("no-heat", looked=False))
    bench.press("end")
    assert "> Go on (2 not looked at)" in bench.text()
    bench.press("enter")
    assert [step.says for step in bench.walker.way] == ["Can't tell", "Can't tell"]
    assert "Does the lamp come on?" in bench.text()


@pytest.mark.parametrize(("width", "height"), [(120, 40), (80, 24), (60, 20), (44, 13), (40, 12)])
def test_the_answers_to_a_quick_look_are_in_sight_and_the_how_to_gives_way(kettle, pressed, width, height):
    look = kettle.looks["lime"]
    long = look.model_copy(update={"how": tuple(f"Look closely at place number {n}." for n in range(8))})
    library = replace(kettle, looks={**kettle.looks, "lime": long})
    bench = pressed(Walker(library, MemoryLog(), complaints=["no-heat"]))
    text = bench.text(width, height)
    for shown in ("> 1 ( ) Clean", "2 ( ) Limed", "0 ( ) I can't tell"):
        assert shown in text
    assert "number 7" in text or "(more: i)" in text
    bench.press("i")
    assert "Look closely at place number 7." in bench.text(80, 30)


def test_a_burst_on_the_quick_looks_answers_one(walk, pressed):
    bench = pressed(walk("no-heat", looked=False))
    bench.press("2", "2", "2", after=0.0)
    assert len(bench.walker.way) == 1


def test_complaints_that_were_taken_are_kept_when_the_program_is_left_at_once(walk, pressed):
    bench = pressed(walk(label="", looked=False))
    bench.type("dead")
    bench.press("enter", "c-c")
    assert bench.walker.case.complaints == ("no-heat",)
    assert bench.bench.result == BenchResult("interrupted", 130)
    bench = pressed(bench.walker)
    bench.press("b")
    bench.type("drips")
    bench.press("enter", "escape", "c-c")
    assert bench.walker.case.complaints == ("no-heat",), "Esc drops what was taken, leaving keeps it"


def test_a_full_disk_does_not_keep_anybody_in(walk, pressed):
    class Full(MemoryLog):
        def append(self, record):
            if record["kind"] == "complained":
                raise CannotWriteError("Cannot write x.case: the disk is full.", "Make room, then try again.")
            super().append(record)

    bench = pressed(walk(label="", looked=False, log=Full()))
    bench.type("dead")
    bench.press("enter", "c-c")
    assert "Cannot write x.case: the disk is full." in bench.text()
    assert bench.bench.result is None
    bench.press("c-c")
    assert bench.bench.result == BenchResult("interrupted", 130)


def test_a_complaint_whose_tree_is_gone_does_not_stop_the_start(kettle, pressed):
    log = MemoryLog()
    Walker(kettle, log, complaints=["leaks"]).answer("limed")
    trees = {name: tree for name, tree in kettle.trees.items() if name != "leaks"}
    bench = pressed(Walker(replace(kettle, trees=trees), log))
    assert "The tree 'leaks' is no longer here. No answer was given in it." in bench.text()
    bench.press("enter")
    assert "What does the customer say?" in bench.text()
    bench.type("dead")
    bench.press("enter", "enter", "enter")
    assert bench.walker.case.complaints == ("no-heat",)


def test_a_complaint_is_added_in_the_middle_of_the_questions_and_at_the_end(walk, pressed):
    bench = pressed(walk("no-heat"))
    bench.press("1", "k")
    assert "What does the customer say?" in bench.text()
    bench.press("escape")
    assert bench.walker.case.complaints == ("no-heat",)
    bench.press("k")
    bench.type("leaks")
    bench.press("enter", "enter")
    assert bench.walker.case.complaints == ("no-heat", "leaks")
    assert "Does it work from another socket?" in bench.text(), "the question that was next is next"
    bench.press("f", "2", "k")
    bench.type("slow-boil")
    bench.press("enter", "enter")
    assert bench.walker.case.complaints == ("no-heat", "leaks", "slow-boil")
    assert not bench.walker.finished


@pytest.mark.parametrize("left", ["by a signal", "with the terminal gone"])
def test_complaints_are_kept_however_the_program_is_ended(walk, monkeypatch, left):
    def run(running, by_signal):
        stack = running.layout.container.content._stack
        for key in (*"dead", "enter"):
            stack.press(key)
        return by_signal(15) if left == "by a signal" else None

    monkeypatch.setattr(application, "run", run)
    walker = walk(label="", looked=False)
    with create_pipe_input() as keyboard:
        result = application.run_bench(walker, input=keyboard, output=DummyOutput())
    assert result == (BenchResult("signal", 143) if left == "by a signal" else BenchResult("closed", 3))
    assert walker.case.complaints == ("no-heat",)
