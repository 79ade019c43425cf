"""A case seen through a library: where it stands, what counts as evidence, and what is likely.

A view only reads. A walker has one; a sheet makes its own from a case on disk.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

from diagtree.case.case import Case, Given
from diagtree.case.places import Place
from diagtree.case.question import Skipped, Step, step_of
from diagtree.case.standing import Standing, exists, skipped, stand
from diagtree.case.ways import Ways
from diagtree.errors import ExpectedError
from diagtree.library.library import Library

if TYPE_CHECKING:
    from diagtree.reasoning.asking import AskOrFix, Costs
    from diagtree.reasoning.belief import Belief, BeliefModel
    from diagtree.reasoning.choosing import Worth
    from diagtree.reasoning.conflict import Conflict
    from diagtree.reasoning.evidence import Evidence

_BELIEFS_KEPT = 64
_Made = TypeVar("_Made")


class Memory:
    """What views of one library share, so that nothing is worked out twice.

    Parameters
    ----------
    library
        The library.
    """

    def __init__(self, library: Library) -> None:
        self.library = library
        self._ways: dict[str, Ways] = {}
        self._models: dict[tuple[str, ...], BeliefModel] = {}
        self._beliefs: dict[object, Belief] = {}
        self._kept: dict[object, Any] = {}

    def ways(self, symptom: str) -> Ways:
        """Tell the ways through the tree of a symptom."""
        if symptom not in self._ways:
            self._ways[symptom] = Ways(self.library.trees[symptom])
        return self._ways[symptom]

    def model(self, complaints: tuple[str, ...]) -> BeliefModel:
        """Compile the model for some complaints, once."""
        from diagtree.reasoning.belief import BeliefModel

        if complaints not in self._models:
            self._models[complaints] = BeliefModel.of(self.library, complaints)
        return self._models[complaints]

    def belief(self, evidence: Evidence) -> Belief:
        """Work out what is likely, once for each evidence."""
        key = (
            evidence.complaints,
            tuple(sorted(evidence.looks.items())),
            tuple(sorted(evidence.answers.items())),
            tuple(sorted(evidence.found.items())),
        )
        if key not in self._beliefs:
            while len(self._beliefs) >= _BELIEFS_KEPT:
                del self._beliefs[next(iter(self._beliefs))]
            self._beliefs[key] = self.model(evidence.complaints).given(evidence)
        return self._beliefs[key]

    def kept(self, key: tuple[object, ...], make: Callable[[], _Made]) -> _Made:
        """Work something out once for each key; only the last few are kept."""
        if key not in self._kept:
            while len(self._kept) >= _BELIEFS_KEPT:
                del self._kept[next(iter(self._kept))]
            self._kept[key] = make()
        made: _Made = self._kept[key]
        return made


class View:
    """A case seen through a library; it never changes.

    Parameters
    ----------
    case
        What was entered.
    memory
        What is shared with other views of the same library; holds the library.

    Examples
    --------
    >>> View(Case(), Memory(Library())).way
    ()
    """

    def __init__(self, case: Case, memory: Memory) -> None:
        self.case = case
        self.library = memory.library
        self.memory = memory

    @cached_property
    def standing(self) -> Standing:
        """Which answers count, which were set aside, how far each complaint has been walked."""
        return stand(self.library, self.memory.ways, self.case)

    @property
    def complaints(self) -> tuple[str, ...]:
        """The complaints that the library has trees for."""
        return tuple(self.standing.walks)

    @cached_property
    def place(self) -> Place | None:
        """Where the question to put now stands; None before the first complaint and at the end."""
        case, standing = self.case, self.standing
        if case.finished:
            return None
        if case.cursor is not None and exists(self.library, case.cursor):
            return case.cursor
        if not standing.walks:
            return None
        if standing.open_looks:
            return standing.open_looks[0]
        if case.order == "shortest" and self.belief_if_any is not None:
            worth = self.worth_most
            return Place.check(worth.symptom, worth.check) if worth is not None else None
        for symptom, walk in standing.walks.items():
            if walk.open is not None and symptom not in case.ended:
                return Place.check(symptom, walk.open)
        return None

    @property
    def finished(self) -> bool:
        """True if complaints were chosen and nothing is left to ask, or the questions were ended."""
        return self.case.finished or (bool(self.complaints) and self.place is None)

    @cached_property
    def way(self) -> tuple[Step, ...]:
        """The answers that count, in the order in which they were first given."""
        return tuple(self._step(given) for given in self.standing.counted)

    @cached_property
    def aside(self) -> tuple[Step, ...]:
        """The answers that have lost their place; they count again if it comes back."""
        return tuple(self._step(given) for given in self.standing.aside)

    @cached_property
    def skipped(self) -> tuple[Skipped, ...]:
        """The questions that were not asked, each with the reason."""
        return skipped(self.library, self.case, self.standing)

    @cached_property
    def stops(self) -> tuple[tuple[str, str], ...]:
        """For each complaint whose finding says so: stop work, and what to do instead."""
        found = []
        for symptom, walk in self.standing.walks.items():
            if walk.leaf is not None:
                check, answer = walk.leaf
                stop = self.library.trees[symptom].checks[check].answers[answer].stop
                if stop is not None:
                    found.append((symptom, stop))
        return tuple(found)

    @cached_property
    def evidence(self) -> Evidence:
        """What was told, as the reasoning takes it."""
        from diagtree.reasoning.evidence import Evidence

        return Evidence(
            complaints=self.complaints,
            looks=self.standing.looks,
            answers=self.standing.answers,
            found={
                cause: event.present
                for cause, event in self.case.found.items()
                if cause in self.library.causes and event.present is not None
            },
        )

    @property
    def model(self) -> BeliefModel:
        """The model of belief for the complaints, compiled once."""
        return self.memory.model(self.complaints)

    @property
    def belief(self) -> Belief:
        """What is likely now.

        Raises
        ------
        ExpectedError
            If nothing can be worked out: the findings contradict each other, or a draft has faults.
        """
        return self.memory.belief(self.evidence)

    @property
    def belief_if_any(self) -> Belief | None:
        """What is likely now; None before the first complaint, and where nothing can be worked out."""
        if not self.complaints:
            return None
        try:
            return self.belief
        except ExpectedError:
            return None

    def belief_before(self, place: Place) -> Belief | None:
        """What would be likely had the question at a place not been answered yet; None as for `belief_if_any`.

        An answer that stands for a fact is taken away wherever it was entered.
        """
        given = self.standing.holds.get(place)
        if given is None or given.answer is None:
            return self.belief_if_any
        evidence = self.evidence
        for other, holds in self.standing.holds.items():
            if holds is given and other.is_look:
                evidence = evidence.without_look(other.name)
            elif holds is given:
                evidence = evidence.without_answer(other.symptom, other.name)
        try:
            return self.memory.belief(evidence)
        except ExpectedError:
            return None

    @cached_property
    def gains(self) -> tuple[Worth, ...]:
        """What each open check is worth now, best first; empty where nothing can be worked out."""
        from diagtree.reasoning.choosing import gains

        belief = self.belief_if_any
        if belief is None:
            return ()
        return tuple(gains(belief, self._unable, tuple(self.case.jobs_done)))

    @property
    def _unable(self) -> frozenset[tuple[str, str]]:
        """The checks that nobody could tell."""
        return frozenset(
            (place.symptom, place.name)
            for place, given in self.standing.holds.items()
            if given.answer is None and not place.is_look
        )

    @cached_property
    def worth_most(self) -> Worth | None:
        """The check to do next in the shortest order; None if no open one tells anything worth a walk."""
        from diagtree.reasoning.shortest import next_check

        belief = self.belief_if_any
        if belief is None:
            return None
        return next_check(belief, self._unable, tuple(self.case.jobs_done), self.case.ended)

    def advice(self, costs: Costs, symptom: str = "") -> AskOrFix | None:
        """Weigh asking on against starting with a repair, for one complaint, in the workshop's money.

        Parameters
        ----------
        costs
            What work costs.
        symptom
            The complaint; that of the question that is put now if none is named.

        Returns
        -------
        AskOrFix or None
            None if there is no such complaint or nothing can be worked out.
        """
        from diagtree.reasoning.asking import ask_or_fix

        symptom = symptom or (self.place.symptom if self.place is not None else "")
        belief = self.belief_if_any
        if belief is None or symptom not in self.standing.walks:
            return None
        key = (symptom, self._unable, tuple(self.case.jobs_done))
        return self.memory.kept(
            (belief, costs, key), lambda: ask_or_fix(belief, costs, symptom, key[1], key[2])
        )

    @cached_property
    def conflict(self) -> Conflict | None:
        """How well the answers fit together, and the one to look at again; None if that cannot be told."""
        from diagtree.reasoning.conflict import conflict

        belief = self.belief_if_any
        return conflict(belief) if belief is not None else None

    @property
    def suspect(self) -> Place | None:
        """The question whose answer fits worst, where the answers do not fit together."""
        told = self.conflict.suspect if self.conflict is not None else None
        if told is None:
            return None
        place = Place.check(told.symptom, told.name) if told.symptom else Place.look(told.name)
        given = self.standing.holds.get(place)
        return given.place if given is not None else place

    def ranking(self, symptom: str = "") -> list[tuple[str, float]]:
        """Rank the causes of one complaint, or of all of them, likeliest first.

        It is empty before the first complaint, and for a draft whose faults let nothing be worked out.
        """
        belief = self.belief_if_any
        if belief is None:
            return []
        return belief.ranking(symptom) if symptom in self.standing.walks else belief.ranking_all()

    def _step(self, given: Given) -> Step:
        notes = tuple(note.text for note in self.case.notes if note.place == given.place)
        return step_of(self.library, given, notes)
