"""Events: everything that can happen in a case, and how each is written into the journal."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, field, fields
from typing import Any, ClassVar

from diagtree.case.places import Place

FORMAT = 1
"""The version of the journal's words; an older program refuses a newer one."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, and when (ISO 8601, to the second)."""

    kind: ClassVar[str] = ""
    when: str


@dataclass(frozen=True, slots=True)
class Opened(Event):
    """The case was opened: always the first event."""

    kind: ClassVar[str] = "opened"
    format: int
    program: str
    order: str
    brief: str = ""
    label: str = ""
    complaints: tuple[str, ...] = ()
    trees: Mapping[str, str] = field(default_factory=dict)
    """The identity of each complaint's tree."""


@dataclass(frozen=True, slots=True)
class Complained(Event):
    """The complaints were chosen, or chosen anew: all that now stand."""

    kind: ClassVar[str] = "complained"
    complaints: tuple[str, ...]
    trees: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Answered(Event):
    """A question was answered."""

    kind: ClassVar[str] = "answered"
    place: Place
    answer: str
    asked: str
    """The question as it was put."""
    says: str
    """The answer as it was shown."""
    text: str = ""
    """For a reading: what was entered."""
    value: str = ""
    """For a reading: the value, in the reading's unit."""
    measured: str = ""
    """For a reading: what was echoed back."""


@dataclass(frozen=True, slots=True)
class CouldNotTell(Event):
    """Nobody could tell."""

    kind: ClassVar[str] = "could-not-tell"
    place: Place
    asked: str


@dataclass(frozen=True, slots=True)
class Passed(Event):
    """A question was not asked, or not answered, and the walk went on as if by this answer."""

    kind: ClassVar[str] = "passed"
    place: Place
    answer: str
    asked: str
    reason: str


@dataclass(frozen=True, slots=True)
class WentTo(Event):
    """The mechanic went back to a question; an empty place means on to the next open one."""

    kind: ClassVar[str] = "went-to"
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Noted(Event):
    """A note was made, at a question or on the whole case."""

    kind: ClassVar[str] = "noted"
    text: str
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class OrderSet(Event):
    """The order of the questions was changed."""

    kind: ClassVar[str] = "order-set"
    order: str


@dataclass(frozen=True, slots=True)
class Labelled(Event):
    """The machine was given a label, or the brief was changed."""

    kind: ClassVar[str] = "labelled"
    label: str
    brief: str = ""


@dataclass(frozen=True, slots=True)
class Wished(Event):
    """The customer's extra wishes: all that now stand."""

    kind: ClassVar[str] = "wished"
    wishes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AskedOn(Event):
    """The advice to stop asking was overruled, or is to be given again."""

    kind: ClassVar[str] = "asked-on"
    on: bool = True


@dataclass(frozen=True, slots=True)
class Finished(Event):
    """The questions were ended: all of them, or those about one complaint."""

    kind: ClassVar[str] = "finished"
    reason: str = ""
    symptom: str = ""


@dataclass(frozen=True, slots=True)
class Overruled(Event):
    """The mechanic chose another remedy for a part; an empty remedy takes that back."""

    kind: ClassVar[str] = "overruled"
    part: str
    remedy: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class FoundOut(Event):
    """With the machine open, a cause was seen to be there, or not to be."""

    kind: ClassVar[str] = "found-out"
    cause: str
    present: bool | None
    """None takes the finding back."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class JobTicked(Event):
    """A job was ticked off, or the tick was taken back."""

    kind: ClassVar[str] = "job-ticked"
    job: str
    done: bool = True


@dataclass(frozen=True, slots=True)
class Tightened(Event):
    """A fastener was tightened: the torque as done, N·m, or `DONE`; an empty value takes it back."""

    kind: ClassVar[str] = "tightened"
    fastener: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Agreed(Event):
    """What the customer agreed to: the price, and the ceiling above which to stop and ask."""

    kind: ClassVar[str] = "agreed"
    price: str
    ceiling: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class TreesChanged(Event):
    """The case was taken up again with other trees."""

    kind: ClassVar[str] = "trees-changed"
    trees: Mapping[str, str]
    says: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HandedOver(Event):
    """The machine was handed over, with what it turned out to be for each complaint."""

    kind: ClassVar[str] = "handed-over"
    by: str
    confirmed: Mapping[str, str] = field(default_factory=dict)
    note: str = ""


DONE = "done"
"""The value of a fastener that no torque rules: it was tightened until it was as it should be."""

KINDS: Mapping[str, type[Event]] = {
    event.kind: event
    for event in (
        Opened,
        Complained,
        Answered,
        CouldNotTell,
        Passed,
        WentTo,
        Noted,
        OrderSet,
        Labelled,
        Wished,
        AskedOn,
        Finished,
        Overruled,
        FoundOut,
        JobTicked,
        Tightened,
        Agreed,
        TreesChanged,
        HandedOver,
    )
}


def write(event: Event) -> dict[str, Any]:
    """Turn an event into a record of plain values for the journal; what is left at its default is left out.

    Examples
    --------
    >>> write(Noted("2026-01-02T03:04:05+00:00", "rust inside", Place.look("lime")))
    {'kind': 'noted', 'when': '2026-01-02T03:04:05+00:00', 'text': 'rust inside', 'place': 'look:lime'}
    """
    record: dict[str, Any] = {"kind": event.kind}
    for item in fields(event):
        value = getattr(event, item.name)
        if value == item.default or (item.default_factory is not MISSING and value in ({}, ())):
            continue
        if isinstance(value, Place):
            value = value.key
        elif isinstance(value, tuple):
            value = list(value)
        elif isinstance(value, Mapping):
            value = dict(value)
        record[item.name] = value
    return record


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _number(value: object) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise TypeError
    return value


def _truth(value: object) -> bool:
    if not isinstance(value, bool):
        raise TypeError
    return value


def _maybe_truth(value: object) -> bool | None:
    return None if value is None else _truth(value)


def _place(value: object) -> Place:
    return Place.parse(_text(value))


def _maybe_place(value: object) -> Place | None:
    return None if value is None else _place(value)


def _texts(value: object) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise TypeError
    return tuple(_text(item) for item in value)


def _table(value: object) -> Mapping[str, str]:
    if not isinstance(value, dict):
        raise TypeError
    return {_text(key): _text(item) for key, item in value.items()}


_READERS: Mapping[str, Callable[[object], Any]] = {
    "str": _text,
    "int": _number,
    "bool": _truth,
    "bool | None": _maybe_truth,
    "Place": _place,
    "Place | None": _maybe_place,
    "tuple[str, ...]": _texts,
    "Mapping[str, str]": _table,
}


_FIELDS: Mapping[str, Mapping[str, Callable[[object], Any]]] = {
    kind: {item.name: _READERS[str(item.type)] for item in fields(event)} for kind, event in KINDS.items()
}


def read(record: Mapping[str, Any]) -> Event:
    """Turn a record of the journal back into an event.

    Raises
    ------
    ValueError
        If the record is no event that this version knows; the text says why.

    Examples
    --------
    >>> read({"kind": "order-set", "when": "2026-01-02T03:04:05+00:00", "order": "shortest"}).order
    'shortest'
    """
    kind = record.get("kind")
    event = KINDS.get(kind) if isinstance(kind, str) else None
    if event is None:
        raise ValueError(f"an event '{kind}' is not known here")
    readers = _FIELDS[event.kind]
    try:
        values = {name: readers[name](value) for name, value in record.items() if name != "kind"}
        return event(**values)
    except (KeyError, TypeError, ValueError) as error:
        raise ValueError(f"the event '{event.kind}' is not written as it should be") from error
