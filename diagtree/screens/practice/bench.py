"""Practice on the full screen: pages over one machine; knows keys and sizes, and no terminal."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

from diagtree.practice.debrief import Debrief
from diagtree.practice.play import Choice, Play
from diagtree.practice.telling import ended, minutes
from diagtree.reasoning.why import out_of_100
from diagtree.screens.bench.entry_pages import EntryPage
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.guard import Clock
from diagtree.screens.bench.page import Frame, Page
from diagtree.screens.bench.reading_pages import ChoicePage, Option, Paragraph, TextPage
from diagtree.screens.bench.stack import Stack
from diagtree.screens.bench.state import Hint
from diagtree.screens.practice.debrief_page import DebriefPage
from diagtree.screens.practice.machine_page import MachinePage

GAP = Paragraph("")

KEYS = (
    ("1 to 9", "do that check; it costs its minutes and its opening work"),
    ("up, down", "move; Enter does the check under the cursor"),
    ("f", "name the fault"),
    ("i", "how the check under the cursor is done"),
    ("w", "the checks so far"),
    ("l", "what was seen and told at the start"),
    ("r", "what is likely now, where the level shows it"),
    ("g", "give up and see what it was"),
    ("q q", "leave; what was done is kept, and the machine waits"),
    ("Ctrl-C", "leave at once; what was done is kept"),
)


class _Before(TextPage):
    """A text that is read before something else goes on."""

    def around(self, width: int, glyphs: Glyphs) -> Frame:
        """Say that it goes on behind it."""
        return replace(
            super().around(width, glyphs), hints=(Hint("Enter", "go on"), Hint("up down", "scroll"))
        )


class PracticeBench(Stack):
    """The pages over one machine.

    Parameters
    ----------
    play
        The machine.
    learner
        Who practises.
    at_end
        Called once at the end: keeps the result and returns the debrief.
    clock
        Seconds that only go forward.
    """

    def __init__(
        self, play: Play, learner: str, at_end: Callable[[], Debrief], clock: Clock = time.monotonic
    ) -> None:
        super().__init__(clock)
        self.play = play
        self.result: int | None = None
        """The exit status once it is left."""
        self.debrief: Debrief | None = None
        self._learner = learner
        self._at_end = at_end
        self._base: Page = MachinePage(self)
        self._asked = -1
        self._greet()
        self._settle()

    @property
    def base(self) -> Page:
        """The page that the practice has come to."""
        return self._base

    def _interrupt(self) -> None:
        self.result = 0 if self.debrief is not None else 130

    def _settle(self) -> None:
        """Show what the machine has come to; hold keys back if it is something new."""
        if self.play.stage == "work" and self._asked != len(self.play.told):
            self._asked = len(self.play.told)
            self._over = [page for page in self._over if isinstance(page, TextPage)]
            self._base = self._work_page()
            before = self.play.told[-1] if self.play.told else None
            if before is not None:
                self._base.message = f"{'Right' if before.right else 'No'}: {ended(before.quiz.right)}"
            else:
                self._tell_cause()
        if self.play.stage == "end" and self.debrief is None:
            self.debrief = self._at_end()
            self._over.clear()
            self._base = DebriefPage(self.play, self.debrief, self.leave)
        self._hold_back()

    # What pages ask of it

    def do(self, choice: Choice) -> None:
        """Do a check and say what it answers."""
        step = self.play.check(choice.symptom, choice.check)
        self.page.message = f"{ended(step.says)} ({minutes(step.minutes)})"
        if step.stop:
            said = [Paragraph(step.ask, "complaint"), Paragraph(step.says, "question"), GAP]
            self.read("Stop work", [*said, Paragraph(f"! {step.stop}", "caution")])

    def how(self, choice: Choice) -> None:
        """Say how a check is done."""
        said = [Paragraph(choice.ask, "question"), GAP]
        said += [Paragraph(f"! {text}", "caution") for text in choice.caution]
        said += [Paragraph(text, "how") for text in choice.how] or [
            Paragraph("Nothing more is said about how to do it.", "quiet")
        ]
        if choice.opening:
            said += [GAP, Paragraph(f"Done first: {'; '.join(choice.opening)}.")]
        self.read("How it is done", said)

    def name(self) -> None:
        """Choose the cause behind the next complaint; then ask whether that is meant."""
        symptom = self.play.unnamed[0]
        causes = self.play.causes(symptom)

        def choose(number: int) -> None:
            cause, title = causes[number]

            def sure(yes: int) -> None:
                self.close()
                if yes:
                    self.close()
                    self.play.name(symptom, cause)
                    if self.play.unnamed:
                        self.name()

            options = [Option("No, go back"), Option("Yes", "It cannot be taken back.")]
            self.show(ChoicePage(f"It is: {title}?", options, sure, self.close))

        options = [Option(title) for _, title in causes]
        intro = ended(self.play.library.trees[symptom].title)
        self.show(ChoicePage("What is behind it?", options, choose, self.close, intro=intro))

    def give_up(self) -> None:
        """Ask before the machine is given up."""

        def choose(yes: int) -> None:
            self.close()
            if yes:
                self.play.give_up()

        options = [Option("No, go on"), Option("Yes", "You will see what it was; no points.")]
        self.show(ChoicePage("Give up?", options, choose, self.close))

    def _work_page(self) -> Page:
        """Ask the next question about the work."""
        quiz = self.play.question
        if quiz is None:  # pragma: no cover - asked only while there is one
            raise RuntimeError("no question")
        number = f"The work, {len(self.play.told) + 1} of {len(self.play.questions)}"

        def pass_over(_: Page | None = None) -> None:
            if self.play.question is quiz:
                self.play.answer("")

        if quiz.choices:
            options = [Option(choice) for choice in quiz.choices]
            return ChoicePage(number, options, lambda n: self._answer(str(n + 1)), pass_over, intro=quiz.ask)
        prompt = [quiz.ask, "For example: 5 N·m. Esc passes it over."]
        return EntryPage(number, prompt, self._answer, pass_over)

    def _answer(self, given: str) -> None:
        self.play.answer(given)

    def _tell_cause(self) -> None:
        causes = dict.fromkeys(self.play.machine.causes.values())
        said = [Paragraph(ended(self.play.library.causes[cause].title), "question") for cause in causes]
        said += [GAP, Paragraph("Now the work: how tight, and what goes in?", "how")]
        self.show(_Before("It was", said, self.close))

    # What can be read

    def _greet(self) -> None:
        play, machine = self.play, self.play.machine
        said = [Paragraph(f"Learner: {self._learner}. {machine.level.says}", "quiet"), GAP]
        for symptom in machine.complaints:
            tree = play.library.trees[symptom]
            said.append(Paragraph(ended(tree.title), "question"))
            said += [Paragraph(f"! {text}", "caution") for text in tree.caution]
        said += [GAP, *self._look_lines(), GAP]
        said.append(Paragraph("Find what is behind it in as few minutes as you can.", "how"))
        if play.steps:
            said.append(Paragraph(f"Taken up again after {minutes(play.minutes)}.", "how"))
        self.show(_Before(f"A {play.library.machine.one} comes in that is not there", said, self.close))

    def _look_lines(self) -> list[Paragraph]:
        said = [Paragraph("Seen and told", "heading")] if self.play.looks else []
        return said + [Paragraph(f"{ask} {ended(says)}") for ask, says in self.play.looks]

    def looks(self) -> None:
        """Show the complaint and what was seen at the start."""
        titles = [self.play.library.trees[symptom].title for symptom in self.play.machine.complaints]
        self.read(
            "The complaint", [*(Paragraph(ended(t), "question") for t in titles), GAP, *self._look_lines()]
        )

    def way(self) -> None:
        """Show the checks so far."""
        said = [
            Paragraph(f"{step.ask} {ended(step.says)} ({minutes(step.minutes)})", "", f"{number:2d} ")
            for number, step in enumerate(self.play.steps, 1)
        ]
        self.read("Way so far", said or [Paragraph("Nothing was checked yet.", "quiet")])

    def likely(self) -> None:
        """Show what is likely, where the level does."""
        if not self.play.machine.level.ranking:
            self.page.message = "At this level what is likely is shown at the end."
            return
        said: list[Paragraph] = []
        causes = self.play.library.causes
        for symptom in self.play.unnamed:
            said.append(Paragraph(ended(self.play.library.trees[symptom].title), "complaint"))
            said += [
                Paragraph(f"{causes[cause].title}, {out_of_100(chance)}")
                for cause, chance in self.play.belief.ranking(symptom)
            ]
        self.read("Likely now", said)

    def help(self) -> None:
        """Say what the keys do."""
        self.read("Keys", [Paragraph(does, "", f"{key:10}") for key, does in KEYS])

    def leave_when_pressed_twice(self) -> None:
        """Leave at the second press."""
        if self._leaving:
            self.result = 3
            return
        self._leaving = True
        self.page.message = "Leave? What was done is kept. Press q again to leave."

    def leave(self) -> None:
        """Leave at the end."""
        self.result = 0
