"""How a machine has lived: conditions, quick looks, and how much likelier each makes a cause."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from diagtree.errors import UnknownNameError
from diagtree.library.library import Library
from diagtree.model.family import Cause
from diagtree.reasoning.rows import floored
from diagtree.reasoning.vectors import dot, times

MOST_CHANCE = 0.95
"""No condition makes a cause quite certain."""

LEAST_SHARE = 0.0001
"""A cause that an author counts as 0 out of 100 is still met once in ten thousand machines."""

Curve = tuple[float, ...]
"""A value for each joint state of some conditions."""


class Circumstances:
    """The conditions and quick looks of a library as numbers.

    Parameters
    ----------
    library
        The library.
    """

    def __init__(self, library: Library) -> None:
        self._library = library
        self.states: Mapping[str, tuple[str, ...]] = {
            name: tuple(condition.states) for name, condition in library.conditions.items()
        }
        self.shares: Mapping[str, tuple[float, ...]] = {
            name: _to_one([float(state.out_of_100) for state in condition.states.values()])
            for name, condition in library.conditions.items()
        }
        self._factors: dict[str, Mapping[str, tuple[float, ...]]] = {}
        self._looks: dict[tuple[str, str], tuple[float, ...]] = {}
        self._spaces: dict[tuple[str, ...], Space] = {}

    def share(self, cause: str) -> float:
        """Return how often a cause is met on all machines, at least `LEAST_SHARE`."""
        return max(LEAST_SHARE, float(self._library.cause(cause).out_of_100) / 100)

    def factors(self, cause: str) -> Mapping[str, tuple[float, ...]]:
        """Return how many times likelier each state makes a cause, its mean over all machines brought to 1.

        Conditions are independent, so the mean of the product is the product of the means and each
        condition can be brought to 1 by itself. Conditions that change nothing are left out, and so are
        those that no plugin brought.
        """
        if cause not in self._factors:
            self._factors[cause] = self._relative(self._library.cause(cause))
        return self._factors[cause]

    def _relative(self, cause: Cause) -> Mapping[str, tuple[float, ...]]:
        relative: dict[str, tuple[float, ...]] = {}
        for condition in self.states:
            written = cause.more_likely.get(condition)
            if not written:
                continue
            likelier = [float(written.get(state, 1)) for state in self.states[condition]]
            mean = dot(likelier, self.shares[condition])
            if mean > 0 and any(value != likelier[0] for value in likelier):
                relative[condition] = tuple(value / mean for value in likelier)
        return relative

    def space(self, conditions: Iterable[str]) -> Space:
        """Return the joint states of some conditions."""
        wanted = set(conditions)
        names = tuple(name for name in self.states if name in wanted)
        if names not in self._spaces:
            self._spaces[names] = Space(names, {name: self.shares[name] for name in names})
        return self._spaces[names]

    def seen(self, looks: Mapping[str, str]) -> Mapping[str, list[float]]:
        """Weigh the states of each condition by the quick looks: share times what was seen, not brought to 1.

        Raises
        ------
        UnknownNameError
            If there is no such look or answer.
        """
        weights = {name: list(shares) for name, shares in self.shares.items()}
        for look, answer in looks.items():
            chances = self.look_chances(look, answer)
            condition = self._library.looks[look].speaks_of
            weights[condition] = times(weights[condition], chances)
        return weights

    def look_chances(self, look: str, answer: str) -> tuple[float, ...]:
        """Return for each state of the look's condition the chance of one answer.

        Raises
        ------
        UnknownNameError
            If there is no such look or answer.
        """
        if (look, answer) not in self._looks:
            self._looks[look, answer] = self._shown(look, answer)
        return self._looks[look, answer]

    def _shown(self, look: str, answer: str) -> tuple[float, ...]:
        known = self._library.looks
        if look not in known:
            raise UnknownNameError("quick look", look, list(known))
        entry = known[look]
        names = list(entry.answers)
        if answer not in entry.answers:
            raise UnknownNameError(f"answer to '{look}'", answer, names)
        if entry.speaks_of not in self.states:
            raise UnknownNameError("condition", entry.speaks_of, list(self.states))
        place = names.index(answer)
        return tuple(
            floored([float(entry.answers[name].shows.get(state, 0)) / 100 for name in names])[place]
            for state in self.states[entry.speaks_of]
        )


@dataclass(frozen=True)
class Space:
    """The joint states of some conditions, the last condition changing fastest.

    Parameters
    ----------
    names
        The conditions.
    shares
        The share of each state of each condition.
    """

    names: tuple[str, ...]
    shares: Mapping[str, tuple[float, ...]]

    @cached_property
    def states(self) -> tuple[tuple[int, ...], ...]:
        """Each joint state as the number of the state of each condition."""
        return tuple(itertools.product(*(range(len(self.shares[name])) for name in self.names)))

    @cached_property
    def _size(self) -> int:
        return math.prod(len(self.shares[name]) for name in self.names)

    def __len__(self) -> int:
        return self._size

    def product(self, parts: Mapping[str, Sequence[float]]) -> list[float]:
        """Multiply a value of each condition's state into one of each joint state."""
        values = [1.0]
        for name in self.names:
            part = parts.get(name)
            if part is None:
                values = [value for value in values for _ in self.shares[name]]
            else:
                values = [value * factor for value in values for factor in part]
        return values

    def chances(self, share: float, factors: Mapping[str, tuple[float, ...]]) -> Curve:
        """Return the chance of a cause in each joint state: share times its factors, at most `MOST_CHANCE`."""
        return tuple(min(MOST_CHANCE, share * factor) for factor in self.product(factors))

    def marginal(self, weights: Sequence[float], names: tuple[str, ...]) -> dict[tuple[int, ...], float]:
        """Sum weights of joint states onto the states of some of the conditions."""
        places = [self.names.index(name) for name in names]
        onto: dict[tuple[int, ...], float] = {}
        for state, weight in zip(self.states, weights, strict=True):
            key = tuple(state[place] for place in places)
            onto[key] = onto.get(key, 0.0) + weight
        return onto


def _to_one(values: Sequence[float]) -> tuple[float, ...]:
    total = sum(values)
    return tuple(value / total for value in values)
