"""The page that puts one question: answers under one finger, everything else a letter away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.case.question import Choice, Question
from diagtree.reasoning.effort import opening_jobs
from diagtree.screens.bench import explain
from diagtree.screens.bench.compose import compose
from diagtree.screens.bench.entry_pages import EntryPage, Field
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Picture
from diagtree.screens.bench.page import Page
from diagtree.screens.bench.reading_pages import ChoicePage, Option
from diagtree.screens.bench.state import AnswerRow, BenchState, Hint
from diagtree.screens.words import minutes_in_words

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench

CANNOT_TELL = "I can't tell"
TRUST = {"sure": "", "fair": "", "rough": "The answer often misleads."}

HINTS = (
    Hint("1-9", "answer"),
    Hint("0", "can't tell"),
    Hint("b", "back"),
    Hint("w", "why"),
    Hint("n", "note"),
    Hint("j", "jump"),
    Hint("f", "finish"),
    Hint("q", "leave"),
    Hint("k", "complaints"),
    Hint("y", "why a cause"),
    Hint("x", "what next"),
    Hint("/", "find"),
    Hint("i", "how"),
    Hint("?", "help"),
)
SEARCH_HINTS = (Hint("Enter", "answer"), Hint("Esc", "show all answers"), Hint("up down", "move"))


class QuestionPage(Page):
    """Puts the walker's question."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._search: Field | None = None
        self._asked: object = None
        self.at = 0

    @property
    def takes_text(self) -> bool:  # type: ignore[override]
        """True while an answer is being looked for after ``/``."""
        return self._search is not None

    def seen(self) -> object:
        """The question is what is new."""
        question = self._bench.facts.question
        return (type(self), question.place if question else None)

    # What is shown

    def _question(self) -> Question:
        question = self._bench.facts.question
        if question is None:  # pragma: no cover - the bench shows this page only while there is one
            raise RuntimeError("no question")
        if question.place != self._asked:
            self._asked = question.place
            self._search = None
            self.at = self._first_row(question)
        return question

    @staticmethod
    def _first_row(question: Question) -> int:
        offset = 1 if question.reading else 0
        if question.could_not_tell:
            return offset + len(question.answers)
        for number, choice in enumerate(question.answers):
            if choice.name == question.previous:
                return 0 if question.previous_text else offset + number
        return 0

    def _rows(self, question: Question) -> list[tuple[AnswerRow, Choice | str]]:
        """All rows with what each stands for: a choice, ``measure`` or ``can't tell``."""
        rows: list[tuple[AnswerRow, Choice | str]] = []
        if question.reading:
            text = f"Enter what you measured, for example {question.reading.example}"
            if question.previous_text:
                text = f"Measured: {question.previous_text}. Press r to change it"
            rows.append((AnswerRow("r", text, bool(question.previous_text)), "measure"))
        for number, choice in enumerate(question.answers):
            key = str(number + 1) if number < 9 else ""
            given = choice.name == question.previous and not question.previous_text
            rows.append((AnswerRow(key, choice.says, given), choice))
        rows.append((AnswerRow("0", CANNOT_TELL, question.could_not_tell), "can't tell"))
        return rows

    def _shown(self, question: Question) -> list[tuple[AnswerRow, Choice | str]]:
        rows = self._rows(question)
        if self._search is None:
            return rows
        words = self._search.text.casefold().split()
        return [row for row in rows if all(word in row[0].says.casefold() for word in words)]

    def state(self) -> BenchState:
        """Make the state that is laid out."""
        bench, question = self._bench, self._question()
        shown = self._shown(question)
        self.at = max(0, min(self.at, len(shown) - 1))
        facts = bench.facts
        count = len(facts.way)
        revisiting = bench.walker.revisiting
        advice = bench.advice
        hints: tuple[Hint, ...] = HINTS
        if advice.misfit:
            hints = (Hint("d", "doubtful answer"), *hints)
        if advice.stop:
            hints = (Hint("s", "stop asking"), Hint("a", "ask on"), *hints)
        if self._search is not None:
            hints = SEARCH_HINTS
        elif revisiting:
            hints = (Hint("1-9", "answer"), Hint("right", "leave as it was"), *HINTS[1:])
        return BenchState(
            machine=bench.walker.library.machine.one,
            label=bench.walker.case.label,
            complaint=question.title,
            done="answered before" if revisiting else f"{count} answered",
            question=question.ask,
            how=(*self._first(question), *question.how),
            caution=question.caution,
            aside=self._aside(question),
            answers=tuple(row for row, _ in shown),
            selected=self.at,
            searching=self._search.text if self._search else None,
            ranking=facts.ranking,
            picture=facts.picture,
            way=facts.way,
            hints=hints,
            message=self.message,
            advice=tuple(filter(None, (advice.stop, advice.misfit, *facts.not_asked))),
            change=bench.walker.change,
        )

    def _first(self, question: Question) -> tuple[str, ...]:
        """Say what must be opened first, and what that takes: but not what was opened for a check before."""
        walker = self._bench.walker
        if not question.opening:
            return ()
        library = walker.library

        def opened_for(symptom: str, check: str) -> dict[str, float]:
            return opening_jobs(library, library.trees[symptom].checks[check].behind)

        jobs = opened_for(question.symptom, question.name)
        for each in walker.standing.answers:
            if each != (question.symptom, question.name):
                jobs = {job: minutes for job, minutes in jobs.items() if job not in opened_for(*each)}
        titles = [library.jobs[job].title for job in reversed(jobs)]
        takes = minutes_in_words(round(sum(jobs.values()), 1))
        return (f"First: {'; '.join(titles)} ({takes}).",) if jobs else ()

    def _aside(self, question: Question) -> str:
        takes = minutes_in_words(float(question.minutes or 0))
        parts = [f"About {takes}."]
        if not question.place.is_look:
            check = self._bench.walker.library.trees[question.symptom].checks[question.name]
            parts.append(TRUST[check.trust.value])
        return " ".join(part for part in parts if part)

    def compose(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Lay it out."""
        return compose(self.state(), width, height, glyphs)

    # Keys

    def press(self, key: str) -> None:
        """Take a key."""
        question = self._question()
        if self._move(key, len(self._shown(question))):
            return
        if self._search is not None:
            self._press_searching(key, question)
        elif not self._press_answer(key, question):
            self._press_command(key, question)

    def _move(self, key: str, count: int) -> bool:
        page = 4
        step = {
            "up": -1,
            "down": 1,
            "home": -count,
            "end": count,
            "pageup": -page,
            "pagedown": page,
        }.get(key)
        if step is None:
            return False
        self.at = max(0, min(self.at + step, count - 1))
        return True

    def _press_searching(self, key: str, question: Question) -> None:
        search = self._search
        if search is None:
            return
        if key == "escape" or (key == "backspace" and not search.text):
            self._search = None
            self.at = self._first_row(question)
        elif key == "enter":
            shown = self._shown(question)
            if shown:
                self._search = None
                self._give(shown[min(self.at, len(shown) - 1)][1], question)
        elif search.press(key):
            self.at = 0

    def _press_answer(self, key: str, question: Question) -> bool:
        rows = self._rows(question)
        if key == "enter":
            self._give(rows[max(0, min(self.at, len(rows) - 1))][1], question)
            return True
        if key in {"0", "c"}:
            self._give("can't tell", question)
            return True
        if key.isdecimal() or (key == "r" and question.reading):
            for row, stands_for in rows:
                if row.key == key:
                    self._give(stands_for, question)
                    return True
            self.message = f"There is no answer {key} here."
            return True
        return False

    def _give(self, what: Choice | str, question: Question) -> None:
        bench = self._bench
        if what == "measure":
            self._measure(question)
        elif isinstance(what, Choice):
            bench.answered(question, lambda: bench.walker.answer(what.name), what)
        else:
            bench.answered(question, bench.walker.cannot_tell)

    def _measure(self, question: Question) -> None:
        bench, reading = self._bench, question.reading
        if reading is None:
            return
        prompt = [question.ask, *question.how, f"{reading.title}, in {reading.unit}."]
        if reading.example:
            prompt.append(f"For example: {reading.example}")

        def take(text: str) -> bool:
            entered = bench.walker.try_reading(text)
            choice = next(each for each in question.answers if each.name == entered.answer)

            def keep() -> None:
                measured = f"{entered.measured.says}: {choice.says}"
                bench.answered(
                    question, lambda: bench.walker.enter_reading(text, sure=True), choice, page, measured
                )

            if entered.measured.odd:
                bench.confirm(entered.measured.odd, entered.measured.says, keep)
                return False
            keep()
            return True

        page = EntryPage(
            "What did you measure?", prompt, take, bench.close, question.previous_text, more="Esc, then i"
        )
        bench.show(page)

    def _press_command(self, key: str, question: Question) -> None:
        bench, walker = self._bench, self._bench.walker
        if key in {"b", "left", "backspace"}:
            if not walker.back():
                self.message = "This is the first question."
        elif key == "right" and walker.revisiting:
            walker.forward()
        elif key == "/":
            self._search = Field()
            self.at = 0
        elif key == "j":
            self._jump()
        elif key == "n":
            bench.note()
        elif key == "l":
            bench.label()
        elif key == "i":
            bench.read("The question in full", explain.instructions(walker, question))
        elif key == "w":
            bench.why_question(question)
        elif key == "y":
            bench.why_cause()
        elif key == "x":
            bench.what_next()
        elif key == "k":
            bench.back_to_start()
        elif key == "o":
            self._order()
        elif key == "f":
            self._finish()
        elif key == "s":
            self._stop_asking(question)
        elif key == "a":
            walker.ask_on()
            self.message = "The advice to stop asking is not given again."
        elif key == "d":
            self._doubt()
        elif key == "p":
            bench.read(f"Picture of the {walker.library.machine.one}", explain.picture(walker))
        elif key in {"?", "h", "f1"}:
            bench.help()
        elif key == "q":
            bench.leave_when_pressed_twice(key)

    def _jump(self) -> None:
        bench, walker = self._bench, self._bench.walker
        places = [
            *(step.place for step in walker.way),
            *(skipped.place for skipped in walker.skipped),
            *(lost.place for lost in walker.aside),
        ]
        options = [
            Option(step.asked, step.says + "".join(f" Note: {note}" for note in step.notes))
            for step in walker.way
        ]
        for number, skipped in enumerate(walker.skipped):
            head = "Not asked" if number == 0 else ""
            options.append(Option(skipped.asked, skipped.reason, heading=head))
        for number, lost in enumerate(walker.aside):
            head = "Set aside: no place for it now" if number == 0 else ""
            options.append(Option(lost.asked, lost.says, heading=head))
        if not options:
            self.message = "Nothing is answered yet."
            return

        def go(number: int) -> None:
            bench.close()
            walker.jump(places[number])

        bench.show(
            ChoicePage(
                "Go to which question?",
                options,
                go,
                bench.close,
                at=max(len(walker.way) - 1, 0),
                intro="Later answers are kept where they still fit.",
            )
        )

    def _order(self) -> None:
        bench, walker = self._bench, self._bench.walker

        def choose(number: int) -> None:
            bench.close()
            if number != int(walker.order == "shortest"):
                walker.set_order("shortest" if number else "guided")

        options = [
            Option("Guided", "The author's order, good for learning.", walker.order == "guided"),
            Option("Shortest", "First what leads to a finding soonest.", walker.order == "shortest"),
        ]
        bench.show(
            ChoicePage("In which order?", options, choose, bench.close, at=int(walker.order == "shortest"))
        )

    def _stop_asking(self, question: Question) -> None:
        bench = self._bench
        title = question.title
        if question.place.is_look:
            self.message = "Choose a complaint's question first."
            return

        def stop() -> None:
            bench.walker.finish("the mechanic stopped asking", question.symptom)
            bench.say(f"No more questions about: {title}.")

        under = bench.advice.stop or "Its work is planned with what is known."
        bench.confirm(f"Ask nothing more about: {title}?", under, stop)

    def _doubt(self) -> None:
        suspect = self._bench.advice.suspect
        if suspect is None:
            self.message = "No answer stands out against the others."
        else:
            self._bench.walker.jump(suspect)

    def _finish(self) -> None:
        bench = self._bench
        bench.confirm(
            "End the questions here?",
            "The work is planned with what is known. You can go on asking at any time.",
            bench.walker.finish,
        )
