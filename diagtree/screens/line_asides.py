"""What can be asked for in line mode beside answering: back, why, notes, the way so far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.case.change import ordinal, out_of_100
from diagtree.case.places import Place
from diagtree.case.question import Question
from diagtree.case.walker import Order, Walker
from diagtree.screens.likeness import alike
from diagtree.screens.line_talk import Talk
from diagtree.screens.line_words import Typed
from diagtree.screens.words import picture, sentence, why_cause, why_question

if TYPE_CHECKING:
    from diagtree.reasoning.asking import Costs


class Asides:
    """The verbs that work both while questions are put and at their end.

    Parameters
    ----------
    walker
        The case.
    talk
        The person.
    costs
        What work costs, if that is known: with it the first repair after each answer is told.
    """

    def __init__(self, walker: Walker, talk: Talk, costs: Costs | None = None) -> None:
        self.walker = walker
        self.talk = talk
        self._costs = costs

    def take(self, typed: Typed, question: Question | None) -> bool:
        """Do what a verb wants; False if it is none of these."""
        verb, rest = typed.verb, typed.rest
        if verb == "back":
            if not self.walker.back():
                self.talk.say("There is no question before this one.")
        elif verb == "forward":
            self.walker.forward()
        elif verb == "why":
            self._why(rest, question)
        elif verb == "note":
            self._note(rest)
        elif verb == "jump":
            self._jump(rest)
        elif verb == "way":
            self._say_way()
        elif verb == "order":
            self._order(rest)
        elif verb == "likely":
            self._likely()
        elif verb == "picture":
            self.talk.say(*(picture(self.walker) or ["Nothing is known yet."]))
        elif verb == "label":
            self._label(rest)
        elif verb == "finish":
            if self.walker.finished:
                self.talk.say("The questions are at their end already.")
            else:
                self.walker.finish()
        elif verb == "stop":
            self._stop(question)
        elif verb == "ask on":
            self.walker.ask_on()
            nothing_left = "All that can be asked was asked. Type back to go back to a question."
            self.talk.say(nothing_left if self.walker.finished else "Asking on.")
        else:
            return False
        return True

    def _label(self, rest: str) -> None:
        """Give the machine a label; the word alone only tells the one that it has."""
        if rest:
            self.walker.label(rest)
            self.talk.say(f"Label: {rest}.")
        else:
            self.talk.say(
                f"Label: {self.walker.case.label or 'none'}. To change it, type label and the new one."
            )

    def _stop(self, question: Question | None) -> None:
        if question is None:
            self.talk.say("The questions are at their end already.")
            return
        if question.place.is_look:
            self.talk.say("Nothing is asked about a complaint now. Type finish to end all questions.")
            return
        self.walker.finish("the mechanic stopped asking", question.symptom)
        self.talk.say(f"No more questions about: {question.title}. Type ask on to take them up again.")

    def _why(self, rest: str, question: Question | None) -> None:
        if not rest:
            if question is None:
                self.talk.say("Type why and a cause: why " + (self._first_title() or "CAUSE"))
            else:
                self.talk.say(*why_question(self.walker, question, self._costs))
            return
        cause = self._find_cause(rest)
        if cause is not None:
            self.talk.say(*why_cause(self.walker, cause))

    def _first_title(self) -> str:
        ranking = self.walker.ranking
        return self.walker.library.causes[ranking[0][0]].title.lower() if ranking else ""

    def _find_cause(self, said: str) -> str | None:
        """Find the cause that sounds most like it, first among those that are asked about."""
        causes = self.walker.library.causes
        asked = [cause for cause, _ in self.walker.ranking]
        if said.isdecimal() and len(said) < 4 and 1 <= int(said) <= len(asked):
            return asked[int(said) - 1]
        titles = {name: (cause.title, name, name.partition("/")[2]) for name, cause in causes.items()}
        exact = [name for name in titles if said.casefold() in map(str.casefold, titles[name])]
        found = exact or alike({name: titles[name] for name in asked}, said) or alike(titles, said)
        if found:
            return found[0]
        self.talk.say(f"No cause sounds like '{said}'. Type likely to see them.")
        return None

    def _note(self, rest: str) -> None:
        text = rest or self.talk.ask("note> ") or ""
        if text:
            self.walker.note(text)
            self.talk.say("Noted.")
        else:
            self.talk.say("Nothing noted.")

    def _places(self) -> list[tuple[Place, str]]:
        walker = self.walker
        rows = []
        for step in walker.way:
            notes = "".join(f" Note: {sentence(note)}" for note in step.notes)
            rows.append((step.place, f"{step.asked} {sentence(step.says)}{notes}"))
        rows += [(each.place, f"{each.asked} Not asked. {each.reason}") for each in walker.skipped]
        rows += [
            (step.place, f"{step.asked} {sentence(step.says)} Set aside: it has no place now.")
            for step in walker.aside
        ]
        return rows

    def _say_way(self) -> None:
        rows = self._places()
        if not rows:
            self.talk.say("Nothing has been asked yet.")
            return
        self.talk.say_choices((str(place), text) for place, (_, text) in enumerate(rows, 1))
        for note in self.walker.case.notes:
            if note.place is None:
                self.talk.say(f"Note: {sentence(note.text)}")

    def _jump(self, rest: str) -> None:
        rows = self._places()
        if not rest.isdecimal() or len(rest) > 3 or not 1 <= int(rest) <= len(rows):
            self._say_way()
            if rows:
                self.talk.say(f"Type jump and a number from 1 to {len(rows)}.")
            return
        self.walker.jump(rows[int(rest) - 1][0])

    def _order(self, rest: str) -> None:
        orders: dict[str, Order] = {"guided": "guided", "shortest": "shortest"}
        wanted = orders.get(rest.casefold())
        if wanted is None:
            wanted = "guided" if self.walker.order == "shortest" else "shortest"
        self.walker.set_order(wanted)
        if wanted == "guided":
            self.talk.say("Order: guided, as the author wrote it.")
        else:
            self.talk.say("Order: shortest, first what leads to a finding soonest.")

    def _likely(self) -> None:
        ranking = self.walker.ranking
        if not ranking:
            self.talk.say("Nothing is known yet.")
        causes = self.walker.library.causes
        self.talk.say_choices(
            (ordinal(place), f"{causes[cause].title}, {out_of_100(chance)}")
            for place, (cause, chance) in enumerate(ranking, 1)
        )
