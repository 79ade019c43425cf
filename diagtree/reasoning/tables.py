"""Chances of the asked causes in each joint state of the conditions, and sums over them.

Complaints that share no cause are independent once the conditions are known, so they are kept in clusters.
Causes with the same conditions rise and fall together: they share one curve, and sums are taken once a curve.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import mul, sub

from diagtree.reasoning.circumstances import MOST_CHANCE, Circumstances, Curve, Space
from diagtree.reasoning.complaint import Terms
from diagtree.reasoning.partition import cumulant, reciprocal, subsets
from diagtree.reasoning.rows import TreeRows
from diagtree.reasoning.vectors import dot, plus


@dataclass(frozen=True)
class Cluster:
    """Complaints that are tied to each other by causes that they share.

    Parameters
    ----------
    bits
        Each complaint and its bit.
    members
        Each cause and the bits of the complaints that it may be behind.
    """

    bits: Mapping[str, int]
    members: Mapping[str, int]

    def __hash__(self) -> int:
        return hash(tuple(self.bits))

    @cached_property
    def whole(self) -> int:
        """All complaints."""
        return (1 << len(self.bits)) - 1

    @cached_property
    def places(self) -> Mapping[str, tuple[tuple[str, int], ...]]:
        """Each cause and the complaints that it may be behind, with their bits."""
        return {
            cause: tuple((symptom, bit) for symptom, bit in self.bits.items() if members & bit)
            for cause, members in self.members.items()
        }

    @cached_property
    def shared(self) -> Mapping[str, tuple[int, ...]]:
        """Each cause of several complaints, and the sets of two or more that it may be behind."""
        return {
            cause: tuple(block for block in subsets(members) if block & (block - 1))
            for cause, members in self.members.items()
            if members & (members - 1)
        }

    @cached_property
    def taken(self) -> tuple[int, ...]:
        """The sets of complaints that one cause may be behind; the empty set first."""
        return tuple(
            sorted({0, *self.bits.values(), *(block for blocks in self.shared.values() for block in blocks)})
        )

    @cached_property
    def of(self) -> Mapping[str, tuple[str, ...]]:
        """The causes of each complaint, in the author's order."""
        return {
            symptom: tuple(cause for cause, members in self.members.items() if members & bit)
            for symptom, bit in self.bits.items()
        }


def clusters_of(rows: Mapping[str, TreeRows]) -> tuple[Cluster, ...]:
    """Tie complaints that share a cause together."""
    groups: list[list[str]] = []
    for symptom, tree in rows.items():
        tied = [
            group for group in groups if any(set(rows[s].findings_of) & set(tree.findings_of) for s in group)
        ]
        groups = [group for group in groups if group not in tied]
        groups.append([*(name for group in tied for name in group), symptom])
    clusters = []
    for group in groups:
        bits = {symptom: 1 << place for place, symptom in enumerate(s for s in rows if s in group)}
        members: dict[str, int] = {}
        for symptom, bit in bits.items():
            for cause in rows[symptom].findings_of:
                members[cause] = members.get(cause, 0) | bit
        clusters.append(Cluster(bits, members))
    return tuple(clusters)


class Tables:
    """The asked causes in each joint state of the conditions that matter.

    Parameters
    ----------
    space
        The joint states.
    circumstances
        Where factors and shares come from.
    asked
        The causes that some complaint points at.
    clusters
        The complaints.
    """

    def __init__(
        self, space: Space, circumstances: Circumstances, asked: Sequence[str], clusters: Sequence[Cluster]
    ) -> None:
        self.space = space
        self._circumstances = circumstances
        self._chances: dict[str, Curve] = {}
        self.curves: list[Curve] = []
        """The distinct shapes: chance divided by share, in each joint state."""
        self.curve_of: dict[str, int] = {}
        numbers: dict[Curve, int] = {}
        products: dict[tuple[tuple[str, tuple[float, ...]], ...], list[float]] = {}
        for cause in asked:
            share = circumstances.share(cause)
            factors = circumstances.factors(cause)
            key = tuple(factors.items())
            if key not in products:
                products[key] = space.product(factors)
            shape = tuple(min(MOST_CHANCE / share, value) for value in products[key])
            self.curve_of[cause] = numbers.setdefault(shape, len(numbers))
            if len(numbers) > len(self.curves):
                self.curves.append(shape)
        self._shares = {cause: circumstances.share(cause) for cause in asked}
        self.cumulants: dict[str, dict[int, Curve]] = {}
        """For each cause of several complaints its cumulants from the second on, in each joint state."""
        self._reciprocals: dict[str, dict[int, Curve]] = {}
        for cluster in clusters:
            for cause, blocks in cluster.shared.items():
                chances = self.chances(cause)
                sizes = sorted({block.bit_count() for block in blocks})
                self.cumulants[cause] = {n: tuple(cumulant(n, p) for p in chances) for n in sizes}
                self._reciprocals[cause] = {n: tuple(reciprocal(n, p) for p in chances) for n in sizes}

    def chances(self, cause: str) -> Curve:
        """Return the chance of a cause in each joint state."""
        if cause not in self._chances:
            share, factors = self._circumstances.share(cause), self._circumstances.factors(cause)
            self._chances[cause] = self.space.chances(share, factors)
        return self._chances[cause]

    def blocks(
        self, cluster: Cluster, terms: Mapping[str, Terms], apart: Collection[str]
    ) -> dict[int, list[float]]:
        """Weigh each set of complaints that one cause may be behind.

        Parameters
        ----------
        cluster
            The complaints.
        terms
            What their answers say.
        apart
            Causes that are left out: found not to be there, or seen to a different way.

        Returns
        -------
        dict
            For each set of complaints its K_R in each joint state.
        """
        blocks: dict[int, list[float]] = {}
        for symptom, bit in cluster.bits.items():
            weights = terms[symptom].weights
            per_curve: dict[int, float] = {}
            for cause in cluster.of[symptom]:
                if cause not in apart:
                    curve = self.curve_of[cause]
                    per_curve[curve] = per_curve.get(curve, 0.0) + self._shares[cause] * weights[cause]
            total = [0.0] * len(self.space)
            for curve, weight in per_curve.items():
                total = plus(total, map(weight.__mul__, self.curves[curve]))
            blocks[bit] = total
        for cause, sets in cluster.shared.items():
            if cause in apart:
                continue
            own = _own_weights(cluster, cause, terms)
            for block in sets:
                weight = _product(own, block)
                if weight:
                    term = [weight * value for value in self.cumulants[cause][block.bit_count()]]
                    blocks[block] = plus(blocks[block], term) if block in blocks else term
        return blocks

    def behind(
        self,
        cluster: Cluster,
        symptom: str,
        terms: Mapping[str, Terms],
        view: Mapping[int, Sequence[float]],
        apart: Collection[str],
    ) -> dict[str, float]:
        """Return the chance of each cause to be behind one complaint; those apart are left at 0."""
        bit = cluster.bits[symptom]
        levels = [dot(shape, view[bit]) for shape in self.curves]
        weights = terms[symptom].weights
        chances: dict[str, float] = {}
        for cause in cluster.of[symptom]:
            if cause in apart:
                chances[cause] = 0.0
                continue
            chance = self._shares[cause] * weights[cause] * levels[self.curve_of[cause]]
            if cause in cluster.shared:
                own = _own_weights(cluster, cause, terms)
                for block in cluster.shared[cause]:
                    if block & bit:
                        cumulants = self.cumulants[cause][block.bit_count()]
                        chance += _product(own, block) * dot(cumulants, view[block])
            chances[cause] = chance
        return chances

    def alone(
        self, cluster: Cluster, cause: str, terms: Mapping[str, Terms], view: Mapping[int, Sequence[float]]
    ) -> list[float]:
        """Return the chance of each joint state together with a cause being behind none of the complaints."""
        own = _own_weights(cluster, cause, terms)
        chances = self.chances(cause)
        left: Sequence[float] = view[0]
        for bit, weight in own.items():
            if weight:
                taken = [weight * part for part in map(mul, chances, view[bit])]
                left = list(map(sub, left, taken))
        for block in cluster.shared.get(cause, ()):
            weight = _product(own, block)
            if weight:
                factors = self._reciprocals[cause][block.bit_count()]
                left = plus(left, [weight * part for part in map(mul, factors, view[block])])
        return [value if value > 0 else 0.0 for value in left]


def _own_weights(cluster: Cluster, cause: str, terms: Mapping[str, Terms]) -> dict[int, float]:
    return {bit: terms[symptom].weights[cause] for symptom, bit in cluster.places[cause]}


def _product(own: Mapping[int, float], block: int) -> float:
    weight = 1.0
    for bit, value in own.items():
        if block & bit:
            weight *= value
    return weight
