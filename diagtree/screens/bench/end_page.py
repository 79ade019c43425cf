"""The page at the end: verdicts, price, jobs to tick off, torques as done, papers, hand over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError
from diagtree.screens.bench import end_actions
from diagtree.screens.bench.end_list import EndList, work_of
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import line, wrap
from diagtree.screens.bench.page import Entry, Frame, ListPage
from diagtree.screens.bench.state import Hint

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
    Hint("y", "why a cause"),
    Hint("?", "help"),
)


class EndPage(ListPage):
    """All that follows from the answers, on a page that scrolls."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self._key: object = None
        self._work: Work | None = None
        self._fault = ""

    def seen(self) -> object:
        """Whatever was entered is something new: a bouncing key must not take it back."""
        return (type(self), self._bench.walker.case.count)

    @property
    def work(self) -> Work | None:
        """The work, worked out afresh when something that it depends on has changed."""
        key = self._dependence()
        if key != self._key:
            self._key = key
            self._fault = ""
            try:
                self._work = work_of(self._bench.walker, self._bench.workshop)
            except ExpectedError as error:
                self._work = None
                self._fault = str(error)
        return self._work

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
        if work is None:
            rows = tuple(line(row, "caution") for row in wrap(self._fault, width))
            return [Entry(rows)]
        return EndList(self._bench.walker, work, self.at, width, glyphs).entries(self._bench.papers)

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with the machine and the price."""
        walker = self._bench.walker
        work = self.work
        right = f"{work.estimate.price} {work.estimate.currency}" if work else ""
        title = walker.case.label or f"The work on the {walker.library.machine.one}"
        return Frame(title, right, HINTS, self.message)

    def press(self, key: str) -> None:
        """Move, open, tick."""
        if self.move(key):
            return
        end_actions.press(self._bench, self, key)
