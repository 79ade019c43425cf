"""The names that files define, and the references that lead to none of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from diagtree.library.fault import Fault, Path, did_you_mean
from diagtree.library.library import SECTIONS
from diagtree.library.references import (
    SINGULAR,
    Reference,
    each,
    in_conditions,
    in_family,
    in_tree,
    mapping,
)
from diagtree.library.sheet import Sheet
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.reading import Reading
from diagtree.model.tree import Tree


class Names:
    """The names that files define, whether they are sound or not.

    Parameters
    ----------
    sheets
        The files.
    readings
        The readings that plugins offer.
    """

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


def follow(sheet: Sheet, known: Names) -> None:
    """Note where each reference of a file leads; what leads nowhere falls, or is lost."""
    data, model = sheet.data, sheet.source.model
    if not data:
        return
    told = {fault.path for fault in sheet.faults}
    found = in_tree(data) if model is Tree else in_family(data) if model is Family else in_conditions(data)
    no_conditions = not known.names["conditions"]
    keys: dict[tuple[Path, str], Path] = {}
    for reference in found:
        if reference.of_key:
            first = keys.setdefault((reference.path[:-1], reference.name), reference.path)
            if first != reference.path:
                # Joined under its full name, only one of the two would be left.
                same = f"'{reference.path[-1]}' and '{first[-1]}' are one and the same."
                twice = sheet.source.document.fault(reference.path, same, "Write it once.", of_key=True)
                sheet.break_at(twice, reference.path)
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


def _states(sheet: Sheet, known: Names) -> Iterator[tuple[Fault, Path]]:
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
                if not isinstance(answer, str) or look not in known.look_answers:
                    continue
                if answer not in known.look_answers[look]:
                    told = f"There is no answer '{answer}' to the quick look '{look}'."
                    path = (*at, "looks", look)
                    yield document.fault(path, told, did_you_mean(answer, known.look_answers[look])), at
    for state, condition, path in wanted:
        states = known.states[condition]
        if state not in states:
            told = f"There is no state '{state}' of condition '{condition}'."
            yield document.fault(path, told, did_you_mean(state, states), of_key=True), path
