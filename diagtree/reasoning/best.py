"""The order that takes the fewest minutes on average, by exact search over the findings still possible.

Everything is a set of bits: findings that are left, checks that were answered. Where a finding may give several
answers alike to a check, it is split into as many, so that each answer of each is certain.
"""

from __future__ import annotations

import itertools
import math

from diagtree.reasoning.ideal import IdealTree, Policy, State

MOST_STATES = 200_000
"""The search gives up beyond so many states."""

MOST_FINDINGS = 4_000
"""and beyond so many findings after splitting."""


class TooManyStatesError(Exception):
    """The tree is too large to find the best order."""


class BestOrder:
    """The exact search over one tree whose answers never mislead.

    Parameters
    ----------
    ideal
        The tree.

    Raises
    ------
    TooManyStatesError
        If the tree is too large.
    """

    def __init__(self, ideal: IdealTree) -> None:
        self._ideal = ideal
        tree = ideal.tree
        self._names = tuple(tree.checks)
        number = {name: place for place, name in enumerate(self._names)}
        self._minutes = [float(check.minutes) for check in tree.checks.values()]
        self._jobs = sorted(frozenset[str]().union(*ideal.behind.values()))
        self._job_minutes = [ideal.job_minutes[job] for job in self._jobs]
        self._opens = [
            sum(1 << place for place, job in enumerate(self._jobs) if job in ideal.behind[name])
            for name in self._names
        ]
        self._first = number.get(tree.first)
        self._follow = [
            {name: number.get(answer.next or "") for name, answer in check.answers.items()}
            for check in tree.checks.values()
        ]
        self._cannot_tell = [number.get(check.cannot_tell or "") for check in tree.checks.values()]
        self._anytime = sum(1 << number[name] for name, check in tree.checks.items() if check.anytime)
        self._own_rows = any(check.shows for check in tree.checks.values())
        self._split()
        self._sizes: dict[int, float] = {}
        self._ends: dict[int, bool] = {}
        self._least: dict[int, float] = {}
        self._known: dict[tuple[int, int, int], tuple[float, int | None]] = {}

    def _split(self) -> None:
        ideal = self._ideal
        total = sum(math.prod(len(shown) for shown in group.shows.values()) for group in ideal.groups)
        if total > MOST_FINDINGS:
            raise TooManyStatesError
        self._weights: list[float] = []
        self._origin: list[int] = []
        self._shows: list[dict[str, int]] = [{} for _ in self._names]
        alike: list[dict[tuple[str, ...], int]] = [{} for _ in self._names]
        leaves: dict[object, int] = {}
        causes: dict[str, int] = {}
        for place, group in enumerate(ideal.groups):
            if group.share <= 0:
                continue
            ways = list(itertools.product(*(group.shows[name] for name in self._names)))
            for way in ways:
                bit = 1 << len(self._weights)
                self._weights.append(group.share / len(ways))
                self._origin.append(place)
                leaves[group.leaf] = leaves.get(group.leaf, 0) | bit
                if len(group.causes) == 1:
                    (cause,) = group.causes
                    causes[cause] = causes.get(cause, 0) | bit
                for check, answer in enumerate(way):
                    self._shows[check][answer] = self._shows[check].get(answer, 0) | bit
                    pattern = group.shows[self._names[check]]
                    alike[check][pattern] = alike[check].get(pattern, 0) | bit
        self._one_finding = [*leaves.values(), *causes.values()]
        self._alike = [tuple(each.values()) for each in alike]

    def expected(self) -> float:
        """Return the expected minutes of the best order."""
        whole = (1 << len(self._weights)) - 1
        return self._value(whole, 0, 0)

    def policy(self) -> Policy:
        """Return the best order."""

        def choose(state: State) -> str | None:
            left = {place for place, _ in state.weights}
            given = dict(state.answers)
            mask = sum(1 << bit for bit, place in enumerate(self._origin) if place in left)
            answered = 0
            for check, name in enumerate(self._names):
                if name in given:
                    mask &= self._shows[check].get(given[name], 0)
                    answered |= 1 << check
            opened = sum(1 << place for place, job in enumerate(self._jobs) if job in state.opened)
            self._value(mask, answered, opened)
            chosen = self._known[self._key(mask, answered, opened)][1]
            return None if chosen is None else self._names[chosen]

        return choose

    def _size(self, mask: int) -> float:
        if mask not in self._sizes:
            self._sizes[mask] = math.fsum(w for bit, w in enumerate(self._weights) if mask >> bit & 1)
        return self._sizes[mask]

    def _done(self, mask: int) -> bool:
        """As `IdealTree.done`: what was answered is certain for all that is left, so the set says it all."""
        if mask not in self._ends:
            self._ends[mask] = any(not mask & ~one for one in self._one_finding) or self._at_an_end(mask)
        return self._ends[mask]

    def _at_an_end(self, mask: int) -> bool:
        place = self._first
        while place is not None:
            answer = self._certain(place, mask)
            if answer is None:
                return False
            place = self._follow[place][answer]
        return True

    def _certain(self, check: int, mask: int) -> str | None:
        return next((answer for answer, shown in self._shows[check].items() if not mask & ~shown), None)

    def _tells(self, check: int, mask: int) -> bool:
        return all(mask & ~alike for alike in self._alike[check])

    def _live(self, mask: int, answered: int) -> int:
        """The checks to which a way leads that no answer contradicts."""
        live = 0
        ahead = [self._first]
        while ahead:
            place = ahead.pop()
            if place is None or live >> place & 1:
                continue
            live |= 1 << place
            if answered >> place & 1:
                ahead.append(self._follow[place][self._certain(place, mask) or ""])
            else:
                ahead += self._follow[place].values()
                ahead.append(self._cannot_tell[place])
        return live

    def _key(self, mask: int, answered: int, opened: int) -> tuple[int, int, int]:
        # An answer off every way that is left decides on nothing any more.
        return mask, answered & self._live(mask, answered), opened

    def _bound(self, mask: int) -> float:
        """At least one more check that tells something, without its opening work.

        Where authors wrote rows of their own, findings may be left that nothing open can tell apart: 0.
        """
        if mask not in self._least:
            self._least[mask] = 0.0
            if not self._own_rows and not self._done(mask):
                telling = [
                    minutes
                    for check, minutes in enumerate(self._minutes)
                    if self._certain(check, mask) is None
                ]
                self._least[mask] = min(telling, default=0.0)
        return self._least[mask]

    def _value(self, mask: int, answered: int, opened: int) -> float:
        """Expected minutes from here on, each machine weighed by 1."""
        live = self._live(mask, answered)
        key = (mask, answered & live, opened)
        if key in self._known:
            return self._known[key][0]
        if self._done(mask):
            self._known[key] = 0.0, None
            return 0.0
        if len(self._known) > MOST_STATES:
            raise TooManyStatesError
        size = self._size(mask)
        rated = []
        for check in range(len(self._names)):
            if (live | self._anytime) >> check & 1 and not answered >> check & 1:
                parts = [mask & shown for shown in self._shows[check].values() if mask & shown]
                if self._tells(check, mask):
                    minutes = self._minutes[check] + sum(
                        spent
                        for job, spent in enumerate(self._job_minutes)
                        if (self._opens[check] & ~opened) >> job & 1
                    )
                    largest = max(map(self._size, parts)) / size
                    rated.append((minutes / max(1e-9, 1 - largest), minutes, check, parts))
        # The likely best first, so that the others are soon seen to cost more.
        rated.sort(key=lambda each: each[0])
        best, chosen = math.inf, None
        for _, minutes, check, parts in rated:
            total = minutes + sum(self._size(part) / size * self._bound(part) for part in parts)
            if total >= best - 1e-12:
                continue
            for part in sorted(parts, key=self._size, reverse=True):
                share = self._size(part) / size
                after = self._value(part, answered | 1 << check, opened | self._opens[check])
                total += share * (after - self._bound(part))
                if total >= best - 1e-12:
                    break
            else:
                best, chosen = total, check
        value = best if chosen is not None else 0.0
        self._known[key] = value, chosen
        return value
