"""Practice in plain lines, for pipes, plain terminals and screen readers: numbers and a few words."""

from __future__ import annotations

import io
import shutil
import sys
from collections.abc import Callable, Sequence
from typing import TextIO

from diagtree.clean import clean
from diagtree.errors import CannotWriteError, ExpectedError
from diagtree.practice.debrief import Debrief
from diagtree.practice.play import Choice, Play
from diagtree.practice.quiz import Quiz
from diagtree.practice.telling import minutes, tell
from diagtree.reasoning.why import out_of_100
from diagtree.screens.likeness import alike
from diagtree.screens.line_talk import MOST_LETTERS, Talk
from diagtree.screens.words import sentence

FINISHED, LEFT, INTERRUPTED = 0, 3, 130

HELP = (
    ("1, 2 ...", "do that check; it costs its minutes and its opening work"),
    ("f", "name the fault; f and its words name it at once"),
    ("how N", "how check N is done"),
    ("looks", "what was seen at the start"),
    ("way", "the checks so far"),
    ("likely", "what is likely now, where the level shows it"),
    ("list", "the checks that can be done now; their numbers stay"),
    ("give up", "see what it was"),
    ("quit", "leave; what was done is kept, and the machine waits"),
)


class PracticeLines:
    """The talk over one machine.

    Parameters
    ----------
    play
        The machine.
    learner
        Who practises.
    at_end
        Called once at the end: keeps the result and returns the debrief.
    source, sink
        Where lines come from and go to.
    width
        Cells in a line; None takes the terminal's.
    """

    def __init__(
        self,
        play: Play,
        learner: str,
        at_end: Callable[[], Debrief],
        source: TextIO | None = None,
        sink: TextIO | None = None,
        width: int | None = None,
    ) -> None:
        self.play = play
        self.debrief: Debrief | None = None
        self._learner = learner
        self._at_end = at_end
        self._width = width
        self._sink = sink or sys.stdout
        self._talk = Talk(source or sys.stdin or io.StringIO(), self._sink, width)
        self._listed = False
        self._spent = ""
        self._asked: Quiz | None = None

    def run(self) -> int:
        """Talk until the machine is at its end or somebody leaves.

        Returns
        -------
        int
            0 at the end, 3 if it was left, 130 after Ctrl-C. All moves so far are kept.
        """
        try:
            return self._run()
        except KeyboardInterrupt:
            self._talk.say("", "Left. What was done is kept; the machine waits.")
            return INTERRUPTED

    def _run(self) -> int:
        self._greet()
        while self.play.stage != "end":
            if self.play.stage == "work":
                self._put_work()
            else:
                self._put_checks()
            line = self._talk.ask()
            if line is None or line.casefold() in {"quit", "q", "exit"}:
                self._talk.say("Left. What was done is kept; the machine waits.")
                return LEFT
            if len(line) > MOST_LETTERS:
                self._talk.say(f"That line is too long: {MOST_LETTERS:,} letters at most.")
                continue
            self._take(line)
        self.debrief = self._at_end()
        self._tell(self.debrief)
        return FINISHED

    def _take(self, line: str) -> None:
        try:
            if self.play.stage == "work":
                self._take_work(line)
            else:
                self._take_check(line)
        except CannotWriteError:
            raise
        except ExpectedError as error:
            self._talk.say(str(error))

    # What is said

    def _greet(self) -> None:
        play, machine = self.play, self.play.machine
        one = play.library.machine.one
        self._talk.say(
            f"A {one} comes in that is not there. Level: {machine.level.name}. Seed: {machine.seed}. "
            f"Learner: {self._learner}.",
            machine.level.says,
            "Find what is behind it in as few minutes as you can. Type ? for help, quit to leave.",
            "",
        )
        for symptom in machine.complaints:
            tree = play.library.trees[symptom]
            self._talk.say(f"The complaint: {sentence(tree.title)}", *(f"Beware: {t}" for t in tree.caution))
        self._looks()
        if play.steps:
            self._talk.say("", f"Taken up again after {minutes(play.minutes)}.")
            self._way()

    def _looks(self) -> None:
        if self.play.looks:
            self._talk.say("Seen and told:")
            self._talk.say(*(f"{ask} {sentence(says)}" for ask, says in self.play.looks), indent="  ")

    def _way(self) -> None:
        if not self.play.steps:
            self._talk.say("Nothing was checked yet.")
        for number, step in enumerate(self.play.steps, 1):
            self._talk.say(
                f"{number}. {step.ask} {sentence(step.says)} ({minutes(step.minutes)})", indent="  "
            )

    def _put_checks(self) -> None:
        spent = minutes(self.play.minutes)
        if self._listed:
            if self._spent != spent:
                self._talk.say(f"What next? So far: {spent}. Type list for the checks, f to name the fault.")
            self._spent = spent
            return
        self._listed, self._spent = True, spent
        self._talk.say("", f"What do you do? So far: {spent}.")
        self._talk.say_choices(
            [*((str(one.number), _choice(one)) for one in self.play.choices), ("f", "Name the fault")]
        )

    def _take_check(self, line: str) -> None:
        word, _, rest = line.partition(" ")
        word, choices = word.casefold(), self.play.choices
        if line.isdecimal():
            self._check(choices, line)
        elif word in {"f", "fault", "name"}:
            self._name(rest)
        elif word in {"how", "h", "i"}:
            choice = self._chosen(choices, rest)
            self._talk.say(choice.ask, *(f"Beware: {text}" for text in choice.caution), *choice.how)
            if not choice.how:
                self._talk.say("Nothing more is said about how to do it.")
        elif word in {"looks", "look"}:
            self._looks()
        elif word == "way":
            self._way()
        elif word in {"likely", "l"}:
            self._likely(asked=True)
        elif word in {"again", "list"}:
            self._listed = False
        elif line.casefold() in {"give up", "giveup"}:
            self.play.give_up()
        elif word in {"?", "help"}:
            self._talk.say_choices(HELP)
        elif line:
            self._talk.say(f"'{line}' is none of the checks. Type its number, f, or ? for help.")
        else:
            self._talk.say("Type the number of a check, f to name the fault, or ? for help.")

    def _chosen(self, choices: Sequence[Choice], text: str) -> Choice:
        for choice in choices:
            if text.lstrip("0") == str(choice.number):
                return choice
        raise ExpectedError(f"There is no check {text or 'without a number'} to be done now.", "Type list.")

    def _check(self, choices: Sequence[Choice], text: str) -> None:
        choice = self._chosen(choices, text)
        step = self.play.check(choice.symptom, choice.check)
        if choice.opening:
            self._talk.say(f"First done: {'; '.join(choice.opening)}.")
        self._talk.say(f"{step.ask} {sentence(step.says)} ({minutes(step.minutes)})")
        if step.stop:
            self._talk.say(f"STOP. {step.stop}")
        self._likely(asked=False)

    def _likely(self, asked: bool) -> None:
        if not self.play.machine.level.ranking:
            if asked:
                self._talk.say("At this level what is likely is shown at the end.")
            return
        for symptom in self.play.unnamed:
            ranked = self.play.belief.ranking(symptom)[: None if asked else 3]
            causes = self.play.library.causes
            said = "; ".join(f"{causes[cause].title}, {out_of_100(chance)}" for cause, chance in ranked)
            about = self.play.library.trees[symptom].title if len(self.play.unnamed) > 1 else ""
            self._talk.say(f"Likely now{f' ({about})' if about else ''}: {said}.")

    # Naming the fault

    def _name(self, text: str) -> None:
        for symptom in self.play.unnamed:
            cause = self._asked_for(symptom, text)
            text = ""
            if cause is None:
                self._listed = False
                return
            self.play.name(symptom, cause)
            self._talk.say(f"You say: {sentence(self.play.library.causes[cause].title)}")

    def _asked_for(self, symptom: str, text: str) -> str | None:
        causes = self.play.causes(symptom)
        names = {cause: (title, cause) for cause, title in causes}
        title = self.play.library.trees[symptom].title
        while True:
            found = self._matching(causes, names, text)
            if len(found) == 1:
                return found[0]
            if text:
                self._talk.say(
                    f"'{text}' is none of the causes." if not found else "Several sound like that:"
                )
            else:
                self._talk.say(f"What is behind it: {sentence(title)} Enter goes back to the checks.")
            shown = found or list(names)
            self._talk.say_choices(
                (str(n), title) for n, (cause, title) in enumerate(causes, 1) if cause in shown
            )
            line = self._talk.ask()
            if not line or line.casefold() in {"back", "b", "quit", "q"}:
                return None
            text = line

    def _matching(
        self, causes: Sequence[tuple[str, str]], names: dict[str, tuple[str, str]], text: str
    ) -> list[str]:
        if not text:
            return []
        if text.isdecimal():
            number = int(text) if len(text) < 4 else 0
            return [causes[number - 1][0]] if 1 <= number <= len(causes) else []
        exact = [c for c, titles in names.items() if text.casefold() in map(str.casefold, titles)]
        return exact or [c for c in alike(names, text) if text.casefold() in names[c][0].casefold()]

    # The work and the end

    def _put_work(self) -> None:
        quiz = self.play.question
        if quiz is None or quiz == self._asked:
            return
        if self._asked is None:
            causes = dict.fromkeys(self.play.machine.causes.values())
            titles = "; ".join(self.play.library.causes[cause].title for cause in causes)
            self._talk.say("", f"It was: {sentence(titles)} Now the work. Enter passes a question over.")
        self._asked = quiz
        self._talk.say("", quiz.ask)
        if quiz.choices:
            self._talk.say_choices((str(number), text) for number, text in enumerate(quiz.choices, 1))
        else:
            self._talk.say("Type a torque, for example 5 N·m.")

    def _take_work(self, line: str) -> None:
        if line in {"?", "help"}:
            self._talk.say("Type your answer, or press Enter to pass it over.")
            return
        told = self.play.answer(line)
        self._talk.say(f"{'Right' if told.right else 'It is'}: {sentence(told.quiz.right)}")

    def _tell(self, end: Debrief) -> None:
        width = self._width
        if width is None:
            width = shutil.get_terminal_size().columns - 1 if self._sink.isatty() else 78
        self._talk.say("")
        for said in tell(self.play, end, width):
            if said.kind == "gap":
                self._talk.say("")
            elif said.rows:
                self._sink.write("".join(f"{clean(row)}\n" for row in said.rows))
            elif said.kind == "heading" and "   " in said.text:
                self._sink.write(f"{clean(said.text)}\n")
            else:
                self._talk.say(said.text, indent="   " if said.kind == "quiet" else "")


def _choice(choice: Choice) -> str:
    text = f"{choice.ask} ({minutes(choice.minutes)}"
    if choice.opening:
        text += f", with: {'; '.join(choice.opening)}"
    return f"{text}{'; often misleads' if choice.rough else ''})"
