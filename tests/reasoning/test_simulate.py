"""Simulated machines: Brier against scikit-learn and published values; stated chances hold; plots."""

from __future__ import annotations

import dataclasses
import io
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from sklearn.metrics import brier_score_loss

from diagtree.commands.progress import Progress
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.calibration import Bin, Calibration, brier, calibrate
from diagtree.reasoning.plots import calibration_lines, calibration_svg, luck_lines
from diagtree.reasoning.simulate import simulate


def test_the_brier_score_of_several_causes_is_the_published_sum():
    """Truths a, b, c, a: 0.405 on average; worked out by hand."""
    forecasts = [(0.7, 0.2, 0.1), (0.3, 0.5, 0.2), (0.2, 0.2, 0.6), (0.3, 0.6, 0.1)]
    scores = [
        brier(dict(zip("abc", row, strict=True)), truth) for row, truth in zip(forecasts, "abca", strict=True)
    ]
    assert sum(scores) / 4 == pytest.approx(0.405)


def test_the_brier_score_of_two_causes_is_twice_that_of_scikit_learn():
    """y=0110101101 against ten forecasts: 0.1025 by sklearn.metrics.brier_score_loss, for one of two classes."""
    truth = [int(sign) for sign in "0110101101"]
    stated = [0.1, 0.9, 0.8, 0.3, 0.7, 0.4, 0.6, 0.95, 0.2, 0.35]
    ours = [brier({"yes": p, "no": 1 - p}, "yes" if y else "no") for y, p in zip(truth, stated, strict=True)]
    assert np.mean(ours) / 2 == pytest.approx(brier_score_loss(truth, stated)) == pytest.approx(0.1025)


@pytest.fixture(scope="module")
def machines(kettle):
    return simulate(kettle, list(kettle.trees), 3000, seed=1)


def test_stated_chances_are_true_within_two_standard_errors(machines):
    calibration = calibrate(machines)
    assert calibration.within == len(calibration.bins) >= 4


def test_looks_and_answers_tell_more_than_the_prior_alone(machines):
    calibration = calibrate(machines)
    assert calibration.brier < 0.6 * calibration.prior_brier
    assert calibration.machines == sum(each.count for each in calibration.bins) == 3000


def test_each_complaint_comes_in_as_often(machines, kettle):
    for symptom in kettle.trees:
        assert sum(machine.symptom == symptom for machine in machines) == 1000


def test_the_same_seed_draws_the_same_machines(kettle, machines):
    assert simulate(kettle, list(kettle.trees), 3000, seed=1) == machines
    assert simulate(kettle, list(kettle.trees), 3000, seed=2) != machines


def test_the_engines_order_is_simulated_too_and_its_chances_hold(kettle):
    calibration = calibrate(simulate(kettle, ["no-heat"], 1500, seed=3, order="shortest"))
    assert calibration.within == len(calibration.bins) >= 4


def test_causes_come_as_often_as_the_model_says(kettle):
    drawn = simulate(kettle, ["no-heat"], 4000, seed=9)
    for cause, chance in BeliefModel.of(kettle, ["no-heat"]).nothing_told.behind("no-heat").items():
        share = sum(machine.cause == cause for machine in drawn) / 4000
        assert abs(share - chance) < 5 * (chance * (1 - chance) / 4000) ** 0.5


MADE = Calibration(
    300,
    (Bin(100, 0.25, 0.20, 0.04), Bin(200, 0.90, 0.60, 0.02)),
    brier=0.3,
    prior_brier=0.9,
    right=0.5,
    minutes=4,
)


def test_the_plot_in_letters_marks_stated_true_and_what_is_too_far_apart():
    assert calibration_lines(MADE, width=20) == [
        " stated   true  number  0                100",
        "   25.0   20.0     100    --o|-",
        "   90.0   60.0     200             -o-    |  more than two standard errors apart",
        "| stated, o true, * both; --- two standard errors either way; in 100",
    ]
    assert luck_lines(MADE) == [
        "1 of 2 rows within two standard errors; one in twenty is further apart by chance.",
        "All 2 rows together: not within 2.2 standard errors, as 95 tables in 100 are when stated chances are true.",
    ]


def test_a_table_holds_as_a_whole_where_all_rows_do(machines):
    """Two bins: 0.95 ** (1 / 2) = .974679 each, 2.2365 standard errors by a table of the normal distribution."""
    assert MADE.allowance == pytest.approx(2.2365, abs=1e-4)
    assert not MADE.holds
    good = dataclasses.replace(MADE, bins=(Bin(100, 0.25, 0.20, 0.04), Bin(200, 0.90, 0.85, 0.023)))
    assert not good.bins[1].holds
    assert good.holds
    assert luck_lines(good)[-1] == (
        "All 2 rows together: within 2.2 standard errors, as 95 tables in 100 are. The stated chances hold."
    )
    assert calibrate(machines).holds


def test_true_chances_lie_within_two_standard_errors_95_times_in_100(kettle):
    """Machines drawn one by one, forty tables: the share of rows within is that of the normal distribution."""
    model = BeliefModel.of(kettle, ["no-heat"])
    rows = [
        each
        for seed in range(40)
        for each in calibrate(simulate(kettle, ["no-heat"], 250, seed, drawn_for_each=1, model=model)).bins
        if each.count >= 30
    ]
    assert len(rows) > 80
    share = sum(each.holds for each in rows) / len(rows)
    # Of so many rows the share itself is known to within four of its standard errors.
    assert abs(share - 0.9545) <= 4 * (0.9545 * 0.0455 / len(rows)) ** 0.5


def test_the_picture_is_well_formed_and_a_hostile_title_stays_text():
    picture = calibration_svg(MADE, '<script>alert("x")</script> & more')
    root = ET.fromstring(picture)
    assert root.find("{http://www.w3.org/2000/svg}script") is None
    assert root.find("{http://www.w3.org/2000/svg}title").text == '<script>alert("x")</script> & more'
    circles = root.findall(".//{http://www.w3.org/2000/svg}circle")
    assert len(circles) == 2
    # Stated 0.9, true 0.6 on a field of 320 with a margin of 56.
    assert (float(circles[1].get("cx")), float(circles[1].get("cy"))) == (56 + 0.9 * 320, 56 + 0.4 * 320)
    assert picture == calibration_svg(MADE, '<script>alert("x")</script> & more')


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_progress_is_drawn_on_a_terminal_only_and_wiped_at_the_end(monkeypatch):
    monkeypatch.setattr("diagtree.commands.progress.PATIENCE", 0)
    pipe, terminal = io.StringIO(), Terminal()
    for stream in (pipe, terminal):
        with Progress("walking", 10, stream) as progress:
            progress(5)
    assert pipe.getvalue() == ""
    assert "walking [############            ]  50 %" in terminal.getvalue()
    assert terminal.getvalue().endswith("\r")
