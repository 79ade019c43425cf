"""Prices and torques as they are typed."""

from decimal import Decimal

import pytest

from diagtree.errors import ExpectedError
from diagtree.screens.amounts import AmountError, money, torque


@pytest.mark.parametrize("text", ["", "x", "-1", "0", "1e9", "1e999999999", "nan", "inf", "1 2", "84.50 bar"])
def test_what_is_no_price_is_refused(text):
    with pytest.raises(AmountError, match=r"is no price\. Write it like this: 84\.50 EUR"):
        money(text, "EUR")


@pytest.mark.parametrize(
    ("text", "value"), [("5", "5"), ("5.5 EUR", "5.5"), ("5,5eur", "5.5"), (" 12.40 ", "12.40")]
)
def test_a_price_is_read_with_or_without_its_currency(text, value):
    assert money(text, "EUR") == Decimal(value)


@pytest.mark.parametrize("text", ["", "tight", "0", "-5", "5 bar", "9999999 N·m"])
def test_what_is_no_torque_is_refused(text):
    with pytest.raises(ExpectedError, match="5 N·m"):
        torque(text)


@pytest.mark.parametrize(("text", "value"), [("5,2 N·m", "5.2"), ("5Nm", "5"), ("44 lbf·in", "4.9713")])
def test_a_torque_is_read_in_any_unit_of_torque(text, value):
    """44 lbf·in = 44 x 0.1129848 N·m (NIST SP 811, appendix B)."""
    assert round(torque(text), 4) == Decimal(value)
