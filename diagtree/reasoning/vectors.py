"""Sums and products over plain lists: quick enough without numpy, and no slower to import than Python."""

from __future__ import annotations

from collections.abc import Iterable
from operator import add, mul


def dot(one: Iterable[float], other: Iterable[float]) -> float:
    """Return the sum of the products.

    Examples
    --------
    >>> dot([1.0, 2.0], [3.0, 4.0])
    11.0
    """
    total: float = sum(map(mul, one, other))
    return total


def times(one: Iterable[float], other: Iterable[float]) -> list[float]:
    """Return the products, place by place."""
    return list(map(mul, one, other))


def plus(one: Iterable[float], other: Iterable[float]) -> list[float]:
    """Return the sums, place by place."""
    return list(map(add, one, other))


def tie(value: float) -> int:
    """Return a number to sort by: the same for two values that differ in their last bits alone.

    Many times quicker than `round`, which goes through decimal digits.

    Examples
    --------
    >>> tie(0.1 + 0.2) == tie(0.3), tie(0.3) < tie(0.3001)
    (True, True)
    """
    return int(value * 1e12 + 0.5)
