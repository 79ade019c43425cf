"""The readings of the suspension, against the gas law worked out by hand (constant volume, 101.325 kPa outside)."""

from decimal import Decimal

import pytest
from diagtree_suspension.readings import AIR_LOST, AIR_PRESSURE, SAG, pressure_at
from hypothesis import given
from hypothesis import strategies as st

from diagtree.errors import ExpectedError
from diagtree.units import convert


@pytest.mark.parametrize(
    ("psi", "at", "other", "shown"),
    [("80", 20, 0, "73.539"), ("200", 20, 0, "185.352"), ("30", 20, 0, "26.951")],
)
def test_pressure_follows_the_absolute_temperature(psi, at, other, shown):
    # p2 = (p1 + 101.325) T2/T1 - 101.325 kPa, computed separately.
    kpa = pressure_at(convert(Decimal(psi), "psi", "kPa"), Decimal(at), Decimal(other))
    assert round(convert(kpa, "kPa", "psi"), 3) == Decimal(shown)


def test_six_hundred_kilopascals_from_25_to_5_degrees():
    assert round(pressure_at(Decimal(600), Decimal(25), Decimal(5)), 2) == Decimal("552.95")


@pytest.mark.parametrize(
    ("reading", "text", "value", "says"),
    [
        (SAG, "45 mm of 150 mm", "30.00", "30 % of the travel"),
        (SAG, "45/150", "30.00", "30 % of the travel"),
        (SAG, "17 mm of 55 mm", "30.90", "30.9 % of the travel"),
        (SAG, "25 %", "25.00", "25 % of the travel"),
        (SAG, "1/2 in of 2 1/2 in", "20.00", "20 % of the travel"),
        (SAG, "1 1/2 of 6 in", "25.00", "25 % of the travel"),
        (AIR_PRESSURE, "6,5 bar at 20 °C, 0 °C", "5.99", "6 bar at 0 °C"),
        (AIR_PRESSURE, "80 psi at 20 °C, 0 °C", "5.07", "73.5 psi at 0 °C, 5.07 bar"),
        (AIR_PRESSURE, "6 bar at 25 C then 5 C", "5.53", "5.5 bar at 5 °C"),
        (
            AIR_LOST,
            "80 psi at 20 °C then 73.5 psi at 0 °C",
            "0.05",
            "nothing lost: the cold alone makes it 73.5 psi",
        ),
        (AIR_LOST, "80 psi at 20 °C, 60 psi at 20 °C", "25.00", "25 % lost: 80 psi expected"),
    ],
)
def test_what_was_measured_becomes_a_value(reading, text, value, says):
    measured = reading.read(text)
    assert round(measured.value, 2) == Decimal(value)
    assert measured.says == says
    assert measured.odd is None


def test_the_examples_are_taken():
    for reading in (SAG, AIR_PRESSURE, AIR_LOST):
        assert reading.read(reading.example).odd is None


@given(st.integers(50, 2000), st.integers(-20, 40), st.integers(-20, 40))
def test_warming_it_up_again_brings_the_pressure_back(kpa, at, other):
    there = pressure_at(Decimal(kpa), Decimal(at), Decimal(other))
    assert abs(pressure_at(there, Decimal(other), Decimal(at)) - kpa) < Decimal("1e-12")
    assert (there > kpa) == (other > at) or at == other


@pytest.mark.parametrize(
    ("reading", "text", "wrong"),
    [
        (SAG, "45 mm", "'45 mm' is not a sag of a travel."),
        (SAG, "160 of 150", "'160 of 150' is not a part of the travel."),
        (SAG, "20 of 0", "The travel cannot be nothing."),
        (AIR_PRESSURE, "80 psi", "'80 psi' does not tell both."),
        (AIR_PRESSURE, "80 psi, 0 C", "'80 psi' is not a pressure with its temperature."),
        (AIR_PRESSURE, "80 psi at -273.15 C, 0 C", "Nothing is as cold as '-273.15 C'."),
        (AIR_PRESSURE, "80 psi at 20 C, -500 °C", "Nothing is as cold as '-500 °C'."),
        (AIR_LOST, "0 bar at 20 C then 0 bar at 0 C", "There was no pressure to lose."),
    ],
)
def test_a_text_that_tells_something_else_is_refused_by_name(reading, text, wrong):
    with pytest.raises(ExpectedError) as caught:
        reading.read(text)
    assert caught.value.wrong == wrong
    assert caught.value.mend


@pytest.mark.parametrize(
    ("reading", "text"),
    [
        (SAG, "90 of 150"),
        (AIR_PRESSURE, "800 psi at 20 C, 0 C"),
        (AIR_LOST, "50 psi at 20 C then 80 psi at 20 C"),
    ],
)
def test_an_odd_value_is_questioned(reading, text):
    assert reading.read(text).odd
