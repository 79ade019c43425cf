"""Every bundled tree can be practised: a bike is drawn, can be found out, and its work can be asked about."""

from __future__ import annotations

import pytest

from diagtree.case.log import MemoryLog
from diagtree.library.loading import load_library
from diagtree.practice.debrief import debrief
from diagtree.practice.levels import LEVELS
from diagtree.practice.machine import draw_machine
from diagtree.practice.play import Play


@pytest.fixture(scope="module")
def library():
    return load_library()


def test_every_tree_can_be_practised_and_the_best_way_names_the_cause(library):
    asked = 0
    for number, symptom in enumerate(library.trees):
        level = list(LEVELS.values())[number % len(LEVELS)]
        machine = draw_machine(library, [symptom], level, seed=number)
        play = Play(library, machine, MemoryLog())
        play.give_up()
        end = debrief(play)
        assert end.least is not None, symptom
        again = Play(library, machine, MemoryLog())
        for step in end.least.steps:
            again.check(*step)
        assert again.belief.ranking(symptom)[0][0] == machine.causes[symptom], symptom
        for quiz in again.questions:
            asked += 1
            right = f"{(quiz.least + quiz.most) / 2}" if quiz.kind == "torque" else quiz.right
            assert quiz.judge(right), (symptom, quiz)
            assert len(set(quiz.choices)) == len(quiz.choices)
    assert asked >= len(library.trees)


def test_two_complaints_at_once_are_found_out_too(library):
    machine = draw_machine(library, ["notchy-cranks", "chain-skips"], LEVELS["journeyman"], seed=11)
    play = Play(library, machine, MemoryLog())
    play.give_up()
    end = debrief(play)
    assert end.least is not None
    assert {symptom for symptom, _ in end.least.steps} <= set(machine.complaints)
