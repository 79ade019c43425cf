"""The walker: what to ask next, and everything that a person can do in a case.

A walker stands between a library and a log. Each of its verbs writes an event into the log before it
returns; what it tells is worked out from the events alone. Screens put its questions and call its verbs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Literal

from diagtree import __version__
from diagtree.case import events
from diagtree.case.case import Case, Given, apply
from diagtree.case.change import what_changed
from diagtree.case.keeper import Keeper, now
from diagtree.case.log import Log
from diagtree.case.measuring import Entered, band_of, measure
from diagtree.case.passing import certain_answer, likeliest_way_on
from diagtree.case.places import Place
from diagtree.case.question import Question, Skipped, Step, question_at
from diagtree.case.resumed import changed_trees, identities
from diagtree.case.resumed import what_changed as what_changed_in_trees
from diagtree.case.standing import Standing, exists
from diagtree.case.view import Memory, View
from diagtree.errors import CannotWriteError, ExpectedError, UnknownNameError
from diagtree.library.library import Library

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.evidence import Evidence

Order = Literal["guided", "shortest"]
ORDERS: tuple[Order, ...] = ("guided", "shortest")


class NoQuestionError(ExpectedError):
    """There is no question to answer: the questions are at their end, or no complaint is chosen."""

    def __init__(self) -> None:
        super().__init__("There is no question to answer now.", "Choose a complaint, or go back.")


class Walker(Keeper):
    """One case being walked.

    Parameters
    ----------
    library
        The trees, looks and catalogues.
    log
        Where the events are kept: a journal, or a `MemoryLog`. One that holds events already is taken up.
    order
        ``guided`` (the author's order) or ``shortest`` (the engine's). None keeps the case's own.
    complaints, label, brief
        For a new case only: what is wrong, what the machine is called, how much is to be done.
    clock
        Tells the time; given by tests.

    Raises
    ------
    UnknownNameError
        If a complaint is not in the library.
    DamagedFileError
        If the log holds what no version has written.

    Examples
    --------
    >>> from diagtree.library.library import Library
    >>> from diagtree.case.log import MemoryLog
    >>> walker = Walker(Library(), MemoryLog(), label="the blue one")
    >>> walker.stage, walker.question, walker.case.label
    ('complaints', None, 'the blue one')
    """

    def __init__(
        self,
        library: Library,
        log: Log,
        order: Order | None = None,
        *,
        complaints: Sequence[str] = (),
        label: str = "",
        brief: str = "",
        clock: Callable[[], str] = now,
    ) -> None:
        super().__init__(library, log, clock)
        self._memory = Memory(library)
        self._view: View | None = None
        self.change = ""
        """What the last answer changed, in one sentence; empty if the last thing done was no answer."""
        self.notices: tuple[str, ...] = ()
        """What to tell a person who takes the case up again."""
        if log.records:
            self._take_up()
            if order is not None and order != self._case.order:
                self.set_order(order)
        else:
            for symptom in complaints:
                library.tree(symptom)
            chosen = tuple(dict.fromkeys(complaints))
            self._append(
                events.Opened(
                    clock(),
                    events.FORMAT,
                    __version__,
                    order or "guided",
                    brief,
                    label,
                    chosen,
                    identities(library, chosen),
                )
            )
        self._settle()

    # What it tells

    @property
    def view(self) -> View:
        """The case seen through the library, as it is now."""
        if self._view is None:
            self._view = View(self._case, self._memory)
        return self._view

    @property
    def standing(self) -> Standing:
        """Where the case stands; see `View.standing`."""
        return self.view.standing

    @property
    def order(self) -> str:
        """``guided`` or ``shortest``."""
        return self._case.order

    @property
    def stage(self) -> str:
        """``complaints``, ``looks``, ``checks`` or ``end``."""
        if not self.standing.walks:
            return "complaints"
        place = self._place()
        if place is None:
            return "end"
        return "looks" if place.is_look else "checks"

    @property
    def question(self) -> Question | None:
        """The question to put now, or None before the first complaint and at the end."""
        place = self._place()
        if place is None:
            return None
        return question_at(self.library, place, self._given(place), self._why_now(place))

    @property
    def looks(self) -> tuple[Question, ...]:
        """All quick looks, answered or not, for a screen that shows them together."""
        return tuple(
            question_at(self.library, Place.look(name), self._given(Place.look(name)))
            for name in self.library.looks
        )

    @property
    def revisiting(self) -> bool:
        """True if the question was gone back to."""
        return self._case.cursor is not None and self._place() == self._case.cursor

    @property
    def finished(self) -> bool:
        """True if complaints were chosen and nothing is left to ask, or the questions were ended."""
        return self.view.finished

    @property
    def way(self) -> tuple[Step, ...]:
        """The answers that count, in the order in which they were first given."""
        return self.view.way

    @property
    def aside(self) -> tuple[Step, ...]:
        """The answers that have lost their place; they count again if it comes back."""
        return self.view.aside

    @property
    def skipped(self) -> tuple[Skipped, ...]:
        """The questions that were not asked, each with the reason."""
        return self.view.skipped

    @property
    def stops(self) -> tuple[tuple[str, str], ...]:
        """For each complaint whose finding says so: stop work, and what to do instead."""
        return self.view.stops

    @property
    def evidence(self) -> Evidence:
        """What was told, as the reasoning takes it."""
        return self.view.evidence

    @property
    def belief(self) -> Belief:
        """What is likely now; see `View.belief`."""
        return self.view.belief

    @property
    def ranking(self) -> list[tuple[str, float]]:
        """Causes over all complaints, likeliest first; see `View.ranking`."""
        return self.view.ranking()

    # What a person can do

    def choose(self, complaints: Sequence[str]) -> None:
        """Set the complaints; answers of one that is dropped are set aside, not lost."""
        for symptom in complaints:
            self.library.tree(symptom)
        chosen = tuple(dict.fromkeys(complaints))
        self._do(events.Complained(self._clock(), chosen, identities(self.library, chosen)))

    def answer(self, name: str, place: Place | None = None) -> None:
        """Answer the question that is put now, or the one at a place.

        Raises
        ------
        UnknownNameError
            If the question has no such answer.
        NoQuestionError
            If there is no question.
        """
        question = self._asked(place)
        self._record_answer(question, name)

    def cannot_tell(self, place: Place | None = None) -> None:
        """Say that nobody can tell."""
        question = self._asked(place)
        before, aside = self.view.ranking(question.symptom), len(self.standing.aside)
        self._do(events.CouldNotTell(self._clock(), question.place, question.ask))
        self._tell_change(question.symptom, before, aside)

    def enter_reading(self, text: str, sure: bool = False, place: Place | None = None) -> Entered:
        """Answer by a measured value: the answer is the one whose band holds it.

        Parameters
        ----------
        text
            What was measured, as it was entered.
        sure
            True if an odd value was confirmed. An odd value that was not is not taken.

        Raises
        ------
        ExpectedError
            If the question takes no reading, or the text is no value that it covers.
        """
        question = self._asked(place)
        entered = self.try_reading(text, question.place)
        if entered.measured.odd is not None and not sure:
            return entered
        self._record_answer(question, entered.answer, text.strip(), entered)
        return Entered(entered.measured, entered.answer, taken=True)

    def try_reading(self, text: str, place: Place | None = None) -> Entered:
        """Tell what a reading would come to, without taking it."""
        question = self._asked(place)
        if question.reading is None:
            raise ExpectedError("Nothing is measured here.", "Choose one of the answers.")
        check = self.library.trees[question.symptom].checks[question.name]
        measured = measure(self.library, question.reading.name, text)
        return Entered(measured, band_of(check, measured.value), taken=False)

    def back(self) -> bool:
        """Go back one answer; False if there is none before."""
        places = [given.place for given in self.standing.counted]
        here = self._place()
        at = places.index(here) if self.revisiting and here in places else len(places)
        if at == 0:
            return False
        self._do(events.WentTo(self._clock(), places[at - 1]))
        return True

    def jump(self, to: Step | Skipped | Place) -> None:
        """Go to any question that was answered, set aside or skipped; its old answer stands until changed.

        Raises
        ------
        UnknownNameError
            If the library has no such question any more.
        """
        place = to if isinstance(to, Place) else to.place
        if not exists(self.library, place):
            raise UnknownNameError("question", place.name, [step.place.name for step in self.way])
        self._do(events.WentTo(self._clock(), place))

    def forward(self) -> None:
        """Leave a question that was gone back to as it was; go on to the next open one."""
        if self._case.cursor is not None:
            self._do(events.WentTo(self._clock(), None))

    def note(self, text: str, place: Place | None = None) -> None:
        """Make a note at a place, at the question that is put now, or on the whole case."""
        self._do(events.Noted(self._clock(), text, place or self._place()))

    def set_order(self, order: Order) -> None:
        """Change the order of the questions."""
        if order not in ORDERS:
            raise UnknownNameError("order", order, list(ORDERS))
        self._do(events.OrderSet(self._clock(), order))

    def ask_on(self, on: bool = True) -> None:
        """Overrule the advice to stop asking; False gives it again."""
        self._do(events.AskedOn(self._clock(), on))

    def finish(self, reason: str = "", symptom: str = "") -> None:
        """End the questions, all of them or those about one complaint; going back takes them up again."""
        if symptom and symptom not in self.standing.walks:
            raise UnknownNameError("complaint", symptom, list(self.standing.walks))
        self._do(events.Finished(self._clock(), reason, symptom))

    def found_out(self, cause: str, present: bool | None, note: str = "") -> None:
        """Enter what was seen with the machine open: the cause is there, or it is not; None takes it back.

        Raises
        ------
        UnknownNameError
            If there is no such cause.
        ImpossibleEvidenceError
            If that contradicts everything else; then nothing is entered.
        """
        if present is not None or cause not in self._case.found:
            self.library.cause(cause)
        event = events.FoundOut(self._clock(), cause, present, note)
        was = self._case
        if self.standing.walks:
            try:
                self._become(apply(was, event))
                _ = self.belief
            finally:
                self._become(was)
        self._do(event)

    # How it works

    def _become(self, case: Case) -> None:
        super()._become(case)
        self._view = None

    def _do(self, event: events.Event) -> None:
        super()._do(event)
        self.change = ""
        self._settle()

    def _take_up(self) -> None:
        identity = identities(self.library, self._case.complaints)
        changed = changed_trees(self._case, identity)
        if changed:
            says = what_changed_in_trees(self.library, self._case, self.standing, changed)
            self.notices = tuple(says)
            self._append(events.TreesChanged(self._clock(), identity, self.notices))

    def _given(self, place: Place) -> Given | None:
        return self.standing.holds.get(place) or self._case.given.get(place)

    def _asked(self, place: Place | None) -> Question:
        if place is None:
            question = self.question
            if question is None:
                raise NoQuestionError
            return question
        if not exists(self.library, place):
            raise UnknownNameError("question", place.name, [step.place.name for step in self.way])
        return question_at(self.library, place, self._given(place))

    def _record_answer(
        self, question: Question, name: str, text: str = "", entered: Entered | None = None
    ) -> None:
        says = {choice.name: choice.says for choice in question.answers}
        if name not in says:
            raise UnknownNameError("answer", name, list(says))
        before, aside = self.view.ranking(question.symptom), len(self.standing.aside)
        self._do(
            events.Answered(
                self._clock(),
                question.place,
                name,
                question.ask,
                says[name],
                text,
                str(entered.measured.value) if entered else "",
                entered.measured.says if entered else "",
            )
        )
        self._tell_change(question.symptom, before, aside)

    def _tell_change(self, symptom: str, before: list[tuple[str, float]], aside: int) -> None:
        titles = self.library.causes
        says = what_changed(before, self.view.ranking(symptom), lambda cause: titles[cause].title)
        if not symptom and len(self.standing.walks) > 1:
            says = f"Over all complaints: {says}"
        lost = len(self.standing.aside) - aside
        if lost > 0:
            answers = "1 later answer has" if lost == 1 else f"{lost} later answers have"
            says = f"{says} {answers} no place now and {'is' if lost == 1 else 'are'} set aside."
        self.change = says

    def _place(self) -> Place | None:
        return self.view.place

    def _settle(self) -> None:
        """Pass over what needs no asking, so that the next question is worth its time."""
        for _ in range(1000):
            passed = self._next_to_pass()
            if passed is None:
                return
            try:
                self._append(passed)
            except CannotWriteError:
                # What a person entered is saved; that the disk is full is told when they enter the next.
                return

    def _next_to_pass(self) -> events.Passed | None:
        if self._case.order != "guided" or self._case.finished:
            return None
        unable = next(
            (Place.check(each, walk.follow) for each, walk in self.standing.walks.items() if walk.follow),
            None,
        )
        place = unable or self._place()
        if place is None or place.is_look or place == self._case.cursor or not self.standing.counted:
            return None
        # Only now is a belief needed: the first question comes without one.
        belief = self.view.belief_if_any
        if belief is None:
            return None
        found: tuple[str, str] | None
        if unable is not None:
            found = likeliest_way_on(self.library, belief, place)
        else:
            found = certain_answer(self.library, self._memory.ways(place.symptom), belief, place)
        if found is None:
            return None
        answer, reason = found
        asked = self.library.trees[place.symptom].checks[place.name].ask
        return events.Passed(self._clock(), place, answer, asked, reason)

    def _why_now(self, place: Place) -> str:
        if place == self._case.cursor:
            return "You came back to it."
        if place.is_look or self._case.order != "shortest":
            return ""
        return "Of the checks that tell most for their minutes, this one leads to a finding soonest if no answer misleads."
