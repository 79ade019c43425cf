"""The chain's elongation from a rule or a gauge, against values worked out from the pitch of 12.7 mm (1/2 in)."""

from decimal import Decimal
from fractions import Fraction

import pytest
from diagtree_chain_drive.readings import CHAIN_ELONGATION, elongation, read_elongation
from hypothesis import given
from hypothesis import strategies as st

from diagtree.errors import ExpectedError


@pytest.mark.parametrize(
    ("text", "per_cent"),
    [
        # 100 (L / (12.7 N) - 1), pin centre to pin centre, worked out by hand.
        ("306.324 mm over 24", "0.500"),
        ("307.086 over 24 links", "0.750"),
        ("12 1/16 in", "0.521"),
        ("12 1/8 in", "1.042"),
        ("+1/16 in", "0.521"),
        ("+1/16 in over 24", "0.521"),
        ("128.0 mm over 10", "0.787"),
        ("304.8 mm", "0.000"),
        ("30.48 cm over 24", "0.000"),
        ("0.5 %", "0.500"),
        ("0,75", "0.750"),
        ("1 per cent", "1.000"),
    ],
)
def test_a_length_or_a_gauge_becomes_per_cent(text, per_cent):
    assert round(CHAIN_ELONGATION.read(text).value, 3) == Decimal(per_cent)


def test_the_reading_says_what_it_understood():
    assert read_elongation("12 1/16 in").says == "0.52 % longer than new"
    assert read_elongation("306.4 mm over 24").says == "0.52 % longer than new"
    assert read_elongation("304.5 mm over 24").says == "0.1 % shorter than new"


def test_the_example_is_one_that_it_takes():
    assert CHAIN_ELONGATION.read(CHAIN_ELONGATION.example).odd is None


@pytest.mark.parametrize("text", ["306.4 mm over 25", "290 mm over 24"])
def test_a_chain_shorter_than_new_is_questioned(text):
    assert read_elongation(text).odd == (
        "That is shorter than a new chain. Did you count the links, and measure pin centre to pin centre?"
    )


def test_a_chain_that_is_far_too_long_is_questioned():
    assert (
        read_elongation("306.4 mm over 23").odd
        == "That is longer than a chain that still runs. Did you count the links?"
    )


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("12 mm over 0", "'12 mm over 0' is not measured over 2 to 200 links."),
        ("5000 mm over 900", "'5000 mm over 900' is not measured over 2 to 200 links."),
        ("long", "'long' is not a number with a unit."),
        ("40 N·m over 24", "'40 N·m' is a torque; a length is wanted."),
    ],
)
def test_a_text_that_is_no_length_is_refused_by_name(text, wrong):
    with pytest.raises(ExpectedError) as caught:
        read_elongation(text)
    assert caught.value.wrong == wrong
    assert caught.value.mend


@given(st.integers(2, 200), st.integers(0, 3000))
def test_what_is_stretched_by_so_much_is_read_back(links, thousandths):
    length = Fraction(127, 10) * links * (1 + Fraction(thousandths, 100_000))
    decimal = Decimal(length.numerator) / Decimal(length.denominator)
    assert abs(elongation(decimal, links) - Decimal(thousandths) / 1000) < Decimal("1e-9")
    assert abs(
        read_elongation(f"{decimal:.9f} mm over {links}").value - Decimal(thousandths) / 1000
    ) < Decimal("1e-5")


def test_what_is_no_length_is_answered_with_the_ways_to_write_one():
    with pytest.raises(ExpectedError) as refused:
        read_elongation("long")
    assert str(refused.value) == (
        "'long' is not a number with a unit. Write it like '306.4 mm over 24', '12 1/16 in' or '0.75 %'."
    )
