"""The readings of the gears, against values worked out by hand and the tangent of the angle."""

import math
from decimal import Decimal

import pytest
from diagtree_gears.readings import CABLE_PULL, GEAR_STEP, HANGER_DEVIATION, RIM, tilt
from hypothesis import given
from hypothesis import strategies as st

from diagtree.errors import ExpectedError


@pytest.mark.parametrize(
    ("reading", "text", "value", "says"),
    [
        (HANGER_DEVIATION, "12 10 7 9 mm", "5", "5 mm apart at the rim, 0.5° out, leaning in at the bottom"),
        (HANGER_DEVIATION, "7, 10, 12, 9", "5", "5 mm apart at the rim, 0.5° out, leaning in at the top"),
        (HANGER_DEVIATION, "10 10 10 10", "0", "0 mm apart at the rim, 0.0° out"),
        (HANGER_DEVIATION, "3.5 mm", "3.5", "3.5 mm apart at the rim"),
        (
            HANGER_DEVIATION,
            "0.5in 0.4in 0.3in 0.4in",
            "5.08",
            "5.08 mm apart at the rim, 0.5° out, leaning in at the bottom",
        ),
        (CABLE_PULL, "11.2 mm over 4 clicks", "2.8", "2.8 mm a click"),
        (CABLE_PULL, "2.8 mm", "2.8", "2.8 mm a click"),
        (
            GEAR_STEP,
            "cage 15.0 mm, sprockets 15.8 mm",
            "-5.06",
            "the cage moves 5.1 % less than the sprockets are apart",
        ),
        (GEAR_STEP, "16.2 against 15.8", "2.53", "the cage moves 2.5 % more than the sprockets are apart"),
    ],
)
def test_what_was_measured_becomes_a_value(reading, text, value, says):
    measured = reading.read(text)
    assert round(measured.value, 2) == Decimal(value)
    assert measured.says == says
    assert measured.odd is None


def test_the_examples_are_taken():
    for reading in (HANGER_DEVIATION, CABLE_PULL, GEAR_STEP):
        assert reading.read(reading.example).odd is None


@given(st.floats(0.05, 5))
def test_the_angle_of_a_hanger_is_the_slope_over_the_rim(degrees):
    rise = Decimal(math.tan(math.radians(degrees))) * RIM
    half = rise / 2
    assert math.isclose(tilt((rise, half, Decimal(0), half)), degrees, rel_tol=1e-9)


@pytest.mark.parametrize(
    ("reading", "text", "wrong"),
    [
        (HANGER_DEVIATION, "12 10 7", "'12 10 7' is not four gaps."),
        (CABLE_PULL, "11 mm over 0", "'11 mm over 0' is not over 1 to 14 clicks."),
        (GEAR_STEP, "15.0 mm", "'15.0 mm' is not two lengths."),
        (GEAR_STEP, "cage 15 mm, sprockets 0 mm", "The sprockets cannot be no distance apart."),
        (CABLE_PULL, "far", "'far' is not a number with a unit."),
    ],
)
def test_a_text_that_tells_something_else_is_refused_by_name(reading, text, wrong):
    with pytest.raises(ExpectedError) as caught:
        reading.read(text)
    assert caught.value.wrong == wrong
    assert caught.value.mend


@pytest.mark.parametrize(
    ("reading", "text"),
    [(HANGER_DEVIATION, "90 mm"), (CABLE_PULL, "9 mm"), (GEAR_STEP, "cage 30 mm, sprockets 15 mm")],
)
def test_an_odd_value_is_questioned(reading, text):
    assert reading.read(text).odd
