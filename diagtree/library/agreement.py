"""Holds files against each other: one fact has one set of answers, and no jobs wait for one another."""

from __future__ import annotations

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


class _Need(NamedTuple):
    to: str
    sheet: Sheet
    path: Path


def find_job_rings(sheets: list[Sheet]) -> None:
    """Find jobs that need each other."""
    needs: dict[str, list[_Need]] = defaultdict(list)
    for sheet in sheets:
        if sheet.source.model is Family:
            home = sheet.data.get("family")
            for reference in sheet.references:
                if reference.path[0] == "jobs" and reference.path[2] == "needs":
                    needs[f"{home}/{reference.path[1]}"].append(_Need(reference.name, sheet, reference.path))
    for (_, sheet, path), jobs in rings(needs):
        text = f"Each of these jobs needs the next: {ring(jobs)}."
        fault = sheet.source.document.fault(path, text, "Take one of the needs out.", rule="job-cycle")
        sheet.break_at(fault, path)
