"""Machines drawn from the belief: conditions, who stands behind each complaint, and what else is there.

Drawn exactly from the joint belief: causes that two complaints share come out as one, and what is there
besides follows the conditions that were drawn with it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from diagtree.reasoning.belief import Belief
from diagtree.reasoning.joint import Vector
from diagtree.reasoning.tables import Cluster

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Whole = npt.NDArray[np.intp]
    Yes = npt.NDArray[np.bool_]
    Real = npt.NDArray[np.float64]


class Draws:
    """So many machines, drawn from one belief; the same for the same seed.

    Parameters
    ----------
    belief
        What is believed.
    count
        How many machines.
    seed
        Where the random numbers start.

    Examples
    --------
    >>> from diagtree.library.library import Library
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> draw(BeliefModel.of(Library(), ()).given(Evidence(())), 5, seed=1).count
    5
    """

    def __init__(self, belief: Belief, count: int, seed: int) -> None:
        self.belief = belief
        self.count = count
        self.seed = seed

    def _random(self, *key: int) -> np.random.Generator:
        import numpy as np

        # A stream of its own for each use, so that it does not matter what was asked for first.
        return np.random.default_rng([self.seed, *key])

    @cached_property
    def _joint_states(self) -> Whole:
        """For each machine the number of its joint state of the conditions that matter."""
        return _pick(self.belief.joint.state_chances, self._random(0).random(self.count))

    @cached_property
    def states(self) -> Mapping[str, Whole]:
        """For each condition the number of the state of each machine."""
        import numpy as np

        space = self.belief.joint.space
        table = np.array(space.states, dtype=np.intp).reshape(len(space), len(space.names))
        drawn = {name: table[self._joint_states, place] for place, name in enumerate(space.names)}
        states: dict[str, Whole] = {}
        for number, (name, chances) in enumerate(self.belief.picture.items()):
            if name in drawn:
                states[name] = drawn[name]
            else:
                states[name] = _pick(list(chances.values()), self._random(1, number).random(self.count))
        return states

    @cached_property
    def behind(self) -> Mapping[str, tuple[tuple[str, ...], Whole]]:
        """For each complaint its causes, and for each machine the number of the one behind it."""
        behind: dict[str, tuple[tuple[str, ...], Whole]] = {}
        for number, cluster in enumerate(self.belief.model.clusters):
            behind |= _Chain(self.belief, cluster).draw(self._joint_states, self._random(2, number))
        return {symptom: behind[symptom] for symptom in self.belief.model.complaints}

    def responsible(self, cause: str) -> Yes:
        """Tell for each machine whether a cause is behind some complaint."""
        import numpy as np

        yes = np.zeros(self.count, dtype=np.bool_)
        for causes, numbers in self.behind.values():
            if cause in causes:
                yes |= numbers == causes.index(cause)
        return yes

    def besides(self, cause: str) -> Yes:
        """Tell for each machine whether a cause is there though it is behind no complaint."""
        import numpy as np

        known = self.belief.evidence.found.get(cause)
        if known is False:
            return np.zeros(self.count, dtype=np.bool_)
        if known is True:
            return ~self.responsible(cause)
        names, chances = self.belief.besides(cause)
        place = np.zeros(self.count, dtype=np.intp)
        for name in names:
            place = place * len(self.belief.model.circumstances.states[name]) + self.states[name]
        number = list(self.belief.model.library.causes).index(cause)
        there: Yes = self._random(3, number).random(self.count) < np.array(chances)[place]
        return there & ~self.responsible(cause)

    def present(self, cause: str) -> Yes:
        """Tell for each machine whether a cause is on it, behind a complaint or not."""
        return self.responsible(cause) | self.besides(cause)


def draw(belief: Belief, count: int, seed: int) -> Draws:
    """Draw machines from a belief.

    Parameters
    ----------
    belief
        What is believed.
    count
        How many machines.
    seed
        Where the random numbers start: the same seed, the same machines.

    Returns
    -------
    Draws
        Worked out as far as it is asked for.
    """
    return Draws(belief, count, seed)


def _pick(chances: Sequence[float], uniform: Real) -> Whole:
    import numpy as np

    edges = np.cumsum(np.array(chances))
    return np.minimum(np.searchsorted(edges / edges[-1], uniform, side="right"), len(chances) - 1)


class _Chain:
    """Complaints that are tied by shared causes, drawn one after the other given those before."""

    def __init__(self, belief: Belief, cluster: Cluster) -> None:
        self._joint = belief.joint
        self._cluster = cluster
        self._rests: dict[tuple[int, tuple[str, ...]], Vector] = {}

    def draw(self, states: Whole, random: np.random.Generator) -> dict[str, tuple[tuple[str, ...], Whole]]:
        import numpy as np

        groups: dict[tuple[str, ...], Whole] = {(): np.arange(len(states))}
        left = self._cluster.whole
        drawn: dict[str, tuple[tuple[str, ...], Whole]] = {}
        for symptom, bit in self._cluster.bits.items():
            left &= ~bit
            causes = self._cluster.of[symptom]
            numbers = np.zeros(len(states), dtype=np.intp)
            uniform = random.random(len(states))
            following: dict[tuple[str, ...], list[Whole]] = {}
            for paid, members in groups.items():
                edges = self._edges(symptom, left, paid)
                rows = edges[states[members]]
                chosen = (uniform[members, None] * rows[:, -1:] >= rows).sum(axis=1)
                numbers[members] = np.minimum(chosen, len(causes) - 1)
                self._regroup(following, paid, members, numbers[members], causes, left)
            groups = {paid: np.concatenate(parts) for paid, parts in following.items()}
            drawn[symptom] = (causes, numbers)
        return drawn

    def _regroup(
        self,
        following: dict[tuple[str, ...], list[Whole]],
        paid: tuple[str, ...],
        members: Whole,
        numbers: Whole,
        causes: Sequence[str],
        left: int,
    ) -> None:
        import numpy as np

        tied = np.array([self._matters(cause, left) for cause in causes])
        kept = tuple(cause for cause in paid if self._matters(cause, left))
        plain = members[~tied[numbers]]
        if len(plain):
            following.setdefault(kept, []).append(plain)
        for number in np.unique(numbers[tied[numbers]]):
            now_paid = tuple(sorted({*kept, causes[number]}))
            following.setdefault(now_paid, []).append(members[numbers == number])

    def _matters(self, cause: str, left: int) -> bool:
        """A cause that a later complaint may share, or that is known to be there, changes what comes after."""
        return bool(self._cluster.members[cause] & left) or cause in self._joint.certain

    def _edges(self, symptom: str, left: int, paid: tuple[str, ...]) -> Real:
        """For each joint state the chances of the complaint's causes, summed up from the first."""
        import numpy as np

        joint, cluster = self._joint, self._cluster
        rows = []
        for cause in cluster.of[symptom]:
            weight = joint.terms[symptom].weights[cause]
            if weight == 0.0 or cause in joint.absent:
                rows.append(np.zeros(len(joint.space)))
                continue
            tied = tuple(sorted(name for name in {*paid, cause} if self._matters(name, left)))
            if (left, tied) not in self._rests:
                self._rests[left, tied] = joint.rest(cluster, left, tied)
            cost = 1.0 if cause in paid else np.array(joint.tables.chances(cause))
            rows.append(weight * cost * np.array(self._rests[left, tied]))
        edges: Real = np.cumsum(np.array(rows).T, axis=1)
        return edges
