"""The beta distribution without a statistics package, held against one."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from diagtree.learning.credible import beta_below, beta_quantile, interval

SHAPES = st.floats(0.05, 5_000)


@settings(max_examples=150, deadline=None)
@given(st.floats(0, 1), SHAPES, SHAPES)
def test_the_chance_of_a_share_or_less_is_scipys(x, a, b):
    assert beta_below(x, a, b) == pytest.approx(stats.beta.cdf(x, a, b), abs=1e-10)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.02, 0.98), st.floats(0.5, 2_000), st.floats(0.5, 2_000))
def test_a_quantile_is_scipys(chance, a, b):
    assert beta_quantile(chance, a, b) == pytest.approx(stats.beta.ppf(chance, a, b), abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.3, 200), st.floats(0.3, 200))
def test_an_interval_holds_90_of_100_and_as_much_is_under_it_as_over(a, b):
    low, high = interval(a, b)
    assert stats.beta.cdf(low, a, b) == pytest.approx(0.05, abs=1e-9)
    assert stats.beta.sf(high, a, b) == pytest.approx(0.05, abs=1e-9)


def test_a_share_of_8_that_weighs_20_with_3_of_10_lies_between_6_and_27():
    """Checked with scipy.stats.beta(4.6, 25.4): the 5th and 95th percentile."""
    assert interval(4.6, 25.4) == pytest.approx((0.061477, 0.271713), abs=5e-7)


def test_a_share_that_cannot_be_otherwise_has_an_interval_of_no_width():
    assert interval(0, 12) == (0.0, 0.0)
    assert interval(12, 0) == (1.0, 1.0)
