"""Simulated machines: drawn from the model, walked to a finding, and what was stated for each at the end."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Literal

from diagtree.library.library import Library
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.calibration import Machine, brier
from diagtree.reasoning.crowd import Crowd, Following, draw_crowd
from diagtree.reasoning.effort import minutes_of
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.shortest import next_check

Order = Literal["guided", "shortest"]

DRAWN_FOR_EACH = 20
"""So many machines are drawn and walked for each whose chances are stated."""

AT_ONCE = 1000
"""So many machines are taken from one crowd."""


def simulate(
    library: Library,
    symptoms: Sequence[str],
    count: int,
    seed: int,
    *,
    order: Order = "guided",
    looks: bool = True,
    drawn_for_each: int = DRAWN_FOR_EACH,
    model: BeliefModel | None = None,
    progress: Callable[[int], None] = lambda _done: None,
) -> list[Machine]:
    """Draw machines with one complaint each, walk them, and state the chances for some taken evenly from them.

    Drawing and walking are cheap, stating the chances is not. A sample taken evenly from many keeps most of
    the luck of the draw out of the table: rows lie nearer to what is stated than standard errors allow, which
    are those of machines drawn one by one. Each machine follows the model all the same.

    Parameters
    ----------
    library
        The library.
    symptoms
        The complaints; each comes in as often as the others.
    count
        How many machines in all.
    seed
        Where the random numbers start: the same seed, the same machines.
    order
        The author's order or the engine's. The engine's is chosen from the answers alone, not from the looks,
        so that machines can share a way.
    looks
        False to leave the quick looks out.
    drawn_for_each
        From how many machines one is taken; 1 takes them as they are drawn.
    model
        The compiled model, if it is at hand; for one symptom only.
    progress
        Is told how many machines are done.

    Returns
    -------
    list of Machine
        In the order of the symptoms.

    References
    ----------
    Neyman, "Contribution to the theory of sampling human populations", Journal of the American Statistical
    Association 33:101-116, 1938 (a large cheap sample to choose a small dear one from).

    Examples
    --------
    >>> from diagtree.library.loading import load_library
    >>> from diagtree.reasoning.calibration import calibrate
    >>> library = load_library()
    >>> machines = simulate(library, list(library.trees)[:2], 10, seed=1)
    >>> calibrate(machines).machines
    10
    """
    import numpy as np

    machines: list[Machine] = []
    for place, symptom in enumerate(symptoms):
        many = count // len(symptoms) + (place < count % len(symptoms))
        compiled = model or BeliefModel.of(library, [symptom])
        following = guided(library.tree(symptom)) if order == "guided" else shortest(compiled, symptom)
        seen = tuple(library.looks) if looks else ()
        for number, part in enumerate(range(0, many, AT_ONCE)):
            size = drawn_for_each * min(AT_ONCE, many - part)
            crowd = draw_crowd(compiled, symptom, size, [seed, place, number], following, seen)
            start = np.random.default_rng([seed, place, number, 11]).integers(drawn_for_each)
            for machine in _stated(compiled, crowd, crowd.evenly(drawn_for_each, int(start))):
                machines.append(machine)
                if len(machines) % 100 == 0:
                    progress(len(machines))
    progress(len(machines))
    return machines


def guided(tree: Tree) -> Following:
    """Return the author's order."""

    def following(answers: Mapping[str, str]) -> str | None:
        if not answers:
            return tree.first
        last = list(answers)[-1]
        name = tree.checks[last].answers[answers[last]].next
        return name if name in tree.checks else None

    return following


def shortest(model: BeliefModel, symptom: str) -> Following:
    """Return the engine's order, chosen from the answers alone."""
    known: dict[frozenset[tuple[str, str]], str | None] = {}

    def following(answers: Mapping[str, str]) -> str | None:
        key = frozenset(answers.items())
        if key not in known:
            told = Evidence((symptom,), {}, {(symptom, check): answer for check, answer in answers.items()})
            worth = next_check(model.given(told))
            known[key] = worth.check if worth else None
        return known[key]

    return following


def _stated(model: BeliefModel, crowd: Crowd, numbers: Sequence[int]) -> Iterator[Machine]:
    """State the chances for some machines of a crowd."""
    symptom = crowd.symptom
    prior = model.nothing_told.behind(symptom)
    minutes = [minutes_of(model.library, [(symptom, check) for check in way.answers]) for way in crowd.ways]
    for number in numbers:
        belief = model.given(crowd.evidence(number))
        first, stated = belief.ranking(symptom)[0]
        cause, way = crowd.causes[crowd.cause[number]], crowd.way[number]
        yield Machine(
            symptom=symptom,
            cause=cause,
            first=first,
            stated=stated,
            minutes=minutes[way],
            checks=len(crowd.ways[way].answers),
            brier=brier(belief.behind(symptom), cause),
            prior_brier=brier(prior, cause),
        )
