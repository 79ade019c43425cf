"""A family's catalogue: parts, causes, remedies, jobs, fasteners, fluids, systems and plain readings."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated

from pydantic import BeforeValidator, Field, model_validator

from diagtree.model.words import (
    ChoiceName,
    Minutes,
    Money,
    Name,
    Number,
    OutOf100,
    Positive,
    Reference,
    References,
    Text,
    Texts,
    Times,
    Written,
)


class Risk(enum.Enum):
    """What happens if nothing is done."""

    UNSAFE = "unsafe"
    DAMAGE = "damage"
    NUISANCE = "nuisance"


class Verdict(enum.Enum):
    """What is done with a part, mildest first."""

    LEAVE = "leave"
    CLEAN = "clean"
    ADJUST = "adjust"
    SERVICE = "service"
    REPLACE = "replace"

    @property
    def strength(self) -> int:
        """0 for the mildest, 4 for the strongest."""
        return list(Verdict).index(self)


class Hand(enum.Enum):
    """The hand of a thread: a right-hand thread tightens clockwise."""

    RIGHT = "right"
    LEFT = "left"


class Part(Written):
    """Something that gets a verdict of its own."""

    title: Text
    price: Money | None = None
    """A new one, in the workshop's currency, before tax."""
    safety: bool = False
    """True if people can be hurt when it fails."""
    basis: Text | None = None


class Cause(Written):
    """Something that can be wrong."""

    title: Text
    part: Reference | None = None
    out_of_100: OutOf100
    """How many of 100 machines that come in have it, whatever they come in for."""
    more_likely: Mapping[Name, Mapping[ChoiceName, Times]] = {}
    """Condition, its state, and how many times likelier: ``kept: {damp: 3}``."""
    risk: Risk
    why: Text
    """What happened to the part, in a sentence or two."""
    tell: Text | None = None
    """The tell-tale sign that proves it."""
    caution: Texts = ()
    refer: Text | None = None
    """Set if the job goes to a qualified mechanic: whom to refer it to and why."""
    remedies: Annotated[References, Field(min_length=1)]
    """From the mildest to the strongest."""
    basis: Text | None = None


def _amounts(value: object) -> object:
    if isinstance(value, str):
        return {value: "1"}
    if isinstance(value, (list, tuple)):
        return {str(name): "1" for name in value}
    return value


Amounts = Annotated[Mapping[Reference, Positive], BeforeValidator(_amounts)]
"""Parts with how many of each; a plain list means one of each."""


class Use(Written):
    """A fluid, grease or compound that a job uses."""

    fluid: Reference
    into: Reference | None = None
    """The system that it goes into; absent for what goes on a thread or a surface."""
    amount: Positive | None = None
    unit: Text = "ml"


def _uses(value: object) -> object:
    if isinstance(value, str):
        return ({"fluid": value},)
    if isinstance(value, (list, tuple)):
        return tuple({"fluid": item} if isinstance(item, str) else item for item in value)
    return value


Uses = Annotated[tuple[Use, ...], BeforeValidator(_uses)]


class Remedy(Written):
    """A way to put a cause right."""

    title: Text
    verdict: Verdict
    part: Reference | None = None
    """The part that the verdict is about, if it is not the cause's own."""
    holds: OutOf100
    """How many times out of 100 the complaint does not come back."""
    jobs: References = ()
    parts: Amounts = {}
    fluids: Uses = ()
    caution: Texts = ()
    verify: Texts = ()
    """The function check after the work: what must be seen before the machine is handed over."""
    stop_work: bool = False
    """True if the remedy is to stop and hand the machine to somebody else: it is not handed over to be used."""
    next_due: Text | None = None
    """When it should be looked at again."""
    basis: Text | None = None


class Job(Written):
    """A piece of work: opens up, does, or closes."""

    title: Text
    minutes: tuple[Minutes, Minutes, Minutes]
    """Low, likely and high."""
    needs: References = ()
    """Jobs that must be done before it."""
    after: References = ()
    """Closing jobs: each must follow when this one has been done."""
    uncovers: References = ()
    """Parts that come into view: what is wrong with them will be met."""
    how: Texts = ()
    tools: Texts = ()
    fasteners: References = ()
    fluids: Uses = ()
    caution: Texts = ()
    last: bool = False
    """True for a trial of the whole machine: done when all other work is done."""
    basis: Text | None = None

    @model_validator(mode="after")
    def _minutes_rise(self) -> Job:
        low, likely, high = self.minutes
        if not low <= likely <= high:
            raise ValueError("write the minutes as low, likely, high, none less than the one before")
        return self


class Torque(Written):
    """How tight, in newton metres."""

    from_: Positive
    to: Positive
    target: Positive | None = None
    """The value to set the wrench to; the middle of the range if absent."""

    @model_validator(mode="after")
    def _in_order(self) -> Torque:
        if self.from_ > self.to:
            raise ValueError("'from:' must not be more than 'to:'")
        if self.target is not None and not self.from_ <= self.target <= self.to:
            raise ValueError("'target:' must lie between 'from:' and 'to:'")
        return self

    @property
    def aim(self) -> Decimal:
        """The value to set the wrench to, N·m."""
        return self.target if self.target is not None else (self.from_ + self.to) / 2


class Fastener(Written):
    """A bolt, nut, cup or axle that is tightened."""

    title: Text
    part: Reference | None = None
    thread: Text
    """For example ``M5x0.8`` or ``9/16 in x 20 tpi``; ``none`` for what is pressed."""
    hand: Hand = Hand.RIGHT
    side: Text | None = None
    """The side it sits on and is seen from."""
    count: Annotated[int, Field(ge=1, le=200)] = 1
    torque: Torque | None = None
    until: Text | None = None
    """Where no torque rules: what to stop at, for example ``the play is just gone``."""
    preparation: Text
    """What goes on the thread: ``dry and clean``, ``grease``, ``medium threadlocker``."""
    compound: Reference | None = None
    """The fluid or compound that the preparation uses."""
    order: Text | None = None
    """How several are tightened: ``in a star``, ``in turns``."""
    safety: bool = False
    """True if it is checked at the end of every job, whatever was done."""
    property_class: Text | None = None
    """Of the bolt: ``8.8``, ``10.9``, ``A2-70``."""
    into: Text | None = None
    """What it is screwed into: ``6061-T6``."""
    engaged: Positive | None = None
    """Length of thread engaged, mm."""
    caution: Texts = ()
    basis: Text | None = None

    @model_validator(mode="after")
    def _how_tight(self) -> Fastener:
        if self.torque is None and self.until is None:
            raise ValueError("say how tight: 'torque:' in N·m, or 'until:' what to stop at")
        return self


class FluidKind(enum.Enum):
    """What sort of thing it is."""

    FLUID = "fluid"
    OIL = "oil"
    GREASE = "grease"
    COMPOUND = "compound"
    THREADLOCKER = "threadlocker"
    CLEANER = "cleaner"
    SEALANT = "sealant"


class Fluid(Written):
    """A fluid, grease, compound or cleaner: where it may go and where never."""

    title: Text
    kind: FluidKind
    systems: References = ()
    """The systems that it may go into."""
    never_with: References = ()
    """Fluids that it must never meet in one system."""
    never_on: Texts = ()
    """Surfaces and materials that it must never touch."""
    attacks: Texts = ()
    clean_with: Text | None = None
    boils_dry: Number | None = None
    """Least boiling point of the fresh fluid, degrees Celsius."""
    boils_wet: Number | None = None
    """Least boiling point with water taken up, degrees Celsius."""
    viscosity_cold: Number | None = None
    """Most viscosity at minus 40 degrees Celsius, square millimetres a second."""
    colour: Text | None = None
    price: Money | None = None
    """For one unit of a job's amount."""
    unit: Text = "ml"
    caution: Texts = ()
    basis: Text | None = None


class System(Written):
    """A closed system that holds one kind of fluid."""

    title: Text
    takes: References
    """The fluids that may go in."""
    read: Text
    """How to tell which it is: never guess."""
    basis: Text | None = None


class PlainReading(Written):
    """A number with a unit that needs no arithmetic of its own."""

    title: Text
    unit: Text
    example: Text
    least: Number | None = None
    """Under this the value is odd: asked again."""
    most: Number | None = None
    """Over this the value is odd: asked again."""
    basis: Text | None = None


class Family(Written):
    """A component family's catalogue."""

    family: Name
    title: Text = ""
    """Needed in one of the family's files; one that adds to a family has it from there."""
    basis: Text = "invented"
    """Where figures come from, unless an entry says otherwise."""
    parts: Mapping[Name, Part] = {}
    causes: Mapping[Name, Cause] = {}
    remedies: Mapping[Name, Remedy] = {}
    jobs: Mapping[Name, Job] = {}
    fasteners: Mapping[Name, Fastener] = {}
    fluids: Mapping[Name, Fluid] = {}
    systems: Mapping[Name, System] = {}
    readings: Mapping[Name, PlainReading] = {}
