"""The exact joint sums of one belief: over states of the conditions and over who stands behind what."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property

from diagtree.reasoning.complaint import Terms
from diagtree.reasoning.partition import Sums, partition_sums, subsets, with_certain
from diagtree.reasoning.tables import Cluster, Tables
from diagtree.reasoning.vectors import dot, times

Vector = Sequence[float]
"""A value in each joint state."""


class NothingFitsError(Exception):
    """All chances are zero."""


class Joint:
    """What follows from the answers, the quick looks and what was found; everything is summed once.

    Parameters
    ----------
    tables
        Chances of the asked causes in each joint state.
    clusters
        The complaints, those tied by shared causes together.
    terms
        What the answers to each complaint say.
    seen
        Weights of each condition's states after the quick looks.
    found
        Causes that were seen to be there (True) or not (False).
    besides
        For a cause its chance, in each joint state, to be there though behind no complaint.

    Raises
    ------
    NothingFitsError
        If all chances are zero.
    """

    def __init__(
        self,
        tables: Tables,
        clusters: Sequence[Cluster],
        terms: Mapping[str, Terms],
        seen: Mapping[str, Sequence[float]],
        found: Mapping[str, bool],
        besides: Callable[[str], Vector],
    ) -> None:
        self.tables = tables
        self.space = tables.space
        self.clusters = clusters
        self.terms = terms
        self.besides = besides
        # Tuples in a steady order: sums over a set of names would differ in the last bit from run to run.
        self.absent = tuple(sorted(cause for cause, there in found.items() if not there))
        self.certain = tuple(sorted(cause for cause, there in found.items() if there))
        self._sums = [self._cluster_sums(cluster) for cluster in clusters]
        weights = self.space.product(seen)
        for cause in self.absent:
            weights = times(weights, [1 - chance for chance in besides(cause)])
        for cause in self.certain:
            if not any(cause in cluster.members for cluster in clusters):
                weights = times(weights, besides(cause))
        for cluster, sums in zip(clusters, self._sums, strict=True):
            weights = times(weights, sums[cluster.whole])
        total = sum(weights)
        if not 0 < total < math.inf:
            raise NothingFitsError
        self.state_chances: list[float] = [weight / total for weight in weights]
        """The chance of each joint state of the conditions that matter."""
        self.log_total: float = (
            math.log(total)
            + sum(each.log_scale for each in terms.values())
            + sum(math.log(sum(part)) for name, part in seen.items() if name not in self.space.names)
        )
        """Natural logarithm of all weights together."""
        self._views = [self._view(number, self._sums[number]) for number in range(len(clusters))]
        self._alone: dict[str, Vector] = {}
        self._views_without: dict[tuple[int, str], dict[int, list[float]]] = {}

    def _cluster_sums(self, cluster: Cluster, leave_out: str | None = None) -> Sums:
        blocks = self.tables.blocks(cluster, self.terms, {*self.absent, *self.certain})
        sums = partition_sums(cluster.whole, blocks, len(self.space))
        for cause in self.certain:
            if cause in cluster.members and cause != leave_out:
                sums = with_certain(cluster.whole, sums, self.certain_terms(cluster, cause))
        return sums

    def certain_terms(self, cluster: Cluster, cause: str) -> dict[int, Vector]:
        """Weigh a cause that is known to be there by the complaints that it is behind; none of them included."""
        chances = self.tables.chances(cause)
        terms: dict[int, Vector] = {0: self.besides(cause)}
        for block in subsets(cluster.members[cause])[1:]:
            weight = self.weight(cluster, cause, block)
            terms[block] = [weight * chance for chance in chances]
        return terms

    def weight(self, cluster: Cluster, cause: str, block: int) -> float:
        """Return the product of a cause's weights over a set of complaints."""
        weight = 1.0
        for symptom, bit in cluster.bits.items():
            if block & bit:
                weight *= self.terms[symptom].weights[cause]
        return weight

    def _view(self, number: int, sums: Sums) -> dict[int, list[float]]:
        """For each set of complaints that one cause may be behind: chance of the state times sums without them."""
        cluster = self.clusters[number]
        whole = self._sums[number][cluster.whole]
        per_sum = [
            chance / total if total > 0 else 0.0
            for chance, total in zip(self.state_chances, whole, strict=True)
        ]
        return {block: times(per_sum, sums[cluster.whole ^ block]) for block in cluster.taken}

    def _view_without(self, number: int, cause: str) -> dict[int, list[float]]:
        """The view with one certain cause taken out of the sums."""
        if (number, cause) not in self._views_without:
            sums = self._cluster_sums(self.clusters[number], leave_out=cause)
            self._views_without[number, cause] = self._view(number, sums)
        return self._views_without[number, cause]

    @cached_property
    def behind(self) -> Mapping[str, Mapping[str, float]]:
        """For each complaint the chance of each of its causes to be the one behind it."""
        behind: dict[str, Mapping[str, float]] = {}
        apart = {*self.absent, *self.certain}
        for number, cluster in enumerate(self.clusters):
            for symptom, bit in cluster.bits.items():
                chances = self.tables.behind(cluster, symptom, self.terms, self._views[number], apart)
                for cause in self.certain:
                    if cluster.members.get(cause, 0) & bit:
                        view = self._view_without(number, cause)
                        terms = self.certain_terms(cluster, cause)
                        chances[cause] = sum(dot(w, view[b]) for b, w in terms.items() if b & bit)
                # Rounding can leave a hair's breadth under 0.
                positive = {cause: max(0.0, chance) for cause, chance in chances.items()}
                total = sum(positive.values())
                behind[symptom] = {cause: chance / total for cause, chance in positive.items()}
        return behind

    def alone(self, number: int, cause: str) -> Vector:
        """Return the chance of each joint state together with a cause being behind no complaint."""
        if cause not in self._alone:
            self._alone[cause] = self._worked_out_alone(number, cause)
        return self._alone[cause]

    def _worked_out_alone(self, number: int, cause: str) -> Vector:
        if cause in self.absent:
            return self.state_chances
        if cause in self.certain:
            return times(self.besides(cause), self._view_without(number, cause)[0])
        return self.tables.alone(self.clusters[number], cause, self.terms, self._views[number])

    def there_besides(self, number: int, cause: str) -> float:
        """Return the chance that a cause is there and behind no complaint; not for one that was found."""
        besides = self.besides(cause)
        cluster = self.clusters[number]
        places = cluster.places[cause]
        if len(places) > 1:
            return dot(self.alone(number, cause), besides)
        ((symptom, bit),) = places
        taken = dot(self._views[number][bit], times(self.tables.chances(cause), besides))
        return dot(self.state_chances, besides) - self.terms[symptom].weights[cause] * taken
