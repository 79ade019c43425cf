"""Puts files together: validates each, follows the references between them, leaves out what is broken.

A catalogue with a fault in one entry loses that entry and whatever needs it, not the others. A tree with a
fault is left out. What only loses a detail (a factor for a condition that nobody defines, one worked case)
is kept without the detail. All of it is told.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from diagtree.library.agreement import find_job_rings, hold_facts
from diagtree.library.falling import fall, rebuild
from diagtree.library.fault import Fault, Path
from diagtree.library.library import SECTIONS, Library, Problem, full_name, join
from diagtree.library.names import Names, follow
from diagtree.library.references import SINGULAR, mapping
from diagtree.library.sheet import Sheet
from diagtree.library.sources import Source
from diagtree.library.structure import faults_of_bands, faults_of_tree, number
from diagtree.library.validation import validated
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.reading import Reading
from diagtree.model.tree import Tree


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
    known = Names(sheets, readings)
    for sheet in sheets:
        follow(sheet, known)
        if sheet.source.model is Tree and sheet.data:
            _tree_faults(sheet, known)
    hold_facts(sheets)
    find_job_rings(sheets)
    consequences = list(fall(sheets, known))
    for sheet in sheets:
        rebuild(sheet)
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


def _tree_faults(sheet: Sheet, known: Names) -> None:
    document = sheet.source.document
    told = {fault.path for fault in sheet.faults}
    faults = list(faults_of_tree(document))
    home = sheet.data.get("family")
    for name, check in mapping(sheet.data.get("checks")).items():
        reading = mapping(check).get("reading")
        if isinstance(reading, str):
            plain = mapping(known.plain_readings.get(full_name(str(home), reading)))
            ends: list[Decimal | None] = [number(plain.get("least")), number(plain.get("most"))]
            faults += faults_of_bands(document, name, *ends)
    for fault in faults:
        # A name that cannot be a name is told already; it need not be told that nobody has it.
        if fault.path not in told or fault.rule not in {"unknown-check", "unknown-answer"}:
            sheet.break_at(fault, fault.at)


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
            names += [("final check", name, ("final-checks", name)) for name in sheet.model.final_checks]
        for kind, name, path in names:
            if (kind, name) in seen:
                told = f"This {kind} '{name}' takes the place of the one in {seen[kind, name]}."
                notices.append(Problem(document.fault(path, told, of_key=len(path) > 1).where, told))
            seen[kind, name] = document.file
    return notices
