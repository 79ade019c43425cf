"""The bench: pages on one another over one walker; knows keys and sizes, and no terminal."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from diagtree.case.question import Choice, Question
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.model.workshop import Workshop
from diagtree.screens import words
from diagtree.screens.bench import explain
from diagtree.screens.bench.advice import Advice
from diagtree.screens.bench.end_page import EndPage
from diagtree.screens.bench.entry_pages import EntryPage
from diagtree.screens.bench.facts import Facts
from diagtree.screens.bench.guard import Clock
from diagtree.screens.bench.page import Page
from diagtree.screens.bench.papers import Papers
from diagtree.screens.bench.question_page import QuestionPage
from diagtree.screens.bench.reading_pages import ChoicePage, Option, Paragraph
from diagtree.screens.bench.stack import Stack
from diagtree.screens.bench.start_pages import LooksPage, StartPage

Left = Literal["done", "left", "interrupted", "signal", "closed"]


@dataclass(frozen=True, slots=True)
class BenchResult:
    """How the bench was left. Whatever it was, everything that was entered is in the case.

    Parameters
    ----------
    left
        ``done``: the questions are at their end. ``left``: with ``q`` before that. ``interrupted``: with
        Ctrl-C. ``signal``: by a signal. ``closed``: the terminal went away.
    exit_code
        0, 3, 130, 128 and the signal's number, 3.
    """

    left: Left
    exit_code: int


AT_THE_FOOT = 90
"""Letters that the foot shows whole in the narrowest window; what is longer gets a page of its own."""


class Bench(Stack):
    """The pages over one walker.

    Parameters
    ----------
    walker
        The case.
    clock
        Seconds that only go forward.
    workshop
        Rates and wrenches for the work at the end; the defaults if None.
    papers
        Writes the papers at the end; None offers none.

    Examples
    --------
    >>> from diagtree.case.log import MemoryLog
    >>> from diagtree.library.library import Library
    >>> bench = Bench(Walker(Library(), MemoryLog()))
    >>> bench.press("c-c"); bench.result
    BenchResult(left='interrupted', exit_code=130)
    """

    def __init__(
        self,
        walker: Walker,
        *,
        clock: Clock = time.monotonic,
        workshop: Workshop | None = None,
        papers: Papers | None = None,
    ) -> None:
        super().__init__(clock)
        self.walker = walker
        self.workshop = workshop or Workshop()
        self.papers = papers
        self.facts = Facts(walker)
        self.result: BenchResult | None = None
        self._advice: Advice | None = None
        self._base: Page | None = None
        self._base_stage = ""
        self._unkept = False
        self._settle()
        if walker.notices:
            self.read("Taken up again", [Paragraph(text) for text in walker.notices])
            self._settle()

    @property
    def base(self) -> Page:
        """The page that the walk has come to."""
        if self._base is None:  # pragma: no cover - settled from the start
            raise RuntimeError("the bench has no page")
        return self._base

    def _interrupt(self) -> None:
        """Leave at once; if the last thing cannot be saved, say so and leave at the second press."""
        try:
            self.keep()
        except ExpectedError as error:
            if not self._unkept:
                self._unkept = True
                self.page.message = f"{error} Ctrl-C again leaves without it."
                return
        self.result = BenchResult("interrupted", 130)

    def keep(self) -> None:
        """Put into the case what stands on the pages only.

        Raises
        ------
        CannotWriteError
            If it could not be saved.
        """
        for page in (self._base, *self._over):
            if page is not None:
                page.keep()

    def _settle(self) -> None:
        """Show the page that the walk has come to; hold keys back if it asks something new."""
        stage = self.facts.stage
        if self._base is None or stage != self._base_stage:
            said = self._base.message if self._base else ""
            self._base_stage = stage
            kinds: dict[str, Callable[[Bench], Page]] = {
                "complaints": StartPage,
                "looks": LooksPage,
                "checks": QuestionPage,
                "end": EndPage,
            }
            came = bool(self._base) and stage == "end"
            self._base = kinds[stage](self)
            self._base.message = said or (self._at_the_end() if came else "")
        self._hold_back()

    def _at_the_end(self) -> str:
        """Say why the work is shown now, and which answers lost their place on the way here."""
        told = f"The questions are at their end. {self.walker.change}"
        return told if self.walker.change else ""

    @property
    def advice(self) -> Advice:
        """What is advised now; nothing while it is still being weighed."""
        if self._advice is None or self._advice.count != self.walker.case.count:
            return Advice(self.walker.case.count)
        return self._advice

    def take_advice(self, advice: Advice) -> None:
        """Show an advice, unless the case has gone on since."""
        self._advice = advice

    # What pages ask of it

    def say(self, text: str) -> None:
        """Say something on the page on top, in one or two sentences."""
        self._settle()
        self.page.message = text

    def confirm(self, question: str, under: str, do: Callable[[], None]) -> None:
        """Ask before something is done; the cursor starts on no."""

        def choose(number: int) -> None:
            self.close()
            if number == 1:
                do()

        options = [Option("No, go back"), Option("Yes", under)]
        self.show(ChoicePage(question, options, choose, self.close))

    def answered(
        self,
        question: Question,
        act: Callable[[], object],
        choice: Choice | None = None,
        page: Page | None = None,
        measured: str = "",
    ) -> None:
        """Give an answer, close the page that it was typed on, say what it means and what to take care of.

        Parameters
        ----------
        question
            The question.
        act
            Puts the answer into the case.
        choice
            The answer; None where nobody could tell.
        page
            The page that it was typed on, if it was.
        measured
            For a reading: the value and the answer that it comes to; said first.
        """
        act()
        if page is not None:
            self.close(page)
        if choice is None:
            return
        cautions = [Paragraph(f"! {text}", "caution") for text in choice.caution]
        meant = [*cautions, *([Paragraph(choice.note, "how")] if choice.note else [])]
        told = " ".join(filter(None, (measured, *(each.text for each in meant))))
        if choice.stop:
            head = [Paragraph(question.ask, "complaint"), Paragraph(measured or choice.says, "question")]
            stop = Paragraph(f"! {choice.stop}", "caution")
            self.read("Stop work", [*head, Paragraph(""), stop, *meant])
        elif meant and len(told) > AT_THE_FOOT:
            self.read(
                "Before you go on", [Paragraph(measured or choice.says, "question"), Paragraph(""), *meant]
            )
        elif told:
            self.say(told)

    def note(self) -> None:
        """Type a note."""
        below = self.page

        def take(text: str) -> None:
            if text:
                self.walker.note(text)
                below.message = "Noted."

        where = "question" if self.walker.question is not None else "case"
        prompt = (f"It is kept with the {where} and printed on the sheet.",)
        self.show(EntryPage("A note", prompt, take, self.close))

    def label(self) -> None:
        """Change what the machine is called."""
        case, machine = self.walker.case, self.walker.library.machine.one

        def take(text: str) -> None:
            self.walker.label(text, case.brief)

        prompt = (f"What is this {machine} called? A colour, a customer, a ticket.",)
        self.show(EntryPage(f"Which {machine} is it?", prompt, take, self.close, case.label))

    def why_question(self, question: Question) -> None:
        """Read what a question would settle, and which repair each answer would put first."""
        from diagtree.work.prices import Prices

        costs = Prices(self.walker.library, self.workshop)
        self.read("Why this question", explain.why_question(self.walker, question, costs))

    def why_cause(self) -> None:
        """Choose a cause, then read what speaks for and against it."""
        causes = explain.likely_causes(self.walker)
        if not causes:
            self.page.message = "Nothing is known yet."
            return

        def choose(number: int) -> None:
            cause = causes[number][0]
            self.read("Why this cause", explain.why_cause(self.walker, cause))

        options = [Option(f"{title}, {text}") for _, title, text in causes]
        self.show(ChoicePage("Why which cause?", options, choose, self.close))

    def what_next(self) -> None:
        """Show what is advised and what could be asked next, and go there if one is chosen."""
        checks = explain.next_checks(self.walker)
        advised = (words.likely_now(self.walker), self.advice.stop, self.advice.misfit, *self.facts.not_asked)
        told = list(filter(None, advised))
        if not checks:
            told.append("Nothing that could be asked now would tell more.")
            self.read("What next?", [Paragraph(each) for text in told for each in (text, "")])
            return

        def go(number: int) -> None:
            self.close()
            self.walker.jump(checks[number].place)

        options = [Option(check.ask, check.says) for check in checks]
        self.show(ChoicePage("What next?", options, go, self.close, intro=" ".join(told)))

    def help(self) -> None:
        """Show what the keys do."""
        self.read("Keys", explain.keys(self.walker.library.machine.one, self.walker.keeps))

    def leave_when_pressed_twice(self, key: str) -> None:
        """Leave at the second press; the first says that everything is saved."""
        if self._leaving:
            done = self.walker.finished
            self.result = BenchResult("done", 0) if done else BenchResult("left", 3)
            return
        self._leaving = True
        saved = "Everything is saved." if self.walker.keeps else "This is a trial: nothing is kept."
        self.page.message = f"Leave? {saved} Press {key} again to leave."

    def started(self, complaints: Sequence[str]) -> None:
        """Take the complaints and begin."""
        self._over.clear()
        self.walker.choose(complaints)
        self._base_stage = ""

    def back_to_start(self) -> None:
        """Add a complaint, or drop one; what was answered is kept."""
        self.show(StartPage(self))

    def looked_around(self) -> None:
        """Go on from the quick looks."""
        self._base_stage = ""
