"""Confirmed machines: cases that were handed over with what it turned out to be; and whether the chances held."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagtree.case.case import Case
from diagtree.case.events import HandedOver
from diagtree.case.folder import ENDING
from diagtree.case.journal import read_journal, refuse_damage
from diagtree.case.keeper import read_case
from diagtree.case.view import Memory, View
from diagtree.errors import ExpectedError
from diagtree.library.library import Library

if TYPE_CHECKING:
    from diagtree.reasoning.calibration import Machine


@dataclass(frozen=True, slots=True)
class Confirmed:
    """A machine that was handed over with what it turned out to be.

    Parameters
    ----------
    id
        Stands for the case: the same for a copy of its file, and whatever is entered after the handover.
    case
        The case.
    causes
        The cause of each complaint for which it was confirmed.
    """

    id: str
    case: Case
    causes: Mapping[str, str]


@dataclass(frozen=True)
class Gathered:
    """What a folder of cases holds for learning.

    Parameters
    ----------
    confirmed
        The confirmed machines, each once.
    handed_over
        What stands for each case that was handed over, confirmed or not.
    silent
        How many were handed over without a word of what it was.
    waiting
        How many are not handed over yet.
    unreadable
        The cases that cannot be read, each with why.
    """

    confirmed: tuple[Confirmed, ...]
    handed_over: frozenset[str]
    silent: int
    waiting: int
    unreadable: tuple[tuple[Path, str], ...]


def gather(folder: Path) -> Gathered:
    """Read every case in a folder.

    Parameters
    ----------
    folder
        Where the cases are; one that is not there holds none.
    """
    cases: dict[str, Case] = {}
    waiting = 0
    unreadable: list[tuple[Path, str]] = []
    for path in sorted(folder.glob(f"*{ENDING}")) if folder.is_dir() else ():
        try:
            contents = read_journal(path)
            refuse_damage(path, contents)
            case = read_case(contents.records)
        except ExpectedError as error:
            unreadable.append((path, str(error)))
            continue
        if case.handed_over is None:
            waiting += 1
            continue
        name = identity(contents.records)
        # Of a file and its copy the one that was gone on with says more.
        if name not in cases or cases[name].count < case.count:
            cases[name] = case
    confirmed = tuple(
        Confirmed(name, case, dict(case.handed_over.confirmed))
        for name, case in cases.items()
        if case.handed_over is not None and case.handed_over.confirmed
    )
    silent = len(cases) - len(confirmed)
    return Gathered(confirmed, frozenset(cases), silent, waiting, tuple(unreadable))


def identity(records: Sequence[Mapping[str, Any]]) -> str:
    """Name a case by its records up to its first handover: twelve hexadecimal digits.

    A journal is only ever added to, so that part stays as it is.

    Examples
    --------
    >>> handed_over = {"kind": "handed-over", "by": "J."}
    >>> identity([handed_over]) == identity([handed_over, {"kind": "noted"}])
    True
    """
    kinds = [record.get("kind") for record in records]
    end = kinds.index(HandedOver.kind) + 1 if HandedOver.kind in kinds else len(records)
    text = json.dumps([dict(record) for record in records[:end]], sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:12]


@dataclass(frozen=True)
class Forecasts:
    """What was stated for confirmed machines.

    Parameters
    ----------
    machines
        One for each confirmed complaint, as `diagtree.reasoning.calibration.calibrate` takes them.
    passed_over
        How many could not be weighed: the library no longer has the tree, or the answers contradict it.
    """

    machines: tuple[Machine, ...]
    passed_over: int


def forecasts(library: Library, confirmed: Iterable[Confirmed]) -> Forecasts:
    """Tell what a library states for confirmed machines from their looks and answers alone.

    What was seen with the machine open is left out: it would state the truth after the fact.

    Parameters
    ----------
    library
        The library whose chances are held against the truth: without the counts that were learnt from these
        very machines.
    confirmed
        The machines.
    """
    from diagtree.reasoning.calibration import Machine, brier
    from diagtree.reasoning.evidence import Evidence

    memory = Memory(library)
    machines: list[Machine] = []
    passed_over = 0
    for one in confirmed:
        evidence = replace(View(one.case, memory).evidence, found={})
        for symptom, cause in one.causes.items():
            if symptom not in evidence.complaints:
                passed_over += 1
                continue
            try:
                told = memory.belief(evidence).behind(symptom)
            except ExpectedError:
                passed_over += 1
                continue
            before = memory.belief(Evidence(evidence.complaints)).behind(symptom)
            first = max(told, key=lambda name: told[name])
            machines.append(
                Machine(
                    symptom=symptom,
                    cause=cause,
                    first=first,
                    stated=told[first],
                    minutes=0.0,
                    checks=sum(1 for complaint, _ in evidence.answers if complaint == symptom),
                    # A cause that the tree does not find was given no chance at all.
                    brier=brier({cause: 0.0, **told}, cause),
                    prior_brier=brier({cause: 0.0, **before}, cause),
                )
            )
    return Forecasts(tuple(machines), passed_over)
