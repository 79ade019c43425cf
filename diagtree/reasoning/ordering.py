"""In which order to try repairs: what it costs on average until the machine works again.

Each action is followed by "does it work now?". Plain ratio orders (chance a cost) are not always best: where
actions overlap or share opening work, the best order is searched for exactly, up to `EXACT` actions.

References
----------
Heckerman, Breese, Rommelse, "Decision-theoretic troubleshooting", CACM 38(3):49-57, 1995.
Jensen et al., "The SACSO methodology for troubleshooting complex systems", AI EDAM 15:321-333, 2001.
Srinivas, "A polynomial algorithm for computing the optimal repair strategy in a system with independent
component failures", 1995, arXiv 1302.4985.
Lin, "Decision-theoretic troubleshooting: hardness of approximation", IJAR 55:977-988, 2014.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

EXACT = 8
"""Up to so many actions the best order is searched for exactly."""

Chances = Mapping[frozenset[str], float]
"""What may be wrong, as sets of faults that are there together, with their chances; they add up to 1."""


@dataclass(frozen=True)
class Action:
    """Something that may make the machine work again.

    Parameters
    ----------
    name
        What it is called.
    cost
        What it costs each time that it is tried, opening work apart.
    cures
        For each fault the chance that the action puts it right.
    opens
        Opening work that must be done first; done once for all actions.
    then
        What it costs besides, only if this was it: a perfect check before a repair.
    """

    name: str
    cost: float
    cures: Mapping[str, float]
    opens: tuple[str, ...] = ()
    then: float = 0.0


@dataclass(frozen=True, slots=True)
class TryInOrder:
    """Actions in the order in which to try them.

    Parameters
    ----------
    names
        The actions; the machine is given up on after the last one.
    cost
        What it costs on average.
    unresolved
        The chance that it does not work after the last one.
    exact
        True if no other order costs less.
    reason
        What was done: searched exactly, or why not.
    """

    names: tuple[str, ...]
    cost: float
    unresolved: float
    exact: bool
    reason: str


def one_fault(chances: Mapping[str, float]) -> Chances:
    """Say that exactly one of the faults is there.

    Examples
    --------
    >>> one_fault({"a": 0.4, "b": 0.6})[frozenset({"a"})]
    0.4
    """
    return {frozenset({fault}): chance for fault, chance in chances.items()}


def independent_faults(chances: Mapping[str, float]) -> Chances:
    """Say that faults come independently, and that at least one is there, for the machine has failed.

    Examples
    --------
    >>> independent_faults({"a": 0.5, "b": 0.5})[frozenset({"a", "b"})]
    0.3333333333333333
    """
    names = tuple(chances)
    sets: dict[frozenset[str], float] = {}
    for signs in itertools.product((False, True), repeat=len(names)):
        if any(signs):
            each = [chances[n] if yes else 1 - chances[n] for n, yes in zip(names, signs, strict=True)]
            sets[frozenset(itertools.compress(names, signs))] = math.prod(each)
    total = math.fsum(sets.values())
    return {faults: chance / total for faults, chance in sets.items()}


@dataclass(frozen=True)
class Repairs:
    """What may be wrong, and what can be done about it.

    Parameters
    ----------
    chances
        What may be wrong.
    actions
        What can be done.
    openings
        What each piece of opening work costs.
    give_up
        What it costs to be left with a machine that does not work.
    """

    chances: Chances
    actions: Sequence[Action]
    openings: Mapping[str, float] = field(default_factory=dict)
    give_up: float = 0.0

    def left(self, tried: Iterable[Action]) -> float:
        """Return the chance that the machine still does not work after some actions, whatever their order."""
        done = tuple(tried)
        works = 0.0
        for faults, chance in self.chances.items():
            for fault in sorted(faults):
                chance *= 1 - math.prod(1 - action.cures.get(fault, 0.0) for action in done)  # noqa: PLW2901
            works += chance
        return max(0.0, 1 - works)

    def _left_of_all_sets(self) -> list[float]:
        """`left` for each set of actions, a bit each."""
        missed: dict[str, list[float]] = {}
        for fault in sorted(frozenset[str]().union(*self.chances)):
            misses = [1.0]
            for action in self.actions:
                fails = 1 - action.cures.get(fault, 0.0)
                misses += [miss * fails for miss in misses]
            missed[fault] = misses
        left = [1.0] * (1 << len(self.actions))
        for faults, chance in self.chances.items():
            cured = [chance] * len(left)
            for fault in sorted(faults):
                cured = [value * (1 - miss) for value, miss in zip(cured, missed[fault], strict=True)]
            left = [value - gone for value, gone in zip(left, cured, strict=True)]
        return [max(0.0, value) for value in left]

    def price(self, action: Action, opened: Iterable[str]) -> float:
        """Return what an action costs when some opening work has been done already."""
        done = set(opened)
        return action.cost + sum(self.openings.get(job, 0.0) for job in action.opens if job not in done)

    def expected(self, names: Iterable[str]) -> float:
        """Return the expected cost of repair of a given order: ECR.

        Parameters
        ----------
        names
            The actions in their order; after the last one the machine is given up on.

        Returns
        -------
        float
            sum over actions of P(it still does not work) times the action's cost, and the same for giving up.
        """
        by_name = {action.name: action for action in self.actions}
        tried: list[Action] = []
        opened: set[str] = set()
        cost, left = 0.0, 1.0
        for name in names:
            action = by_name[name]
            cost += left * self.price(action, opened)
            tried.append(action)
            opened |= set(action.opens)
            now = self.left(tried)
            cost += (left - now) * action.then
            left = now
        return cost + left * self.give_up

    def by_ratio(self) -> TryInOrder:
        """Order the actions by chance that they help now a cost, updated after each failure.

        A perfect check before a repair is ordered by its own cost: the repair is paid in any order.
        """
        rest = list(self.actions)
        names: list[str] = []
        opened: set[str] = set()
        missed: dict[str, float] = {}
        touched = self._touched()
        left, spent = 1.0, 0.0
        # Where giving up has a price, going on must be worth it; the first action is always tried.
        best, cheapest, unresolved = 0, math.inf, 1.0
        while rest:
            after = [max(0.0, left - _mended(touched[action.name], missed, action)) for action in rest]
            rates = [
                (left - remaining) / max(1e-9, self.price(action, opened))
                for action, remaining in zip(rest, after, strict=True)
            ]
            place = rates.index(max(rates))
            if rates[place] <= 1e-12:
                break
            action = rest.pop(place)
            spent += left * self.price(action, opened) + (left - after[place]) * action.then
            left = after[place]
            opened |= set(action.opens)
            for fault, cures in action.cures.items():
                missed[fault] = missed.get(fault, 1.0) * (1 - cures)
            names.append(action.name)
            if self.give_up == 0 or spent + left * self.give_up < cheapest:
                best, cheapest, unresolved = len(names), spent + left * self.give_up, left
        if not names:
            return TryInOrder((), self.give_up, 1.0, False, "nothing helps")
        return TryInOrder(tuple(names[:best]), cheapest, unresolved, False, "ordered by chance a cost")

    def _touched(self) -> dict[str, list[tuple[frozenset[str], float]]]:
        """For each action the sets of faults that it changes at all."""
        sets_of: dict[str, dict[frozenset[str], float]] = {}
        for faults, chance in self.chances.items():
            for fault in faults:
                sets_of.setdefault(fault, {})[faults] = chance
        return {
            action.name: list(
                {k: v for fault in action.cures for k, v in sets_of.get(fault, {}).items()}.items()
            )
            for action in self.actions
        }

    def best(self) -> TryInOrder:
        """Find the order that costs least on average.

        Returns
        -------
        TryInOrder
            Exact for up to `EXACT` actions: the chance that it still does not work and the opening work that
            has been done depend on which actions were tried, not on their order, so the search goes over
            sets. With more actions the ratio order is taken, and said so.
        """
        count = len(self.actions)
        if count > EXACT:
            fallback = self.by_ratio()
            return TryInOrder(
                fallback.names,
                fallback.cost,
                fallback.unresolved,
                False,
                f"{count} repairs are too many to compare every order (at most {EXACT}): "
                "ordered by chance a cost",
            )
        left = self._left_of_all_sets()
        opened = [
            frozenset(
                job for place, action in enumerate(self.actions) if tried >> place & 1 for job in action.opens
            )
            for tried in range(1 << count)
        ]
        value = [remaining * self.give_up for remaining in left]
        choice: list[int | None] = [None] * (1 << count)
        may_stop = self.give_up > 0
        for tried in reversed(range(1 << count)):
            best = value[tried] if may_stop or tried == (1 << count) - 1 or left[tried] < 1e-12 else math.inf
            for place, action in enumerate(self.actions):
                after = tried | 1 << place
                if after == tried:
                    continue
                cost = left[tried] * self.price(action, opened[tried]) + value[after]
                cost += (left[tried] - left[after]) * action.then
                if cost < best - 1e-12:
                    best, choice[tried] = cost, place
            value[tried] = best
        tried, order = 0, []
        while (chosen := choice[tried]) is not None:
            order.append(self.actions[chosen].name)
            tried |= 1 << chosen
        return TryInOrder(tuple(order), value[0], left[tried], True, "every order was compared")


def _mended(
    touched: Iterable[tuple[frozenset[str], float]], missed: Mapping[str, float], action: Action
) -> float:
    """Return the chance that one more action makes it work, when each fault was missed with some chance."""
    mended = 0.0
    for faults, chance in touched:
        before = after = chance
        for fault in faults:
            miss = missed.get(fault, 1.0)
            before *= 1 - miss
            after *= 1 - miss * (1 - action.cures.get(fault, 0.0))
        mended += after - before
    return mended


def with_check(cost: float, answers: Iterable[tuple[float, Repairs]]) -> float:
    """Return the expected cost of repair after a check first: ECO.

    Parameters
    ----------
    cost
        What the check costs.
    answers
        For each answer its chance, and what may be wrong when it is given.

    Returns
    -------
    float
        The check's cost, and the expected cost of the best order after each answer.
    """
    return cost + sum(chance * repairs.best().cost for chance, repairs in answers if chance > 0)
