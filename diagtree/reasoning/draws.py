"""Machines drawn from the belief: conditions, who stands behind each complaint, and what else is there.

Drawn exactly from the joint belief: causes that two complaints share come out as one, and what is there
besides follows the conditions that were drawn with it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from diagtree.reasoning.belief import Belief
from diagtree.reasoning.partition import subsets
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
    """Complaints that are tied by shared causes, drawn one after the other given those before.

    A cause that is behind an earlier complaint is there for certain: in the exponential form of
    `diagtree.reasoning.partition` its chance p becomes 1, so that its first cumulant is 1 and the others are 0.
    """

    def __init__(self, belief: Belief, cluster: Cluster) -> None:
        import numpy as np

        self._joint = joint = belief.joint
        self._cluster = cluster
        apart = {*joint.absent, *joint.certain}
        blocks = joint.tables.blocks(cluster, joint.terms, apart)
        self._blocks = {block: np.array(weights) for block, weights in blocks.items()}
        self._chances = {cause: np.array(joint.tables.chances(cause)) for cause in cluster.members}
        self._costs = {
            symptom: np.array([self._chances[cause] for cause in causes])
            for symptom, causes in cluster.of.items()
        }
        self._weights = {
            symptom: np.array([joint.terms[symptom].weights[cause] for cause in causes])
            for symptom, causes in cluster.of.items()
        }
        self._changes: dict[str, dict[int, Real]] = {}
        self._besides = {cause: np.array(joint.besides(cause)) for cause in joint.certain}

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
                rows = self._edges(symptom, left, paid)[states[members]]
                chosen = (uniform[members, None] * rows[:, -1:] >= rows).sum(axis=1)
                numbers[members] = np.minimum(chosen, len(causes) - 1)
                self._regroup(following, paid, members, numbers[members], causes, left)
            groups = {paid: np.concatenate(parts) for paid, parts in following.items()}
            self._changes.clear()
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

        kept = tuple(cause for cause in paid if self._matters(cause, left))
        order = numbers.argsort(kind="stable")
        sizes = np.bincount(numbers, minlength=len(causes))
        start = 0
        for cause, size in zip(causes, sizes, strict=True):
            if size:
                now_paid = kept
                if cause not in kept and self._matters(cause, left):
                    now_paid = tuple(sorted((*kept, cause)))
                following.setdefault(now_paid, []).append(members[order[start : start + size]])
                start += size

    def _matters(self, cause: str, left: int) -> bool:
        """A cause that a later complaint may share, or that is known to be there, changes what comes after."""
        return bool(self._cluster.members[cause] & left) or cause in self._joint.certain

    def _edges(self, symptom: str, left: int, paid: tuple[str, ...]) -> Real:
        """For each joint state the chances of the complaint's causes, summed up from the first."""
        import numpy as np

        causes = self._cluster.of[symptom]
        costs = self._costs[symptom]
        if any(cause in paid for cause in causes):
            costs = np.where(np.array([[cause in paid] for cause in causes]), 1.0, costs)
        # What comes after is the same for all causes that no later complaint shares: the first alternative.
        after = [""] + [cause for cause in causes if cause not in paid and self._matters(cause, left)]
        place = {cause: number for number, cause in enumerate(after)}
        rests = self._rests(left, paid, after)[[place.get(cause, 0) for cause in causes]]
        edges: Real = np.cumsum((self._weights[symptom][:, None] * costs * rests).T, axis=1)
        return edges

    def _rests(self, left: int, paid: tuple[str, ...], after: Sequence[str]) -> Real:
        """Sum over the complaints that are left, once for each cause that may be paid for next."""
        import numpy as np

        size = len(self._joint.space)
        blocks = {block: weights for block, weights in self._blocks.items() if not block & ~left}
        for cause in paid:
            for block, change in self._made_certain(cause, left).items():
                blocks[block] = blocks[block] + change
        stacked = {block: weights + np.zeros((len(after), 1)) for block, weights in blocks.items()}
        for number, cause in enumerate(after):
            for block, change in self._made_certain(cause, left).items() if cause else ():
                stacked[block][number] += change
        sums: dict[int, Real] = {0: np.ones((len(after), size))}
        for part in subsets(left)[1:]:
            first = part & -part
            total = stacked[first] * sums[part ^ first]
            for block, weights in stacked.items():
                if block != first and block & first and not block & ~part:
                    total += weights * sums[part ^ block]
            sums[part] = total
        for cause in self._joint.certain:
            if cause in self._cluster.members and cause not in paid:
                sums = self._with_certain(sums, cause, np.array([name != cause for name in after]))
        rests: Real = np.maximum(sums[left], 0.0)
        return rests

    def _made_certain(self, cause: str, left: int) -> dict[int, Real]:
        """What changes in the blocks when a cause is there for certain and paid for."""
        if cause not in self._changes:
            self._changes[cause] = self._change(cause, left)
        return self._changes[cause]

    def _change(self, cause: str, left: int) -> dict[int, Real]:
        joint, cluster = self._joint, self._cluster
        chances = self._chances[cause]
        changes: dict[int, Real] = {}
        for block in subsets(cluster.members[cause] & left)[1:]:
            weight = joint.weight(cluster, cause, block)
            if block & (block - 1):
                if cause not in joint.certain and weight:
                    changes[block] = -weight * self._cumulants(cause, block.bit_count())
            else:
                changes[block] = weight * (1 - chances if cause not in joint.certain else chances * 0 + 1)
        return changes

    def _cumulants(self, cause: str, n: int) -> Real:
        import numpy as np

        return np.array(self._joint.tables.cumulants[cause][n])

    def _with_certain(self, sums: dict[int, Real], cause: str, where: Yes) -> dict[int, Real]:
        """Multiply in a cause that is known to be there, where it is not paid for yet."""
        joined: dict[int, Real] = {}
        for part, before in sums.items():
            total = self._besides[cause] * before
            for block in subsets(self._cluster.members[cause] & part)[1:]:
                weight = self._joint.weight(self._cluster, cause, block)
                total = total + weight * self._chances[cause] * sums[part ^ block]
            joined[part] = before.copy()
            joined[part][where] = total[where]
        return joined
