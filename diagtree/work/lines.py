"""Lines of the papers: fasteners, fluids, parts, final checks. Part of `diagtree.work.result`."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from diagtree.model.family import Hand


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The torque that the thread stands by calculation: an estimate, under the mark on the part.

    Parameters
    ----------
    torque
        N·m.
    rules
        Which limit rules: ``the bolt's preload`` or ``the thread in 6061-T6 strips``.
    basis
        The formula's source.
    """

    torque: float
    rules: str
    basis: str


@dataclass(frozen=True, slots=True)
class TorqueLine:
    """How one fastener is tightened.

    Parameters
    ----------
    fastener, title, count
        What, and how many.
    size
        The thread as written, or ``none`` for what is pressed.
    hand
        Of the thread.
    turns
        The way it turns to tighten: ``clockwise``, or ``anticlockwise (left-hand thread)``.
    side
        The side that it is seen from, or None.
    least, most, target
        N·m; None where no torque rules.
    imperial
        The range beside it: ``35-53 lbf·in``; empty where no torque rules.
    until
        What to stop at, or None.
    preparation
        What goes on the thread.
    compound
        The title of the compound that the preparation uses, or None.
    order
        ``in a star``, or None.
    basis
        Where the value comes from; a workshop's own value says so.
    safety
        True if it is checked at the end of every job.
    touched_by
        Titles of the planned jobs that touch it; empty for what is only checked at the end.
    if_fitted
        True if nobody has said that the machine has it.
    wrench
        Title of the workshop's wrench for it, or None.
    warnings
        What stands in the way: out of a wrench's reach, a wrench that does not measure to the left.
    ceiling
        The calculated estimate, where the catalogue says enough about the bolt.
    caution
        From the catalogue.
    """

    fastener: str
    title: str
    count: int
    size: str
    hand: Hand
    turns: str
    side: str | None
    least: Decimal | None
    most: Decimal | None
    target: Decimal | None
    imperial: str
    until: str | None
    preparation: str
    compound: str | None
    order: str | None
    basis: str
    safety: bool = False
    touched_by: tuple[str, ...] = ()
    if_fitted: bool = False
    wrench: str | None = None
    warnings: tuple[str, ...] = ()
    ceiling: Ceiling | None = None
    caution: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FluidLine:
    """A fluid, grease or compound of the plan.

    Parameters
    ----------
    fluid, title, kind
        What; ``kind`` is ``fluid``, ``grease``, ``cleaner`` ...
    system, system_title
        The closed system that it goes into, or None for what goes on a thread or a surface.
    takes
        Titles of all that the system may hold.
    read
        How to tell which it holds: never guess.
    amount, unit
        All that the plan uses, or None where nobody said.
    boils_dry, boils_wet
        Least boiling points, degrees Celsius.
    viscosity_cold
        Most viscosity at -40 degrees Celsius, mm2/s.
    never_with
        Titles of what it must never meet.
    never_on, attacks
        What it must never touch, what it eats.
    clean_with, colour, caution, basis
        From the catalogue.
    used_for
        Titles of jobs and fasteners that use it.
    """

    fluid: str
    title: str
    kind: str
    system: str | None = None
    system_title: str | None = None
    takes: tuple[str, ...] = ()
    read: str | None = None
    amount: Decimal | None = None
    unit: str = "ml"
    boils_dry: Decimal | None = None
    boils_wet: Decimal | None = None
    viscosity_cold: Decimal | None = None
    colour: str | None = None
    never_with: tuple[str, ...] = ()
    never_on: tuple[str, ...] = ()
    attacks: tuple[str, ...] = ()
    clean_with: str | None = None
    used_for: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    basis: str = ""


@dataclass(frozen=True, slots=True)
class PartLine:
    """A part that the plan fits; ``each`` and ``total`` are None where nobody gave a price."""

    part: str
    title: str
    amount: Decimal
    each: Decimal | None
    total: Decimal | None
    basis: str


@dataclass(frozen=True, slots=True)
class FinalLine:
    """Something that is checked on every machine before it is handed over."""

    name: str
    title: str
    how: tuple[str, ...]
    minutes: Decimal
    fasteners: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
