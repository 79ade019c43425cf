"""Sums: the bill, the allowance and the estimate. Part of `diagtree.work.result`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Bill:
    """Sums in the workshop's currency: labour + parts + consumables + tax + rounding = total, exactly."""

    labour: Decimal
    parts: Decimal
    consumables: Decimal
    tax: Decimal
    rounding: Decimal
    total: Decimal

    @property
    def net(self) -> Decimal:
        """Before tax."""
        return self.labour + self.parts + self.consumables


@dataclass(frozen=True, slots=True)
class AllowanceItem:
    """What a share of the allowance is for: ``bearings worn, 1 in 6: 4.20``.

    Parameters
    ----------
    what
        In words.
    cause
        The cause's name, or None for the spread of the minutes and for the rest.
    chance
        Chance that it is met on this machine, or None.
    odds
        The chance in words: ``1 in 6``; empty if there is none.
    amount
        Its share, tax included.
    """

    what: str
    cause: str | None
    chance: float | None
    odds: str
    amount: Decimal

    def __str__(self) -> str:
        return f"{self.what}{', ' + self.odds if self.odds else ''}: {self.amount}"


@dataclass(frozen=True, slots=True)
class Estimate:
    """Price and minutes.

    Parameters
    ----------
    currency
        The workshop's.
    planned
        The bill if all goes as planned, with expected minutes.
    confidence
        Out of 100.
    price
        The price that ``confidence`` of 100 such machines come in at or under: planned total + allowance.
    allowance
        For the unexpected, tax included; its items add up to it exactly.
    items
        What drives it, largest first.
    expected_minutes
        Of the plan and the final checks.
    minutes_at_confidence
        The plan's minutes, not passed in ``confidence`` of 100 such plans (sum of PERT, normal).
    minutes_with_allowance
        The same with the work that the allowance is for.
    prices_at
        Prices at other confidences, by whole per cent: for a curve.
    unpriced
        Titles of parts and fluids that have no price: not in the sum.
    draws, seed
        How it was drawn.
    basis
        Where rates come from.
    """

    currency: str
    planned: Bill
    confidence: Decimal
    price: Decimal
    allowance: Decimal
    items: tuple[AllowanceItem, ...]
    expected_minutes: float
    minutes_at_confidence: float
    minutes_with_allowance: float
    prices_at: Mapping[int, Decimal] = field(default_factory=dict)
    unpriced: tuple[str, ...] = ()
    draws: int = 0
    seed: int = 0
    basis: str = ""
