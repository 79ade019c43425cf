"""Puts files together: validates each, follows the references between them, leaves out what is broken.

A catalogue with a fault in one entry loses that entry and whatever needs it, not the others. A tree with a
fault is left out. What only loses a detail (a factor for a condition that nobody defines, one worked case)
is kept without the detail. All of it is told.
"""

from __future__ import annotations

import copy
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from diagtree.library.document import Plain, value_at
from diagtree.library.fault import Fault, Path, did_you_mean, ring
from diagtree.library.library import Library, Problem, join
from diagtree.library.references import (
    SECTIONS,
    SINGULAR,
    Reference,
    each,
    in_conditions,
    in_family,
    in_tree,
    mapping,
)
from diagtree.library.sources import Source
from diagtree.library.structure import faults_of_bands, faults_of_tree, number
from diagtree.library.validation import validated
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.reading import Reading
from diagtree.model.tree import Tree

Entry = tuple[str, ...]
"""One thing in a file that stands or falls by itself: ``("causes", "scale")``; ``()`` is the whole file."""


@dataclass
class Sheet:
    """One file on the way into the library."""

    source: Source
    model: Plain = None
    faults: list[Fault] = field(default_factory=list)
    broken: set[Entry] = field(default_factory=set)
    without: set[Path] = field(default_factory=set)
    references: list[Reference] = field(default_factory=list)

    @property
    def data(self) -> dict[str, Any]:
        """What the file says."""
        return mapping(self.source.document.data)

    def break_at(self, fault: Fault, path: Path) -> None:
        """Note a fault, and what falls with it."""
        self.faults.append(fault)
        if self.source.model is Tree:
            if path[0:1] == ("cases",) and len(path) > 1:
                self.without.add(path[:2])
            else:
                self.broken.add(())
        elif len(path) > 1:
            self.broken.add(tuple(str(part) for part in path[:2]))
        elif path and path[0] not in {"family", "title"}:
            self.without.add(path)
        else:
            self.broken.add(())

    def lose(self, fault: Fault, path: Path) -> None:
        """Note a fault that costs only the detail at its path."""
        self.faults.append(fault)
        self.without.add(path)


@dataclass(frozen=True)
class Assembly:
    """The files, the library that came of them, and every fault.

    Parameters
    ----------
    sheets
        The files, with their data, models and positions.
    library
        What holds together.
    faults
        What is wrong in the files, file by file in the order in which they came.
    """

    sheets: tuple[Sheet, ...]
    library: Library
    faults: tuple[Fault, ...]


def assemble(
    sources: Iterable[Source], readings: Iterable[Reading] = (), problems: Iterable[Problem] = ()
) -> Assembly:
    """Join files into a library; what is broken is left out and told.

    Parameters
    ----------
    sources
        The files, as they were read; a later one takes the place of an earlier one with the same name.
    readings
        Readings that plugins offer.
    problems
        What went wrong before, to be told with the rest.
    """
    readings = tuple(readings)
    sheets = [Sheet(source) for source in sources]
    for sheet in sheets:
        _validate(sheet)
    _titles(sheets)
    known = _Known(sheets, readings)
    for sheet in sheets:
        _follow(sheet, known)
        if sheet.source.model is Tree and sheet.data:
            _tree_faults(sheet, known)
    _facts(sheets)
    _cycles(sheets)
    consequences = list(_fall(sheets, known))
    for sheet in sheets:
        _rebuild(sheet)
    faults = tuple(fault for sheet in sheets for fault in sorted(set(sheet.faults)))
    told = [*problems, *(Problem(fault.where, fault.message) for fault in faults), *consequences]
    library = join(
        families=[one.model for one in sheets if isinstance(one.model, Family)],
        conditions=[one.model for one in sheets if isinstance(one.model, Conditions)],
        trees=[one.model for one in sheets if isinstance(one.model, Tree)],
        readings=readings,
        problems=told,
        notices=_replaced(sheets),
        left_out={
            symptom: sheet.source.document.file
            for sheet in sheets
            if sheet.source.model is Tree and () in sheet.broken
            if isinstance(symptom := sheet.data.get("symptom"), str)
        },
    )
    return Assembly(tuple(sheets), library, faults)


def _validate(sheet: Sheet) -> None:
    source = sheet.source
    sheet.faults += source.faults
    if source.model is None or source.document.data is None:
        sheet.broken.add(())
        return
    sheet.model, faults = validated(source.model, source.document)
    # A fault in the writing (a key that is there twice) puts the whole file in doubt.
    if source.faults:
        sheet.broken.add(())
    for fault in faults:
        sheet.break_at(fault, fault.at)


def _titles(sheets: list[Sheet]) -> None:
    """Find families that no file gives a title; a file that adds to a family need not say it again."""
    families = [sheet for sheet in sheets if sheet.source.model is Family and "family" in sheet.data]
    titled = {str(sheet.data["family"]) for sheet in families if "title" in sheet.data}
    for sheet in families:
        home = str(sheet.data["family"])
        if home not in titled:
            titled.add(home)
            fault = sheet.source.document.fault((), "'title:' is missing.", "Add it.", of_key=True)
            sheet.break_at(fault, ())


class _Known:
    """The names that files define, whether they are sound or not."""

    def __init__(self, sheets: list[Sheet], readings: Iterable[Reading]) -> None:
        self.names: dict[str, dict[str, list[Sheet | None]]] = {kind: {} for kind in SINGULAR}
        self.computed = {reading.name: reading for reading in readings}
        self.states: dict[str, set[str]] = {}
        self.look_answers: dict[str, set[str]] = {}
        self.plain_readings: dict[str, Any] = {}
        for name in self.computed:
            self.names["readings"][name] = [None]
        for sheet in sheets:
            data = sheet.data
            if sheet.source.model is Family and isinstance(home := data.get("family"), str):
                self._add("families", home, sheet)
                for section in SECTIONS:
                    for name, entry in mapping(data.get(section)).items():
                        self._add(section, f"{home}/{name}", sheet)
                        if section == "readings":
                            self.plain_readings[f"{home}/{name}"] = entry
            elif sheet.source.model is Conditions:
                for name, entry in mapping(data.get("conditions")).items():
                    self._add("conditions", name, sheet)
                    self.states.setdefault(name, set()).update(mapping(mapping(entry).get("states")))
                for name, entry in mapping(data.get("looks")).items():
                    self._add("looks", name, sheet)
                    self.look_answers.setdefault(name, set()).update(mapping(mapping(entry).get("answers")))

    def _add(self, kind: str, name: str, sheet: Sheet) -> None:
        self.names[kind].setdefault(name, []).append(sheet)

    def fault(self, sheet: Sheet, reference: Reference) -> Fault | None:
        """Tell what is wrong with a reference, or None."""
        kind, name, path, of_key = reference
        if name in self.names[kind]:
            return None
        one = SINGULAR[kind]
        known = self.names[kind]
        family, slash, bare = name.partition("/")
        document = sheet.source.document
        if slash and family not in self.names["families"]:
            mend = did_you_mean(family, self.names["families"], "Is its plugin installed?")
            return document.fault(path, f"There is no family '{family}'.", mend, of_key)
        home = sheet.data.get("family")
        near = [full.partition("/")[2] if full.startswith(f"{home}/") else full for full in known]
        mend = did_you_mean(bare if family == home else name, near, f"Add it, or name another {one}.")
        return document.fault(path, f"There is no {one} '{name}'.", mend, of_key)


def _follow(sheet: Sheet, known: _Known) -> None:
    data, model = sheet.data, sheet.source.model
    if not data:
        return
    told = {fault.path for fault in sheet.faults}
    found = in_tree(data) if model is Tree else in_family(data) if model is Family else in_conditions(data)
    no_conditions = not known.names["conditions"]
    for reference in found:
        if reference.name in known.names[reference.kind]:
            sheet.references.append(reference)
        elif reference.kind == "conditions" and no_conditions and model is Family:
            # Nobody describes how machines live: the factors rest, and that is no fault of the catalogue.
            sheet.without.add(reference.path)
        elif (fault := known.fault(sheet, reference)) is not None and fault.path not in told:
            if reference.path[0] == "final-checks" or (model is Family and reference.kind == "conditions"):
                sheet.lose(fault, reference.path)
            else:
                sheet.break_at(fault, reference.path)
    for fault, path in _states(sheet, known):
        sheet.lose(fault, path)


def _states(sheet: Sheet, known: _Known) -> Iterator[tuple[Fault, Path]]:
    """Find states of conditions, and answers of quick looks, that nobody defines."""
    document, data = sheet.source.document, sheet.data
    wanted: list[tuple[str, str, Path]] = []
    path: Path
    if sheet.source.model is Family:
        for name, cause in mapping(data.get("causes")).items():
            for condition, factors in mapping(mapping(cause).get("more-likely")).items():
                for state in mapping(factors) if condition in known.states else ():
                    path = ("causes", name, "more-likely", condition, state)
                    wanted.append((state, condition, path))
    elif sheet.source.model is Conditions:
        for name, look in mapping(data.get("looks")).items():
            condition = str(mapping(look).get("speaks-of"))
            if condition not in known.states:
                continue
            for key, answer in mapping(mapping(look).get("answers")).items():
                for state in mapping(mapping(answer).get("shows")):
                    path = ("looks", name, "answers", key, "shows", state)
                    wanted.append((state, condition, path))
    else:
        for case, at in each(data.get("cases"), ("cases",)):
            for look, answer in mapping(mapping(case).get("looks")).items():
                if look in known.look_answers and answer not in known.look_answers[look]:
                    told = f"There is no answer '{answer}' to the quick look '{look}'."
                    path = (*at, "looks", look)
                    yield document.fault(path, told, did_you_mean(answer, known.look_answers[look])), at
    for state, condition, path in wanted:
        states = known.states[condition]
        if state not in states:
            told = f"There is no state '{state}' of condition '{condition}'."
            yield document.fault(path, told, did_you_mean(state, states), of_key=True), path


def _tree_faults(sheet: Sheet, known: _Known) -> None:
    document = sheet.source.document
    told = {fault.path for fault in sheet.faults}
    faults = list(faults_of_tree(document))
    home = sheet.data.get("family")
    for name, check in mapping(sheet.data.get("checks")).items():
        reading = mapping(check).get("reading")
        if isinstance(reading, str):
            plain = mapping(known.plain_readings.get(reading if "/" in reading else f"{home}/{reading}"))
            ends: list[Decimal | None] = [number(plain.get("least")), number(plain.get("most"))]
            faults += faults_of_bands(document, name, *ends)
    for fault in faults:
        # A name that cannot be a name is told already; it need not be told that nobody has it.
        if fault.path not in told or fault.rule not in {"unknown-check", "unknown-answer"}:
            sheet.break_at(fault, fault.at)


def _facts(sheets: list[Sheet]) -> None:
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


def _cycles(sheets: list[Sheet]) -> None:
    """Find jobs that need each other."""
    needs: dict[str, list[tuple[str, Sheet, Path]]] = defaultdict(list)
    for sheet in sheets:
        if sheet.source.model is Family:
            home = sheet.data.get("family")
            for reference in sheet.references:
                if reference.path[0] == "jobs" and reference.path[2] == "needs":
                    needs[f"{home}/{reference.path[1]}"].append((reference.name, sheet, reference.path))
    done: set[str] = set()
    for start in list(needs):
        if start in done:
            continue
        open_, left = [start], [iter(needs[start])]
        while open_:
            step = next(left[-1], None)
            if step is None:
                done.add(open_.pop())
                left.pop()
                continue
            job, sheet, path = step
            if job in open_:
                text = f"Each of these jobs needs the next: {ring([*open_[open_.index(job) :], job])}."
                fault = sheet.source.document.fault(
                    path, text, "Take one of the needs out.", rule="job-cycle"
                )
                sheet.break_at(fault, path)
            elif job not in done:
                open_.append(job)
                left.append(iter(needs.get(job, ())))


def _fall(sheets: list[Sheet], known: _Known) -> Iterator[Problem]:
    """Take out what needs something that was taken out, until all that is left holds together."""
    if not any(sheet.broken for sheet in sheets):
        return
    needed_by: dict[tuple[str, str], list[tuple[Sheet, Reference]]] = defaultdict(list)
    for sheet in sheets:
        for reference in sheet.references:
            needed_by[reference.kind, reference.name].append((sheet, reference))

    def gone(kind: str, name: str) -> bool:
        return all(
            one is not None and (() in one.broken or (kind, name.partition("/")[2] or name) in one.broken)
            for one in known.names[kind].get(name, ())
        )

    dead: set[tuple[str, str]] = set()
    more = True
    while more:
        more = False
        for kind, names in known.names.items():
            for name in names:
                if (kind, name) in dead or not gone(kind, name):
                    continue
                dead.add((kind, name))
                for sheet, reference in needed_by[kind, name]:
                    problem = _lose_with(sheet, reference)
                    if problem is not None:
                        more = True
                        yield problem


def _lose_with(sheet: Sheet, reference: Reference) -> Problem | None:
    path = reference.path
    is_tree = sheet.source.model is Tree
    if path[0] in {"cases", "final-checks"} or (path[0] == "causes" and path[2] == "more-likely"):
        sheet.without.add(path[:2] if path[0] == "cases" else path)
        return None
    entry: Entry = () if is_tree else tuple(str(part) for part in path[:2])
    if entry in sheet.broken or () in sheet.broken:
        return None
    sheet.broken.add(entry)
    what = f"The tree '{sheet.data.get('symptom')}'" if is_tree else f"The {SINGULAR[entry[0]]} '{entry[1]}'"
    text = (
        f"{what} is left out: it needs the {SINGULAR[reference.kind]} '{reference.name}', which has a fault."
    )
    fault = sheet.source.document.fault(path, text, of_key=reference.of_key)
    return Problem(fault.where, text)


def _rebuild(sheet: Sheet) -> None:
    """Build the model again without what was taken out."""
    if () in sheet.broken:
        sheet.model = None
        return
    if not sheet.broken and not sheet.without:
        return
    data = copy.deepcopy(sheet.data)
    for path in sorted(
        [*sheet.broken, *sheet.without], key=lambda one: [str(p).zfill(6) for p in one], reverse=True
    ):
        _take_out(data, path)
    sheet.model, faults = validated(sheet.source.model, sheet.source.document, data)  # type: ignore[arg-type]
    if sheet.model is None:
        sheet.faults += faults


def _take_out(data: Plain, path: Path) -> None:
    *inner, last = path
    holder = value_at(data, tuple(inner))
    if isinstance(holder, dict):
        holder.pop(last, None)
    elif isinstance(holder, list) and isinstance(last, int) and last < len(holder):
        del holder[last]


def _replaced(sheets: list[Sheet]) -> list[Problem]:
    """Tell which trees and entries take the place of earlier ones."""
    notices: list[Problem] = []
    seen: dict[tuple[str, str], str] = {}
    for sheet in sheets:
        document = sheet.source.document
        names: list[tuple[str, str, Path]] = []
        if isinstance(sheet.model, Tree):
            names = [("tree", sheet.model.symptom, ("symptom",))]
        elif isinstance(sheet.model, Family):
            names = [
                (SINGULAR[section], f"{sheet.model.family}/{name}", (section, name))
                for section in SECTIONS
                for name in getattr(sheet.model, section)
            ]
        elif isinstance(sheet.model, Conditions):
            names = [("condition", name, ("conditions", name)) for name in sheet.model.conditions]
            names += [("quick look", name, ("looks", name)) for name in sheet.model.looks]
        for kind, name, path in names:
            if (kind, name) in seen:
                told = f"This {kind} '{name}' takes the place of the one in {seen[kind, name]}."
                notices.append(Problem(document.fault(path, told, of_key=len(path) > 1).where, told))
            seen[kind, name] = document.file
    return notices
