"""The workshop: rates, tax, rounding, wrenches, prices and torque values of its own."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated

from pydantic import Field, model_validator

from diagtree.model.family import Torque
from diagtree.model.words import Money, OutOf100, Positive, Reference, Text, Written


class Brief(enum.Enum):
    """How much the customer wants done."""

    ROADWORTHY = "roadworthy"
    SERVICE = "service"
    FULL = "full"


class Wrench(Written):
    """A torque wrench and what it can measure."""

    title: Text
    from_: Positive
    """Least torque on its scale, N·m."""
    to: Positive
    """Most torque on its scale, N·m."""
    left: bool = False
    """True if it measures to the left as well."""
    length: Positive | None = None
    """From the centre of the square to the middle of the grip, mm: for work with an adapter."""

    @model_validator(mode="after")
    def _in_order(self) -> Wrench:
        if self.from_ >= self.to:
            raise ValueError("'from:' must be less than 'to:'")
        return self


class OwnTorque(Torque):
    """A workshop's own value for a fastener."""

    basis: Text


class Workshop(Written):
    """What one workshop sets for itself."""

    title: Text = "Our workshop"
    currency: Text = "EUR"
    rate: Money = Decimal("60.00")
    """For one hour of labour, before tax."""
    tax: OutOf100 = Decimal("20")
    """On labour, parts and consumables, out of 100."""
    prices_include_tax: bool = False
    """True if the part prices here and in the catalogues include tax."""
    rounding: Annotated[Decimal, Field(ge=Decimal("0.001"), le=1000)] = Decimal("0.05")
    """Totals are rounded to a multiple of this, half up."""
    confidence: Annotated[Decimal, Field(ge=50, le=99)] = Decimal("80")
    """How many of 100 jobs should come in at or under the quoted price."""
    come_back: Money = Decimal("35.00")
    """What a come-back costs: the talk, the stand, the goodwill."""
    consumables: Money = Decimal("2.00")
    """Rags, gloves and cleaner for each bill."""
    brief: Brief = Brief.SERVICE
    wrenches: tuple[Wrench, ...] = ()
    part_prices: Mapping[Reference, Money] = {}
    torques: Mapping[Reference, OwnTorque] = {}
    basis: Text = "invented"
