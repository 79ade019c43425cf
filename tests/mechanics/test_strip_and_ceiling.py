"""Thread shear: FED-STD-H28/2B and Machinery's Handbook; the ceiling of a joint; wrenches."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.mechanics import bolts, ceiling, strip, wrench
from diagtree.mechanics.materials import BOLT_CLASSES, MATERIALS, bolt_class, material
from diagtree.mechanics.threads import Thread, parse

# 6g/6H limits: shear area a millimetre of engagement, mm2, and strip load over one diameter in 6061-T6, kN.
AREAS = {"M4": (7.77, 6.43), "M5": (10.00, 10.35), "M6": (12.19, 15.14), "M8": (16.83, 27.87),
         "M10": (21.48, 44.46)}  # fmt: skip


@pytest.mark.parametrize(("written", "row"), AREAS.items())
def test_shear_areas_at_the_limits_of_6g_and_6h(written, row):
    thread = parse(written)
    assert strip.internal_area(thread, 1.0) == pytest.approx(row[0], abs=0.006)
    load = strip.strip_load(strip.internal_area(thread, thread.diameter), material("6061-T6").shear)
    assert load / 1000 == pytest.approx(row[1], abs=0.011)


def test_the_worked_example_of_the_handbook_of_bolts_and_bolted_joints():
    """M10x1.5, 10.9, in aluminium: 69.6 kN, tau 130 MPa, Ds 9.968, En 9.206: 21.6 mm (computed 21.55)."""
    length = strip.engagement_for(parse("M10"), 69_600, 130, 9.968, 9.206)
    assert length == pytest.approx(21.55, abs=0.005)


@pytest.mark.parametrize("written", AREAS)
def test_basic_dimensions_give_the_textbook_form(written):
    """A_n = 0.875 pi d L for basic dimensions."""
    thread = parse(written)
    area = strip.internal_area(thread, 3.0, thread.diameter, thread.pitch_diameter)
    assert area == pytest.approx(0.875 * math.pi * thread.diameter * 3.0, rel=1e-12)


@pytest.mark.parametrize(("name", "strength", "shear"), [("6061-T6", 310, 207), ("7075-T6", 560, 330)])
def test_aluminium_is_as_strong_as_the_handbook_prints(name, strength, shear):
    assert (material(name).strength, material(name).shear) == (strength, shear)


def test_every_figure_says_where_it_comes_from():
    assert all(row.basis for row in (*MATERIALS.values(), *BOLT_CLASSES.values(), *bolts.FRICTIONS.values()))


def test_limits_by_formula_stay_near_the_listed_ones():
    """ISO 965-1 rounds its formulas to preferred numbers: the area differs by a few parts in a thousand."""
    for written in AREAS:
        listed = parse(written)
        by_formula = Thread(listed.diameter + 1e-9, listed.pitch, "")
        assert strip.internal_area(by_formula, 1) == pytest.approx(strip.internal_area(listed, 1), rel=0.01)


def test_the_bolt_rules_in_a_long_thread_and_the_aluminium_in_a_short_one():
    m5, lubricated = parse("M5"), bolts.friction("lubricated")
    long = ceiling.estimate(m5, bolt_class("8.8"), lubricated, material("6061-T6"), 8)
    assert long.rules == "the bolt's preload"
    assert long.torque == pytest.approx(5.84, abs=0.01)
    short = ceiling.estimate(m5, bolt_class("12.9"), lubricated, material("6061-T6"), 5)
    assert short.rules == "the thread in 6061-T6 strips"
    assert short.preload == pytest.approx(0.9 * 10_350, rel=0.002)
    assert short.torque < short.bolt_torque


def test_a_bolt_softer_than_what_it_is_screwed_into_strips_first():
    found = ceiling.estimate(parse("M6"), bolt_class("4.6"), bolts.friction("dry"), material("4130"), 2)
    assert found.softer == "the bolt's own thread"


def test_a_nut_as_strong_as_the_bolt_needs_no_strip_limit():
    found = ceiling.estimate(parse("M8"), bolt_class("8.8"), bolts.friction("lubricated"))
    assert (found.strip_load, found.softer, found.rules) == (None, None, "the bolt's preload")
    assert found.least < found.torque < found.most


def test_one_and_a_half_diameters_are_engaged_if_nobody_says_how_much():
    """Common practice: 1 d in hard metal, 1.5 d in aluminium."""
    found = ceiling.estimate(parse("M6"), bolt_class("8.8"), bolts.friction("dry"), material("6061-T6"))
    assert found.engaged == pytest.approx(9.0)


def test_no_thread_is_engaged_by_nothing():
    with pytest.raises(ExpectedError, match="not engaged by 0 mm"):
        ceiling.estimate(parse("M8"), bolt_class("8.8"), bolts.friction("dry"), material("6061-T6"), 0)


def test_an_unknown_material_lists_near_ones():
    with pytest.raises(UnknownNameError, match="Did you mean '6061-T6'"):
        material("6061-T4")


@settings(max_examples=50)
@given(
    st.sampled_from(["M3", "M4", "M5", "M6", "M8", "M10", "M12", "M8x0.75", "9/16 in x 20 tpi"]),
    st.sampled_from(sorted(BOLT_CLASSES)),
    st.sampled_from(sorted(MATERIALS)),
    st.floats(1, 40),
    st.floats(1.05, 3),
)
def test_more_engaged_thread_never_lowers_the_ceiling(written, name, into, engaged, more):
    def at(length):
        return ceiling.estimate(
            parse(written), bolt_class(name), bolts.friction("lubricated"), material(into), length
        )

    assert at(engaged * more).torque >= at(engaged).torque * (1 - 1e-12)
    assert at(engaged).torque <= at(engaged).bolt_torque * (1 + 1e-12)


# TM 9-254 and aircraft practice; 90 degrees changes nothing.
@pytest.mark.parametrize(
    ("torque", "length", "adapter", "set_to"),
    [(135, 10, 1.5, 117.39), (135, 10, -1.5, 158.82), (120, 12, 2, 102.86), (20, 12, 3, 16), (30, 12, 6, 20)],
)
def test_settings_with_an_adapter_are_those_of_the_manuals(torque, length, adapter, set_to):
    assert wrench.setting(torque, length, adapter) == pytest.approx(set_to, abs=0.005)


def test_an_adapter_at_a_right_angle_changes_nothing():
    assert wrench.setting(40, 300, 60, 90) == pytest.approx(40, rel=1e-12)


def test_an_adapter_that_takes_all_leverage_is_refused():
    with pytest.raises(wrench.AdapterError, match="no leverage"):
        wrench.setting(40, 100, -100)


@pytest.mark.parametrize(("torque", "low", "high"), [(5, 4.70, 5.30), (10, 9.4, 10.6), (40, 38.4, 41.6)])
def test_tolerances_are_those_of_iso_6789(torque, low, high):
    assert wrench.within(torque) == pytest.approx((low, high), abs=1e-9)


@settings(max_examples=50)
@given(st.floats(1, 200), st.floats(50, 600), st.floats(1, 200), st.floats(0, 89))
def test_a_longer_wrench_is_set_lower_and_a_turned_adapter_counts_less(torque, length, adapter, angle):
    straight = wrench.setting(torque, length, adapter)
    assert straight < torque
    assert straight <= wrench.setting(torque, length, adapter, angle) + 1e-9
    # What arrives at the fastener is what was wanted: the force on the grip times the whole arm.
    assert straight / length * (length + adapter) == pytest.approx(torque)
