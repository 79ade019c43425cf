"""Reads off the walker what the question screen shows; worked out once after each event of the case."""

from __future__ import annotations

from diagtree.case.places import Place
from diagtree.case.question import Question, Skipped
from diagtree.case.walker import Walker
from diagtree.screens.bench.state import Ranked, Step, Trait

STIRRED = 0.02
"""A chance that moved by less than this is not marked as moved."""


class Facts:
    """What the walker tells, kept until the case changes.

    Parameters
    ----------
    walker
        The case that is walked.
    """

    def __init__(self, walker: Walker) -> None:
        self._walker = walker
        self._count = -1
        self._question: Question | None = None
        self._ranking: tuple[Ranked, ...] = ()
        self._picture: tuple[Trait, ...] = ()
        self._way: tuple[Step, ...] = ()
        self._stage = ""
        self._told: set[Place] = {skipped.place for skipped in walker.skipped}
        self._skipped: tuple[Skipped, ...] = ()
        self._chances: dict[str, float] = {}
        self._about: object = None

    def _refresh(self) -> None:
        walker = self._walker
        if walker.case.count == self._count:
            return
        self._count = walker.case.count
        self._stage = walker.stage
        self._question = walker.question
        # What was answered there before was asked: that it is told anew elsewhere is no news.
        known = self._told | walker.case.given.keys()
        self._skipped = tuple(each for each in walker.skipped if each.place not in known)
        self._told.update(each.place for each in self._skipped)
        self._way = tuple(Step(number, step.asked, step.says) for number, step in enumerate(walker.way, 1))
        self._rank()

    def _rank(self) -> None:
        walker = self._walker
        symptom = self._question.symptom if self._question else ""
        told = walker.view.ranking(symptom)
        about = (symptom, tuple(walker.standing.walks))
        before = self._chances if about == self._about else {}
        now = dict(told)
        ranked = []
        for cause, chance in told:
            change = chance - before.get(cause, chance)
            moved = 0 if abs(change) < STIRRED else (1 if change > 0 else -1)
            ranked.append(Ranked(walker.library.causes[cause].title, chance, moved))
        self._ranking = tuple(ranked)
        if now != self._chances or about != self._about:
            self._chances, self._about = now, about
        traits = []
        belief = walker.view.belief_if_any
        picture = belief.picture if belief is not None else {}
        for name, chances in picture.items():
            condition = walker.library.conditions[name]
            state = max(chances, key=lambda each: chances[each])
            traits.append(Trait(condition.states[state].says, chances[state]))
        self._picture = tuple(traits)

    @property
    def stage(self) -> str:
        """``complaints``, ``looks``, ``checks`` or ``end``."""
        self._refresh()
        return self._stage

    @property
    def question(self) -> Question | None:
        """The question to put now."""
        self._refresh()
        return self._question

    @property
    def ranking(self) -> tuple[Ranked, ...]:
        """Causes behind the complaint that the question belongs to, likeliest first."""
        self._refresh()
        return self._ranking

    @property
    def picture(self) -> tuple[Trait, ...]:
        """How the machine has lived."""
        self._refresh()
        return self._picture

    @property
    def not_asked(self) -> tuple[str, ...]:
        """What the last event made needless to ask, each in a sentence with the reason."""
        self._refresh()
        return tuple(f"Not asked: {each.asked} {each.reason}" for each in self._skipped)

    @property
    def way(self) -> tuple[Step, ...]:
        """The steps so far."""
        self._refresh()
        return self._way
