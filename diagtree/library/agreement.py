"""Holds files against each other: one fact has one set of answers, and no jobs wait for one another."""

from __future__ import annotations

import itertools
from collections import defaultdict
from typing import NamedTuple

from diagtree.library.fault import Path, ring
from diagtree.library.references import mapping
from diagtree.library.rings import rings
from diagtree.library.sheet import Sheet
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree


def hold_facts(sheets: list[Sheet]) -> None:
    """Hold the checks and quick looks with one fact against each other: one question has one set of answers."""
    first: dict[str, tuple[list[str], str]] = {}
    for wanted in (Conditions, Tree):
        for sheet in sheets:
            if sheet.source.model is not wanted or () in sheet.broken:
                continue
            section = "looks" if wanted is Conditions else "checks"
            for name, entry in mapping(sheet.data.get(section)).items():
                fact = mapping(entry).get("fact")
                if not isinstance(fact, str):
                    continue
                answers = sorted(mapping(mapping(entry).get("answers")))
                here = sheet.source.document.position((section, name, "fact"))
                where = f"{sheet.source.document.file}:{here[0]}"
                others, place = first.setdefault(fact, (answers, where))
                if others != answers:
                    text = f"The answers to fact '{fact}' are not those in {place}: {', '.join(others)}."
                    path = (section, name, "fact")
                    fault = sheet.source.document.fault(
                        path, text, "Use the same names, or another fact.", rule="unequal-fact"
                    )
                    sheet.lose(fault, path)


class _Wait(NamedTuple):
    """One job waits for another: because it needs it, or because it closes what the other opened."""

    to: str
    sheet: Sheet
    path: Path


def find_job_rings(sheets: list[Sheet]) -> None:
    """Find jobs that wait for each other, so that none of them could ever be begun."""
    waits: dict[str, list[_Wait]] = defaultdict(list)
    for sheet in sheets:
        if sheet.source.model is Family:
            home = sheet.data.get("family")
            for _, name, path, _ in sheet.references:
                job = f"{home}/{path[1]}"
                if path[0] == "jobs" and path[2] == "needs":
                    waits[job].append(_Wait(name, sheet, path))
                elif path[0] == "jobs" and path[2] == "after":
                    waits[name].append(_Wait(job, sheet, path))
    for wait, jobs in rings(waits):
        keys = {
            other.path[2]
            for one, after in itertools.pairwise(jobs)
            for other in waits[one]
            if other.to == after
        }
        text, mend, rule = _RINGS["both" if len(keys) > 1 else str(wait.path[2])]
        text = f"{text}: {ring(jobs)}."
        wait.sheet.break_at(wait.sheet.source.document.fault(wait.path, text, mend, rule=rule), wait.path)


_RINGS = {
    "needs": ("Each of these jobs needs the next", "Take one of the needs out.", "job-cycle"),
    "after": (
        "Each of these jobs closes the next",
        "Take 'after:' out of the closing job.",
        "closing-job-opens",
    ),
    "both": ("These jobs wait for each other", "Take one out of 'needs:' or 'after:'.", "job-cycle"),
}
"""By the keys that make a ring of jobs: what is said, what to do, and the rule."""
