"""How many of 100 machines with a complaint go each way through its tree."""

from __future__ import annotations

import heapq
from collections.abc import Mapping

from diagtree.library.library import Library

LEAST = 1e-4
"""Ways that fewer than this share of the machines go are not followed further."""

STEPS = 3000
"""A tree in which many ways join has very many ways; the commonest are followed first, and at most so many."""


def shares_of(library: Library, symptom: str) -> Mapping[tuple[str, str], float]:
    """Tell how many of 100 machines with a complaint go each way, misleading answers included.

    Parameters
    ----------
    library
        Everything that is known.
    symptom
        The complaint.

    Returns
    -------
    mapping
        For each (check, answer): the share that comes to the check and gives that answer, out of 100. The
        chance of an answer is the belief's, given all the answers on the way.

    Raises
    ------
    UnknownNameError
        If there is no such symptom.
    """
    from diagtree.reasoning.belief import BeliefModel
    from diagtree.reasoning.evidence import Evidence, spread_facts

    tree = library.tree(symptom)
    model = BeliefModel.of(library, (symptom,))
    shares = {(name, answer): 0.0 for name, check in tree.checks.items() for answer in check.answers}
    number = 0
    waiting: list[tuple[float, int, str, dict[tuple[str, str], str]]] = [(-1.0, 0, tree.first, {})]
    while waiting and number < STEPS:
        negative, _, name, answers = heapq.heappop(waiting)
        evidence = spread_facts(library, Evidence((symptom,), answers=answers))
        told = evidence.answers.get((symptom, name))
        chances = {told: 1.0} if told is not None else model.given(evidence).predict(symptom, name)
        for answer, chance in chances.items():
            mass = -negative * chance
            shares[name, answer] += 100 * mass
            follows = tree.checks[name].answers[answer].next
            if follows is not None and mass >= LEAST:
                number += 1
                heapq.heappush(waiting, (-mass, number, follows, {**answers, (symptom, name): answer}))
    return shares
