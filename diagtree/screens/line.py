"""Line mode: the same walk in plain lines, for pipes, plain terminals and screen readers.

Answers are numbered; words are verbs. Nothing is redrawn. After each answer one sentence says what changed
and one what is likeliest now.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, TextIO

from diagtree.case.question import Choice, Question
from diagtree.case.walker import Walker
from diagtree.errors import CannotWriteError, ExpectedError
from diagtree.screens.line_asides import Asides
from diagtree.screens.line_end import AtTheEnd
from diagtree.screens.line_start import choose_complaints
from diagtree.screens.line_talk import MOST_LETTERS, Talk
from diagtree.screens.line_words import END_HELP, HELP, Typed, help_of, understand
from diagtree.screens.words import likely_now, meant, minutes_in_words, sentence

if TYPE_CHECKING:
    from diagtree.model.workshop import Workshop
    from diagtree.reasoning.asking import Costs

FINISHED = 0
LEFT = 3
"""The case is unfinished and saved."""
INTERRUPTED = 130


def _costs(walker: Walker, workshop: Workshop | None) -> Costs | None:
    if workshop is None:
        return None
    from diagtree.work.prices import Prices

    return Prices(walker.library, workshop)


class LineMode:
    """The talk over one walker.

    Parameters
    ----------
    walker
        The case.
    source, sink
        Where lines come from and go to.
    resume
        The command that takes the case up again, as it is to be told on leaving; or what tells it then.
    width
        Cells in a line; None leaves lines whole.
    workshop
        Whose rates count: with it, the talk says when fixing is cheaper than asking, and at the end what is
        to be done and what it costs.
    """

    def __init__(
        self,
        walker: Walker,
        source: TextIO | None = None,
        sink: TextIO | None = None,
        *,
        resume: str | Callable[[], str] = "",
        width: int | None = None,
        workshop: Workshop | None = None,
    ) -> None:
        self.walker = walker
        self.talk = Talk(source or sys.stdin or io.StringIO(), sink or sys.stdout, width)
        self._resume = resume
        self._costs = _costs(walker, workshop)
        self._asides = Asides(walker, self.talk, self._costs)
        self._end = AtTheEnd(walker, self.talk, workshop)
        self._title = ""
        self._standing: Question | None = None
        """The question that was put last and still stands."""
        self._odd: str | None = None
        self._left = False
        """True once somebody has left while choosing complaints."""
        self._unsaved: CannotWriteError | None = None
        self._skipped_told = {each.place for each in walker.skipped}
        self._stops_told: set[tuple[str, str]] = set()
        self._told: set[object] = set()
        """What was said once and need not be said again: advice, and answers that do not fit."""

    def run(self) -> int:
        """Talk until the questions are at their end or somebody leaves.

        Returns
        -------
        int
            0 if the questions are at their end, 3 if the case was left unfinished (all of it is saved), 130
            after Ctrl-C.

        Raises
        ------
        CannotWriteError
            If the last thing that was entered could not be saved.
        """
        try:
            return self._run()
        except KeyboardInterrupt:
            self.talk.say("", self._saved())
            return INTERRUPTED

    def _run(self) -> int:
        machine = self.walker.library.machine.one
        saved = "Every answer is saved at once." if self.walker.keeps else "This is a trial: nothing is kept."
        self.talk.say(f"A {machine} comes in. Type ? for help, quit to leave. {saved}")
        self.talk.say(*self.walker.notices)
        if self.walker.way and not self.walker.finished:
            answers = len(self.walker.way)
            self.talk.say(f"Taken up again after {answers} {'answer' if answers == 1 else 'answers'}.")
        while True:
            if self.walker.stage == "complaints":
                if not choose_complaints(self.walker, self.talk):
                    return self._leave()
                continue
            question = self.walker.question
            if question is None:
                self._standing = None
                line = self._end.put()
                if not line:
                    self._raise_unsaved()
                    return FINISHED
            else:
                self._put(question)
                line = self.talk.ask()
            if line is None or not self._take(line, question):
                return self._leave()

    def _leave(self) -> int:
        self._raise_unsaved()
        if self.walker.finished:
            return FINISHED
        self.talk.say(self._saved())
        return LEFT

    def _saved(self) -> str:
        if not self.walker.keeps:
            return "Left. Nothing was kept."
        if self.walker.case.count <= 1:
            return "Left before anything was entered."
        resume = self._resume() if callable(self._resume) else self._resume
        return f"Saved. To go on: {resume}" if resume else "Saved."

    def _raise_unsaved(self) -> None:
        if self._unsaved is not None:
            raise self._unsaved

    # Putting a question

    def _put(self, question: Question) -> None:
        """Put a question; not again in full when it stands already."""
        if question == self._standing:
            return
        self._standing = question
        number = len(self.walker.way) + 1
        places = [step.place for step in self.walker.way]
        if question.place in places:
            number = places.index(question.place) + 1
        takes = minutes_in_words(float(question.minutes))
        self.talk.say("")
        if question.title != self._title:
            self._title = question.title
            self.talk.say(question.title)
        self.talk.say(f"Question {number}. {question.ask} ({takes})")
        self.talk.say(*(f"Beware: {text}" for text in question.caution))
        if question.opening:
            self.talk.say(f"First: {'; '.join(question.opening)}.")
        self.talk.say(*question.how)
        given = {question.previous} if question.previous is not None else set()
        rows = []
        for place, choice in enumerate(question.answers, 1):
            key = f"choose {place}" if question.reading else str(place)
            rows.append((key, choice.says + (" (your answer before)" if choice.name in given else "")))
        rows.append(("t", "Can't tell" + (" (your answer before)" if question.could_not_tell else "")))
        if question.reading is not None:
            example = f", for example {question.reading.example}" if question.reading.example else ""
            self.talk.say(f"{question.reading.title}: type what you measured{example}. Or:")
        self.talk.say_choices(rows)
        if self.walker.revisiting:
            self.talk.say("Enter keeps the answer as it was.")

    # Taking what was typed

    def _take(self, line: str, question: Question | None) -> bool:
        """Do what a line wants; False to leave."""
        if len(line) > MOST_LETTERS:
            self.talk.say(f"That line is too long: {MOST_LETTERS:,} letters at most.")
            return True
        typed = understand(line)
        if question is not None and line.casefold() in {each.says.casefold() for each in question.answers}:
            # An answer in its own words is that answer, even where its first word is a verb.
            typed = Typed("", line)
        if typed.verb == "quit":
            return False
        odd, self._odd = self._odd, None
        try:
            if question is not None and not typed.verb:
                self._answer(question, typed.rest, odd)
            elif not self._verb(typed, question):
                self.talk.say("Type ? for help.")
            self._unsaved = None
        except CannotWriteError as error:
            self._unsaved = error
            self.talk.say(str(error))
        except ExpectedError as error:
            self.talk.say(str(error))
        return not self._left

    def _answer(self, question: Question, said: str, odd: str | None) -> None:
        if not said:
            if self.walker.revisiting:
                self.walker.forward()
            else:
                self.talk.say("Type the number of your answer, or ? for help.")
            return
        if odd is not None and said.casefold() in {"yes", "y"}:
            self._enter(question, odd, sure=True)
            return
        if odd is not None and said.casefold() in {"no", "n"}:
            self.talk.say("Not taken. Measure again and type the value, or type choose and a number.")
            return
        if question.reading is None and said.isdecimal():
            self._choose(question, said)
            return
        near = meant({choice.name: choice.says for choice in question.answers}, said)
        if question.reading is not None and (len(near) != 1 or any(map(str.isdecimal, said))):
            self._enter(question, said)
        elif len(near) == 1:
            self._give(question, near[0])
        else:
            self.talk.say(f"'{said}' is none of the answers. Type a number, or ? for help.")

    def _choose(self, question: Question, said: str) -> None:
        if not said.isdecimal():
            self.talk.say(f"Type choose and a number from 1 to {len(question.answers)}.")
            return
        number = int(said) if len(said) < 4 else 0
        if not 1 <= number <= len(question.answers):
            self.talk.say(f"There is no answer {said}. Type a number from 1 to {len(question.answers)}.")
            return
        self._give(question, question.answers[number - 1].name)

    def _give(self, question: Question, name: str) -> None:
        choice = next(each for each in question.answers if each.name == name)
        self.walker.answer(name)
        self.talk.say(f"Answered: {sentence(choice.says)}")
        self._say_meaning(choice)
        self._tell()

    def _say_meaning(self, choice: Choice) -> None:
        """Say what to take care of after an answer, and what it means."""
        self.talk.say(*(f"Beware: {text}" for text in choice.caution))
        if choice.note:
            self.talk.say(choice.note)

    def _enter(self, question: Question, text: str, sure: bool = False) -> None:
        entered = self.walker.enter_reading(text, sure)
        if not entered.taken:
            self._odd = text
            self.talk.say(f"{entered.measured.odd} Type yes to take it, or measure again.")
            return
        self.talk.say(f"Measured: {sentence(entered.measured.says)}")
        self._say_meaning(next(each for each in question.answers if each.name == entered.answer))
        self._tell()

    def _cannot_tell(self) -> None:
        self.walker.cannot_tell()
        self.talk.say("Answered: can't tell.")
        self._tell()

    def _tell(self) -> None:
        """Say what changed, what is likeliest, what was skipped, and where to stop work."""
        self.talk.say(*filter(None, [self.walker.change, likely_now(self.walker)]))
        for each in self.walker.skipped:
            if each.place not in self._skipped_told and each.place not in self.walker.case.given:
                self._skipped_told.add(each.place)
                self.talk.say(f"Not asked: {each.asked} {each.reason}")
        for stop in self.walker.stops:
            if stop not in self._stops_told:
                self._stops_told.add(stop)
                self.talk.say(f"STOP. {stop[1]}")
        self._tell_misfit()
        self._advise()

    def _tell_misfit(self) -> None:
        """Say once which answer does not fit the others, and how to go back to it."""
        view = self.walker.view
        if view.suspect is None or view.conflict is None:
            return
        places = [step.place for step in self.walker.way]
        key = (view.suspect, view.conflict.suspect)
        if key not in self._told and view.suspect in places:
            self._told.add(key)
            number = places.index(view.suspect) + 1
            self.talk.say(f"{view.conflict.reason} Type jump {number} to go back to it.")

    def _advise(self) -> None:
        """Say once for each complaint and repair that fixing is cheaper than asking on."""
        if self._costs is None or self.walker.case.asking_on:
            return
        advice = self.walker.view.advice(self._costs)
        if advice is not None and advice.stop and (advice.symptom, advice.start) not in self._told:
            self._told.add((advice.symptom, advice.start))
            self.talk.say(f"{advice.reason} Type stop to do so, or answer on.")

    def _verb(self, typed: Typed, question: Question | None) -> bool:
        """Do what a verb wants; False if there is no such verb now."""
        verb, rest = typed.verb, typed.rest
        if verb == "tell":
            self._cannot_tell()
        elif verb == "choose" and question is not None:
            self._choose(question, rest)
        elif verb == "help":
            self.talk.say_choices(help_of(HELP if question is not None else END_HELP, self.walker.keeps))
        elif verb == "complaints":
            self._left = not choose_complaints(self.walker, self.talk)
            self._standing = None
        elif verb == "again":
            self._standing = None
        else:
            return self._asides.take(typed, question) or self._end.take(typed, question is None)
        return True
