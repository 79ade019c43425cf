"""Questions that need no asking: what is as good as certain, and what to follow where nobody could tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.case.places import Place
from diagtree.case.ways import Leaf, Ways
from diagtree.library.library import Library
from diagtree.model.family import Risk

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief

CERTAIN = 0.99
"""A question is passed over when one answer leads to this share of what it could still find."""


def likeliest_way_on(library: Library, belief: Belief, place: Place) -> tuple[str, str]:
    """Tell which answer to follow where nobody could tell and the author names no way on.

    Returns
    -------
    tuple of str
        The answer, among those that lead on to a check, and the reason in a sentence.
    """
    check = library.trees[place.symptom].checks[place.name]
    chances = belief.predict(place.symptom, place.name)
    ways_on = [answer for answer, each in check.answers.items() if each.next is not None]
    likeliest = max(ways_on, key=lambda answer: chances[answer])
    return likeliest, f"Nobody could tell: the walk goes on as if '{check.answers[likeliest].says}'."


def certain_answer(library: Library, ways: Ways, belief: Belief, place: Place) -> tuple[str, str] | None:
    """Tell the answer to a check that is as good as certain, so that asking would be a waste of time.

    A check is always asked if its likeliest answer ends at a finding, or if another one could still lead to
    something unsafe.

    Returns
    -------
    tuple of str or None
        The answer and the reason in a sentence; None if the check is to be asked.
    """
    check = library.trees[place.symptom].checks[place.name]
    leaves = belief.leaves(place.symptom)
    behind = {answer: ways.leaves_behind(place.name, answer) for answer in check.answers}
    chance = {answer: sum(leaves.get(leaf, 0.0) for leaf in found) for answer, found in behind.items()}
    total = sum(leaves.get(leaf, 0.0) for leaf in frozenset[Leaf]().union(*behind.values()))
    likeliest = max(chance, key=lambda answer: chance[answer])
    if total <= 0 or chance[likeliest] < CERTAIN * total or check.answers[likeliest].next is None:
        return None
    others = frozenset[Leaf]().union(*(found for answer, found in behind.items() if answer != likeliest))
    if any(_could_hurt(library, place.symptom, leaf) for leaf in others):
        return None
    return likeliest, f"Settled by what was told: '{check.answers[likeliest].says}' is as good as certain."


def _could_hurt(library: Library, symptom: str, leaf: Leaf) -> bool:
    answer = library.trees[symptom].checks[leaf[0]].answers[leaf[1]]
    causes = [library.causes[cause] for cause in answer.found or () if cause in library.causes]
    return answer.stop is not None or any(cause.risk is Risk.UNSAFE for cause in causes)
