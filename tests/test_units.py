"""Units against pint and NIST SP 811; quantities as people write them."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.units import UNITS, NotAQuantityError, beside, convert, parse, plain

PINT = {
    "N·m": "newton*meter", "N·cm": "newton*centimeter", "lbf·in": "force_pound*inch",
    "lbf·ft": "force_pound*foot", "kgf·cm": "kilogram_force*centimeter", "kgf·m": "kilogram_force*meter",
    "mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot", "Pa": "pascal",
    "kPa": "kilopascal", "MPa": "megapascal", "bar": "bar", "psi": "psi", "N": "newton", "kN": "kilonewton",
    "lbf": "force_pound", "kgf": "kilogram_force", "g": "gram", "kg": "kilogram", "lb": "pound", "oz": "ounce",
    "ml": "milliliter", "l": "liter", "s": "second", "min": "minute", "h": "hour", "Hz": "hertz",
    "kHz": "kilohertz", "%": "percent", "°": "degree", "N/mm": "newton/millimeter", "lbf/in": "force_pound/inch",
    "K": "kelvin", "°C": "degC", "°F": "degF",
}  # fmt: skip


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry()


def test_every_unit_has_its_name_in_the_oracle():
    assert set(PINT) == set(UNITS)


@pytest.mark.parametrize("symbol", sorted(UNITS))
def test_each_conversion_agrees_with_pint(registry, symbol):
    for other, unit in UNITS.items():
        if unit.dimension == UNITS[symbol].dimension:
            oracle = registry.Quantity(37.25, PINT[symbol]).to(PINT[other]).magnitude
            assert float(convert(Decimal("37.25"), symbol, other)) == pytest.approx(oracle, rel=1e-12), other


@pytest.mark.parametrize(
    ("unit", "to", "value"),
    [
        ("lbf·ft", "N·m", "1.3558179483314004"),
        ("lbf·in", "N·m", "0.1129848290276167"),
        ("kgf·cm", "N·m", "0.0980665"),
        ("bar", "kPa", "100"),
    ],
)
def test_factors_are_those_of_nist_sp_811_to_the_last_digit(unit, to, value):
    assert convert(1, unit, to) == Decimal(value)


def test_a_pound_a_square_inch_is_that_of_nist_sp_811():
    assert float(convert(1, "psi", "Pa")) == pytest.approx(6894.757293168361, rel=1e-15)


def test_forty_newton_metres_in_the_other_units():
    assert round(convert(40, "N·m", "lbf·in"), 3) == Decimal("354.030")
    assert round(convert(40, "N·m", "lbf·ft"), 4) == Decimal("29.5025")


def test_a_misprint_of_the_trade_is_not_followed():
    """Some copies print 350 lbf·in as 40.2 N·m; it is 39.54."""
    assert round(convert(350, "lbf·in", "N·m"), 2) == Decimal("39.54")


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("306.4 mm", "306.4", "mm"),
        ("306,4mm", "306.4", "mm"),
        ("12 1/16 in", "12.0625", "in"),
        ('12-1/16"', "12.0625", "in"),
        ("12½ in", "12.5", "in"),
        ("1/8 inch", "0.125", "in"),
        ("40 N·m", "40", "N·m"),
        ("40 Nm", "40", "N·m"),
        ("40 N m", "40", "N·m"),
        ("4⋅0 Nm", None, None),
        ("30 psi", "30", "psi"),
        ("30psi", "30", "psi"),
        ("2.1 BAR", "2.1", "bar"),
        ("60 in-lbs", "60", "lbf·in"),
        ("29.5 ft lb", "29.5", "lbf·ft"),
        ("-5 °C", "-5", "°C"),
        ("97 c", "97", "°C"),
        (".5 %", "0.5", "%"),
        ("360 kgf cm", "360", "kgf·cm"),
        ("\u22125 °C", "-5", "°C"),
        ("1\u20442 in", "0.5", "in"),
        ("\u00a05\u00a0N\u2219m\u00a0", "5", "N·m"),
        ("5 N-m", "5", "N·m"),
        ("6'", "6", "ft"),
        ("0,125 in", "0.125", "in"),
        ("30 lb/in2", "30", "psi"),
    ],
)
def test_quantities_are_read_as_people_write_them(text, value, unit):
    if value is None:
        with pytest.raises(NotAQuantityError):
            parse(text)
        return
    read = parse(text)
    assert (read.value, read.unit) == (Decimal(value), unit)


@pytest.mark.parametrize(
    ("text", "like", "says"),
    [
        ("twelve mm", None, "'twelve mm' is not a number with a unit. Write it like '306.4 mm' or '12 1/16 in'."),
        ("", None, "'' is not a number with a unit. Write it like '306.4 mm' or '12 1/16 in'."),
        ("40", None, "'40' has no unit. Write it like '306.4 mm' or '30 psi'."),
        ("1,000 mm", None, "'1,000 mm' can be read in two ways. Write it without the comma, or with a point."),
        ("3/0 in", None, "'3/0 in' divides by nothing. Write it like '12 1/16 in'."),
        ("40 N·mm", None, "The unit 'N·mm' is not known. Did you mean 'N·m'?"),
        ("40 psi", "N·m", "'40 psi' is a pressure; a torque is wanted. Write it like '5 N·m'."),
        ("٤٠ mm", None, "'٤٠ mm' is not a number with a unit. Write it like '306.4 mm' or '12 1/16 in'."),
        ("1e999999 mm", None, "'1e999999 mm' is not a number with a unit. Write it like '306.4 mm'"),
        ("1.5.2 mm", None, "'1.5.2 mm' is not a number with a unit."),
        ("5 mm 3", "mm", "'5 mm 3' is not a number with a unit. Write it like '5 mm'."),
        ("1 234 mm", None, "'1 234 mm' is not a number with a unit."),
        ("5 °", "mm", "'5 °' is an angle; a length is wanted. Write it like '5 mm'."),
        ("9" * 70 + " mm", None, f"'{'9' * 70} mm' is more than anybody measures. Look at the figure again."),
        ("9" * 40 + "/1 mm", None, f"'{'9' * 40}/1 mm' is more than anybody measures."),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told_with_what_to_write(text, like, says):
    with pytest.raises(NotAQuantityError) as caught:
        parse(text, like)
    assert str(caught.value).startswith(says)


def test_units_of_two_dimensions_are_not_converted():
    with pytest.raises(NotAQuantityError, match="N·m measures torque and psi measures pressure"):
        convert(1, "N·m", "psi")


@settings(max_examples=60)
@given(
    st.decimals(min_value=-100000, max_value=100000, places=4),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(sorted(UNITS)),
)
def test_there_and_back_is_where_one_began(value, unit, other):
    if UNITS[unit].dimension == UNITS[other].dimension:
        back = convert(convert(value, unit, other), other, unit)
        assert abs(back - value) <= Decimal("1e-18") * max(1, abs(value))


@settings(max_examples=60)
@given(st.decimals(min_value=0, max_value=9999, places=3), st.sampled_from(sorted(UNITS)))
def test_what_is_printed_is_read_back(value, unit):
    from diagtree.units import Quantity

    assert parse(str(Quantity(value, unit))) == Quantity(value, unit)


@given(st.text(max_size=40))
@settings(max_examples=150)
def test_any_text_is_read_or_refused_in_words(text):
    refused = None
    try:
        parse(text)
    except NotAQuantityError as error:
        refused = error
    assert refused is None or refused.mend


def test_torques_are_written_beside_in_the_unit_of_the_wrench():
    assert beside(Decimal(4), Decimal(6)) == "35-53 lbf·in"
    assert beside(Decimal(35), Decimal(50)) == "25.8-36.9 lbf·ft"
    assert plain(Decimal("0.0")) == plain(Decimal("-0.00")) == "0"
