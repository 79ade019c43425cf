"""The fewest minutes in which a machine's fault can be proved, looking back: which checks would have done.

Every set of checks is weighed: checks whose answers together put the true cause first, sure enough. A set can
always be done in some order, because a check deeper in the tree makes sense before those that lead to it are
answered. With several complaints each one's cause is to be proved by its own checks; opening work and shared
facts are paid once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagtree.library.library import Library
from diagtree.model.tree import Tree
from diagtree.practice.machine import Machine, Question, question_of
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.choosing import ready
from diagtree.reasoning.effort import minutes_of, opening_jobs
from diagtree.reasoning.evidence import Evidence, spread_facts

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

SURE = 0.8
"""A cause is proved when it comes first with at least this chance."""

NEARLY = 0.75
"""Where no set of checks gets so far: when it comes first with this share of the best that can be reached."""

MOST_CHECKS = 17
"""So many checks of one tree are weighed; of a larger one those that speak most for the true cause."""

MOST_SETS = 100
"""With several complaints so many sets for each are held against one another."""


@dataclass(frozen=True, slots=True)
class Least:
    """The least way.

    Parameters
    ----------
    steps
        (symptom, check) in an order in which each makes sense.
    minutes
        What they take, with opening work.
    goals
        For each complaint the chance from which its cause counts as proved.
    """

    steps: tuple[tuple[str, str], ...]
    minutes: float
    goals: Mapping[str, float]


def least_way(
    library: Library, machine: Machine, ended: Sequence[tuple[str, str]] | None = None
) -> Least | None:
    """Find the fewest minutes in which a machine's fault can be proved.

    Parameters
    ----------
    library
        The library.
    machine
        The machine, with all that it would answer.
    ended
        The checks of a way that ended because no other check was worth asking: where they put the true cause
        first, more than they proved is not asked for. None if there is no such way.

    Returns
    -------
    Least or None
        None if no checks put the true cause first: then the answers mislead too much.
    """
    known = None if ended is None else {question_of(library, *step) for step in ended}
    each = [_Sets(library, machine, symptom, known) for symptom in machine.complaints]
    if any(sets.goal is None for sets in each):
        return None
    shared = _most_shared(library, machine)
    combined: list[frozenset[tuple[str, str]]] = [frozenset()]
    for sets in each:
        wanted = sets.cheapest(shared)
        combined = [before | more for before in combined for more in wanted]
        combined.sort(
            key=lambda steps: (minutes_of(library, _once(library, steps)), len(steps), sorted(steps))
        )
        del combined[MOST_SETS:]
    for steps in combined:
        asked = {question_of(library, *step) for step in steps}
        if all(sets.proves(asked) for sets in each):
            ordered = in_order(library, machine, _once(library, steps))
            goals = {sets.symptom: sets.goal for sets in each if sets.goal is not None}
            return Least(ordered, minutes_of(library, ordered), goals)
    return None


def _once(library: Library, steps: frozenset[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Keep one place of each question: where it takes the fewest minutes."""
    kept: dict[Question, tuple[str, str]] = {}
    for symptom, check in sorted(steps):
        key = question_of(library, symptom, check)
        minutes = library.trees[symptom].checks[check].minutes
        other = kept.get(key)
        if other is None or minutes < library.trees[other[0]].checks[other[1]].minutes:
            kept[key] = (symptom, check)
    return tuple(kept.values())


def _most_shared(library: Library, machine: Machine) -> float:
    """The minutes that two complaints could share at most: facts and opening work in more than one tree."""
    if len(machine.complaints) < 2:
        return 0.0
    facts: dict[str, list[float]] = {}
    jobs: dict[str, list[float]] = {}
    for symptom in machine.complaints:
        mine: dict[str, float] = {}
        for check in library.trees[symptom].checks.values():
            mine |= opening_jobs(library, check.behind)
            if check.fact is not None:
                facts.setdefault(check.fact, []).append(float(check.minutes))
        for job, minutes in mine.items():
            jobs.setdefault(job, []).append(minutes)
    return sum(max(each) for table in (facts, jobs) for each in table.values() if len(each) > 1)


def in_order(
    library: Library, machine: Machine, steps: Sequence[tuple[str, str]]
) -> tuple[tuple[str, str], ...]:
    """Put checks in an order in which each still makes sense: the author's, from the top down, where it can be."""
    ordered: list[tuple[str, str]] = []
    for symptom in machine.complaints:
        tree = library.trees[symptom]
        depth = _depths(tree)
        mine = [check for where, check in steps if where == symptom]
        down = sorted(mine, key=lambda check: depth[check])
        if not _makes_sense(tree, machine, down):
            down.reverse()
        ordered += [(symptom, check) for check in down]
    return tuple(ordered)


def _depths(tree: Tree) -> dict[str, int]:
    """A number for each check that is greater than those of all checks that lead to it."""
    depth = dict.fromkeys(tree.checks, 0)
    for _ in tree.checks:
        for name, check in tree.checks.items():
            for follows in (*(answer.next for answer in check.answers.values()), check.cannot_tell):
                if follows in depth:
                    depth[follows] = max(depth[follows], depth[name] + 1)
    order = {name: place for place, name in enumerate(tree.checks)}
    ranked = sorted(tree.checks, key=lambda name: (depth[name], order[name]))
    return {name: place for place, name in enumerate(ranked)}


def _makes_sense(tree: Tree, machine: Machine, checks: Sequence[str]) -> bool:
    given: dict[str, str] = {}
    for check in checks:
        if check not in ready(tree, given):
            return False
        given[check] = machine.answers[tree.symptom, check]
    return True


class _Sets:
    """All sets of one complaint's checks, by the bits of their number."""

    goal: float | None
    proving: npt.NDArray[np.bool_]
    _leads: npt.NDArray[np.bool_]
    _chance: npt.NDArray[np.float64]

    def __init__(self, library: Library, machine: Machine, symptom: str, known: set[Question] | None) -> None:
        import numpy as np

        self.symptom = symptom
        model = BeliefModel.of(library, [symptom])
        rows = model.rows[symptom]
        told = spread_facts(library, Evidence((symptom,), machine.looks))
        start = np.array(model.given(told).finding_chances(symptom))
        truth = machine.findings[symptom]
        asked: dict[Question, list[str]] = {}
        for check in rows.checks:
            if (symptom, check) not in told.answers:
                asked.setdefault(question_of(library, symptom, check), []).append(check)
        shown: dict[Question, npt.NDArray[np.float64]] = {}
        for key, checks in asked.items():
            factor = np.ones(len(start))
            for check in checks:
                place = rows.checks[check].number[machine.answers[symptom, check]]
                factor *= [rows.row(check, number)[place] for number in range(len(start))]
            shown[key] = factor
        if len(asked) > MOST_CHECKS:
            telling = sorted(asked, key=lambda key: -shown[key][truth] / float(start @ shown[key]))
            asked = {key: asked[key] for key in telling[:MOST_CHECKS]}
        self.questions = tuple(asked)
        tree = library.trees[symptom]
        self.places = {
            key: (symptom, min(checks, key=lambda check: tree.checks[check].minutes))
            for key, checks in asked.items()
        }
        self._weigh(library, rows.findings_of, start, shown, machine.causes[symptom])
        if known is not None and self.goal is not None:
            number = self._number(known)
            if self._leads[number]:
                self.goal = min(self.goal, float(self._chance[number]))
        self.proving = self._leads & (self._chance >= (self.goal or 0.0) - 1e-12)

    def _weigh(
        self,
        library: Library,
        findings_of: Mapping[str, Sequence[int]],
        start: npt.NDArray[np.float64],
        shown: Mapping[Question, npt.NDArray[np.float64]],
        cause: str,
    ) -> None:
        import numpy as np

        weights = start[np.newaxis, :]
        minutes = np.zeros(1)
        opened = np.zeros(1, dtype=np.int64)
        known: dict[str, float] = {}
        for key in self.questions:
            symptom, check = self.places[key]
            entry = library.trees[symptom].checks[check]
            jobs = opening_jobs(library, entry.behind)
            known |= jobs
            bits = sum(1 << place for place, job in enumerate(known) if job in jobs)
            weights = np.concatenate([weights, weights * shown[key]])
            minutes = np.concatenate([minutes, minutes + float(entry.minutes)])
            opened = np.concatenate([opened, opened | bits])
        for place, job in enumerate(known):
            minutes = minutes + known[job] * (opened >> place & 1)
        totals = weights.sum(axis=1)
        causes = np.stack([weights[:, list(numbers)].sum(axis=1) for numbers in findings_of.values()], axis=1)
        mine = list(findings_of).index(cause)
        chance = causes[:, mine] / totals
        leads = causes[:, mine] >= causes.max(axis=1) * (1 - 1e-9)
        self.minutes = minutes
        best = float(chance[leads].max()) if leads.any() else 0.0
        self.goal = (SURE if best >= SURE else NEARLY * best) if leads.any() else None
        self._leads, self._chance = leads, chance

    def cheapest(self, more: float) -> list[frozenset[tuple[str, str]]]:
        """Return the sets that prove the cause and take at most so many minutes more than the cheapest."""
        import numpy as np

        numbers = np.flatnonzero(self.proving)
        minutes = self.minutes[numbers]
        near = numbers[minutes <= minutes.min() + more + 1e-9]
        by_cost = sorted(near.tolist(), key=lambda n: (self.minutes[n], n.bit_count(), n))
        return [self._checks(number) for number in by_cost[:MOST_SETS]]

    def _checks(self, number: int) -> frozenset[tuple[str, str]]:
        return frozenset(self.places[key] for place, key in enumerate(self.questions) if number >> place & 1)

    def proves(self, asked: set[Question]) -> bool:
        """Tell whether these questions prove the cause, those of other complaints left out."""
        return bool(self.proving[self._number(asked)])

    def _number(self, asked: set[Question]) -> int:
        return sum(1 << place for place, key in enumerate(self.questions) if key in asked)
