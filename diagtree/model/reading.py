"""A reading: turns what was measured into a value with a unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Measured:
    """What a reading made of the text that was entered.

    Parameters
    ----------
    value
        The value, in the reading's unit.
    says
        What is echoed back: ``0.52 % longer than new``.
    odd
        A question to put before the value is taken, or None: ``That is longer than any chain. Sure?``
    """

    value: Decimal
    says: str
    odd: str | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """A named way to turn entered text into a value.

    Parameters
    ----------
    name
        Family and name: ``chain-drive/chain-elongation``.
    title
        What is measured.
    unit
        The unit of the value; answers' ``from:`` and ``below:`` are in it.
    example
        A text that it takes: ``306.4 mm over 24``.
    read
        The function: text in, `Measured` out; raises `diagtree.errors.ExpectedError` with what to do.
    basis
        Where the formula comes from.
    """

    name: str
    title: str
    unit: str
    example: str
    read: Callable[[str], Measured]
    basis: str
