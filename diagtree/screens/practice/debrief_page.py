"""The last page: the way beside the best one, what each check was worth, what was missed."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.practice.debrief import Debrief
from diagtree.practice.play import Play
from diagtree.practice.telling import tell
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, line, wrap
from diagtree.screens.bench.page import Entry, Frame, ListPage
from diagtree.screens.bench.state import Hint

STYLES = {"title": "question", "heading": "heading", "text": "", "quiet": "quiet", "strong": "key", "gap": ""}


class DebriefPage(ListPage):
    """The debrief; it scrolls.

    Parameters
    ----------
    play
        The machine.
    end
        Its debrief.
    leave
        Called when it is left.
    """

    def __init__(self, play: Play, end: Debrief, leave: Callable[[], None]) -> None:
        super().__init__()
        self._play = play
        self._end = end
        self._leave = leave

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:  # noqa: ARG002 - words do here
        """Set the debrief in a width."""
        found: list[Entry] = []
        for said in tell(self._play, self._end, width):
            style = STYLES[said.kind]
            rows: tuple[Line, ...]
            if said.kind == "gap":
                rows = ((),)
            elif said.rows:
                rows = tuple(line(row, style) for row in said.rows)
            elif said.kind == "heading":
                rows = (
                    (line(said.text, style),)
                    if len(said.text) <= width
                    else _wrapped(said.text, style, width)
                )
            else:
                rows = _wrapped(said.text, style, width, "   " if said.kind == "quiet" else "")
            found.append(Entry(rows))
        return found

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with the points."""
        hints = (Hint("up down", "scroll"), Hint("space", "page"), Hint("q", "leave"))
        return Frame("What it was", f"{self._end.score.total} points", hints, self.message)

    def press(self, key: str) -> None:
        """Scroll, or leave."""
        if key == " ":
            key = "pagedown"
        if not self.move(key) and key == "q":
            self._leave()


def _wrapped(text: str, style: str, width: int, lead: str = "") -> tuple[Line, ...]:
    return tuple(line(lead + row, style) for row in wrap(text, max(width - len(lead), 2)))
