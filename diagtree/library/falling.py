"""Takes out what is broken, and what needs it, until all that is left holds together."""

from __future__ import annotations

import copy
from collections import defaultdict
from collections.abc import Iterator

from diagtree.library.document import take_out
from diagtree.library.fault import Path
from diagtree.library.library import Problem
from diagtree.library.names import Names
from diagtree.library.references import SINGULAR, Reference
from diagtree.library.sheet import Entry, Sheet
from diagtree.library.validation import validated
from diagtree.model.tree import Tree


def fall(sheets: list[Sheet], known: Names) -> Iterator[Problem]:
    """Mark what needs something that falls, and so on; yield what of it must be told."""
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


def rebuild(sheet: Sheet) -> None:
    """Build the model again without what was taken out."""
    if () in sheet.broken:
        sheet.model = None
        return
    if not sheet.broken and not sheet.without:
        return
    data = copy.deepcopy(sheet.data)
    # From the end of each list to its beginning: what is taken out moves what stands behind it.
    for path in sorted({*sheet.broken, *sheet.without}, key=_places, reverse=True):
        take_out(data, path)
    sheet.model, faults = validated(sheet.source.model, sheet.source.document, data)  # type: ignore[arg-type]
    if sheet.model is None:
        sheet.faults += faults


def _places(path: Path) -> list[int]:
    return [part if isinstance(part, int) else 0 for part in path]
