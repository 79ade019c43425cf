"""A case that is taken up again with other trees: what changed, and which answers keep their place."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.case.case import Case, Given
from diagtree.case.standing import Standing, exists
from diagtree.library.library import Library


def identities(library: Library, complaints: tuple[str, ...]) -> dict[str, str]:
    """Tell the identity of each complaint's tree; a tree that is not there has none."""
    return {symptom: library.identity(symptom) for symptom in complaints if symptom in library.trees}


def changed_trees(case: Case, now: Mapping[str, str]) -> tuple[str, ...]:
    """List the complaints whose trees are not those that the case was walked with."""
    return tuple(symptom for symptom in case.complaints if case.trees.get(symptom) != now.get(symptom))


def what_changed(library: Library, case: Case, standing: Standing, changed: tuple[str, ...]) -> list[str]:
    """Say for each changed tree what changed for the answers of this case."""
    says: list[str] = []
    for symptom in changed:
        answers = [given for place, given in case.given.items() if place.symptom == symptom]
        count = f"{len(answers)} {'answer' if len(answers) == 1 else 'answers'}"
        if symptom not in library.trees:
            kept = f"Its {count} {'is' if len(answers) == 1 else 'are'} kept, set aside."
            says.append(
                f"The tree '{symptom}' is no longer here. {kept if answers else 'No answer was given in it.'}"
            )
            continue
        lost = [given for given in answers if given in standing.aside]
        left = len(answers) - len(lost)
        kept = f"{left} of {count} {'keeps its' if left == 1 else 'keep their'} place."
        says.append(
            f"The tree for '{library.trees[symptom].title}' has changed since this case was last open. "
            f"{kept if answers else 'No answer was given in it yet.'}"
        )
        says += [f"Set aside: {given.asked} {_why_lost(library, given)}" for given in lost]
        says += [
            f"The question '{given.asked}' now reads: {asked}"
            for given in answers
            if given not in lost and (asked := _asked_now(library, given)) != given.asked
        ]
    return says


def _asked_now(library: Library, given: Given) -> str:
    return library.trees[given.place.symptom].checks[given.place.name].ask


def _why_lost(library: Library, given: Given) -> str:
    if not exists(library, given.place):
        return "The question is no longer there."
    check = library.trees[given.place.symptom].checks[given.place.name]
    if given.answer is not None and given.answer not in check.answers:
        return f"The answer '{given.says}' is no longer there."
    return "No way leads there now."
