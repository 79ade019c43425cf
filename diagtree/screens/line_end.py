"""The end of the questions in line mode: what was found, and what is entered while the work is done."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from diagtree.case.events import DONE
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.screens import amounts
from diagtree.screens.line_talk import Talk
from diagtree.screens.line_which import which
from diagtree.screens.line_words import Typed
from diagtree.screens.words import can_be_wished, likely_now
from diagtree.screens.worked import chosen_under, still_open, work_of
from diagtree.units import plain

if TYPE_CHECKING:
    from diagtree.model.workshop import Workshop
    from diagtree.work.result import Work

_LIKELY = 8
"""So many causes are offered when a machine is handed over."""


class AtTheEnd:
    """The verbs that make sense once the questions are at their end.

    Parameters
    ----------
    walker
        The case.
    talk
        The person.
    workshop
        Whose rates count; None to say nothing of the work.
    """

    def __init__(self, walker: Walker, talk: Talk, workshop: Workshop | None) -> None:
        self.walker = walker
        self.talk = talk
        self._workshop = workshop
        self._work: Work | None = None
        """What was told last; None if nobody asked for it, or it was refused."""
        self._told: object = None

    def put(self) -> str | None:
        """Say how things stand, if that has changed, and take a line; None or empty to go on."""
        walker = self.walker
        case = walker.case
        standing = (walker.evidence, case.overruled, case.wishes, case.agreed, case.brief)
        if self._told != standing:
            self._told = standing
            self.talk.say("", "The questions are at their end.")
            self.talk.say(*filter(None, [likely_now(walker)]))
            for symptom, walk in walker.standing.walks.items():
                if walk.stuck:
                    self.talk.say(f"{walker.library.trees[symptom].title}: {walk.stuck}")
            self._tell_work()
        enter = "Enter for the job sheet" if walker.keeps else "Enter ends the trial, back takes it up again"
        self.talk.say(f"{enter}; ? for what else can be done.")
        return self.talk.ask()

    def _tell_work(self) -> None:
        if self._workshop is None:
            return
        from diagtree.screens.line_work import work_lines

        try:
            self._work = work_of(self.walker, self._workshop)
        except ExpectedError as error:
            self._work = None
            self.talk.say(str(error))
        else:
            self.talk.say(*work_lines(self.walker.case, self._work))

    def take(self, typed: Typed, ended: bool) -> bool:
        """Do what a verb wants; False if it is none of these.

        What is found with the machine open can be entered at any time; the rest once the questions have
        ended.
        """
        verb, rest = typed.verb, typed.rest
        doing = {
            "found": lambda: self._found(rest, True),
            "not": lambda: self._found(rest, False),
            "unfound": lambda: self._unfound(rest),
            "done": lambda: self._tick(rest, True),
            "undone": lambda: self._tick(rest, False),
            "torque": lambda: self._torque(rest),
            "untorque": lambda: self._untorque(rest),
            "instead": lambda: self._instead(rest),
            "figures": lambda: self._figures(rest),
            "wish": lambda: self._wish(rest, True),
            "unwish": lambda: self._wish(rest, False),
            "scope": lambda: self._scope(rest),
            "agree": lambda: self._agree(rest),
            "hand over": lambda: self._hand_over(rest),
        }.get(verb)
        if doing is None:
            return False
        if ended or verb in {"found", "not", "unfound"}:
            doing()
        else:
            self.talk.say("That comes when the questions are at their end. Type finish to end them.")
        return True

    def _found(self, rest: str, present: bool) -> None:
        if not rest:
            self.talk.say("Type found, or not, and the cause.")
            return
        cause = self._cause(rest)
        if cause is not None:
            self.walker.found_out(cause, present)
            title = self.walker.library.causes[cause].title
            self.talk.say(f"Entered: {title} {'is there' if present else 'is not there'}.")

    def _cause(self, said: str) -> str | None:
        """Find the cause that was meant, first among those that are asked about, by number too."""
        asked = [cause for cause, _ in self.walker.ranking]
        if said.isdecimal() and len(said) < 4 and 1 <= int(said) <= len(asked):
            return asked[int(said) - 1]
        titles = {name: cause.title for name, cause in self.walker.library.causes.items()}
        return which(self.talk, titles, said, "cause", rather=asked)

    def _unfound(self, rest: str) -> None:
        found, causes = self.walker.case.found, self.walker.library.causes
        titles = {name: causes[name].title if name in causes else name for name in found}
        if not titles:
            self.talk.say("Nothing was found yet.")
            return
        cause = self._of_few(titles, rest, "cause")
        if cause is not None:
            self.walker.found_out(cause, None)
            self.talk.say(f"Taken back: {titles[cause]}.")

    def _tick(self, rest: str, done: bool) -> None:
        jobs = self.walker.library.jobs
        job = self._job(rest)
        if job is not None:
            self.walker.tick(job, done)
            self.talk.say(f"{jobs[job].title}: {'done' if done else 'not done'}.")

    def _job(self, said: str) -> str | None:
        """Find the job that was meant, by its number in the plan too, first among those that are planned."""
        planned = [job.job for job in self._work.plan] if self._work is not None else []
        if planned and said.isdecimal():
            if len(said) < 4 and 1 <= int(said) <= len(planned):
                return planned[int(said) - 1]
            self.talk.say(f"There is no job {said} in the plan. Its numbers go from 1 to {len(planned)}.")
            return None
        titles = {name: job.title for name, job in self.walker.library.jobs.items()}
        return which(self.talk, titles, said, "job", rather=planned)

    def _torque(self, rest: str) -> None:
        fasteners = {name: each.title for name, each in self.walker.library.fasteners.items()}
        words = rest.split()
        # The value begins at the last figure: a fastener may have one in its title.
        figures = [place for place, word in enumerate(words) if word[:1].isdigit()]
        split = figures[-1] if figures else len(words)
        if words and words[-1].casefold() == DONE:
            split = len(words) - 1
        said, value = " ".join(words[:split]), " ".join(words[split:])
        if not said or not value:
            example = self._example_of_torque()
            self.talk.say(f"Type torque, the fastener and the value{f': {example}' if example else '.'}")
            return
        touched = [line.fastener for line in self._work.torque_round] if self._work is not None else []
        fastener = which(self.talk, fasteners, said, "fastener", rather=touched)
        if fastener is None:
            return
        own = self._workshop.torques.get(fastener) if self._workshop is not None else None
        if own is None and self.walker.library.fastener(fastener).torque is None:
            self._by_feel(fastener, value)
            return
        newton_metres = amounts.torque(value)
        odd = self.walker.outside_range(fastener, newton_metres, own)
        if odd is not None:
            self.talk.say(f"{odd} Type yes to enter it all the same.")
            if (self.talk.ask() or "").casefold() not in {"yes", "y"}:
                self.talk.say("Not entered.")
                return
        self.walker.tighten(fastener, newton_metres)
        self.talk.say(f"{fasteners[fastener]}: {plain(round(newton_metres, 2))} N·m entered.")

    def _example_of_torque(self) -> str:
        """Make an example of the first fastener of this round, or of the library where there is no round."""
        if self._work is not None and self._work.torque_round:
            first = self._work.torque_round[0]
            return _typed_torque(first.title, first.least, first.most)
        fastener = next(iter(self.walker.library.fasteners.values()), None)
        if fastener is None:
            return ""
        torque = fastener.torque
        return _typed_torque(fastener.title, *((torque.from_, torque.to) if torque else (None, None)))

    def _untorque(self, rest: str) -> None:
        entered, fasteners = self.walker.case.torques, self.walker.library.fasteners
        titles = {name: fasteners[name].title for name in entered if name in fasteners}
        if not titles:
            self.talk.say("No torque was entered yet.")
            return
        fastener = self._of_few(titles, rest, "fastener")
        if fastener is not None:
            self.walker.tighten(fastener, None)
            self.talk.say(f"Taken back: {titles[fastener]}.")

    def _by_feel(self, fastener: str, value: str) -> None:
        """Tick off what no torque rules."""
        entry = self.walker.library.fastener(fastener)
        if value.casefold() != DONE:
            done = f"torque {entry.title.lower()} done"
            self.talk.say(f"No torque rules this. Until: {entry.until}. Then type: {done}")
            return
        self.walker.tighten_by_feel(fastener)
        self.talk.say(f"{entry.title}: done.")

    def _instead(self, rest: str) -> None:
        remedies = self.walker.library.remedies
        offered: dict[str, str] = {}
        if self._work is not None:
            for verdict in self._work.verdicts:
                for option in verdict.options if verdict.cause else ():
                    offered.setdefault(option.remedy, chosen_under(self._work, verdict))
        else:
            offered = _parts_of_remedies(self.walker.library)
        kind = "remedy" if self._work is None else "remedy of these verdicts"
        remedy = which(self.talk, {name: remedies[name].title for name in offered}, rest, kind)
        if remedy is None:
            return
        reason = self.talk.ask("why> ")
        if reason is None:
            self.talk.say("Not chosen.")
            return
        self.walker.overrule(offered[remedy], remedy, reason)
        self.talk.say(f"Instead: {remedies[remedy].title}.")

    def _figures(self, rest: str) -> None:
        chosen, remedies = self.walker.case.overruled, self.walker.library.remedies
        titles = {
            name: remedies[event.remedy].title if event.remedy in remedies else event.remedy
            for name, event in chosen.items()
        }
        if not titles:
            self.talk.say("Nothing was chosen against the figures.")
            return
        name = self._of_few(titles, rest, "remedy")
        if name is not None:
            self.walker.overrule(name, "")
            self.talk.say(f"Taken back: {titles[name]}.")

    def _wish(self, rest: str, wanted: bool) -> None:
        titles = can_be_wished(self.walker.library)
        now = self.walker.case.wishes
        among = titles if wanted else {name: titles.get(name, name) for name in now}
        if not wanted and not now:
            self.talk.say("Nothing was wished for.")
            return
        name = which(self.talk, among, rest, "wish") if wanted else self._of_few(among, rest, "wish")
        if name is None:
            return
        rest_of_them = [each for each in now if each != name]
        self.walker.wish([*rest_of_them, name] if wanted else rest_of_them)
        self.talk.say(f"{'Wanted too' if wanted else 'Taken back'}: {among[name]}.")

    def _of_few(self, titles: Mapping[str, str], rest: str, kind: str) -> str | None:
        """Find the one that is to be taken back; where there is only one it need not be named."""
        return next(iter(titles)) if len(titles) == 1 and not rest else which(self.talk, titles, rest, kind)

    def _scope(self, rest: str) -> None:
        from diagtree.model.workshop import Brief

        briefs = {brief.value: brief for brief in Brief}
        brief = briefs.get(rest.casefold())
        if brief is None:
            self.talk.say(f"Type scope and how much is to be done: {', '.join(briefs)}.")
            return
        self.walker.label(self.walker.case.label, brief.value)
        self.talk.say(f"Scope: {brief.value}.")

    def _agree(self, rest: str) -> None:
        if not rest:
            self.talk.say("Type agree and the price: agree 84.50")
            return
        price = amounts.money(rest, self._workshop.currency if self._workshop is not None else "")
        self.walker.agree(price)
        self.talk.say(f"Agreed: {price:.2f}.")

    def _hand_over(self, rest: str) -> None:
        if self._work is not None:
            self.talk.say(*still_open(self.walker.case, self._work))
        by = rest or self.talk.ask("your name> ") or ""
        if not by:
            self.talk.say("Not handed over: a name is needed.")
            return
        confirmed = {}
        for symptom in self.walker.standing.walks:
            cause = self._what_it_was(symptom)
            if cause is None:
                self.talk.say("Not handed over.")
                return
            if cause:
                confirmed[symptom] = cause
        self.walker.hand_over(by, confirmed)
        self.talk.say(f"Handed over by {by}.")

    def _what_it_was(self, symptom: str) -> str | None:
        """Ask what a complaint turned out to be: an empty text if nobody knows, None if the talk has ended."""
        causes = self.walker.library.causes
        likely = [cause for cause, _ in self.walker.view.ranking(symptom)[:_LIKELY]]
        title = self.walker.library.trees[symptom].title
        self.talk.say(f"{title}: what was it? A number, a cause, or Enter if nobody knows.")
        self.talk.say_choices((str(place), causes[cause].title) for place, cause in enumerate(likely, 1))
        while said := self.talk.ask("it was> "):
            cause: str | None = None
            if said == "?":
                self.talk.say(
                    "Type a number from the list, a cause or words of its title. Enter: nobody knows."
                )
            elif not said.isdecimal():
                cause = self._cause(said)
            elif len(said) < 4 and 1 <= int(said) <= len(likely):
                cause = likely[int(said) - 1]
            else:
                self.talk.say(f"There is no {said} among them.")
            if cause is not None:
                self.talk.say(f"Confirmed: {causes[cause].title}.")
                return cause
        return said


def _typed_torque(title: str, least: Decimal | None, most: Decimal | None) -> str:
    """Write how a torque in the middle of its range is typed, or that it is done where no torque rules."""
    value = plain((least + most) / 2) if least is not None and most is not None else DONE
    return f"torque {title.lower()} {value}"


def _parts_of_remedies(library: Library) -> dict[str, str]:
    """Tell for each remedy the part that it is chosen for; a cause without a part stands for itself."""
    parts: dict[str, str] = {}
    for name, cause in library.causes.items():
        for remedy in cause.remedies:
            if remedy in library.remedies:
                parts.setdefault(remedy, library.remedies[remedy].part or cause.part or name)
    return parts
