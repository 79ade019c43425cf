"""Worked cases: what came out, in the author's words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.library.references import each
from diagtree.model.tree import Tree, WorkedCase
from diagtree.proofread.manuscript import Manuscript

MOST_WAYS = 4
"""So many ways to a cause are told."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a worked case came out.

    Parameters
    ----------
    place
        Which of the tree's cases, from 0.
    case
        The case.
    holds
        True if the expected cause comes first.
    told
        What came out, a sentence.
    """

    place: int
    case: WorkedCase
    holds: bool
    told: str


def outcomes(library: Library, symptom: str) -> Iterator[Outcome]:
    """Try each worked case of a tree against the library's belief.

    Parameters
    ----------
    library
        All that is known.
    symptom
        The tree.
    """
    from diagtree.reasoning.belief import BeliefModel
    from diagtree.reasoning.evidence import Evidence, spread_facts

    tree = library.tree(symptom)
    model = BeliefModel.of(library, (symptom,)) if tree.cases else None
    for place, case in enumerate(tree.cases):
        assert model is not None
        answers = {(symptom, check): answer for check, answer in case.answers.items()}
        evidence = spread_facts(library, Evidence((symptom,), looks=dict(case.looks), answers=answers))
        try:
            ranking = model.given(evidence).ranking(symptom)
        except ExpectedError as error:
            yield Outcome(place, case, False, f"The case cannot be: {error.wrong}")
            continue
        chances = dict(ranking)
        first, chance = ranking[0]
        wanted = chances.get(case.expect, 0.0)
        # Two causes that cannot be told apart share the first place.
        holds = wanted > 0 and wanted >= chance * (1 - 1e-9)
        told = (
            f"'{case.expect}' comes first, with {100 * wanted:.0f} in 100."
            if holds
            else f"'{first}' comes first with {100 * chance:.0f} in 100; "
            f"'{case.expect}' has {100 * wanted:.0f} in 100."
        )
        yield Outcome(place, case, holds, told)


def own_library(manuscript: Manuscript) -> Library:
    """Return the library with the tree of this very file: a later one may have taken its place."""
    tree = manuscript.sheet.model
    return manuscript.library.with_tree(tree) if isinstance(tree, Tree) else manuscript.library


def places(manuscript: Manuscript) -> list[int]:
    """Tell where in the file each worked case of the library's tree stands: those with faults are left out."""
    left_out = {path[1] for path in manuscript.sheet.without if path[:1] == ("cases",) and len(path) > 1}
    count = sum(1 for _ in each(manuscript.data.get("cases"), ("cases",)))
    return [place for place in range(count) if place not in left_out]


def story(library: Library, symptom: str, outcome: Outcome) -> str:
    """Tell a worked case that failed: where its answers led, and where they should have.

    Parameters
    ----------
    library
        The library.
    symptom
        The tree.
    outcome
        How the case came out.
    """
    tree = library.tree(symptom)
    case = outcome.case
    lines = [f"{case.title or f'Case {outcome.place + 1}'}: {outcome.told}", "", "Where the answers led:"]
    name: str | None = tree.first
    met: set[str] = set()
    while name is not None and name not in met:
        met.add(name)
        check = tree.checks[name]
        given = case.answers.get(name)
        answer = check.answers.get(given) if given is not None else None
        if answer is None:
            lines.append(f"  {check.ask}  (the case does not answer '{name}')")
            name = check.cannot_tell
            continue
        lines.append(f"  {check.ask}  {answer.says}")
        if answer.found is not None:
            lines.append(
                f"  found: {', '.join(f'{cause} {count:f}' for cause, count in answer.found.items())}"
            )
        name = answer.next
    aside = [check for check in case.answers if check not in met]
    if aside:
        lines.append(f"  answered besides: {', '.join(f'{check}: {case.answers[check]}' for check in aside)}")
    lines += ["", f"Where '{case.expect}' is found:"]
    lines += [f"  {way}" for way in _ways_to(tree, case.expect)] or ["  nowhere in this tree"]
    return "\n".join(lines)


def _ways_to(tree: Tree, cause: str) -> Iterator[str]:
    open_: list[tuple[str, tuple[str, ...]]] = [(tree.first, ())]
    told = 0
    while open_ and told < MOST_WAYS:
        name, way = open_.pop(0)
        for key, answer in tree.checks[name].answers.items():
            gone = (*way, f"{name}: {key}")
            if answer.found is not None and cause in answer.found:
                told += 1
                yield f"{', '.join(gone)}  (count {answer.found[cause]:f})"
            if answer.next is not None:
                open_.append((answer.next, gone))
