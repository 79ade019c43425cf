"""PERT figures against the textbook path and beta-PERT vectors; sums that add up to the cent."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.work import pert
from diagtree.work.words import odds, share_out, to_multiple


def three(*figures):
    return tuple(Decimal(figure) for figure in figures)


TEXTBOOK = [three(5, 8, 17), three(3, 5, 7), three(4, 6, 8), three(3, 4, 5)]
WORKSHOP = [three(10, 15, 30), three(20, 25, 60), three(5, 10, 15)]


def test_the_textbook_path_has_mean_24_and_variance_5():
    """The usual PERT exercise (Malcolm et al. 1959): mean 24, variance 5.0, P(T <= 28) 0.9632, P80 25.882."""
    assert sum(pert.mean(row) for row in TEXTBOOK) == 24
    assert sum(pert.variance(row) for row in TEXTBOOK) == pytest.approx(5.0)
    assert pert.total_at(TEXTBOOK, 80) == pytest.approx(25.882, abs=5e-4)
    assert pert.total_at(TEXTBOOK, 96.32) == pytest.approx(28, abs=2e-3)


def test_three_jobs_of_a_workshop():
    """Mean 56.667, standard deviation 7.6376, P80 63.095 (computed)."""
    assert float(sum(pert.mean(row) for row in WORKSHOP)) == pytest.approx(56.667, abs=5e-4)
    assert sum(pert.variance(row) for row in WORKSHOP) ** 0.5 == pytest.approx(7.6376, abs=5e-5)
    assert pert.total_at(WORKSHOP, 80) == pytest.approx(63.095, abs=5e-4)


def test_percentiles_of_single_jobs_are_not_added_up():
    assert pert.total_at(WORKSHOP, 80) < sum(pert.total_at([row], 80) for row in WORKSHOP) - 3


def test_beta_pert_of_10_15_30():
    """Variance 12.698, P80 19.804 (computed); a triangle would give 18.056 and 22.254: we do not use one."""
    low, high = 10, 30
    a, b = pert.shape(three(10, 15, 30))
    assert (a, b) == (2.0, 4.0)
    assert (high - low) ** 2 * a * b / ((a + b) ** 2 * (a + b + 1)) == pytest.approx(12.698, abs=5e-4)
    # P80 of beta(2, 4): its distribution function is a polynomial, solved by bisection.
    share = (19.804 - low) / (high - low)
    assert 1 - (1 - share) ** 4 * (1 + 4 * share) == pytest.approx(0.8, abs=1e-4)
    drawn = low + (high - low) * np.random.default_rng(7).beta(a, b, 200_000)
    assert np.quantile(drawn, 0.8) == pytest.approx(19.804, abs=0.05)
    assert drawn.mean() == pytest.approx(float(pert.mean(three(10, 15, 30))), abs=0.03)


def test_a_job_that_always_takes_the_same_has_nothing_to_draw():
    with pytest.raises(ValueError, match="nothing to draw"):
        pert.shape(three(5, 5, 5))


@settings(max_examples=60)
@given(st.integers(0, 100_000), st.lists(st.floats(0, 1000), min_size=1, max_size=8))
def test_shares_add_up_to_the_cent(cents, weights):
    weights = [*weights, 1.0]
    total = Decimal(cents) / 100
    shares = share_out(total, weights)
    assert sum(shares) == total
    assert all(share >= 0 for share in shares)
    exact = [float(total) * weight / sum(weights) for weight in weights]
    assert all(abs(float(share) - fair) < 0.0101 for share, fair in zip(shares, exact, strict=True))


@settings(max_examples=60)
@given(
    st.decimals(0, 5000, places=4), st.sampled_from([Decimal(m) for m in ("0.01", "0.05", "0.10", "1", "5")])
)
def test_rounding_goes_to_the_nearest_multiple(amount, multiple):
    rounded = to_multiple(amount, multiple)
    assert rounded % multiple == 0
    assert abs(rounded - amount) <= multiple / 2


@settings(max_examples=60)
@given(st.floats(0.01, 0.99))
def test_odds_in_words_stay_near_the_chance(chance):
    said = odds(chance)
    top, _, bottom = said.removeprefix("under ").partition(" in ")
    assert abs(int(top) / int(bottom) - chance) <= 0.051
