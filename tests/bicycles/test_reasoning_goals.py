"""What the bundled trees must reach: orders close to the best, stated chances that hold."""

from __future__ import annotations

import statistics

import pytest

from diagtree.library.loading import load_library
from diagtree.reasoning.appraisal import appraise
from diagtree.reasoning.simulate import calibrate, simulate


@pytest.fixture(scope="module")
def bundled():
    return load_library()


@pytest.fixture(scope="module")
def appraisals(bundled):
    return [appraise(bundled, symptom) for symptom in bundled.trees]


def test_each_tree_is_small_enough_to_find_its_best_order(appraisals):
    assert [a.symptom for a in appraisals if a.best is None] == []


def test_the_engines_order_is_close_to_the_best(appraisals):
    ratios = [a.shortest_ratio for a in appraisals]
    assert statistics.median(ratios) <= 1.05
    assert [(a.symptom, a.shortest_ratio) for a in appraisals if a.shortest_ratio > 1.15] == []


def test_the_authors_orders_are_never_far_from_the_best(appraisals):
    ratios = [a.guided_ratio for a in appraisals]
    assert statistics.median(ratios) <= 1.3
    assert [(a.symptom, a.guided_ratio) for a in appraisals if a.guided_ratio > 1.5] == []


def test_a_finding_takes_under_a_quarter_of_an_hour(appraisals):
    assert [(a.symptom, a.walked.expected) for a in appraisals if a.walked.expected >= 15] == []


def test_stated_chances_hold_over_ten_thousand_bikes(bundled):
    """Two standard errors hold for 95 in 100 bins by chance alone, so two of ten may be out, none by far."""
    calibration = calibrate(simulate(bundled, list(bundled.trees), 10_000, seed=2))
    assert calibration.machines == 10_000
    assert sum(not each.holds for each in calibration.bins) <= 2
    for each in calibration.bins:
        assert abs(each.true - each.stated) <= 3.5 * each.error
    assert calibration.brier < 0.5 * calibration.prior_brier
