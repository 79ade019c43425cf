"""One machine being practised on: what is known, what can be checked, what was named; no screen.

Every move is in the log before the call returns, so that a machine can be taken up again.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from diagtree.case.keeper import now
from diagtree.case.log import Log, MemoryLog
from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.library import Library
from diagtree.practice.machine import Machine, Question, question_of
from diagtree.practice.quiz import Quiz, questions_for
from diagtree.reasoning.belief import Belief, BeliefModel
from diagtree.reasoning.choosing import ready
from diagtree.reasoning.effort import minutes_of, opening_jobs
from diagtree.reasoning.evidence import Evidence, spread_facts

Stage = Literal["checks", "work", "end"]


@dataclass(frozen=True, slots=True)
class Choice:
    """A check that can be done now.

    Parameters
    ----------
    number
        From 1; it stays the same to the end of the machine.
    symptom, check
        Where it stands.
    ask
        The question.
    how, caution
        How it is done; what to take care of.
    minutes
        What it takes now, with the opening work that is still to be done.
    opening
        That opening work, by its titles.
    rough
        True if the answer often misleads.
    """

    number: int
    symptom: str
    check: str
    ask: str
    how: tuple[str, ...]
    caution: tuple[str, ...]
    minutes: float
    opening: tuple[str, ...]
    rough: bool


@dataclass(frozen=True, slots=True)
class Step:
    """A check that was done: what it answered, what it took, and what was known before."""

    symptom: str
    check: str
    ask: str
    answer: str
    says: str
    minutes: float
    before: Evidence
    after: Evidence
    stop: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """A question about the work that was answered; ``given`` is empty where it was passed over."""

    quiz: Quiz
    given: str
    right: bool


@dataclass(frozen=True, slots=True)
class Guess:
    """The cause that was named for a complaint, and what was known then; no cause where it was given up."""

    symptom: str
    cause: str
    evidence: Evidence


class Play:
    """A machine that is being practised on.

    Parameters
    ----------
    library
        The library that the machine was drawn from.
    machine
        The machine.
    log
        Where the moves go.
    clock
        Tells the time; given by tests.
    """

    def __init__(self, library: Library, machine: Machine, log: Log, clock: Callable[[], str] = now) -> None:
        self.library = library
        self.machine = machine
        self.model = BeliefModel.of(library, machine.complaints)
        self.questions = questions_for(library, machine)
        self.evidence = machine.told_at_first(library)
        """What is known now."""
        self.steps: list[Step] = []
        self.guesses: dict[str, Guess] = {}
        self.told: list[Told] = []
        self._log = log
        self._clock = clock
        self._beliefs: dict[str, Belief] = {}
        self._numbers: dict[Question, int] = {}
        self._number()

    # What is known and what can be done

    @property
    def stage(self) -> Stage:
        """Where the practice stands: checks are done, the work is asked about, or it is at its end."""
        if self.unnamed:
            return "checks"
        return "work" if self.question is not None else "end"

    @property
    def unnamed(self) -> tuple[str, ...]:
        """Complaints for which no cause has been named yet."""
        return tuple(symptom for symptom in self.machine.complaints if symptom not in self.guesses)

    @property
    def question(self) -> Quiz | None:
        """The next question about the work."""
        if self.unnamed or len(self.told) >= len(self.questions):
            return None
        return self.questions[len(self.told)]

    @property
    def minutes(self) -> float:
        """What all checks so far took, opening work paid once."""
        return minutes_of(self.library, [(step.symptom, step.check) for step in self.steps])

    @property
    def looks(self) -> tuple[tuple[str, str], ...]:
        """The quick looks: what is asked and what is seen."""
        looks = self.library.looks
        return tuple((looks[n].ask, looks[n].answers[a].says) for n, a in self.machine.looks.items())

    @property
    def belief(self) -> Belief:
        """What follows from what is known."""
        return self.believed(self.evidence)

    def believed(self, evidence: Evidence) -> Belief:
        """Return what follows from some evidence about this machine; worked out once."""
        key = repr(sorted(evidence.answers.items()))
        if key not in self._beliefs:
            self._beliefs[key] = self.model.given(evidence)
        return self._beliefs[key]

    def _number(self) -> None:
        """Number all checks: in the author's order for a beginner, else by their words.

        Where a check stands must not tell what it is worth, and going on must not move it.
        """
        first: dict[Question, Choice] = {}
        for symptom in self.machine.complaints:
            for check in self.library.trees[symptom].checks:
                key = question_of(self.library, symptom, check)
                first.setdefault(key, self._choice(symptom, check))
        keys = list(first)
        if not self.machine.level.ranking:
            keys.sort(key=lambda key: (first[key].ask.casefold(), first[key].symptom, first[key].check))
        told = {question_of(self.library, *place) for place in self.evidence.answers}
        self._numbers = {key: number for number, key in enumerate((k for k in keys if k not in told), 1)}

    @property
    def choices(self) -> tuple[Choice, ...]:
        """The checks that make sense now, by number; what the same fact answers stands there once."""
        found: dict[Question, Choice] = {}
        for symptom in self.unnamed:
            tree = self.library.trees[symptom]
            given = {name: a for (where, name), a in self.evidence.answers.items() if where == symptom}
            open_now = ready(tree, given)
            for check in tree.checks:
                if check not in open_now:
                    continue
                choice = self._choice(symptom, check)
                key = question_of(self.library, symptom, check)
                if key not in found or choice.minutes < found[key].minutes:
                    found[key] = choice
        return tuple(sorted(found.values(), key=lambda each: each.number))

    def _choice(self, symptom: str, check: str) -> Choice:
        library = self.library
        entry = library.trees[symptom].checks[check]
        jobs = opening_jobs(library, entry.behind)
        opening = sorted(job for job in jobs if job not in self._opened())
        return Choice(
            number=self._numbers.get(question_of(library, symptom, check), 0),
            symptom=symptom,
            check=check,
            ask=entry.ask,
            how=entry.how,
            caution=entry.caution,
            minutes=float(entry.minutes) + sum(jobs[job] for job in opening),
            opening=tuple(library.jobs[job].title for job in opening),
            rough=self.machine.level.misleads and entry.trust.value == "rough",
        )

    def _opened(self) -> set[str]:
        opened: set[str] = set()
        for step in self.steps:
            behind = self.library.trees[step.symptom].checks[step.check].behind
            opened |= opening_jobs(self.library, behind).keys()
        return opened

    def causes(self, symptom: str) -> tuple[tuple[str, str], ...]:
        """Return the causes that can be named for a complaint, with their titles, by title."""
        titles = ((cause, self.library.causes[cause].title) for cause in self.model.rows[symptom].findings_of)
        return tuple(sorted(titles, key=lambda each: (each[1].casefold(), each[0])))

    # Moves

    def check(self, symptom: str, check: str) -> Step:
        """Do a check.

        Raises
        ------
        UnknownNameError
            If it is not among the choices.
        CannotWriteError
            If it could not be kept; then it was not done.
        """
        choice = next((one for one in self.choices if (one.symptom, one.check) == (symptom, check)), None)
        if choice is None:
            raise UnknownNameError("check to be done now", check, [one.check for one in self.choices])
        answer = self.machine.answers[symptom, check]
        entry = self.library.trees[symptom].checks[check].answers[answer]
        self._keep("checked", symptom=symptom, check=check, answer=answer)
        after = spread_facts(self.library, self.evidence.with_answer(symptom, check, answer))
        step = Step(
            symptom,
            check,
            choice.ask,
            answer,
            entry.says,
            choice.minutes,
            self.evidence,
            after,
            entry.stop or "",
        )
        self.evidence = after
        self.steps.append(step)
        return step

    def name(self, symptom: str, cause: str) -> None:
        """Name the cause behind a complaint; it cannot be taken back.

        Raises
        ------
        UnknownNameError
            If it is no cause of this complaint.
        ExpectedError
            If one was named already.
        """
        if symptom not in self.unnamed:
            raise ExpectedError("A cause was named for this complaint already.")
        if cause not in self.model.rows[symptom].findings_of:
            raise UnknownNameError(
                "cause of this complaint", cause, [name for name, _ in self.causes(symptom)]
            )
        self._keep("named", symptom=symptom, cause=cause)
        self.guesses[symptom] = Guess(symptom, cause, self.evidence)

    def give_up(self) -> None:
        """Name nothing more: the machine is shown, and nothing is asked about the work."""
        if self.unnamed:
            self._keep("gave-up")
        for symptom in self.unnamed:
            self.guesses[symptom] = Guess(symptom, "", self.evidence)
        self.questions = tuple(told.quiz for told in self.told)

    def answer(self, given: str) -> Told:
        """Answer the question about the work; an empty text passes it over.

        Raises
        ------
        ExpectedError
            If it is no answer at all, or nothing is asked.
        """
        quiz = self.question
        if quiz is None:
            raise ExpectedError("Nothing is asked now.")
        right = quiz.judge(given) if given else False
        told = Told(quiz, quiz.chosen(given) if given and quiz.choices else given, right)
        self._keep("told", asked=quiz.about, what=quiz.kind, given=given, right=right)
        self.told.append(told)
        return told

    def _keep(self, kind: str, **facts: object) -> None:
        self._log.append({"kind": kind, "when": self._clock(), **facts})

    def take_up(self, moves: list[Mapping[str, Any]]) -> bool:
        """Do moves again that were kept before, without keeping them again.

        Returns
        -------
        bool
            False if they do not fit this machine: the library has changed since.
        """
        log, self._log = self._log, MemoryLog()
        try:
            for move in moves:
                if move["kind"] == "checked":
                    if self.check(move["symptom"], move["check"]).answer != move["answer"]:
                        return False
                elif move["kind"] == "named":
                    self.name(move["symptom"], move["cause"])
                elif move["kind"] == "told":
                    self.answer(move["given"])
                elif move["kind"] == "gave-up":
                    self.give_up()
        except (ExpectedError, KeyError):
            return False
        finally:
            self._log = log
        return True
