"""A crowd walked at once: its true chances against everything written down, and what is taken evenly from it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.calibration import calibrate
from diagtree.reasoning.crowd import draw_crowd
from diagtree.reasoning.simulate import guided, simulate


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_true_chances_are_those_of_everything_written_down(data, small_library, enumerated):
    library = data.draw(small_library(complaints=1))
    model = BeliefModel.of(library, ["s0"])
    crowd = draw_crowd(
        model, "s0", 6, [data.draw(st.integers(0, 99))], guided(library.tree("s0")), tuple(library.looks)
    )
    for number in range(6):
        naive = enumerated(library, crowd.evidence(number))
        for place, cause in enumerate(crowd.causes):
            assert crowd.chances[number, place] == pytest.approx(naive.behind["s0", cause], abs=1e-9)


@pytest.fixture(scope="module")
def crowd(kettle):
    model = BeliefModel.of(kettle, ["no-heat"])
    return draw_crowd(model, "no-heat", 20_000, [4], guided(kettle.tree("no-heat")), tuple(kettle.looks))


def test_each_walk_is_one_of_the_tree(crowd, kettle):
    tree = kettle.tree("no-heat")
    for way in crowd.ways:
        check = tree.first
        for name, answer in way.answers.items():
            assert name == check
            check = tree.checks[name].answers[answer].next
        assert check is None


def test_those_taken_evenly_are_like_the_crowd(crowd):
    """Right and wrong causes, and how much was stated for them, as in the crowd: to within one machine."""
    taken = crowd.evenly(20, 7)
    assert len(taken) == 1000
    right = crowd.chances.argmax(axis=1) == crowd.cause
    assert abs(right[taken].sum() - right.sum() / 20) <= 1
    stated = crowd.chances.max(axis=1)
    for least in (0.3, 0.5, 0.7, 0.9):
        assert abs((stated[taken] >= least).sum() - (stated >= least).sum() / 20) <= 2


def test_each_machine_is_taken_from_one_start_and_no_other(crowd):
    everybody = np.concatenate([crowd.evenly(20, start) for start in range(20)])
    assert sorted(everybody) == list(range(20_000))


def test_luck_moves_the_rows_little(kettle):
    """The spread of true about stated over thirty tables: under half of a standard error, and one without."""

    def spread(drawn_for_each):
        off = [
            (each.true - each.stated) / each.error
            for seed in range(30)
            for each in calibrate(
                simulate(kettle, ["no-heat"], 400, seed, drawn_for_each=drawn_for_each)
            ).bins
            if each.count >= 30
        ]
        return float(np.std(off))

    assert spread(20) < 0.5
    # Of some hundred rows the spread itself is known to a fifteenth.
    assert spread(1) == pytest.approx(1, abs=4 / 15)
