"""The least way: never longer than any way that proves the fault, held against every way there is."""

from __future__ import annotations

import math

import pytest

from diagtree.practice.debrief import engine_way
from diagtree.practice.least import SURE, least_way
from diagtree.practice.levels import LEVELS
from diagtree.practice.machine import draw_machine
from diagtree.practice.play import Play
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.effort import minutes_of
from diagtree.reasoning.evidence import Evidence, spread_facts


class Dumb:
    """A log that forgets."""

    records = ()

    def append(self, record):
        pass


def every_way(library, machine, goals):
    """Walk every way through the checks that make sense, and return the fewest minutes that prove all causes.

    Only `Play` and `Belief` are used: what a person could do, and what would then be believed of each complaint.
    """
    models = {symptom: BeliefModel.of(library, [symptom]) for symptom in machine.complaints}
    best = math.inf
    met = set()

    def proved(evidence):
        for symptom, model in models.items():
            answers = {place: a for place, a in evidence.answers.items() if place[0] == symptom}
            told = spread_facts(library, Evidence((symptom,), machine.looks, answers))
            cause, chance = model.given(told).ranking(symptom)[0]
            if cause != machine.causes[symptom] or chance < goals[symptom] - 1e-9:
                return False
        return True

    def walk(steps):
        nonlocal best
        key = frozenset(steps)
        if key in met:
            return
        met.add(key)
        play = Play(library, machine, Dumb())
        for step in steps:
            play.check(*step)
        if proved(play.evidence):
            best = min(best, play.minutes)
        for choice in play.choices:
            walk([*steps, (choice.symptom, choice.check)])

    walk([])
    return best


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("complaints", [("no-heat",), ("slow-boil",)], ids=str)
def test_no_way_is_shorter_than_the_best_one(kettle, complaints, seed):
    machine = draw_machine(kettle, complaints, LEVELS["apprentice"], seed)
    least = least_way(kettle, machine)
    assert least is not None
    assert least.minutes == pytest.approx(every_way(kettle, machine, least.goals))


def test_nor_is_the_shortest_order_where_it_is_right(play):
    for seed in range(15):
        game = play("no-heat", seed=seed)
        engine, named = engine_way(game)
        if dict(named) == dict(game.machine.causes):
            assert least_way(game.library, game.machine, engine.steps).minutes <= engine.minutes + 1e-9


def test_nor_where_opening_work_is_shared(boxed):
    for seed in range(6):
        machine = draw_machine(boxed, ("no-heat",), LEVELS["apprentice"], seed)
        least = least_way(boxed, machine)
        assert least.minutes == pytest.approx(every_way(boxed, machine, least.goals))


def test_nor_with_two_complaints_that_share_a_fact(kettle):
    for seed in (3, 8):
        machine = draw_machine(kettle, ("no-heat", "leaks"), LEVELS["apprentice"], seed)
        least = least_way(kettle, machine)
        assert least.minutes == pytest.approx(every_way(kettle, machine, least.goals))


def test_the_best_way_can_be_walked_in_its_order_and_proves_the_cause(play):
    for seed in range(12):
        game = play("no-heat", seed=seed)
        least = least_way(game.library, game.machine)
        for step in least.steps:
            game.check(*step)
        assert game.minutes == least.minutes
        cause, chance = game.belief.ranking("no-heat")[0]
        assert cause == game.machine.causes["no-heat"]
        assert chance >= least.goals["no-heat"] - 1e-9
        assert least.goals["no-heat"] <= SURE


def test_opening_work_is_paid_once(boxed):
    # fuse 3 + flex 1 + base off 2, by the kettle's catalogue
    assert minutes_of(boxed, [("no-heat", "fuse"), ("no-heat", "flex")]) == 6
    assert minutes_of(boxed, [("no-heat", "fuse")]) == 5
