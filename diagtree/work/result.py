"""What the work room hands over: verdicts, plan, torque round, fluids, estimate, advice.

All of it is frozen data in plain words and figures, ready for a screen or a sheet. Names are full names
(``family/name``); titles stand beside them, so that nobody has to look anything up again. Money is a
`Decimal` in the workshop's currency; chances are floats from 0 to 1; minutes are floats.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from diagtree.model.family import Hand, Risk, Verdict
from diagtree.model.workshop import Brief


@dataclass(frozen=True, slots=True)
class Option:
    """One remedy that was weighed for a part.

    Parameters
    ----------
    remedy, title, verdict
        The remedy.
    holds
        Chance that the complaint does not come back, over the causes that the part may have.
    price
        What it costs if it holds: expected minutes, parts and fluids, before tax.
    expected_cost
        Price and what a come-back would cost, weighed by its chance, before tax.
    minutes
        Expected minutes, opening and closing work included.
    """

    remedy: str
    title: str
    verdict: Verdict
    holds: float
    price: Decimal
    expected_cost: Decimal
    minutes: float


@dataclass(frozen=True, slots=True)
class PartVerdict:
    """What is done with one part, and why.

    Parameters
    ----------
    part, part_title
        The part that the verdict is about; of a cause without a part, the cause's own name and title.
    cause, cause_title
        The likeliest thing that is wrong with it.
    chance
        Chance that this cause is on the machine.
    risk
        What happens if nothing is done: the gravest of the causes weighed.
    verdict, remedy, remedy_title
        What was chosen.
    reason
        One or two sentences with the figures.
    options
        All remedies weighed, mildest first.
    complaints
        The symptoms that it answers; empty if it was found on the way or wished for.
    planned
        True if its jobs are in the plan; False for what is only allowed for ("if it is not that").
    in_scope
        True if the brief covers it.
    overruled
        True if a person chose otherwise than the figures; the reason then says what they said.
    other_causes
        Other causes of the same part that were weighed, with their chances, likeliest first.
    refer
        Whom the job goes to and why, or None.
    caution, verify, next_due
        From the cause and its remedy.
    basis
        Where the remedy's figures come from.
    """

    part: str
    part_title: str
    cause: str
    cause_title: str
    chance: float
    risk: Risk
    verdict: Verdict
    remedy: str
    remedy_title: str
    reason: str
    options: tuple[Option, ...]
    complaints: tuple[str, ...] = ()
    planned: bool = True
    in_scope: bool = True
    overruled: bool = False
    other_causes: tuple[tuple[str, float], ...] = ()
    refer: str | None = None
    caution: tuple[str, ...] = ()
    verify: tuple[str, ...] = ()
    next_due: str | None = None
    basis: str = ""


@dataclass(frozen=True, slots=True)
class LeftAlone:
    """A part that was thought of and is left as it is."""

    part: str
    title: str
    chance: float
    """Chance that anything is wrong with it after all."""
    reason: str


class Stage(enum.Enum):
    """Where a job stands in the work."""

    OPEN = "open"
    WORK = "work"
    CLOSE = "close"


@dataclass(frozen=True, slots=True)
class PlannedJob:
    """One job of the plan, in its place.

    Parameters
    ----------
    number
        From 1, in the order of work.
    job, title
        The job.
    stage
        Opening up, the work itself, or closing.
    minutes
        Low, likely, high.
    expected
        Expected minutes, (low + 4 likely + high) / 6.
    serves
        The remedies that it is done for, in the order of the verdicts.
    serves_titles
        Their titles.
    how, tools, caution
        From the catalogue.
    fasteners
        The fasteners that it touches.
    fluids
        What it uses: (fluid's name, amount or None, unit).
    basis
        Where the minutes come from.
    """

    number: int
    job: str
    title: str
    stage: Stage
    minutes: tuple[Decimal, Decimal, Decimal]
    expected: float
    serves: tuple[str, ...]
    serves_titles: tuple[str, ...]
    how: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    fasteners: tuple[str, ...] = ()
    fluids: tuple[tuple[str, Decimal | None, str], ...] = ()
    caution: tuple[str, ...] = ()
    basis: str = ""


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


class AdviceKind(enum.Enum):
    """What the advice asks for."""

    LOOK = "look"
    """Nobody asked about it, and the picture of the machine makes it likely: look at it."""
    OFFER = "offer"
    """It was found, and the brief leaves it out: offer it."""
    SAFETY = "safety"
    """People can be hurt: it is looked at before the machine is handed over, whatever the brief."""


@dataclass(frozen=True, slots=True)
class Advice:
    """Something beside the plan.

    Parameters
    ----------
    kind
        Look, offer or safety.
    cause, title, part_title
        What it is about; ``part_title`` None for a cause without a part.
    chance, odds
        Chance that it is on the machine, and in words.
    risk
        What happens if nothing is done.
    text
        One sentence for the sheet.
    price
        What its remedy would add, before tax; None for a look.
    """

    kind: AdviceKind
    cause: str
    title: str
    part_title: str | None
    chance: float
    odds: str
    risk: Risk
    text: str
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class FinalLine:
    """Something that is checked on every machine before it is handed over."""

    name: str
    title: str
    how: tuple[str, ...]
    minutes: Decimal
    fasteners: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Work:
    """All that follows from a belief: what is done, in which order, how tight, for how much.

    Parameters
    ----------
    brief
        How much the customer wants done.
    verdicts
        Planned ones first, then what is only allowed for; the gravest risk first in each.
    left_alone
        Parts that the complaints point at and that the answers clear.
    plan
        Jobs in the order of work.
    final_checks
        After the plan, on every machine.
    torque_round
        Fasteners that the plan touches, then every other safety fastener.
    fluids
        What goes in and on.
    parts
        What is fitted.
    tools
        All tools of the plan, sorted.
    estimate
        Price and allowance.
    advice
        Safety first.
    cautions
        The usual ones first, then those of what is touched; each once.
    stops
        "Stop work and refer" texts of the findings that the answers led to.
    verify
        Function checks after the work; each once.
    next_due
        (part's title, when): what should be looked at again.
    """

    brief: Brief
    verdicts: tuple[PartVerdict, ...]
    left_alone: tuple[LeftAlone, ...]
    plan: tuple[PlannedJob, ...]
    final_checks: tuple[FinalLine, ...]
    torque_round: tuple[TorqueLine, ...]
    fluids: tuple[FluidLine, ...]
    parts: tuple[PartLine, ...]
    tools: tuple[str, ...]
    estimate: Estimate
    advice: tuple[Advice, ...]
    cautions: tuple[str, ...]
    stops: tuple[str, ...]
    verify: tuple[str, ...]
    next_due: tuple[tuple[str, str], ...]
