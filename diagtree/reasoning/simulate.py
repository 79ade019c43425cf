"""Simulated machines: drawn from the model, answering with its noise, walked to a finding; were the chances right?"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

from diagtree.library.library import Library
from diagtree.reasoning.belief import Belief, BeliefModel
from diagtree.reasoning.draws import draw
from diagtree.reasoning.effort import opening_jobs
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.shortest import next_check

Order = Literal["guided", "shortest"]

BINS = 10
"""The calibration table's rows: stated chances by tenths."""


@dataclass(frozen=True, slots=True)
class Machine:
    """One simulated machine at the end of its walk.

    Parameters
    ----------
    symptom
        What it came in with.
    cause
        What is behind it.
    first
        The cause that came first in the ranking.
    stated
        The chance that was stated for that cause.
    minutes, checks
        What the walk took.
    brier, prior_brier
        Brier score of the ranking, and of the ranking before any look or answer: the sum over causes of (chance
        minus 1 if it was the one) squared; 0 is best, 2 worst.
    """

    symptom: str
    cause: str
    first: str
    stated: float
    minutes: float
    checks: int
    brier: float
    prior_brier: float

    @property
    def right(self) -> bool:
        """True if the cause that came first was the one."""
        return self.first == self.cause


@dataclass(frozen=True, slots=True)
class Bin:
    """Machines for whose first cause about the same chance was stated.

    Parameters
    ----------
    count
        How many.
    stated
        The mean stated chance.
    true
        How often it was right.
    error
        One standard error of that, were the stated chances true.
    """

    count: int
    stated: float
    true: float
    error: float

    @property
    def holds(self) -> bool:
        """True if stated and true are within two standard errors."""
        return abs(self.true - self.stated) <= 2 * self.error + 1e-12


@dataclass(frozen=True, slots=True)
class Calibration:
    """Stated chances against what turned out.

    Parameters
    ----------
    machines
        How many machines.
    bins
        Those of the ten bins that have any, lowest first.
    brier, prior_brier
        Mean Brier score with all looks and answers, and with the prior alone.
    right
        How often the first cause was the right one.
    minutes
        Mean minutes to a finding.
    """

    machines: int
    bins: tuple[Bin, ...]
    brier: float
    prior_brier: float
    right: float
    minutes: float

    @property
    def allowance(self) -> float:
        """Standard errors within which all bins of 95 in 100 such tables lie, were the stated chances true.

        One bin lies within two standard errors 95 times in 100, so of ten bins one or another lies outside in
        4 tables of 10, however true the chances are. This is the bound for all bins at once (Šidák 1967).
        """
        return all_within(len(self.bins))

    @property
    def holds(self) -> bool:
        """True if all bins at once are within `allowance`."""
        return all(abs(each.true - each.stated) <= self.allowance * each.error + 1e-12 for each in self.bins)


def all_within(bins: int) -> float:
    """Return how many standard errors hold all of so many bins at once, 95 times in 100.

    References
    ----------
    Šidák, "Rectangular confidence regions for the means of multivariate normal distributions", Journal of the
    American Statistical Association 62:626-633, 1967.

    Examples
    --------
    >>> round(all_within(1), 2), round(all_within(10), 2)
    (1.96, 2.8)
    """
    each = 0.95 ** (1 / max(1, bins))
    return NormalDist().inv_cdf((1 + each) / 2)


def brier(chances: Mapping[str, float], truth: str) -> float:
    """Return the Brier score of one forecast over several causes.

    Examples
    --------
    >>> round(brier({"a": 0.7, "b": 0.2, "c": 0.1}, "a"), 6)
    0.14
    """
    return sum((chance - (cause == truth)) ** 2 for cause, chance in chances.items())


def simulate(
    library: Library,
    symptoms: Sequence[str],
    count: int,
    seed: int,
    *,
    order: Order = "guided",
    looks: bool = True,
    model: BeliefModel | None = None,
    progress: Callable[[int], None] = lambda _done: None,
) -> list[Machine]:
    """Draw machines with one complaint each and walk them.

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
    model
        The compiled model, if it is at hand; for one symptom only.
    progress
        Is told how many machines are done.

    Returns
    -------
    list of Machine
        In the order of the symptoms.

    Examples
    --------
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> machines = simulate(library, list(library.trees)[:2], 10, seed=1)
    >>> calibrate(machines).machines
    10
    """
    machines: list[Machine] = []
    for place, symptom in enumerate(symptoms):
        many = count // len(symptoms) + (place < count % len(symptoms))
        compiled = model or BeliefModel.of(library, [symptom])
        walk = _Walks(compiled, symptom, order, many, [seed, place], looks)
        for number in range(many):
            machines.append(walk.machine(number))
            if number % 100 == 0:
                progress(len(machines))
    progress(len(machines))
    return machines


class _Walks:
    """Machines with one complaint."""

    def __init__(
        self, model: BeliefModel, symptom: str, order: Order, count: int, seed: Sequence[int], looks: bool
    ) -> None:
        import numpy as np

        self._model = model
        self._symptom = symptom
        self._order = order
        self._tree = model.library.tree(symptom)
        self._rows = model.rows[symptom]
        self._prior = model.nothing_told.behind(symptom)
        self._next: dict[tuple[tuple[str, str], ...], str | None] = {}
        self._looks = tuple(model.library.looks) if looks else ()
        drawn = draw(model.nothing_told, count, int(np.random.SeedSequence(list(seed)).generate_state(1)[0]))
        random = np.random.default_rng([*seed, 7])
        self._states = drawn.states
        causes, self._causes = drawn.behind[symptom]
        self._names = causes
        self._finding = random.random(count)
        self._look_draws = random.random((count, len(self._looks)))
        self._answer_draws = random.random((count, len(self._tree.checks)))

    def machine(self, number: int) -> Machine:
        cause = self._names[self._causes[number]]
        finding = self._finding_of(cause, float(self._finding[number]))
        evidence = Evidence(
            (self._symptom,), {n: self._look(n, p, number) for p, n in enumerate(self._looks)}
        )
        answers: dict[str, str] = {}
        draws = dict(zip(self._tree.checks, self._answer_draws[number], strict=True))
        check = self._first()
        while check is not None:
            answers[check] = self._answer(check, finding, float(draws[check]))
            check = self._following(answers, check)
        told = Evidence(
            evidence.complaints, evidence.looks, {(self._symptom, c): a for c, a in answers.items()}
        )
        belief: Belief = self._model.given(told)
        first, stated = belief.ranking(self._symptom)[0]
        return Machine(
            symptom=self._symptom,
            cause=cause,
            first=first,
            stated=stated,
            minutes=self._minutes(answers),
            checks=len(answers),
            brier=brier(belief.behind(self._symptom), cause),
            prior_brier=brier(self._prior, cause),
        )

    def _finding_of(self, cause: str, uniform: float) -> int:
        numbers = self._rows.findings_of[cause]
        chances = self._model.nothing_told.finding_chances(self._symptom)
        left = uniform * sum(chances[number] for number in numbers)
        for number in numbers:
            left -= chances[number]
            if left < 0:
                return number
        return numbers[-1]

    def _look(self, name: str, place: int, number: int) -> str:
        look = self._model.library.looks[name]
        state = int(self._states[look.speaks_of][number])
        chances = [self._model.circumstances.look_chances(name, answer)[state] for answer in look.answers]
        return _choose(list(look.answers), chances, float(self._look_draws[number, place]))

    def _answer(self, check: str, finding: int, uniform: float) -> str:
        return _choose(self._rows.checks[check].answers, self._rows.row(check, finding), uniform)

    def _first(self) -> str | None:
        return self._tree.first if self._order == "guided" else self._engine({})

    def _following(self, answers: Mapping[str, str], last: str) -> str | None:
        if self._order == "guided":
            name = self._tree.checks[last].answers[answers[last]].next
            return name if name in self._tree.checks else None
        return self._engine(answers)

    def _engine(self, answers: Mapping[str, str]) -> str | None:
        key = tuple(sorted(answers.items()))
        if key not in self._next:
            told = Evidence((self._symptom,), {}, {(self._symptom, c): a for c, a in answers.items()})
            worth = next_check(self._model.given(told))
            self._next[key] = worth.check if worth else None
        return self._next[key]

    def _minutes(self, answers: Mapping[str, str]) -> float:
        jobs: dict[str, float] = {}
        for name in answers:
            jobs |= opening_jobs(self._model.library, self._tree.checks[name].behind)
        return float(sum(self._tree.checks[name].minutes for name in answers)) + sum(jobs.values())


def _choose(names: Sequence[str], chances: Sequence[float], uniform: float) -> str:
    left = uniform * sum(chances)
    for name, chance in zip(names, chances, strict=True):
        left -= chance
        if left < 0:
            return name
    return names[-1]


def calibrate(machines: Sequence[Machine]) -> Calibration:
    """Hold the stated chances of first causes against how often they were right.

    References
    ----------
    Brier, "Verification of forecasts expressed in terms of probability", Monthly Weather Review 78, 1950.
    """
    rows: list[list[Machine]] = [[] for _ in range(BINS)]
    for machine in machines:
        rows[min(BINS - 1, int(machine.stated * BINS))].append(machine)
    count = max(1, len(machines))
    return Calibration(
        machines=len(machines),
        bins=tuple(_bin(row) for row in rows if row),
        brier=sum(machine.brier for machine in machines) / count,
        prior_brier=sum(machine.prior_brier for machine in machines) / count,
        right=sum(machine.right for machine in machines) / count,
        minutes=sum(machine.minutes for machine in machines) / count,
    )


def _bin(machines: Sequence[Machine]) -> Bin:
    many = len(machines)
    variance = sum(machine.stated * (1 - machine.stated) for machine in machines)
    return Bin(
        count=many,
        stated=sum(machine.stated for machine in machines) / many,
        true=sum(machine.right for machine in machines) / many,
        error=float(variance**0.5 / many),
    )
