"""One belief over the whole machine: conditions, all complaints, all answers, all causes; exact sums.

The formulas and a proof by enumeration are in ``docs/method.md`` and ``tests/reasoning``. Nothing here needs
numpy, so that the first question comes at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.library import Library
from diagtree.reasoning.circumstances import Circumstances
from diagtree.reasoning.complaint import Complaint, Terms
from diagtree.reasoning.effort import Effort, efforts
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.joint import Joint, NothingFitsError
from diagtree.reasoning.presence import Speaking, besides_curve
from diagtree.reasoning.readiness import Readiness
from diagtree.reasoning.rows import TreeRows, mixture, rows_of
from diagtree.reasoning.tables import Cluster, Tables, clusters_of
from diagtree.reasoning.vectors import dot, tie


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
        self._usual: Tables | None = None

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

        Examples
        --------
        >>> from diagtree.library.library import Library
        >>> BeliefModel.of(Library(), []).complaints
        ()
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

        Examples
        --------
        >>> from diagtree.library.loading import load_library
        >>> library = load_library()
        >>> symptom = next(iter(library.trees))
        >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
        >>> round(sum(belief.behind(symptom).values()), 9)
        1.0
        >>> belief.log_chance
        0.0
        """
        if set(evidence.complaints) != set(self.complaints):
            raise ValueError(f"this model is for {self.complaints}, the evidence for {evidence.complaints}")
        self._refuse_unknown(evidence)
        return Belief(self, evidence)

    @cached_property
    def efforts(self) -> Mapping[tuple[str, str], Effort]:
        """What each check takes, by (symptom, check)."""
        return efforts(self.library, self.complaints)

    @cached_property
    def readiness(self) -> Mapping[str, Readiness]:
        """For each complaint which checks make sense when."""
        return {symptom: Readiness(self.library.tree(symptom)) for symptom in self.complaints}

    @cached_property
    def nothing_told(self) -> Belief:
        """The belief before any look or answer."""
        return Belief(self, Evidence(self.complaints))

    def tables(self, found: Iterable[str]) -> Tables:
        """Return the tables over the conditions that matter for the asked causes and those found."""
        unasked = tuple(cause for cause in found if cause not in self.shares)
        if not unasked and self._usual is not None:
            return self._usual
        causes = (*self.asked, *unasked)
        wanted = {name for cause in causes for name in self.circumstances.factors(cause)}
        space = self.circumstances.space(wanted)
        if space.names not in self._tables:
            self._tables[space.names] = Tables(space, self.circumstances, self.asked, self.clusters)
        if not unasked:
            self._usual = self._tables[space.names]
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
        tables = model.tables(evidence.found)
        self._seen = model.circumstances.seen(evidence.looks)
        absent = frozenset(cause for cause, there in evidence.found.items() if not there)
        self.terms: Mapping[str, Terms] = {
            symptom: tree.terms(
                {check: answer for (where, check), answer in evidence.answers.items() if where == symptom},
                absent,
            )
            for symptom, tree in model.trees.items()
        }
        """What the answers to each complaint say."""

        def besides(cause: str) -> Sequence[float]:
            return besides_curve(tables.chances(cause), self.speaks_for(cause))

        try:
            self.joint = Joint(tables, model.clusters, self.terms, self._seen, evidence.found, besides)
            """The sums, for other modules of this room."""
        except NothingFitsError:
            raise self._impossible() from None

    @cached_property
    def _speaking(self) -> Mapping[str, float]:
        return self.model.speaking.factors(self.evidence)

    def speaks_for(self, cause: str) -> float:
        """Return what the answers make of the odds that a cause is there though behind no complaint."""
        return self._speaking.get(cause, 1.0)

    def _impossible(self) -> ImpossibleEvidenceError:
        for symptom, terms in self.terms.items():
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
        return 0.0 if nothing is self else self.joint.log_total - nothing.joint.log_total

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
        within = tuple(name for name in space.names if name in self.joint.space.names)
        known = self.joint.space.marginal(self.joint.state_chances, within)
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
        return self.joint.behind[self._asked(symptom)]

    def _asked(self, symptom: str) -> str:
        if symptom not in self.model.rows:
            raise UnknownNameError("complaint of this machine", symptom, list(self.model.rows))
        return symptom

    def finding_chances(self, symptom: str) -> Sequence[float]:
        """Return for each finding of a complaint's tree (`TreeRows.findings`) its chance; adds up to 1."""
        if symptom not in self._findings:
            behind = self.behind(symptom)
            parts = self.terms[symptom].parts
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
        for number, cluster in enumerate(self.model.clusters):
            for cause, members in cluster.members.items():
                if members & (members - 1):
                    any_[cause] = 1 - sum(self.joint.alone(number, cause))
                else:
                    (symptom,) = (name for name, bit in cluster.bits.items() if bit == members)
                    any_[cause] = self.joint.behind[symptom][cause]
        return {cause: min(1.0, max(0.0, any_[cause])) for cause in self.model.asked}

    @cached_property
    def present(self) -> Mapping[str, float]:
        """Chance of each cause of the library to be on the machine: behind a complaint, or there besides."""
        home = {cause: n for n, cluster in enumerate(self.model.clusters) for cause in cluster.members}
        return {cause: self._presence(cause, home.get(cause)) for cause in self.model.library.causes}

    def _presence(self, cause: str, cluster: int | None) -> float:
        if cause in self.evidence.found:
            return 1.0 if self.evidence.found[cause] else 0.0
        if cluster is not None:
            besides = self.joint.there_besides(cluster, cause)
            return min(1.0, max(0.0, self.behind_any[cause] + besides))
        names, chances = self.besides(cause)
        return dot(self._over(names), chances)

    def besides(self, cause: str) -> tuple[tuple[str, ...], Sequence[float]]:
        """Return how likely a cause is to be there though it is behind no complaint.

        Returns
        -------
        tuple
            The conditions that it depends on, and the chance in each of their joint states, the last
            condition changing fastest.
        """
        factors = self.model.circumstances.factors(cause)
        space = self.model.circumstances.space(factors)
        chances = space.chances(self.model.circumstances.share(cause), factors)
        return space.names, besides_curve(chances, self.speaks_for(cause))

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
        answers = mixture(rows, max(0.0, 1 - sum(masses)), masses)
        return dict(zip(rows.answers, answers, strict=True))

    def ranking(self, symptom: str) -> list[tuple[str, float]]:
        """Return the causes of a complaint, likeliest first; of two alike the author's first comes first."""
        return _ranked(self.behind(symptom))

    def ranking_all(self) -> list[tuple[str, float]]:
        """Return the causes of all complaints by their chance to be behind any of them."""
        return _ranked(self.behind_any)


def _ranked(chances: Mapping[str, float]) -> list[tuple[str, float]]:
    # Rounded, so that two causes that are alike but for the last bit keep the author's order everywhere.
    return sorted(chances.items(), key=lambda entry: -tie(entry[1]))
