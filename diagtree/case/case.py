"""The case: the state that the events tell, and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import singledispatch
from typing import cast

from diagtree.case import events
from diagtree.case.events import Event
from diagtree.case.places import Place


@dataclass(frozen=True, slots=True)
class Given:
    """An answer that was given, or that nobody could tell."""

    place: Place
    answer: str | None
    """None where nobody could tell."""
    asked: str
    says: str
    number: int
    """The number of the event: a later one counts more where two speak of one fact."""
    when: str
    text: str = ""
    value: str = ""
    measured: str = ""


@dataclass(frozen=True, slots=True)
class Case:
    """Everything that is known about one case; frozen, folded from its events.

    Examples
    --------
    >>> opened = events.Opened("2026-01-02T03:04:05+00:00", 1, "0.1.0", "guided", complaints=("no-heat",))
    >>> noted = events.Noted("2026-01-02T03:05:00+00:00", "smells burnt")
    >>> case = fold([opened, noted])
    >>> case.complaints, case.notes[0].text, case.count
    (('no-heat',), 'smells burnt', 2)
    """

    opened: str = ""
    updated: str = ""
    program: str = ""
    label: str = ""
    brief: str = ""
    order: str = "guided"
    complaints: tuple[str, ...] = ()
    trees: Mapping[str, str] = field(default_factory=dict)
    given: Mapping[Place, Given] = field(default_factory=dict)
    """In the order in which each was first answered."""
    passed: Mapping[Place, events.Passed] = field(default_factory=dict)
    cursor: Place | None = None
    """The question that the mechanic went back to."""
    notes: tuple[events.Noted, ...] = ()
    wishes: tuple[str, ...] = ()
    asking_on: bool = False
    finished: bool = False
    ended: tuple[str, ...] = ()
    """Complaints about which nothing more is asked."""
    overruled: Mapping[str, events.Overruled] = field(default_factory=dict)
    """By part."""
    found: Mapping[str, events.FoundOut] = field(default_factory=dict)
    """By cause."""
    jobs_done: Mapping[str, str] = field(default_factory=dict)
    """By job: when it was ticked off."""
    torques: Mapping[str, events.Tightened] = field(default_factory=dict)
    """By fastener."""
    agreed: events.Agreed | None = None
    handed_over: events.HandedOver | None = None
    count: int = 0
    """How many events there are."""


def fold(happened: Iterable[Event], case: Case | None = None) -> Case:
    """Tell the state after some events."""
    case = Case() if case is None else case
    for event in happened:
        case = apply(case, event)
    return case


def apply(case: Case, event: Event) -> Case:
    """Tell the state after one more event."""
    changes = cast("Callable[[Event, Case], dict[str, object]]", _changes)(event, case)
    return replace(case, count=case.count + 1, updated=event.when, **changes)  # type: ignore[arg-type]


@singledispatch
def _changes(event: Event, _case: Case) -> dict[str, object]:
    raise TypeError(f"nothing is known of {event}")


@_changes.register
def _opened(event: events.Opened, _case: Case) -> dict[str, object]:
    return {
        "opened": event.when,
        "program": event.program,
        "order": event.order,
        "brief": event.brief,
        "label": event.label,
        "complaints": event.complaints,
        "trees": event.trees,
    }


@_changes.register
def _complained(event: events.Complained, case: Case) -> dict[str, object]:
    return {
        "complaints": event.complaints,
        "trees": event.trees,
        "finished": False,
        "cursor": None,
        "ended": tuple(symptom for symptom in case.ended if symptom in event.complaints),
    }


def _entered(case: Case, given: Given) -> dict[str, object]:
    changed = given.place in case.given and case.given[given.place].answer != given.answer
    # What was skipped because of an answer that has now been changed must be looked at afresh.
    passed = {} if changed else {place: event for place, event in case.passed.items() if place != given.place}
    return {
        "given": {**case.given, given.place: given},
        "passed": passed,
        "cursor": None,
        "finished": False,
    }


def _taken_up(case: Case, place: Place | None) -> tuple[str, ...]:
    """The complaints that stay ended when a question at a place is gone to."""
    return tuple(symptom for symptom in case.ended if place is None or symptom != place.symptom)


@_changes.register
def _answered(event: events.Answered, case: Case) -> dict[str, object]:
    return _entered(
        case,
        Given(
            event.place,
            event.answer,
            event.asked,
            event.says,
            case.count + 1,
            event.when,
            event.text,
            event.value,
            event.measured,
        ),
    )


@_changes.register
def _could_not_tell(event: events.CouldNotTell, case: Case) -> dict[str, object]:
    return _entered(case, Given(event.place, None, event.asked, "", case.count + 1, event.when))


@_changes.register
def _passed(event: events.Passed, case: Case) -> dict[str, object]:
    return {"passed": {**case.passed, event.place: event}}


@_changes.register
def _went_to(event: events.WentTo, case: Case) -> dict[str, object]:
    return {"cursor": event.place, "finished": False, "ended": _taken_up(case, event.place)}


@_changes.register
def _noted(event: events.Noted, case: Case) -> dict[str, object]:
    return {"notes": (*case.notes, event)}


@_changes.register
def _order_set(event: events.OrderSet, _case: Case) -> dict[str, object]:
    return {"order": event.order, "cursor": None}


@_changes.register
def _labelled(event: events.Labelled, case: Case) -> dict[str, object]:
    return {"label": event.label, "brief": event.brief or case.brief}


@_changes.register
def _wished(event: events.Wished, _case: Case) -> dict[str, object]:
    return {"wishes": event.wishes}


@_changes.register
def _asked_on(event: events.AskedOn, _case: Case) -> dict[str, object]:
    return {"asking_on": event.on, "finished": False, "ended": ()}


@_changes.register
def _finished(event: events.Finished, case: Case) -> dict[str, object]:
    if event.symptom:
        return {"ended": (*_without(dict.fromkeys(case.ended), event.symptom), event.symptom), "cursor": None}
    return {"finished": True, "cursor": None}


def _without(table: Mapping[str, object], key: str) -> dict[str, object]:
    return {name: value for name, value in table.items() if name != key}


@_changes.register
def _overruled(event: events.Overruled, case: Case) -> dict[str, object]:
    rest = _without(case.overruled, event.part)
    return {"overruled": {**rest, event.part: event} if event.remedy else rest}


@_changes.register
def _found_out(event: events.FoundOut, case: Case) -> dict[str, object]:
    rest = _without(case.found, event.cause)
    return {"found": rest if event.present is None else {**rest, event.cause: event}}


@_changes.register
def _job_ticked(event: events.JobTicked, case: Case) -> dict[str, object]:
    rest = _without(case.jobs_done, event.job)
    return {"jobs_done": {**rest, event.job: event.when} if event.done else rest}


@_changes.register
def _tightened(event: events.Tightened, case: Case) -> dict[str, object]:
    rest = _without(case.torques, event.fastener)
    return {"torques": {**rest, event.fastener: event} if event.value else rest}


@_changes.register
def _agreed(event: events.Agreed, _case: Case) -> dict[str, object]:
    return {"agreed": event}


@_changes.register
def _trees_changed(event: events.TreesChanged, _case: Case) -> dict[str, object]:
    return {"trees": event.trees, "passed": {}}


@_changes.register
def _handed_over(event: events.HandedOver, _case: Case) -> dict[str, object]:
    return {"handed_over": event}
