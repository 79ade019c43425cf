"""How good is a tree: the figures for its author."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagtree.library.library import Library
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.best import BestOrder, TooManyStatesError
from diagtree.reasoning.effort import minutes_of
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.ideal import IdealTree, Walked, entropy_bound, saved_by_asking_earlier
from diagtree.reasoning.testability import Testability, testability

MOST_WAYS = 5_000
"""Up to so many ways through a tree the chance of a right finding is summed exactly."""

DRAWN = 4_000
"""Beyond that so many machines are drawn for it."""


@dataclass(frozen=True, slots=True)
class Saving:
    """A change of the author's order that would save time.

    Parameters
    ----------
    check, before
        Ask the one before the other.
    minutes
        What it saves on average.
    """

    check: str
    before: str
    minutes: float


@dataclass(frozen=True, slots=True)
class Appraisal:
    """The figures of one tree.

    Parameters
    ----------
    symptom, title
        The tree.
    checks, causes, findings
        How many it has.
    likely
        The causes, likeliest first, with their chance before any answer.
    walked
        Minutes and checks to a finding in the author's order, answers misleading as they do.
    right
        The chance that the finding's likeliest cause is the right one.
    right_exact
        True if that was summed over all ways, False if machines were drawn.
    guided, shortest, best
        Expected minutes of the author's, the engine's and the best order where answers never mislead; the best
        is None if the tree is too large to search.
    bound
        No order takes less, by entropy.
    savings
        What one change of the author's order would save, the most first.
    testability
        How well causes are told apart.
    """

    symptom: str
    title: str
    checks: int
    causes: int
    findings: int
    likely: tuple[tuple[str, float], ...]
    walked: Walked
    right: float
    right_exact: bool
    guided: float
    shortest: float
    best: float | None
    bound: float
    savings: tuple[Saving, ...]
    testability: Testability

    @property
    def guided_ratio(self) -> float | None:
        """How many times the best order's minutes the author's order takes."""
        return None if not self.best else self.guided / self.best

    @property
    def shortest_ratio(self) -> float | None:
        """How many times the best order's minutes the engine's order takes."""
        return None if not self.best else self.shortest / self.best


def appraise(library: Library, symptom: str, seed: int = 1) -> Appraisal:
    """Work out the figures of one tree.

    Parameters
    ----------
    library
        The library.
    symptom
        The complaint.
    seed
        Where random numbers start, for a tree that is too large to sum over.

    Returns
    -------
    Appraisal
        The same each time.

    Raises
    ------
    UnknownNameError
        If there is no such tree.
    TreeFaultError
        If it has no counts or leads in a loop.

    Examples
    --------
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = min(library.trees, key=lambda name: len(library.trees[name].checks))
    >>> appraisal = appraise(library, symptom)
    >>> appraisal.best <= appraisal.shortest and appraisal.best <= appraisal.guided
    True
    """
    tree = library.tree(symptom)
    model = BeliefModel.of(library, [symptom])
    ideal = IdealTree(library, symptom, model.rows[symptom])
    try:
        best: float | None = BestOrder(ideal).expected()
    except TooManyStatesError:
        best = None
    walked, right, exact = _walk_with_noise(library, model, symptom, seed)
    return Appraisal(
        symptom=symptom,
        title=tree.title,
        checks=len(tree.checks),
        causes=len(model.asked),
        findings=len(ideal.groups),
        likely=tuple(model.nothing_told.ranking(symptom)),
        walked=walked,
        right=right,
        right_exact=exact,
        guided=ideal.walk(ideal.guided()).expected,
        shortest=ideal.walk(ideal.shortest).expected,
        best=best,
        bound=entropy_bound(ideal),
        savings=tuple(Saving(x, y, saved) for saved, x, y in saved_by_asking_earlier(ideal)),
        testability=testability(library, symptom),
    )


def ways(tree: Tree) -> Iterator[tuple[tuple[str, str], ...]]:
    """Return each way through a tree, from the first check to a finding."""
    ahead: list[tuple[str | None, tuple[tuple[str, str], ...]]] = [(tree.first, ())]
    while ahead:
        name, way = ahead.pop()
        if name is None or name not in tree.checks:
            yield way
            continue
        answers = tree.checks[name].answers
        ahead.extend((answers[answer].next, (*way, (name, answer))) for answer in reversed(tuple(answers)))


@dataclass(frozen=True, slots=True)
class End:
    """Where one way through a tree ends.

    Parameters
    ----------
    way
        Check and answer, from the first to the last.
    chance
        How many machines go this way, answers misleading as they do.
    right
        How many go it and have the cause that is the likeliest at its end.
    """

    way: tuple[tuple[str, str], ...]
    chance: float
    right: float


def ends(model: BeliefModel, symptom: str) -> Iterator[End]:
    """Walk each way through a tree with all machines at once.

    Parameters
    ----------
    model
        The compiled tree.
    symptom
        Its complaint.

    Yields
    ------
    End
        Their chances add up to 1.
    """
    rows = model.rows[symptom]
    start = model.nothing_told.finding_chances(symptom)
    for way in ways(model.library.tree(symptom)):
        chances = list(start)
        for name, answer in way:
            place = rows.checks[name].number[answer]
            chances = [chance * rows.row(name, finding)[place] for finding, chance in enumerate(chances)]
        told = Evidence((symptom,), {}, {(symptom, name): answer for name, answer in way})
        first, _ = model.given(told).ranking(symptom)[0]
        yield End(way, math.fsum(chances), math.fsum(chances[one] for one in rows.findings_of[first]))


def _walk_with_noise(
    library: Library, model: BeliefModel, symptom: str, seed: int
) -> tuple[Walked, float, bool]:
    if len(list(itertools.islice(ways(library.tree(symptom)), MOST_WAYS + 1))) > MOST_WAYS:
        return _drawn(library, model, symptom, seed)
    every = list(ends(model, symptom))
    walked = [
        (end.chance, minutes_of(library, [(symptom, check) for check, _ in end.way]), len(end.way))
        for end in every
    ]
    return _summed(walked), math.fsum(end.right for end in every), True


def _summed(walked: Sequence[tuple[float, float, int]]) -> Walked:
    total = math.fsum(weight for weight, *_ in walked)
    return Walked(
        least=min(minutes for _, minutes, _ in walked),
        expected=math.fsum(weight * minutes for weight, minutes, _ in walked) / total,
        most=max(minutes for _, minutes, _ in walked),
        fewest=min(checks for *_, checks in walked),
        checks=math.fsum(weight * checks for weight, _, checks in walked) / total,
        greatest=max(checks for *_, checks in walked),
    )


def _drawn(library: Library, model: BeliefModel, symptom: str, seed: int) -> tuple[Walked, float, bool]:
    from diagtree.reasoning.simulate import simulate

    machines = simulate(library, [symptom], DRAWN, seed, looks=False, drawn_for_each=1, model=model)
    walked = [(1.0, machine.minutes, machine.checks) for machine in machines]
    right = sum(machine.right for machine in machines) / len(machines)
    return _summed(walked), right, False
