"""Numbers as they are typed on the full screen and in plain lines: money, and torques as done."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

from diagtree.errors import ExpectedError
from diagtree.units import parse

MOST = 1_000_000
"""No price and no torque comes near it: a slip of the finger does."""


class AmountError(ExpectedError):
    """What was typed is no amount that can be meant."""


def money(text: str, currency: str = "") -> Decimal:
    """Read a price; its currency may be left out.

    Raises
    ------
    AmountError
        If it is no number, not more than nothing, or out of all bounds.

    Examples
    --------
    >>> money("84,50 EUR", "EUR"), money("40")
    (Decimal('84.50'), Decimal('40'))
    """
    plain = text.strip()
    if currency and plain.casefold().endswith(currency.casefold()):
        plain = plain[: -len(currency)].strip()
    try:
        value = Decimal(plain.replace(",", "."))
    except InvalidOperation:
        value = Decimal(-1)
    if not value.is_finite() or not 0 < value < MOST:
        example = f"84.50 {currency}".strip()
        raise AmountError(f"'{text.strip()}' is no price.", f"Write it like this: {example}")
    return value


def torque(text: str) -> Decimal:
    """Read a torque as done and return it in N·m; a bare number is taken as that.

    Raises
    ------
    NotAQuantityError
        If it is no torque.
    AmountError
        If it is not more than nothing, or out of all bounds.

    Examples
    --------
    >>> torque("1,2"), round(torque("44 lbf·in"), 2)
    (Decimal('1.2'), Decimal('4.97'))
    """
    value = parse(text, like="N·m").to("N·m").value
    if not 0 < value < MOST:
        raise AmountError(f"'{text.strip()}' is no torque that was done.", "Write it like '5 N·m'.")
    return value
