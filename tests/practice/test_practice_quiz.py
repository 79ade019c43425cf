"""How tight, which way, and what goes in: asked after the fault, judged by the catalogue."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagtree.errors import ExpectedError
from diagtree.model.family import Use
from diagtree.practice.levels import LEVELS
from diagtree.practice.machine import draw_machine
from diagtree.practice.quiz import jobs_of, questions_for


def asked_about(library, cause, symptom="no-heat"):
    for seed in range(200):
        machine = draw_machine(library, [symptom], LEVELS["journeyman"], seed)
        if machine.causes[symptom] == cause:
            return questions_for(library, machine)
    raise AssertionError(f"{cause} is never drawn")


def test_the_element_is_asked_about_with_its_torque_and_its_left_hand_thread(kettle):
    torque, turn = asked_about(kettle, "kettle/element-open")
    assert torque.ask == "Fit a new element. How tight does it go: Element nut (M12x1)?"
    assert torque.right == "4 to 6 N·m (35-53 lbf·in)"
    # 4 to 6 N·m, ends included; 53 lbf·in are 5.99 N·m and 54 lbf·in are 6.10 (NIST SP 811: 0.1129848 N·m each)
    assert [torque.judge(said) for said in ("4", "6 N·m", "53 lbf·in", "54 lbf·in", "3.99", "600 N·cm")] == [
        True, True, True, False, False, True,
    ]  # fmt: skip
    assert turn.right == "Anticlockwise"
    assert turn.judge("2")
    assert not turn.judge("clockwise")


def test_what_must_never_go_in_is_offered_and_what_may_is_not(kettle):
    (fluid,) = [quiz for quiz in asked_about(kettle, "kettle/scale") if quiz.kind == "fluid"]
    assert set(fluid.choices) == {"Vinegar", "Bleach"}
    assert fluid.right == "Vinegar"
    assert fluid.ask == "Descale: what goes into the vessel?"
    assert not fluid.judge("bleach")


def test_what_is_no_answer_is_refused_in_words(kettle):
    torque, turn = asked_about(kettle, "kettle/element-open")
    with pytest.raises(ExpectedError, match="'tight' is not a number with a unit"):
        torque.judge("tight")
    with pytest.raises(ExpectedError, match="a torque is wanted"):
        torque.judge("5 mm")
    with pytest.raises(ExpectedError, match=r"'3' is none of the choices\. Type 1 to 2\."):
        turn.judge("3")


def test_all_jobs_of_a_remedy_are_those_it_needs_and_those_that_close(kettle):
    assert jobs_of(kettle, "kettle/new-element") == (
        "kettle/base-off",
        "kettle/base-on",
        "kettle/swap-element",
    )


def test_what_the_same_work_uses_elsewhere_is_never_a_wrong_choice(kettle):
    job = kettle.jobs["kettle/soak"].model_copy(update={"fluids": (Use(fluid="kettle/bleach"),)})
    both = replace(kettle, jobs={**kettle.jobs, "kettle/soak": job})
    assert not [quiz for quiz in asked_about(both, "kettle/scale") if quiz.kind == "fluid"]
