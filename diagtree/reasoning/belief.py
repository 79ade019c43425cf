"""One belief over the whole machine: conditions, all complaints, all answers, all causes; exact sums.

The formulas and a proof by enumeration are in ``docs/method.md`` and ``tests/reasoning``. Nothing here needs
numpy, so that the first question comes at once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.library import Library
from diagtree.reasoning.circumstances import Circumstances, Space
from diagtree.reasoning.complaint import Complaint, Terms
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.partition import Sums, partition_sums, subsets, with_certain
from diagtree.reasoning.presence import Speaking, besides_curve
from diagtree.reasoning.rows import TreeRows, rows_of
from diagtree.reasoning.tables import Cluster, Tables, clusters_of
from diagtree.reasoning.vectors import dot, times


class ImpossibleEvidenceError(ExpectedError):
    """What was told cannot all be true at once: every chance is zero."""


class BeliefModel:
    """The trees of some complaints and the whole library, compiled once for many beliefs.

    Use `BeliefModel.of`.
    """

    def __init__(self, library: Library, complaints: tuple[str, ...]) -> None:
        self.library = library
        self.complaints = complaints
        self.circumstances = Circumstances(library)
        rows = {symptom: rows_of(library.tree(symptom)) for symptom in complaints}
        self.rows: Mapping[str, TreeRows] = rows
        asked = dict.fromkeys(cause for tree in rows.values() for cause in tree.findings_of)
        self.asked: tuple[str, ...] = tuple(asked)
        """The causes that some complaint points at."""
        self.shares: Mapping[str, float] = {name: self.circumstances.share(name) for name in asked}
        self.clusters: tuple[Cluster, ...] = clusters_of(rows)
        self.trees: Mapping[str, Complaint] = {
            symptom: Complaint(tree, self.shares) for symptom, tree in rows.items()
        }
        self.speaking = Speaking(rows)
        self._tables: dict[tuple[str, ...], Tables] = {}

    @classmethod
    def of(cls, library: Library, complaints: Iterable[str]) -> BeliefModel:
        """Compile the trees of some complaints.

        Parameters
        ----------
        library
            The library.
        complaints
            Symptoms; none at all is allowed: then only the quick looks speak.

        Returns
        -------
        BeliefModel
            Ready for `given`.

        Raises
        ------
        UnknownNameError
            If there is no tree for a complaint, or a tree names a cause that nobody knows.
        TreeFaultError
            If a tree has no counts or leads in a loop.
        """
        return cls(library, tuple(dict.fromkeys(complaints)))

    def given(self, evidence: Evidence) -> Belief:
        """Return the belief that follows from what was told.

        Parameters
        ----------
        evidence
            What was told; its complaints must be this model's. Shared facts must be entered wherever they
            stand already (`diagtree.reasoning.evidence.spread_facts`).

        Returns
        -------
        Belief
            Exact chances.

        Raises
        ------
        ImpossibleEvidenceError
            If it cannot all be true at once.
        UnknownNameError
            If a check, an answer, a quick look or a cause is not known.
        """
        if set(evidence.complaints) != set(self.complaints):
            raise ValueError(f"this model is for {self.complaints}, the evidence for {evidence.complaints}")
        self._refuse_unknown(evidence)
        return Belief(self, evidence)

    @cached_property
    def nothing_told(self) -> Belief:
        """The belief before any look or answer."""
        return Belief(self, Evidence(self.complaints))

    def tables(self, found: Iterable[str]) -> Tables:
        """Return the tables over the conditions that matter for the asked causes and those found."""
        causes = dict.fromkeys((*self.asked, *found))
        wanted = {name for cause in causes for name in self.circumstances.factors(cause)}
        space = self.circumstances.space(wanted)
        if space.names not in self._tables:
            self._tables[space.names] = Tables(space, self.circumstances, self.asked, self.clusters)
        return self._tables[space.names]

    def _refuse_unknown(self, evidence: Evidence) -> None:
        for (symptom, check), answer in evidence.answers.items():
            if symptom not in self.rows:
                raise UnknownNameError("complaint of this machine", symptom, list(self.rows))
            checks = self.rows[symptom].checks
            if check not in checks:
                raise UnknownNameError(f"check in '{symptom}'", check, list(checks))
            if answer not in checks[check].number:
                raise UnknownNameError(f"answer to '{check}'", answer, list(checks[check].answers))
        for cause in evidence.found:
            self.library.cause(cause)


class Belief:
    """What is believed about one machine after what was told; immutable.

    Made by `BeliefModel.given`.

    Parameters
    ----------
    model
        The model.
    evidence
        What was told.
    """

    def __init__(self, model: BeliefModel, evidence: Evidence) -> None:
        self.model = model
        self.evidence = evidence
        self._tables = model.tables(evidence.found)
        self._space: Space = self._tables.space
        self._seen = model.circumstances.seen(evidence.looks)
        self._absent = frozenset(cause for cause, there in evidence.found.items() if not there)
        self._certain = tuple(cause for cause, there in evidence.found.items() if there)
        self._terms: Mapping[str, Terms] = {
            symptom: tree.terms(
                {check: answer for (where, check), answer in evidence.answers.items() if where == symptom},
                self._absent,
            )
            for symptom, tree in model.trees.items()
        }
        self._sums: tuple[Sums, ...] = tuple(self._cluster_sums(cluster) for cluster in model.clusters)
        weights = self._space.product(self._seen)
        for cause, there in evidence.found.items():
            besides = self._besides(cause)
            if not there:
                weights = times(weights, [1 - chance for chance in besides])
            elif cause not in model.shares:
                weights = times(weights, besides)
        for cluster, sums in zip(model.clusters, self._sums, strict=True):
            weights = times(weights, sums[cluster.whole])
        total = sum(weights)
        if total <= 0 or not math.isfinite(total):
            raise self._impossible()
        self._log_total = (
            math.log(total)
            + sum(terms.log_scale for terms in self._terms.values())
            + sum(
                math.log(sum(weights_))
                for name, weights_ in self._seen.items()
                if name not in self._space.names
            )
        )
        self._weights = [weight / total for weight in weights]
        self._views = self._views_of_clusters()

    # How the sums are made -------------------------------------------------------------------------------

    def _besides(self, cause: str) -> Sequence[float]:
        """Chance, in each joint state, that a cause is there though it is behind no complaint."""
        factor = self.model.speaking.factor(cause, self.evidence)
        return besides_curve(self._tables.chances(cause), factor)

    def _cluster_sums(self, cluster: Cluster) -> Sums:
        blocks = self._tables.blocks(cluster, self._terms, {*self._absent, *self._certain})
        sums = partition_sums(cluster.whole, blocks, len(self._space))
        for cause in self._certain:
            if cause in cluster.members:
                sums = with_certain(cluster.whole, sums, self._certain_terms(cluster, cause))
        return sums

    def _certain_terms(self, cluster: Cluster, cause: str) -> dict[int, Sequence[float]]:
        chances = self._tables.chances(cause)
        terms: dict[int, Sequence[float]] = {0: self._besides(cause)}
        for block in subsets(cluster.members[cause])[1:]:
            weight = self._weight(cluster, cause, block)
            terms[block] = [weight * chance for chance in chances]
        return terms

    def _weight(self, cluster: Cluster, cause: str, block: int) -> float:
        weight = 1.0
        for symptom, bit in cluster.bits.items():
            if block & bit:
                weight *= self._terms[symptom].weights.get(cause, 0.0)
        return weight

    def _views_of_clusters(self) -> tuple[Mapping[int, list[float]], ...]:
        """For each cluster and set of its complaints: chance of each state times sums without them."""
        views = []
        for cluster, sums in zip(self.model.clusters, self._sums, strict=True):
            per_sum = [
                weight / whole if whole > 0 else 0.0
                for weight, whole in zip(self._weights, sums[cluster.whole], strict=True)
            ]
            views.append({block: times(per_sum, sums[cluster.whole ^ block]) for block in cluster.taken})
        return tuple(views)

    def _impossible(self) -> ImpossibleEvidenceError:
        for symptom, terms in self._terms.items():
            if not any(terms.weights.values()):
                title = self.model.library.tree(symptom).title
                return ImpossibleEvidenceError(
                    f"Nothing can be behind '{title}' any more: each of its causes was found not to be there.",
                    "Take back what is least sure, or add the cause that the tree does not know.",
                )
        return ImpossibleEvidenceError(
            "What was told cannot all be true at once: no state of the machine fits it.",
            "Take back what is least sure.",
        )

    # What is believed ------------------------------------------------------------------------------------

    @cached_property
    def log_chance(self) -> float:
        """Natural logarithm of the chance of all looks, answers and findings, given the complaints."""
        nothing = self.model.nothing_told
        return 0.0 if nothing is self else self._log_total - nothing._log_total

    @cached_property
    def picture(self) -> Mapping[str, Mapping[str, float]]:
        """Each condition with the chance of each of its states."""
        return {
            name: dict(zip(states, self._over((name,)), strict=True))
            for name, states in self.model.circumstances.states.items()
        }

    @cached_property
    def states(self) -> Sequence[tuple[Mapping[str, str], float]]:
        """All joint states of all conditions, each with its chance."""
        states = self.model.circumstances.states
        names = tuple(states)
        space = self.model.circumstances.space(names)
        return [
            ({name: states[name][place] for name, place in zip(names, state, strict=True)}, chance)
            for state, chance in zip(space.states, self._over(names), strict=True)
        ]

    def _over(self, names: tuple[str, ...]) -> list[float]:
        """Chance of each joint state of some conditions, in the order of their space."""
        if names not in self._marginals:
            self._marginals[names] = self._marginal(names)
        return self._marginals[names]

    @cached_property
    def _marginals(self) -> dict[tuple[str, ...], list[float]]:
        return {}

    def _marginal(self, names: tuple[str, ...]) -> list[float]:
        space = self.model.circumstances.space(names)
        within = tuple(name for name in space.names if name in self._space.names)
        known = self._space.marginal(self._weights, within)
        apart = {
            name: [weight / sum(self._seen[name]) for weight in self._seen[name]]
            for name in space.names
            if name not in within
        }
        values = space.product(apart)
        places = [space.names.index(name) for name in within]
        return [
            value * known[tuple(state[place] for place in places)]
            for value, state in zip(values, space.states, strict=True)
        ]

    def behind(self, symptom: str) -> Mapping[str, float]:
        """Return for each cause of a complaint's tree the chance that it is the one behind it; adds up to 1.

        Raises
        ------
        UnknownNameError
            If the machine did not come in with this complaint.
        """
        return self._behind[self._asked(symptom)]

    def _asked(self, symptom: str) -> str:
        if symptom not in self.model.rows:
            raise UnknownNameError("complaint of this machine", symptom, list(self.model.rows))
        return symptom

    @cached_property
    def _behind(self) -> Mapping[str, Mapping[str, float]]:
        behind: dict[str, Mapping[str, float]] = {}
        for cluster, view in zip(self.model.clusters, self._views, strict=True):
            for symptom in cluster.bits:
                chances = self._tables.behind(
                    cluster, symptom, self._terms, view, self._absent, self._certain
                )
                for cause in self._certain:
                    if cluster.members.get(cause, 0) & cluster.bits[symptom]:
                        chances[cause] = sum(
                            dot(weight, self._view_without(cluster, cause)[block])
                            for block, weight in self._certain_terms(cluster, cause).items()
                            if block & cluster.bits[symptom]
                        )
                positive = {cause: max(0.0, chance) for cause, chance in chances.items()}
                total = sum(positive.values())
                behind[symptom] = {cause: chance / total for cause, chance in positive.items()}
        return behind

    def _view_without(self, cluster: Cluster, cause: str) -> Mapping[int, list[float]]:
        """The cluster's view with one certain cause taken out of the sums."""
        if cause not in self._views_without:
            blocks = self._tables.blocks(cluster, self._terms, {*self._absent, *self._certain})
            sums = partition_sums(cluster.whole, blocks, len(self._space))
            for other in self._certain:
                if other != cause and other in cluster.members:
                    sums = with_certain(cluster.whole, sums, self._certain_terms(cluster, other))
            whole = self._sums[self.model.clusters.index(cluster)][cluster.whole]
            per_sum = [
                weight / total if total > 0 else 0.0
                for weight, total in zip(self._weights, whole, strict=True)
            ]
            self._views_without[cause] = {
                block: times(per_sum, sums[cluster.whole ^ block])
                for block in subsets(cluster.members[cause])
            }
        return self._views_without[cause]

    @cached_property
    def _views_without(self) -> dict[str, Mapping[int, list[float]]]:
        return {}

    def finding_chances(self, symptom: str) -> Sequence[float]:
        """Return for each finding of a complaint's tree (`TreeRows.findings`) its chance; adds up to 1."""
        if symptom not in self._findings:
            behind = self.behind(symptom)
            parts = self._terms[symptom].parts
            self._findings[symptom] = [
                behind[finding.cause] * part
                for finding, part in zip(self.model.rows[symptom].findings, parts, strict=True)
            ]
        return self._findings[symptom]

    @cached_property
    def _findings(self) -> dict[str, Sequence[float]]:
        return {}

    def leaves(self, symptom: str) -> Mapping[tuple[str, str], float]:
        """Return the chance of each leaf (check, answer) of a complaint's tree; adds up to 1."""
        leaves: dict[tuple[str, str], float] = {}
        chances = self.finding_chances(self._asked(symptom))
        for finding, chance in zip(self.model.rows[symptom].findings, chances, strict=True):
            key = (finding.check, finding.answer)
            leaves[key] = leaves.get(key, 0.0) + chance
        return leaves

    @cached_property
    def behind_any(self) -> Mapping[str, float]:
        """Chance of each asked cause to be behind at least one complaint."""
        any_: dict[str, float] = {}
        for cluster in self.model.clusters:
            for cause, members in cluster.members.items():
                if members & (members - 1):
                    any_[cause] = 1 - sum(self._alone(cluster, cause))
                else:
                    (symptom,) = (name for name, bit in cluster.bits.items() if bit == members)
                    any_[cause] = self._behind[symptom][cause]
        return {cause: min(1.0, max(0.0, any_[cause])) for cause in self.model.asked}

    def _alone(self, cluster: Cluster, cause: str) -> Sequence[float]:
        """Chance of each joint state together with this cause being behind no complaint."""
        if cause in self._absent:
            return self._weights
        if cause in self._certain:
            besides = self._certain_terms(cluster, cause)[0]
            return times(besides, self._view_without(cluster, cause)[0])
        view = self._views[self.model.clusters.index(cluster)]
        return self._tables.alone(cluster, cause, self._terms, view)

    @cached_property
    def present(self) -> Mapping[str, float]:
        """Chance of each cause of the library to be on the machine: behind a complaint, or there besides."""
        home = {cause: cluster for cluster in self.model.clusters for cause in cluster.members}
        return {cause: self._presence(cause, home.get(cause)) for cause in self.model.library.causes}

    def _presence(self, cause: str, cluster: Cluster | None) -> float:
        if cause in self.evidence.found:
            return 1.0 if self.evidence.found[cause] else 0.0
        if cluster is not None:
            besides = dot(self._alone(cluster, cause), self._besides(cause))
            return min(1.0, max(0.0, self.behind_any[cause] + besides))
        factors = self.model.circumstances.factors(cause)
        space = self.model.circumstances.space(factors)
        chances = space.chances(self.model.circumstances.share(cause), factors)
        factor = self.model.speaking.factor(cause, self.evidence)
        return dot(self._over(space.names), besides_curve(chances, factor))

    def predict(self, symptom: str, check: str) -> Mapping[str, float]:
        """Return the chance of each answer to a check that has not been answered.

        Raises
        ------
        UnknownNameError
            If the machine did not come in with this complaint, or its tree has no such check.
        """
        checks = self.model.rows[self._asked(symptom)].checks
        if check not in checks:
            raise UnknownNameError(f"check in '{symptom}'", check, list(checks))
        rows = checks[check]
        chances = self.finding_chances(symptom)
        masses = [0.0] * len(rows.rows)
        for finding, row in rows.speaks:
            masses[row] += chances[finding]
        rest = max(0.0, 1 - sum(masses))
        return {
            answer: rest * rows.sound[place]
            + sum(mass * row[place] for mass, row in zip(masses, rows.rows, strict=True))
            for place, answer in enumerate(rows.answers)
        }

    def ranking(self, symptom: str) -> list[tuple[str, float]]:
        """Return the causes of a complaint, likeliest first; of two alike the author's first comes first."""
        return _ranked(self.behind(symptom))

    def ranking_all(self) -> list[tuple[str, float]]:
        """Return the causes of all complaints by their chance to be behind any of them."""
        return _ranked(self.behind_any)


def _ranked(chances: Mapping[str, float]) -> list[tuple[str, float]]:
    # Rounded, so that two causes that are alike but for the last bit keep the author's order everywhere.
    return sorted(chances.items(), key=lambda entry: -round(entry[1], 12))
