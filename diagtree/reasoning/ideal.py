"""A tree whose answers never mislead: what the author's order, the engine's and the best order take.

Findings with their shares; each check's answer is the likeliest one for the finding (shared evenly where several
are as likely). A walk ends when all findings still possible lie at one leaf or are one cause, or when nothing
that is open can tell them apart. The best order is found by a search over the findings still possible.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from diagtree.library.library import Library
from diagtree.model.tree import Tree
from diagtree.reasoning.choosing import LEAST_MINUTES
from diagtree.reasoning.effort import opening_jobs
from diagtree.reasoning.readiness import Readiness
from diagtree.reasoning.rows import TreeRows, entropy, rows_of

LOOKED_AHEAD = 4
"""So many of the best checks are followed to the end before one is chosen."""

Answers = tuple[tuple[str, str], ...]
"""(check, answer) in the order of asking."""


@dataclass(frozen=True, slots=True)
class Group:
    """Findings at one leaf that answer every check alike.

    Parameters
    ----------
    leaf
        (check, answer).
    causes
        The causes.
    share
        How many of all machines with the complaint.
    shows
        For each check its possible answers.
    findings
        The numbers of the findings.
    """

    leaf: tuple[str, str]
    causes: frozenset[str]
    share: float
    shows: Mapping[str, tuple[str, ...]]
    findings: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Walked:
    """What one order takes, over all machines with the complaint.

    Parameters
    ----------
    least, expected, most
        Minutes to a finding.
    fewest, checks, greatest
        Checks to a finding.
    """

    least: float
    expected: float
    most: float
    fewest: int
    checks: float
    greatest: int


@dataclass(frozen=True, slots=True)
class State:
    """Where a walk through the ideal tree stands.

    Parameters
    ----------
    weights
        The weight of each group that is still possible, by its number.
    answers
        What was answered.
    opened
        Opening jobs that are done.
    """

    weights: tuple[tuple[int, float], ...]
    answers: Answers = ()
    opened: frozenset[str] = frozenset()


Policy = Callable[[State], str | None]
"""Which check to do next; None if none."""


class IdealTree:
    """A tree whose answers never mislead.

    Parameters
    ----------
    library
        The library.
    symptom
        The complaint.
    rows
        The tree as numbers, if they are at hand.
    barred
        Checks that nobody could tell: not asked.
    """

    def __init__(
        self, library: Library, symptom: str, rows: TreeRows | None = None, barred: Collection[str] = ()
    ) -> None:
        self.library = library
        self.tree: Tree = library.tree(symptom)
        self.barred = frozenset(barred)
        rows = rows_of(self.tree) if rows is None else rows
        self.groups: tuple[Group, ...] = tuple(_groups(rows))
        jobs = {name: opening_jobs(library, check.behind) for name, check in self.tree.checks.items()}
        self.behind = {name: frozenset(each) for name, each in jobs.items()}
        self.job_minutes = {job: minutes for each in jobs.values() for job, minutes in each.items()}
        self._readiness = Readiness(self.tree)
        self._ready: dict[Answers, frozenset[str]] = {}

    @cached_property
    def start(self) -> State:
        """Before any answer."""
        return State(
            tuple((number, group.share) for number, group in enumerate(self.groups) if group.share > 0)
        )

    def minutes(self, state: State, check: str) -> float:
        """Return what a check takes now, with the opening work that is still to be done."""
        opening = sum(self.job_minutes[job] for job in sorted(self.behind[check] - state.opened))
        return float(self.tree.checks[check].minutes) + opening

    def done(self, state: State) -> bool:
        """Tell whether a finding has been made: one leaf is left, or one cause."""
        left = [self.groups[number] for number, _ in state.weights]
        if len({group.leaf for group in left}) <= 1:
            return True
        if len(frozenset[str]().union(*(group.causes for group in left))) == 1:
            return True
        return self._next_in_tree(state) is None

    def ready(self, state: State) -> frozenset[str]:
        """Return the checks that make sense with the answers so far."""
        key = tuple(sorted(state.answers))
        if key not in self._ready:
            self._ready[key] = self._readiness.open(dict(key)) - self.barred
        return self._ready[key]

    def tells(self, state: State, check: str) -> bool:
        """Tell whether a check can tell the findings that are left apart."""
        shown = {self.groups[number].shows[check] for number, _ in state.weights}
        return len(shown) > 1

    def useful(self, state: State) -> list[str]:
        """Return the checks that are open and can tell something, in the author's order."""
        open_now = self.ready(state)
        return [name for name in self.tree.checks if name in open_now and self.tells(state, name)]

    def after(self, state: State, check: str) -> list[tuple[str, float, State]]:
        """Return each possible answer to a check with its weight and where it leads."""
        weights: dict[str, list[tuple[int, float]]] = {}
        for number, weight in state.weights:
            shows = self.groups[number].shows[check]
            for answer in shows:
                weights.setdefault(answer, []).append((number, weight / len(shows)))
        opened = state.opened | self.behind[check]
        return [
            (
                answer,
                math.fsum(w for _, w in weights[answer]),
                State(tuple(weights[answer]), (*state.answers, (check, answer)), opened),
            )
            for answer in self.tree.checks[check].answers
            if answer in weights
        ]

    # Orders ----------------------------------------------------------------------------------------------

    def guided(self, before: tuple[str, str] | None = None) -> Policy:
        """Return the author's order; what is settled already is skipped.

        Parameters
        ----------
        before
            (X, Y): ask X before Y wherever that makes sense.
        """

        def policy(state: State) -> str | None:
            return self._next_in_tree(state, before)

        return policy

    def _next_in_tree(self, state: State, before: tuple[str, str] | None = None) -> str | None:
        """The next check in the author's order; None if his walk is at its end."""
        given = dict(state.answers)
        name: str | None = self.tree.first
        while name is not None and name in self.tree.checks:
            check = self.tree.checks[name]
            answer = given.get(name)
            if answer is None:
                if before is not None and name == before[1] and before[0] not in given:
                    first = before[0]
                    if first in self.ready(state) and self.tells(state, first):
                        return first
                shown = {self.groups[number].shows[name] for number, _ in state.weights}
                if len(shown) > 1 or len(next(iter(shown))) > 1:
                    return name
                answer = next(iter(shown))[0]
            name = check.answers[answer].next
        return None

    def most_a_minute(self, state: State) -> str | None:
        """Return the check with the greatest gain a minute: the greedy order."""
        rated = self.rated(state)
        return rated[0] if rated else None

    def rated(self, state: State) -> list[str]:
        """Return the useful checks, the greatest gain a minute first."""
        rates = {
            name: round(self.gain(state, name) / max(LEAST_MINUTES, self.minutes(state, name)), 12)
            for name in self.useful(state)
        }
        return sorted(rates, key=lambda name: -rates[name])

    def shortest(self, state: State) -> str | None:
        """Return the engine's choice: of the checks that tell most a minute, the one that pays in the end."""
        return self.look_ahead(state, self.rated(state)[:LOOKED_AHEAD])

    def look_ahead(self, state: State, candidates: Sequence[str]) -> str | None:
        """Return the candidate after which a finding takes the fewest minutes, going on by gain a minute.

        References
        ----------
        One step of policy improvement over the greedy order ("rollout": Bertsekas, Tsitsiklis, Wu,
        "Rollout algorithms for combinatorial optimization", Journal of Heuristics 3:245-262, 1997).
        """
        if len(candidates) < 2:
            return candidates[0] if candidates else None
        total = math.fsum(weight for _, weight in state.weights)
        costs = {
            name: self.minutes(state, name)
            + sum(weight / total * self._ahead(then) for _, weight, then in self.after(state, name))
            for name in candidates
        }
        return min(candidates, key=lambda name: round(costs[name], 9))

    def _ahead(self, state: State) -> float:
        check = None if self.done(state) else self.most_a_minute(state)
        if check is None:
            return 0.0
        total = math.fsum(weight for _, weight in state.weights)
        after = sum(weight / total * self._ahead(then) for _, weight, then in self.after(state, check))
        return self.minutes(state, check) + after

    def gain(self, state: State, check: str) -> float:
        """Return what a check tells about the findings that are left, in bits."""
        total = math.fsum(weight for _, weight in state.weights)
        now = entropy(weight / total for _, weight in state.weights)
        after = sum(
            chance / total * entropy(weight / chance for _, weight in then.weights)
            for _, chance, then in self.after(state, check)
        )
        return now - after

    def walk(self, policy: Policy) -> Walked:
        """Follow an order over all machines.

        Returns
        -------
        Walked
            Exact: every answer is followed with its weight.
        """
        ends: list[tuple[float, float, int]] = []
        ahead = [(self.start, 0.0)]
        while ahead:
            state, minutes = ahead.pop()
            check = None if self.done(state) else policy(state)
            if check is None:
                ends.append((math.fsum(w for _, w in state.weights), minutes, len(state.answers)))
                continue
            spent = minutes + self.minutes(state, check)
            ahead.extend((then, spent) for _, _, then in self.after(state, check))
        return Walked(
            least=min(minutes for _, minutes, _ in ends),
            expected=math.fsum(weight * minutes for weight, minutes, _ in ends),
            most=max(minutes for _, minutes, _ in ends),
            fewest=min(checks for *_, checks in ends),
            checks=math.fsum(weight * checks for weight, _, checks in ends),
            greatest=max(checks for *_, checks in ends),
        )


def _groups(rows: TreeRows) -> Iterable[Group]:
    together: dict[tuple[object, ...], list[int]] = {}
    shown: list[dict[str, tuple[str, ...]]] = []
    for number, finding in enumerate(rows.findings):
        shows: dict[str, tuple[str, ...]] = {}
        for name, check in rows.checks.items():
            row = rows.row(name, number)
            most = max(row)
            shows[name] = tuple(a for a, p in zip(check.answers, row, strict=True) if p > most - 1e-9)
        shown.append(shows)
        together.setdefault((finding.check, finding.answer, *shows.values()), []).append(number)
    for numbers in together.values():
        first = rows.findings[numbers[0]]
        yield Group(
            leaf=(first.check, first.answer),
            causes=frozenset(rows.findings[n].cause for n in numbers if rows.findings[n].share > 0),
            share=math.fsum(rows.findings[n].share for n in numbers),
            shows=shown[numbers[0]],
            findings=tuple(numbers),
        )


def huffman(chances: Iterable[float]) -> float:
    """Return the fewest two-way checks on average that tell the causes apart, if any split could be asked for.

    Examples
    --------
    >>> round(huffman([0.4, 0.3, 0.2, 0.1]), 10)
    1.9
    """
    heap = [chance for chance in chances if chance > 0]
    heapq.heapify(heap)
    total = 0.0
    while len(heap) > 1:
        joined = heapq.heappop(heap) + heapq.heappop(heap)
        total += joined
        heapq.heappush(heap, joined)
    return total


def entropy_bound(ideal: IdealTree) -> float:
    """Return a lower bound on the expected minutes of any order that tells the findings apart.

    A walk may end at one leaf or at one cause, so it must at least tell what leaf and cause have in common,
    I(leaf; cause) = H(leaf) + H(cause) - H(finding); a check of k answers tells at most log2 k bits. Hence
    E[minutes] >= I min over checks of (minutes / log2 k).
    """
    leaves: dict[object, float] = {}
    causes: dict[object, float] = {}
    findings: dict[object, float] = {}
    for finding in rows_of(ideal.tree).findings:
        leaf = (finding.check, finding.answer)
        for table, key in ((leaves, leaf), (causes, finding.cause), (findings, (leaf, finding.cause))):
            table[key] = table.get(key, 0.0) + finding.share
    shared = entropy(leaves.values()) + entropy(causes.values()) - entropy(findings.values())
    cheapest = min(
        float(check.minutes) / math.log2(len(check.answers)) for check in ideal.tree.checks.values()
    )
    return max(0.0, shared) * cheapest


def saved_by_asking_earlier(ideal: IdealTree) -> Sequence[tuple[float, str, str]]:
    """Try each check before each other one in the author's order.

    Returns
    -------
    sequence of (minutes saved on average, X, Y)
        "Ask X before Y", the greatest saving first; only what saves something.
    """
    now = ideal.walk(ideal.guided()).expected
    found = []
    for first in ideal.tree.checks:
        for second in ideal.tree.checks:
            if first != second:
                saved = now - ideal.walk(ideal.guided((first, second))).expected
                if saved > 1e-9:
                    found.append((saved, first, second))
    return sorted(found, key=lambda each: -round(each[0], 9))
