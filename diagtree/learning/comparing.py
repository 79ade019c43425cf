"""Two versions of trees and catalogues: what a change does to findings, minutes, worked cases and torques."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.model.family import Fastener
from diagtree.model.tree import Tree, WorkedCase
from diagtree.model.words import Written, in_authors_words
from diagtree.proofread.cases import Outcome, outcomes
from diagtree.reasoning.appraisal import MOST_WAYS, appraise, ends, ways
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.effort import minutes_of

MOST_LETTERS = 40
"""A longer value is only said to have changed."""

SECTIONS = {
    "causes": "cause",
    "remedies": "remedy",
    "jobs": "job",
    "parts": "part",
    "fasteners": "fastener",
    "fluids": "fluid",
    "systems": "system",
    "plain_readings": "reading",
    "conditions": "condition",
    "looks": "quick look",
    "final_checks": "final check",
}
"""What is compared entry by entry, and what one of each is called."""


@dataclass(frozen=True, slots=True)
class Change:
    """One entry that is new, gone or changed.

    Parameters
    ----------
    kind, name
        What it is: ``cause``, ``kettle/scale``.
    what
        ``added``, ``removed`` or ``changed``.
    says
        What changed in it, a line each: ``out-of-100: 30, now 25``.
    """

    kind: str
    name: str
    what: str
    says: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CaseChange:
    """A worked case that is new, gone, or comes out otherwise.

    Parameters
    ----------
    title
        The case.
    what
        What became of it: ``broken``, ``mended``, ``added``, ``taken out``, ``expects another cause``.
    told
        How it comes out with the new version, a sentence.
    breaks
        True if it held, or is new, and now fails.
    """

    title: str
    what: str
    told: str
    breaks: bool


@dataclass(frozen=True, slots=True)
class Moved:
    """A figure before and after; None where there was or is none."""

    name: str
    old: float | None
    new: float | None


@dataclass(frozen=True, slots=True)
class TreeChange:
    """What a change does to one tree.

    Parameters
    ----------
    symptom, title
        The tree.
    what
        ``added``, ``removed`` or ``changed``.
    minutes
        Expected minutes to a finding, in the author's order.
    right
        How many times out of 100 the finding's likeliest cause is the right one.
    causes
        For each cause: on how many of 100 machines with this complaint it is behind it.
    findings
        For each finding (check and answer): at how many of 100 machines the walk ends there, answers misleading
        as they do.
    checks
        Checks that are new, gone or changed.
    cases
        Worked cases that are new, gone, or come out otherwise.
    """

    symptom: str
    title: str
    what: str
    minutes: Moved
    right: Moved
    causes: tuple[Moved, ...]
    findings: tuple[Moved, ...]
    checks: tuple[Change, ...]
    cases: tuple[CaseChange, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """What a change does.

    Parameters
    ----------
    trees
        The trees that it touches.
    entries
        Entries of catalogues and conditions that are new, gone or changed.
    torques
        For each fastener whose tightening changed: how tight before, how tight now.
    """

    trees: tuple[TreeChange, ...]
    entries: tuple[Change, ...]
    torques: tuple[tuple[str, str, str], ...]

    @property
    def breaks(self) -> bool:
        """True if a worked case fails that did not fail before."""
        return any(case.breaks for tree in self.trees for case in tree.cases)


def compare(old: Library, new: Library) -> Comparison:
    """Tell what changed between two libraries.

    Parameters
    ----------
    old, new
        All that is known, with the old and with the new version of what changed.

    Returns
    -------
    Comparison
        Trees that differ, or whose causes do; nothing about the others.
    """
    entries = tuple(_entries(old, new))
    changed = {(change.kind, change.name) for change in entries}
    symptoms = [*old.trees, *(name for name in new.trees if name not in old.trees)]
    return Comparison(
        tuple(_tree(old, new, symptom) for symptom in symptoms if _touched(old, new, symptom, changed)),
        entries,
        tuple(_torques(old, new)),
    )


def _touched(old: Library, new: Library, symptom: str, changed: set[tuple[str, str]]) -> bool:
    if old.trees.get(symptom) != new.trees.get(symptom):
        return True
    return any(("cause", cause) in changed for cause in new.causes_of[symptom])


def _entries(old: Library, new: Library) -> Iterator[Change]:
    for section, kind in SECTIONS.items():
        yield from _differences(kind, getattr(old, section), getattr(new, section))


def _differences(kind: str, old: Mapping[str, Written], new: Mapping[str, Written]) -> Iterator[Change]:
    for name, entry in old.items():
        if name not in new:
            yield Change(kind, name, "removed")
        elif new[name] != entry:
            yield Change(kind, name, "changed", tuple(_fields(entry, new[name])))
    for name in new:
        if name not in old:
            yield Change(kind, name, "added")


def _fields(old: Written, new: Written) -> Iterator[str]:
    for field in type(old).model_fields:
        before, after = getattr(old, field), getattr(new, field)
        if before == after:
            continue
        told, now = _shown(before), _shown(after)
        said = in_authors_words(field)
        yield f"{said}: {told}, now {now}" if told and now else f"{said} changed"


def _shown(value: object) -> str:
    if value is None or value in ((), ""):
        return "none"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, tuple) and all(isinstance(one, str) and " " not in one for one in value):
        value = ", ".join(value)
    if isinstance(value, tuple) and all(isinstance(one, Decimal) for one in value):
        value = ", ".join(f"{one:f}" for one in value)
    value = getattr(value, "value", value)
    return value if isinstance(value, str) and len(value) <= MOST_LETTERS else ""


def _torques(old: Library, new: Library) -> Iterator[tuple[str, str, str]]:
    for name in [*old.fasteners, *(name for name in new.fasteners if name not in old.fasteners)]:
        before, after = how_tight(old.fasteners.get(name)), how_tight(new.fasteners.get(name))
        if before != after:
            yield name, before, after


def how_tight(fastener: Fastener | None) -> str:
    """Say how a fastener is tightened, in the catalogue's words.

    Examples
    --------
    >>> how_tight(Fastener.model_validate({"title": "Screw", "thread": "M5x0.8", "preparation": "grease",
    ...     "torque": {"from": "4", "to": "6"}}, by_alias=True))
    '4 to 6 N·m, grease, right-hand M5x0.8'
    """
    if fastener is None:
        return "none"
    torque = fastener.torque
    parts = []
    if torque is not None:
        parts.append(f"{torque.from_:f} to {torque.to:f} N·m")
    if fastener.until is not None:
        parts.append(f"until {fastener.until}")
    return ", ".join([*parts, fastener.preparation, f"{fastener.hand.value}-hand {fastener.thread}"])


def _tree(old: Library, new: Library, symptom: str) -> TreeChange:
    before, after = old.trees.get(symptom), new.trees.get(symptom)
    tree = after or before
    assert tree is not None
    what = "added" if before is None else "removed" if after is None else "changed"
    was, now = (walked(library, symptom) for library in (old, new))
    return TreeChange(
        symptom,
        tree.title,
        what,
        Moved("minutes", was.minutes, now.minutes),
        Moved("right", was.right, now.right),
        _moved(_causes(old, symptom), _causes(new, symptom)),
        _moved(was.ends, now.ends),
        tuple(_differences("check", before.checks if before else {}, after.checks if after else {})),
        tuple(_cases(old, new, symptom)),
    )


def _moved(old: Mapping[str, float], new: Mapping[str, float]) -> tuple[Moved, ...]:
    names = [*old, *(name for name in new if name not in old)]
    return tuple(Moved(name, old.get(name), new.get(name)) for name in names)


def _causes(library: Library, symptom: str) -> dict[str, float]:
    if symptom not in library.trees:
        return {}
    behind = BeliefModel.of(library, (symptom,)).nothing_told.behind(symptom)
    return {cause: 100 * behind[cause] for cause in library.causes_of[symptom]}


@dataclass(frozen=True, slots=True)
class Walked:
    """What comes of walking 100 machines in the author's order, answers misleading as they do.

    Parameters
    ----------
    minutes
        Mean minutes to a finding; None where there is no tree.
    right
        How many times the cause that comes first is the right one; None where there is no tree.
    ends
        How many end at each ``check: answer``. Empty for a tree with more ways than can be summed.
    """

    minutes: float | None
    right: float | None
    ends: Mapping[str, float]


def walked(library: Library, symptom: str) -> Walked:
    """Sum over all ways through a tree.

    Parameters
    ----------
    library
        The library.
    symptom
        The complaint.
    """
    if symptom not in library.trees:
        return Walked(None, None, {})
    tree = library.trees[symptom]
    if len(list(itertools.islice(ways(tree), MOST_WAYS + 1))) > MOST_WAYS:
        figures = appraise(library, symptom)
        return Walked(figures.walked.expected, 100 * figures.right, {})
    model = BeliefModel.of(library, (symptom,))
    leaves: dict[str, float] = {}
    minutes = right = 0.0
    for end in ends(model, symptom):
        right += 100 * end.right
        minutes += end.chance * minutes_of(library, [(symptom, check) for check, _ in end.way])
        leaf = "{}: {}".format(*end.way[-1])
        leaves[leaf] = leaves.get(leaf, 0.0) + 100 * end.chance
    return Walked(minutes, right, leaves)


_Key = tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]]


def _key(case: WorkedCase) -> _Key:
    return tuple(sorted(case.looks.items())), tuple(sorted(case.answers.items()))


def _name(outcome: Outcome) -> str:
    return outcome.case.title or f"case {outcome.place + 1}"


def _cases(old: Library, new: Library, symptom: str) -> Iterator[CaseChange]:
    before = list(outcomes(old, symptom)) if symptom in old.trees else []
    after = list(outcomes(new, symptom)) if symptom in new.trees else []
    known = _known(before, after)
    for one in after:
        was = known.get(one.place)
        if was is None:
            yield CaseChange(_name(one), "added", one.told, not one.holds)
        elif was.holds and not one.holds:
            yield CaseChange(_name(one), "broken", one.told, True)
        elif one.holds and not was.holds:
            yield CaseChange(_name(one), "mended", one.told, False)
        elif was.case.expect != one.case.expect:
            yield CaseChange(_name(one), "expects another cause", one.told, False)
    met = {was.place for was in known.values()}
    for was in before:
        if was.place not in met:
            told, fails = _tried(new, symptom, was)
            yield CaseChange(_name(was), "taken out", told, was.holds and fails)


def _known(before: Sequence[Outcome], after: Sequence[Outcome]) -> dict[int, Outcome]:
    """For each worked case of the new version, by its place, the same one before: the closest match first."""

    def same_answers(was: Outcome, one: Outcome) -> bool:
        return _key(was.case) == _key(one.case)

    def same_title(was: Outcome, one: Outcome) -> bool:
        return bool(one.case.title) and was.case.title == one.case.title

    known: dict[int, Outcome] = {}
    left = {was.place: was for was in before}
    for alike in (lambda was, one: same_answers(was, one) and same_title(was, one), same_answers, same_title):
        for one in after:
            if one.place in known:
                continue
            was = next((was for was in left.values() if alike(was, one)), None)
            if was is not None:
                known[one.place] = left.pop(was.place)
    return known


def _tried(new: Library, symptom: str, was: Outcome) -> tuple[str, bool]:
    """Try a case that the new version no longer has."""
    tree = new.trees.get(symptom)
    if tree is None:
        return "The tree is gone.", False
    lost = _lost(tree, was.case)
    if lost:
        return f"It cannot be walked any more: {lost}", False
    alone = replace(new, trees={symptom: tree.model_copy(update={"cases": (was.case,)})})
    try:
        (one,) = outcomes(alone, symptom)
    except ExpectedError as error:
        return str(error), True
    return one.told, not one.holds


def _lost(tree: Tree, case: WorkedCase) -> str:
    for check, answer in case.answers.items():
        if check not in tree.checks:
            return f"there is no check '{check}'."
        if answer not in tree.checks[check].answers:
            return f"there is no answer '{answer}' to '{check}'."
    return ""
