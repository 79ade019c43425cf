"""Spoke tension, tyre size and pressure against published and computed values."""

import math
from decimal import Decimal

import pytest
from diagtree_disc_brakes.readings import LEVER_TRAVEL, read_lever_travel
from diagtree_wheels.readings import (
    SPOKE_TENSION_BY_DEFLECTION,
    SPOKE_TENSION_BY_PITCH,
    TYRE_PRESSURE,
    read_deflection,
    read_pitch,
    read_pressure,
    tension_by_deflection,
    tension_by_pitch,
)
from hypothesis import given
from hypothesis import strategies as st

from diagtree.errors import ExpectedError

E_I_2MM = 200e9 * math.pi * 0.002**4 / 64


@pytest.mark.parametrize(
    ("pitch", "length", "diameter", "newtons"),
    # Worked examples of a published calculator that takes the spoke for a bare string of steel (7850 kg/m3).
    [(350, 292, 2.0, 1030.65), (310, 292, 2.0, 808.29), (330, 260, 1.8, 588.22)],
)
def test_tension_by_pitch_agrees_with_published_examples_of_the_bare_string(pitch, length, diameter, newtons):
    assert tension_by_pitch(pitch, length, diameter) == pytest.approx(newtons, rel=0.025)


def test_a_thin_steel_guitar_string_has_the_tension_that_its_maker_prints():
    """Plain steel, 0.010 in, scale 25.5 in, tuned to e' (329.63 Hz): 16.2 lbf in string makers' tables."""
    newtons = tension_by_pitch(329.63, 25.5 * 25.4, 0.254)
    assert newtons / 4.4482216 == pytest.approx(16.2, rel=0.015)


def test_twice_the_pitch_is_four_times_the_tension_but_for_the_stiffness():
    thin = 0.3
    assert tension_by_pitch(600, 280, thin) / tension_by_pitch(300, 280, thin) == pytest.approx(4, rel=0.001)


@given(st.floats(150, 2000), st.floats(80, 180))
def test_the_tension_that_bends_a_spoke_is_found_again(newtons, span):
    reach = span / 1000
    turn = reach / 2 * math.sqrt(newtons / E_I_2MM)
    depth = 40 * reach / (4 * newtons) * (1 - math.tanh(turn) / turn)
    assert tension_by_deflection(40, depth * 1000, span) == pytest.approx(newtons, rel=1e-6)


def test_deflection_lies_between_the_bare_beam_and_the_bare_string():
    """Limits of the tie-rod: F S^3 / (48 E I) without tension, F S / (4 T) without stiffness."""
    assert tension_by_deflection(40, 1.0, 100) < 40 * 100 / (4 * 1.0)
    assert tension_by_deflection(40, 1.0, 100, 0.2) == pytest.approx(1000, rel=0.01)
    # Without tension a span of 100 mm of 2 mm wire moves 40 x 100^3 / (48 x 200000 x 0.7854) = 5.305 mm.
    assert tension_by_deflection(40, 5.3, 100) < 5
    with pytest.raises(ExpectedError, match="even if slack"):
        tension_by_deflection(40, 5.31, 100)


def test_spoke_readings_say_what_they_understood():
    assert read_pitch("350 Hz over 292 mm").says == "about 1020 N (104 kgf)"
    assert read_pitch("350hz over 29.2 cm, 1.8 mm").value < read_pitch("350 Hz over 292 mm").value
    assert read_pitch("700 Hz over 292 mm").odd == "No spoke stands that much. Was it an octave too high?"
    assert read_deflection("40 N, 0.9 mm over 100 mm").says == "about 800 N (82 kgf)"


def test_a_decimal_comma_is_no_second_measure():
    """'292,5 mm' was once read as a spoke of 292 mm and 5 mm thick."""
    assert read_pitch("350 Hz over 292,5 mm").value == read_pitch("350 Hz over 292.5 mm").value
    assert (
        read_pitch("350,5 Hz over 292,5 mm, 1,8 mm").value
        == read_pitch("350.5 Hz over 292.5 mm, 1.8 mm").value
    )
    assert (
        read_deflection("40,5 N, 0,9 mm over 100 mm").value
        == read_deflection("40.5 N, 0.9 mm over 100 mm").value
    )
    assert read_pitch("0.35 kHz over 292 mm").value == read_pitch("350 Hz over 292 mm").value


@pytest.mark.parametrize(
    ("text", "per_cent", "says"),
    [
        ("2.1 bar in 2.5-4.5 bar", "-20.0", "under the range by 0.4 bar"),
        ("3.5 bar in 2.5 to 4.5 bar", "50.0", "within the range, 50 % of the way up"),
        ("60 psi in 50-85 psi", "28.6", "within the range, 29 % of the way up"),
        ("350 kPa of 250-450 kPa", "50.0", "within the range, 50 % of the way up"),
        ("5 bar in 2.5-4.5 bar", "125.0", "over the range by 0.5 bar"),
        ("60 in 50-85 psi", "28.6", "within the range, 29 % of the way up"),
    ],
)
def test_pressure_lies_in_its_range(text, per_cent, says):
    measured = read_pressure(text)
    assert (measured.value, measured.says) == (Decimal(per_cent), says)
    assert (measured.odd is not None) == (measured.value > 100)


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("25 of 60 mm", "41.7"),
        ("1 in of 2 1/2 in", "40.0"),
        ("42 %", "42"),
        ("30/60 mm", "50.0"),
        ("1/2 in of 2 1/2 in", "20.0"),
        ("1 of 2 in", "50.0"),
    ],
)
def test_lever_travel_is_a_share_of_the_way_to_the_grip(text, share):
    assert LEVER_TRAVEL.read(text).value == Decimal(share)


@pytest.mark.parametrize(
    "reading",
    [SPOKE_TENSION_BY_PITCH, SPOKE_TENSION_BY_DEFLECTION, TYRE_PRESSURE, LEVER_TRAVEL],
    ids=lambda reading: reading.name,
)
def test_each_reading_takes_its_own_example(reading):
    measured = reading.read(reading.example)
    assert measured.odd is None
    assert measured.says


@pytest.mark.parametrize(
    ("read", "text", "wrong"),
    [
        (read_pitch, "high", "'high' is not a pitch over a length."),
        (read_pitch, "10 Hz over 292 mm", "A spoke so low in pitch has no tension."),
        (read_pitch, "350 Hz over 0 mm", "'0 mm' is no length to reckon with."),
        (read_pitch, "350 Hz over 292 mm, 0.000001 mm", "'0.000001 mm' is no length to reckon with."),
        (read_pitch, f"{'9' * 400} Hz over 292 mm", f"'{'9' * 80}' is not a number with a unit."),
        (read_deflection, "40 N", "'40 N' is not a push, a depth and a span."),
        (read_deflection, "0 N, 1 mm over 100 mm", "'0 N' pushes nothing aside."),
        (read_pressure, "3 bar", "'3 bar' is not a pressure in a range."),
        (read_pressure, "3 bar in 4-2 bar", "'3 bar in 4-2 bar' has a range that does not rise."),
        (read_lever_travel, "a lot", "'a lot' is not a travel of a lever."),
        (read_lever_travel, "70 of 60 mm", "A lever cannot move 116.7 % of its way to the grip."),
        (read_lever_travel, "10 of 0 mm", "The way to the grip must be more than nothing."),
    ],
)
def test_a_text_that_is_no_reading_is_refused_by_name(read, text, wrong):
    with pytest.raises(ExpectedError) as caught:
        read(text)
    assert caught.value.wrong == wrong
    assert caught.value.mend
