"""The end of the questions in line mode: what was found, and what is entered while the work is done."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from diagtree.case.events import DONE
from diagtree.case.walker import Walker
from diagtree.screens.line_asides import Asides
from diagtree.screens.line_talk import Talk
from diagtree.screens.line_words import Typed
from diagtree.screens.words import alike, can_be_wished, likely_now
from diagtree.units import parse, plain

if TYPE_CHECKING:
    from diagtree.model.workshop import Workshop


class AtTheEnd:
    """The verbs that make sense once the questions are at their end.

    Parameters
    ----------
    walker
        The case.
    talk
        The person.
    asides
        Finds the cause that was meant.
    workshop
        Whose rates count; None to say nothing of the work.
    """

    def __init__(self, walker: Walker, talk: Talk, asides: Asides, workshop: Workshop | None) -> None:
        self.walker = walker
        self.talk = talk
        self._asides = asides
        self._workshop = workshop
        self._told: object = None

    def put(self) -> str | None:
        """Say how things stand, if that has changed, and take a line; None or empty to go on."""
        walker = self.walker
        case = walker.case
        standing = (walker.evidence, case.overruled, case.wishes, case.agreed)
        if self._told != standing:
            self._told = standing
            self.talk.say("", "The questions are at their end.")
            self.talk.say(*filter(None, [likely_now(walker)]))
            for symptom, walk in walker.standing.walks.items():
                if walk.stuck:
                    self.talk.say(f"{walker.library.trees[symptom].title}: {walk.stuck}")
            if self._workshop is not None:
                from diagtree.screens.line_work import work_lines

                self.talk.say(*work_lines(walker, self._workshop))
        enter = "Enter for the job sheet" if walker.keeps else "Enter ends the trial, back takes it up again"
        self.talk.say(f"{enter}; ? for what else can be done.")
        return self.talk.ask()

    def take(self, typed: Typed, ended: bool) -> bool:
        """Do what a verb wants; False if it is none of these.

        What is found with the machine open can be entered at any time; the rest once the questions have
        ended.
        """
        verb, rest = typed.verb, typed.rest
        doing = {
            "found": lambda: self._found(rest, True),
            "not": lambda: self._found(rest, False),
            "done": lambda: self._tick(rest, True),
            "undone": lambda: self._tick(rest, False),
            "torque": lambda: self._torque(rest),
            "instead": lambda: self._instead(rest),
            "wish": lambda: self._wish(rest, True),
            "unwish": lambda: self._wish(rest, False),
            "agree": lambda: self._agree(rest),
            "hand over": lambda: self._hand_over(rest),
        }.get(verb)
        if doing is None:
            return False
        if ended or verb in {"found", "not"}:
            doing()
        else:
            self.talk.say("That comes when the questions are at their end. Type finish to end them.")
        return True

    def _found(self, rest: str, present: bool) -> None:
        cause = self._asides.find_cause(rest) if rest else None
        if cause is None:
            if not rest:
                self.talk.say("Type found, or not, and the cause.")
            return
        title = self.walker.library.causes[cause].title
        self.walker.found_out(cause, present)
        self.talk.say(f"Entered: {title} {'is there' if present else 'is not there'}.")

    def _tick(self, rest: str, done: bool) -> None:
        job = self._named({name: job.title for name, job in self.walker.library.jobs.items()}, rest, "job")
        if job is not None:
            self.walker.tick(job, done)
            title = self.walker.library.jobs[job].title
            self.talk.say(f"{title}: {'done' if done else 'not done'}.")

    def _torque(self, rest: str) -> None:
        fasteners = {name: each.title for name, each in self.walker.library.fasteners.items()}
        words = rest.split()
        split = next((place for place, word in enumerate(words) if word[:1].isdigit()), len(words))
        if words and words[-1].casefold() == DONE:
            split = len(words) - 1
        said, value = " ".join(words[:split]), " ".join(words[split:])
        if not said or not value:
            self.talk.say("Type torque, the fastener and the value: torque base screw 1.2")
            return
        fastener = self._named(fasteners, said, "fastener")
        if fastener is None:
            return
        if self._by_feel(fastener):
            title, until = fasteners[fastener], self.walker.library.fastener(fastener).until
            if value.casefold() != DONE:
                self.talk.say(f"No torque rules this. Until: {until}. Then type: torque {title.lower()} done")
                return
            self.walker.tighten_by_feel(fastener)
            self.talk.say(f"{title}: done.")
            return
        newton_metres = parse(value, like="N·m").to("N·m").value
        odd = self.walker.outside_range(fastener, newton_metres)
        if odd is not None:
            self.talk.say(f"{odd} Type yes to enter it all the same.")
            if (self.talk.ask() or "").casefold() not in {"yes", "y"}:
                self.talk.say("Not entered.")
                return
        self.walker.tighten(fastener, newton_metres)
        self.talk.say(f"{fasteners[fastener]}: {plain(newton_metres)} N·m entered.")

    def _by_feel(self, fastener: str) -> bool:
        own = self._workshop.torques if self._workshop is not None else {}
        return self.walker.library.fastener(fastener).torque is None and fastener not in own

    def _instead(self, rest: str) -> None:
        library = self.walker.library
        remedy = self._named({name: each.title for name, each in library.remedies.items()}, rest, "remedy")
        if remedy is None:
            return
        cause = next((name for name, each in library.causes.items() if remedy in each.remedies), None)
        part = library.remedies[remedy].part or (library.causes[cause].part if cause else None) or cause
        if part is None:
            self.talk.say("No cause has that remedy.")
            return
        reason = self.talk.ask("why> ") or ""
        self.walker.overrule(part, remedy, reason)
        self.talk.say(f"Instead: {library.remedies[remedy].title}.")

    def _wish(self, rest: str, wanted: bool) -> None:
        titles = can_be_wished(self.walker.library)
        now = self.walker.case.wishes
        among = titles if wanted else {name: titles.get(name, name) for name in now}
        if not wanted and not now:
            self.talk.say("Nothing was wished for.")
            return
        name = self._named(among, rest, "wish")
        if name is None:
            return
        rest_of_them = [each for each in now if each != name]
        self.walker.wish([*rest_of_them, name] if wanted else rest_of_them)
        self.talk.say(f"{'Wanted too' if wanted else 'Taken back'}: {among[name]}.")

    def _agree(self, rest: str) -> None:
        try:
            price = Decimal(rest.replace(",", "."))
        except InvalidOperation:
            price = Decimal("NaN")
        if not price.is_finite() or price < 0:
            self.talk.say("Type agree and the price as a plain number: agree 84.50")
            return
        self.walker.agree(price)
        self.talk.say(f"Agreed: {price:.2f}.")

    def _hand_over(self, rest: str) -> None:
        by = rest or self.talk.ask("your name> ") or ""
        if not by:
            self.talk.say("Not handed over: a name is needed.")
            return
        confirmed = {}
        for symptom in self.walker.standing.walks:
            title = self.walker.library.trees[symptom].title
            self.talk.say(f"{title}: what was it? A cause, or Enter if nobody knows.")
            said = self.talk.ask("it was> ")
            cause = self._asides.find_cause(said) if said else None
            if cause is not None:
                confirmed[symptom] = cause
                self.talk.say(f"Confirmed: {self.walker.library.causes[cause].title}.")
        self.walker.hand_over(by, confirmed)
        self.talk.say(f"Handed over by {by}.")

    def _named(self, titles: Mapping[str, str], said: str, kind: str) -> str | None:
        """Find the one that was meant; ask again in words if there is none or more than one."""
        if not said:
            self.talk.say(f"Which {kind}? Type its name after the word.")
            return None
        low = said.casefold()
        exact = [name for name, title in titles.items() if low in {title.casefold(), name}]
        found = exact or alike({name: (title,) for name, title in titles.items()}, said)
        if not found:
            self.talk.say(f"No {kind} sounds like '{said}'.")
            return None
        return found[0]
