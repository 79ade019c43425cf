"""The library: everything that families, conditions and trees say, joined and looked up by full names."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import TypeVar

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.model.conditions import Condition, Conditions, FinalCheck, Look, Noun
from diagtree.model.family import (
    Cause,
    Family,
    Fastener,
    Fluid,
    Job,
    Part,
    PlainReading,
    Remedy,
    System,
    Use,
)
from diagtree.model.reading import Reading
from diagtree.model.tree import Answer, Check, Tree
from diagtree.model.words import Written

_Entry = TypeVar("_Entry", bound=Written)

SECTIONS = ("parts", "causes", "remedies", "jobs", "fasteners", "fluids", "systems", "readings")
"""The sections of a catalogue."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in a plugin or a file that was left out of the library, and why.

    Parameters
    ----------
    where
        The plugin's name, or the file with line and column.
    text
        What is wrong and what to do, in the author's words.
    """

    where: str
    text: str

    def __str__(self) -> str:
        return f"{self.where}: {self.text}"


@dataclass(frozen=True)
class Library:
    """Everything that is known about one kind of machine, by full names (``family/name``).

    Each reference inside an entry is a full name too, so nobody has to know which family an entry is in.
    Symptoms, conditions, looks and final checks have bare names: there is one of each.
    """

    trees: Mapping[str, Tree] = field(default_factory=dict)
    families: Mapping[str, Family] = field(default_factory=dict)
    parts: Mapping[str, Part] = field(default_factory=dict)
    causes: Mapping[str, Cause] = field(default_factory=dict)
    remedies: Mapping[str, Remedy] = field(default_factory=dict)
    jobs: Mapping[str, Job] = field(default_factory=dict)
    fasteners: Mapping[str, Fastener] = field(default_factory=dict)
    fluids: Mapping[str, Fluid] = field(default_factory=dict)
    systems: Mapping[str, System] = field(default_factory=dict)
    plain_readings: Mapping[str, PlainReading] = field(default_factory=dict)
    readings: Mapping[str, Reading] = field(default_factory=dict)
    conditions: Mapping[str, Condition] = field(default_factory=dict)
    looks: Mapping[str, Look] = field(default_factory=dict)
    final_checks: Mapping[str, FinalCheck] = field(default_factory=dict)
    machine: Noun = field(default_factory=lambda: Noun(one="machine", many="machines"))
    cautions: tuple[str, ...] = ()
    glossary: Mapping[str, str] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    """What was left out, and why."""
    notices: tuple[Problem, ...] = ()
    """What took the place of something else: an own tree of a bundled one's."""
    left_out: Mapping[str, str] = field(default_factory=dict)
    """The file of each tree that was left out for a fault, by its symptom."""

    def tree(self, symptom: str) -> Tree:
        """Return the tree of a symptom.

        Raises
        ------
        UnknownNameError
            If there is none; near names are listed.
        ExpectedError
            If it was left out; its file is named.
        """
        if symptom in self.left_out and symptom not in self.trees:
            file = self.left_out[symptom]
            wrong = f"The tree '{symptom}' is left out: it has faults, or needs something that has."
            raise ExpectedError(wrong, f"See: diagtree proofread {file}")
        return _find(self.trees, "symptom", symptom)

    def cause(self, name: str) -> Cause:
        """Return a cause by its full name; raise `UnknownNameError` with near names if there is none."""
        return _find(self.causes, "cause", name)

    def fastener(self, name: str) -> Fastener:
        """Return a fastener by its full name, or by its bare name where that is unique.

        Raises
        ------
        UnknownNameError
            If no fastener has that name; near names are listed.
        """
        if name not in self.fasteners:
            same = [full for full in self.fasteners if full.partition("/")[2] == name]
            if len(same) == 1:
                return self.fasteners[same[0]]
        return _find(self.fasteners, "fastener", name)

    @cached_property
    def causes_of(self) -> Mapping[str, tuple[str, ...]]:
        """For each symptom, its tree's causes in the order in which the author names them."""
        return {
            symptom: tuple(
                dict.fromkeys(
                    cause
                    for check in tree.checks.values()
                    for answer in check.answers.values()
                    for cause in answer.found or ()
                )
            )
            for symptom, tree in self.trees.items()
        }

    @cached_property
    def trees_of(self) -> Mapping[str, tuple[str, ...]]:
        """For each cause, the symptoms that it lies behind."""
        back: dict[str, list[str]] = {name: [] for name in self.causes}
        for symptom, causes in self.causes_of.items():
            for cause in causes:
                back[cause].append(symptom)
        return {cause: tuple(symptoms) for cause, symptoms in back.items()}

    def identity(self, symptom: str) -> str:
        """Tell the identity of a tree: 12 hexadecimal digits that change when anything in it does."""
        said = self.tree(symptom).model_dump_json(exclude_defaults=True)
        return hashlib.sha256(said.encode()).hexdigest()[:12]

    def with_tree(self, tree: Tree) -> Library:
        """Return the library with one more tree, as its author wrote it; it takes the place of its namesake."""
        return replace(self, trees={**self.trees, tree.symptom: _tree_in_full(tree)})


def _find(known: Mapping[str, _Entry], kind: str, name: str) -> _Entry:
    try:
        return known[name]
    except KeyError:
        raise UnknownNameError(kind, name, list(known)) from None


def full_name(family: str, reference: str) -> str:
    """Spell a reference in full.

    Examples
    --------
    >>> full_name("kettle", "scale"), full_name("kettle", "plug/fuse-blown")
    ('kettle/scale', 'plug/fuse-blown')
    """
    return reference if "/" in reference else f"{family}/{reference}"


def join(
    families: Iterable[Family] = (),
    conditions: Iterable[Conditions] = (),
    trees: Iterable[Tree] = (),
    readings: Iterable[Reading] = (),
    problems: Iterable[Problem] = (),
    notices: Iterable[Problem] = (),
    left_out: Mapping[str, str] | None = None,
) -> Library:
    """Join what was read into one library; each reference is spelt in full.

    Nothing is checked here: a reference that points nowhere is found by whoever read the files, who knows
    the line. Of two entries with the same name the later one counts.

    Examples
    --------
    >>> kettle = Family.model_validate({"family": "kettle", "title": "Kettle",
    ...     "parts": {"element": {"title": "Element"}}})
    >>> list(join([kettle]).parts)
    ['kettle/element']
    """
    # The library's own "readings" are those that plugins compute.
    fields = {section: "plain_readings" if section == "readings" else section for section in SECTIONS}
    library: dict[str, dict[str, object]] = {
        kind: {} for kind in ("families", *fields.values(), "conditions", "looks", "final_checks", "glossary")
    }
    for family in families:
        home = family.family
        library["families"][home] = _extended(library["families"].get(home), family)
        for section, into in fields.items():
            for name, entry in getattr(family, section).items():
                library[into][f"{home}/{name}"] = _spelt_in_full(entry, home, family.basis)
    for home, joined in library["families"].items():
        # The file with the title may have been left out.
        if isinstance(joined, Family) and not joined.title:
            library["families"][home] = joined.model_copy(update={"title": home})
    machine: Noun | None = None
    cautions: list[str] = []
    for sheet in conditions:
        machine = sheet.machine or machine
        cautions += [text for text in sheet.cautions if text not in cautions]
        library["conditions"] |= {n: _with_basis(c, sheet.basis) for n, c in sheet.conditions.items()}
        library["looks"] |= {n: _with_basis(c, sheet.basis) for n, c in sheet.looks.items()}
        library["final_checks"] |= sheet.final_checks
        library["glossary"] |= sheet.glossary
    return Library(
        trees={tree.symptom: _tree_in_full(tree) for tree in trees},
        readings={reading.name: reading for reading in readings},
        machine=machine or Noun(one="machine", many="machines"),
        cautions=tuple(cautions),
        problems=tuple(problems),
        notices=tuple(notices),
        left_out=left_out or {},
        **library,  # type: ignore[arg-type]
    )


def _extended(family: object, more: Family) -> Family:
    """Add the entries of a second catalogue of the same family; the title is the first one's that has one."""
    if not isinstance(family, Family):
        return more
    joined = {name: getattr(family, name) | getattr(more, name) for name in SECTIONS}
    return family.model_copy(update={"title": family.title or more.title, **joined})


_REFERENCE = ("part", "fluid", "into", "compound")
_REFERENCES = (
    "remedies",
    "jobs",
    "needs",
    "after",
    "uncovers",
    "fasteners",
    "systems",
    "takes",
    "never_with",
)


def _with_basis(entry: _Entry, basis: str) -> _Entry:
    if getattr(entry, "basis", basis) is None:
        return entry.model_copy(update={"basis": basis})
    return entry


@lru_cache(maxsize=32)
def _fields_with_references(kind: type[Written]) -> tuple[tuple[str, ...], tuple[str, ...], bool]:
    """Tell which of a model's fields hold one reference, which hold several, and whether it has a basis."""
    fields = kind.model_fields
    # A fastener's "into" is a material, not a reference.
    singles = ("part", "compound") if kind is Fastener else _REFERENCE
    return (
        tuple(key for key in singles if key in fields),
        tuple(key for key in _REFERENCES if key in fields),
        kind is not Use and "basis" in fields,
    )


def _spelt_in_full(entry: _Entry, home: str, basis: str) -> _Entry:
    change: dict[str, object] = {}
    singles, lists, has_basis = _fields_with_references(type(entry))
    for key in singles:
        value = getattr(entry, key)
        if value is not None:
            change[key] = full_name(home, value)
    for key in lists:
        values = getattr(entry, key)
        if values:
            change[key] = tuple(full_name(home, value) for value in values)
    if isinstance(entry, (Remedy, Job)) and entry.fluids:
        change["fluids"] = tuple(_spelt_in_full(use, home, basis) for use in entry.fluids)
    if isinstance(entry, Remedy) and entry.parts:
        change["parts"] = {full_name(home, name): amount for name, amount in entry.parts.items()}
    if has_basis and getattr(entry, "basis") is None:  # noqa: B009 - not every model has one
        change["basis"] = basis
    return entry.model_copy(update=change) if change else entry


def _tree_in_full(tree: Tree) -> Tree:
    home = tree.family
    return tree.model_copy(
        update={
            "checks": {name: _check_in_full(check, home, tree.basis) for name, check in tree.checks.items()},
            "cases": tuple(
                case.model_copy(update={"expect": full_name(home, case.expect)}) for case in tree.cases
            ),
        }
    )


def _check_in_full(check: Check, home: str, basis: str) -> Check:
    return check.model_copy(
        update={
            "answers": {name: _answer_in_full(answer, home) for name, answer in check.answers.items()},
            "behind": tuple(full_name(home, job) for job in check.behind),
            "shows": {full_name(home, cause): row for cause, row in check.shows.items()},
            "reading": full_name(home, check.reading) if check.reading else None,
            "basis": check.basis or basis,
        }
    )


def _answer_in_full(answer: Answer, home: str) -> Answer:
    change: dict[str, object] = {}
    if answer.found is not None:
        change["found"] = {full_name(home, cause): count for cause, count in answer.found.items()}
    if answer.without:
        change["without"] = tuple(full_name(home, part) for part in answer.without)
    return answer.model_copy(update=change) if change else answer
