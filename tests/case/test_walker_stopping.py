"""Knowing when to stop asking, and which answer to look at again."""

from __future__ import annotations

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import Walker
from diagtree.errors import UnknownNameError
from diagtree.model.workshop import Workshop
from diagtree.reasoning.asking import ask_or_fix
from diagtree.reasoning.conflict import conflict
from diagtree.work.prices import Prices


@pytest.fixture
def walked(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=["no-heat", "leaks"])
    for look in walker.looks:
        walker.cannot_tell(look.place)
    return walker


def test_the_advice_is_that_of_the_reasoning_for_the_question_that_is_put(kettle, walked):
    costs = Prices(kettle, Workshop())
    while walked.question:
        expected = ask_or_fix(walked.belief, costs, walked.question.symptom)
        advice = walked.view.advice(costs)
        assert advice == expected
        assert walked.view.advice(costs) is advice
        walked.answer(walked.question.answers[0].name)
    assert walked.view.advice(costs) is None
    assert walked.view.advice(costs, "leaks") is not None


def test_one_complaint_is_ended_and_the_others_are_asked_on(walked):
    walked.answer("no")
    walked.finish("the fuse is cheap", "no-heat")
    assert walked.question.place == Place.check("leaks", "where")
    walked.answer("top")
    assert walked.finished
    walked.ask_on()
    assert walked.question.name == "other-socket"


@pytest.mark.parametrize("order", ["guided", "shortest"])
def test_an_ended_complaint_is_not_asked_about_in_either_order(walked, order):
    walked.set_order(order)
    walked.finish(symptom="no-heat")
    while walked.question:
        assert walked.question.symptom == "leaks"
        walked.answer(walked.question.answers[-1].name)


def test_going_back_into_an_ended_complaint_takes_it_up_again(walked):
    walked.answer("no")
    walked.finish(symptom="no-heat")
    walked.back()
    walked.answer("yes")
    assert walked.question.place == Place.check("no-heat", "hum")


def test_a_complaint_that_is_not_there_cannot_be_ended(walked):
    with pytest.raises(UnknownNameError, match="There is no complaint 'no-heet'"):
        walked.finish(symptom="no-heet")


def test_the_answer_that_does_not_fit_is_named_by_its_place(walked):
    assert walked.view.suspect is None
    for place, answer in [
        (Place.check("leaks", "where"), "below"),
        (Place.check("no-heat", "lamp"), "yes"),
        (Place.check("no-heat", "fuse"), "no"),
        (Place.check("no-heat", "flex"), "hurt"),
        (Place.check("no-heat", "hum"), "yes"),
    ]:
        walked.answer(answer, place)
    told = conflict(walked.belief)
    assert told.bits > 1
    assert told.suspect.name == "lamp"
    assert walked.view.suspect == Place.check("no-heat", "lamp")
    assert walked.view.conflict.reason.endswith("Does the lamp come on? You said: Comes on.")
