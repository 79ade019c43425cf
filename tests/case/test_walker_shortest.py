"""The walk in the engine's order, over all complaints at once."""

from __future__ import annotations

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.reasoning.shortest import next_check


def start(kettle, *complaints: str) -> Walker:
    walker = Walker(kettle, MemoryLog(), "shortest", complaints=complaints)
    for _ in kettle.looks:
        walker.cannot_tell()
    return walker


def test_each_question_is_the_one_that_the_look_ahead_chooses_until_nothing_is_worth_asking(kettle):
    walker = start(kettle, "no-heat", "slow-boil", "leaks")
    asked = []
    while walker.question:
        best = next_check(walker.belief)
        assert best is not None
        assert (walker.question.symptom, walker.question.name) == best.place
        assert walker.question.why_now.startswith("Of the checks that tell most")
        asked.append(best.place)
        walker.answer(walker.question.answers[0].name)
    assert len(asked) == len(set(asked)) >= 3
    assert walker.finished
    assert next_check(walker.belief) is None


def test_what_nobody_could_tell_is_not_asked_again(kettle):
    walker = start(kettle, "no-heat")
    seen = []
    while walker.question:
        seen.append(walker.question.name)
        walker.cannot_tell()
    assert len(seen) == len(set(seen))
    assert not walker.evidence.answers


def test_changing_the_order_keeps_all_answers(kettle):
    walker = start(kettle, "no-heat", "slow-boil")
    for _ in range(3):
        walker.answer(walker.question.answers[-1].name)
    answers = dict(walker.evidence.answers)
    walker.set_order("guided")
    assert dict(walker.evidence.answers) == answers
    while walker.question:
        assert walker.question.previous is None
        walker.answer(walker.question.answers[0].name)
    assert answers.items() <= walker.evidence.answers.items()
    walker.set_order("shortest")
    assert walker.order == "shortest"


def test_a_fact_answered_in_one_tree_is_not_asked_in_another(kettle):
    walker = start(kettle, "no-heat", "leaks")
    while walker.question:
        assert not {"flex", "flex-look"} <= {step.place.name for step in walker.way}
        walker.answer(walker.question.answers[-1].name)
    names = [step.place.name for step in walker.way]
    assert ("flex" in names) != ("flex-look" in names)
