"""The points, by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.practice.score import Named, score

RIGHT, MISLED, GUESS = Named(True, True, 1.0), Named(False, True, 0.0), Named(False, False, 0.0)


@pytest.mark.parametrize(
    ("named", "minutes", "least", "answered", "asked", "total"),
    [
        ((RIGHT,), 4, 4, 3, 3, 100),  # 60 + 25 + 15
        ((RIGHT,), 8, 4, 0, 3, 73),  # 60 + 25 x 4/8 = 72.5
        ((RIGHT,), 4, 4, 0, 0, 100),  # nothing asked: (60 + 25) of 85
        ((GUESS,), 0, 4, 0, 0, 0),
        ((MISLED,), 4, 4, 2, 2, 45),  # 30 + 0 + 15
        ((RIGHT, GUESS), 10, 5, 1, 2, 44),  # 30 + 25 x 5/10 x 1/2 + 7.5 = 43.75
        ((Named(True, False, 0.25),), 0, 4, 2, 2, 81),  # a lucky guess: 60 + 25 x 1/4 + 15 = 81.25
        ((RIGHT,), 0.5, 0, 1, 1, 100),  # what takes under a minute counts as one
    ],
)
def test_points_are_what_they_are_by_hand(named, minutes, least, answered, asked, total):
    assert score(named, minutes, least, answered, asked).total == total


@settings(max_examples=60)
@given(
    named=st.lists(st.sampled_from([RIGHT, MISLED, GUESS]), min_size=1, max_size=3),
    minutes=st.floats(0, 500),
    least=st.floats(0, 100),
    asked=st.integers(0, 6),
)
def test_points_lie_between_0_and_100_and_more_minutes_never_give_more(named, minutes, least, asked):
    one = score(tuple(named), minutes, least, asked, asked)
    assert 0 <= one.total <= 100
    assert score(tuple(named), minutes + 1, least, asked, asked).total <= one.total
