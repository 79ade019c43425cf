"""Advice beside the screen: to stop asking, and to look again at an answer that does not fit."""

import threading

import pytest

from diagtree.case.places import Place
from diagtree.model.workshop import Workshop
from diagtree.screens.bench.advice import Advice, Adviser, Beside
from diagtree.work.prices import Prices


@pytest.fixture
def slow(walk):
    """A limed kettle whose element looks bare and whose lid closes: descaling is cheaper than measuring."""
    walker = walk("slow-boil")
    walker.answer("bare")
    walker.answer("yes")
    return walker


def test_it_is_the_advice_that_the_reasoning_gives(kettle, slow):
    advice = Adviser(kettle, Workshop()).consider(slow.case)
    asked = slow.view.advice(Prices(kettle, Workshop()), "slow-boil")
    assert asked.stop
    assert advice == Advice(slow.case.count, asked.reason, "slow-boil")


def test_asking_on_silences_it(kettle, slow):
    slow.ask_on()
    assert Adviser(kettle, Workshop()).consider(slow.case).stop == ""


def test_it_stands_under_the_answers_with_its_keys(kettle, slow, pressed):
    bench = pressed(slow)
    bench.bench.take_advice(Adviser(kettle, Workshop()).consider(slow.case))
    text = bench.text()
    assert "* Stop asking: start with 'Descale'" in text
    assert "s stop asking" in text
    assert "a ask on" in text
    assert "s stop asking" in bench.text(44, 13)


def test_stopping_is_asked_first_and_ends_that_complaint(kettle, slow, pressed):
    bench = pressed(slow)
    bench.bench.take_advice(Adviser(kettle, Workshop()).consider(slow.case))
    bench.press("s", "1")
    assert not slow.finished
    bench.press("s", "2")
    assert "slow-boil" in slow.case.ended
    text = bench.text()
    assert "What is to be done" in text
    assert f"No more questions about: {kettle.trees['slow-boil'].title}." in text


def test_stopping_one_of_two_complaints_is_said_under_the_next_one_s_question(kettle, walk, pressed):
    walker = walk("slow-boil", "leaks")
    while walker.question.place.is_look:
        walker.cannot_tell()
    stopped = walker.question.symptom
    bench = pressed(walker)
    bench.press("s", "2")
    assert walker.question.symptom != stopped
    assert f"No more questions about: {kettle.trees[stopped].title}." in bench.text()


def test_ask_on_keeps_asking(kettle, slow, pressed):
    bench = pressed(slow)
    bench.bench.take_advice(Adviser(kettle, Workshop()).consider(slow.case))
    bench.press("a")
    assert slow.case.asking_on
    assert "Stop asking" not in bench.text()
    assert slow.question.name == "heat"


def test_a_stale_advice_is_not_shown(kettle, slow, pressed):
    bench = pressed(slow)
    advice = Adviser(kettle, Workshop()).consider(slow.case)
    slow.note("something else")
    bench.bench.take_advice(advice)
    assert "Stop asking" not in bench.text()


def test_an_answer_that_does_not_fit_is_named_and_one_key_goes_there(slow, pressed):
    bench = pressed(slow)
    bench.press("d")
    assert "No answer stands out against the others." in bench.text()
    misfit = "These answers do not fit together. Look again at this one first: the lid."
    bench.bench.take_advice(Advice(slow.case.count, misfit=misfit, suspect=Place.check("slow-boil", "lid")))
    assert "* These answers do not fit together." in bench.text()
    bench.press("d")
    assert "> 2 (*) Yes" in bench.text()
    assert slow.question.name == "lid"


def test_it_appears_by_itself_a_moment_after_the_answer(kettle, walk, terminal):
    walker = walk("slow-boil")
    at = terminal(walker, adviser=Adviser(kettle, Workshop()))

    async def script(hand):
        await hand.press("2", "2")
        await hand.see("* Stop asking: start with 'Descale'")

    at.play(script)


class Slow:
    """An adviser that waits until it is let go."""

    def __init__(self):
        self.begun = threading.Event()
        self.go = threading.Event()
        self.seen = []

    def consider(self, case):
        self.seen.append(case.count)
        self.begun.set()
        assert self.go.wait(10)
        return Advice(case.count)


def test_what_was_overtaken_is_left_out_and_nothing_is_asked_twice(walk):
    walker, adviser = walk("no-heat"), Slow()
    told, done = [], threading.Event()

    def tell(advice):
        told.append(advice.count)
        done.set()

    beside = Beside(adviser, tell)
    first = walker.case.count
    beside.want(walker.case)
    assert adviser.begun.wait(10)
    walker.note("one")
    beside.want(walker.case)
    walker.note("two")
    beside.want(walker.case)
    beside.want(walker.case)
    adviser.go.set()
    assert done.wait(10)
    assert told == [first + 2]
    assert adviser.seen == [first, first + 2]
    beside.close()


def test_an_error_in_the_thread_is_not_lost(walk, terminal):
    class Broken:
        def consider(self, case):
            raise ZeroDivisionError("a bug")

    at = terminal(walk("no-heat"), adviser=Broken())

    async def script(hand):
        await hand.until_left()

    with pytest.raises(ZeroDivisionError, match="a bug"):
        at.play(script)
