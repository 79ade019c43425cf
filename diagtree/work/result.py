"""What the work room hands over: verdicts, plan, torque round, fluids, estimate, advice.

All of it is frozen data in plain words and figures, ready for a screen or a sheet. Names are full names
(``family/name``); titles stand beside them, so that nobody has to look anything up again. Money is a
`Decimal` in the workshop's currency; chances are floats from 0 to 1; minutes are floats.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from decimal import Decimal

from diagtree.model.family import Risk, Verdict
from diagtree.model.workshop import Brief
from diagtree.work.bill import AllowanceItem, Bill, Estimate
from diagtree.work.lines import Ceiling, FinalLine, FluidLine, PartLine, TorqueLine

__all__ = [
    "Advice", "AdviceKind", "AllowanceItem", "Bill", "Ceiling", "Estimate", "FinalLine", "FluidLine",
    "LeftAlone", "Option", "PartLine", "PartVerdict", "PlannedJob", "Stage", "TorqueLine", "Work",
]  # fmt: skip


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
    tries
        If it is a trial: the jobs of the plan whose work it tries, so that it is done after them.
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
    tries: tuple[str, ...] = ()


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
