"""The page at the end: verdicts, price, jobs to tick off, torques as done, papers, hand over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError
from diagtree.screens.bench import end_actions
from diagtree.screens.bench.end_list import EndList, RefusedList
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Picture, line
from diagtree.screens.bench.page import Entry, Frame, ListPage
from diagtree.screens.bench.state import Hint
from diagtree.screens.worked import work_of

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench
    from diagtree.work.result import Work

HINTS = (
    Hint("Enter", "open or tick"),
    Hint("up down", "move"),
    Hint("b", "back"),
    Hint("m", "found on the way"),
    Hint("a", "ask on"),
    Hint("h", "hand over"),
    Hint("n", "note"),
    Hint("q", "leave"),
    Hint("g", "agreed price"),
    Hint("s", "scope"),
    Hint("w", "wishes"),
    Hint("y", "why a cause"),
    Hint("?", "help"),
)


WAITING = "Working out the work and its price."


class EndPage(ListPage):
    """All that follows from the answers, on a page that scrolls."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self._key: object = None
        self._work: Work | None = None
        self._fault = ""
        self._waits = False

    def seen(self) -> object:
        """Whatever was entered is something new: a bouncing key must not take it back."""
        return (type(self), self._bench.walker.case.count)

    @property
    def due(self) -> bool:
        """True if something that the work depends on has changed."""
        return self._dependence() != self._key

    def settle(self) -> None:
        """Work out what is to be done, and the price."""
        self._key = self._dependence()
        self._fault = ""
        try:
            self._work = work_of(self._bench.walker, self._bench.workshop)
        except ExpectedError as error:
            self._work = None
            self._fault = str(error)

    @property
    def work(self) -> Work | None:
        """The work as it is now; None if it cannot be worked out."""
        if self.due and not self._waits:
            self.settle()
        return self._work

    def waiting(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Draw what was known before, and say that it is being worked out afresh."""
        self._waits = True
        try:
            return self.compose(width, height, glyphs)
        finally:
            self._waits = False

    def _dependence(self) -> object:
        walker = self._bench.walker
        case = walker.case
        return (
            tuple(walker.standing.walks),
            tuple(sorted(walker.standing.looks.items())),
            tuple(sorted(walker.standing.answers.items())),
            tuple(sorted((cause, event.present) for cause, event in case.found.items())),
            tuple(sorted((part, event.remedy) for part, event in case.overruled.items())),
            case.brief,
            case.wishes,
        )

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:
        """Lay all of it out."""
        work = self.work
        if work is None and self._waits:
            return [Entry((line(WAITING, "quiet"),))]
        if work is None:
            return RefusedList(self._bench.walker, self.at, width).entries(self._fault)
        return EndList(self._bench.walker, work, self.at, width, glyphs).entries(self._bench.papers)

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with the machine and the price."""
        walker = self._bench.walker
        work = self.work
        right = f"{work.estimate.price} {work.estimate.currency}" if work else ""
        title = walker.case.label or f"The work on the {walker.library.machine.one}"
        return Frame(title, right, HINTS, WAITING if self._waits and not self.message else self.message)

    def press(self, key: str) -> None:
        """Move, open, tick."""
        if self.move(key):
            return
        end_actions.press(self._bench, self, key)
