"""What all pages have in common: keys in, a picture out; and lists that scroll."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass

from diagtree.screens.bench import panes
from diagtree.screens.bench.compose import LEAST_HEIGHT, LEAST_WIDTH, too_small
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, Picture, apart, cells, fill, line, shorten, wrap
from diagtree.screens.bench.state import Hint

MOVES = frozenset({"up", "down", "left", "right", "home", "end", "pageup", "pagedown"})
"""Keys that change nothing but the cursor."""


_FAR = 10**6
"""Further than any list is long."""


class Page(ABC):
    """One thing on the screen: it takes keys and can be drawn at any size."""

    takes_text = False
    """True while letters go into a field: then no letter is a command."""

    message = ""
    """Something to say until the next key."""

    @abstractmethod
    def compose(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Draw it."""

    @abstractmethod
    def press(self, key: str) -> None:
        """Take a key: a single letter as typed, or a name such as ``up`` and ``enter``."""

    def paste(self, text: str) -> None:  # noqa: ARG002 - a page with a field takes it
        """Take pasted text; a page without a field only says that it is not an answer."""
        self.message = "Pasted text never answers. Press the key instead."

    def keep(self) -> None:  # noqa: B027 - most pages keep each thing when it is entered
        """Put into the case what would be lost with the page: called before the program is left at once."""

    def seen(self) -> object:
        """Tell what the page asks: when this changes, keys are held back for a moment."""
        return type(self)

    @property
    def due(self) -> bool:
        """True if drawing it would first take a while to work something out."""
        return False

    def settle(self) -> None:  # noqa: B027 - most pages have nothing to work out
        """Work out what is due."""

    def waiting(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Draw it before what is due has been worked out."""
        return self.compose(width, height, glyphs)


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry of a list: its rows, and what it stands for; None if the cursor does not stop at it."""

    rows: tuple[Line, ...]
    stands_for: object = None
    cursor: int = 0
    """Which of its rows the cursor is on."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around a list: its title at the top, at the right how far, at the foot the keys."""

    title: str
    right: str = ""
    hints: tuple[Hint, ...] = ()
    message: str = ""
    head: tuple[Line, ...] = ()
    """Rows that stay above the list while it scrolls."""
    head_cursor: tuple[int, int] | None = None
    """Where the cursor is if it is in the head: in a field."""


def frame(
    around: Frame, rows: Sequence[Line], top: int, cursor: int | None, size: tuple[int, int], glyphs: Glyphs
) -> tuple[Picture, int]:
    """Draw a list that may be longer than the window.

    Parameters
    ----------
    around
        What stands around it.
    rows
        All its rows, wrapped to ``size[0] - 2`` cells.
    top
        The first row that was shown last time.
    cursor
        The row to keep in sight, or None to keep ``top``.
    size
        Width and height of the window.
    glyphs
        The signs.

    Returns
    -------
    Picture and int
        The picture and the first row that is shown now. The rules above and below the list say how many
        rows are out of sight.
    """
    width, height = size
    foot = _foot(around, size)
    room = _room(around, size)
    top = max(0, min(top, len(rows) - room))
    if cursor is not None:
        if cursor < top:
            top = cursor
        elif cursor >= top + room:
            top = cursor - room + 1
    shown = list(rows[top : top + room])
    over, under = top, max(len(rows) - top - room, 0)
    left = line(f" {shorten(around.title, _title_room(around, width), glyphs.more)}", "top.name")
    right = line(around.right + " " if around.right else "", "top")
    screen: list[Line] = [fill(apart(left, right, width, "top"), width, "top")]
    screen += [(("", " "), *row) for row in around.head]
    screen.append(_rule(over, glyphs.above, width, glyphs))
    screen += [(("", " "), *row) for row in shown]
    screen += [()] * (room - len(shown))
    screen.append(_rule(under, glyphs.below, width, glyphs))
    screen += [(("", " "), *row) for row in foot]
    at: tuple[int, int] | None = None
    if around.head_cursor is not None:
        at = (min(around.head_cursor[0] + 1, width - 1), min(around.head_cursor[1] + 1, height - 1))
    elif cursor is not None:
        at = (1, min(2 + len(around.head) + cursor - top, height - 1))
    full = tuple(fill(row, width, "") for row in screen[:height])
    return Picture(full, at), top


def _title_room(around: Frame, width: int) -> int:
    """Count the cells that the title has in the top row."""
    return max(width - cells(around.right) - 4, 8)


def _foot(around: Frame, size: tuple[int, int]) -> list[Line]:
    width, height = size
    return panes.foot(around.hints, around.message, width - 2, 2 if height >= 20 else 1)


def _room(around: Frame, size: tuple[int, int]) -> int:
    """Count the rows that a list has."""
    return max(size[1] - 3 - len(_foot(around, size)) - len(around.head), 1)


def _rule(hidden: int, sign: str, width: int, glyphs: Glyphs) -> Line:
    if not hidden:
        return (("rule", glyphs.rule * width),)
    text = f" {sign} {hidden} more line{'' if hidden == 1 else 's'} "
    return (("rule", glyphs.rule * 2), ("more", text), ("rule", glyphs.rule * (width - 2 - cells(text))))


class ListPage(Page):
    """A page that is a list: the cursor stops at some entries, the rest scrolls with it."""

    def __init__(self) -> None:
        self.at = 0
        """Which of the entries that the cursor stops at."""
        self._top = 0
        self._page = 8
        self._stops = 0
        self._first = self._last = 0
        """The rows of the entry that the cursor is on."""
        self._room = 8
        self._inside: int | None = None
        """The first row to show of an entry that is taller than the window; None: show its beginning."""

    @abstractmethod
    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:
        """Make the entries, wrapped to a width."""

    @abstractmethod
    def around(self, width: int, glyphs: Glyphs) -> Frame:
        """Make what stands around them."""

    def stops(self) -> list[object]:
        """What the cursor can stand on, in order."""
        from diagtree.screens.bench.glyphs import ASCII

        return [entry.stands_for for entry in self.entries(60, ASCII) if entry.stands_for is not None]

    @property
    def chosen(self) -> object:
        """What the cursor stands on; None if there is nothing."""
        stops = self.stops()
        return stops[min(self.at, len(stops) - 1)] if stops else None

    def compose(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Draw the list with the cursor's entry in sight."""
        if width < LEAST_WIDTH or height < LEAST_HEIGHT:
            return too_small(width, height)
        self._page = max(height - 6, 1)
        around = self.around(width - 2, glyphs)
        entries = self.entries(width - 2, glyphs)
        if cells(around.title) > _title_room(around, width):
            # What the top row cuts off is said in full above the list.
            whole = tuple(line(row, "question") for row in wrap(around.title, width - 2))
            entries = [Entry((*whole, ())), *entries]
        stops = [entry for entry in entries if entry.stands_for is not None]
        self._stops = len(stops)
        rows: list[Line] = []
        cursor: int | None = None
        first = last = 0
        self.at = max(0, min(self.at, len(stops) - 1))
        for entry in entries:
            if stops and entry is stops[self.at]:
                first = len(rows)
                cursor = first + entry.cursor
                last = first + len(entry.rows) - 1
            rows += entry.rows
        self._first, self._last, self._room = first, last, _room(around, (width, height))
        # Above the first entry stands its heading, so that an entry may be too tall with it only.
        above = 0 if self.at == 0 else first
        if self._inside is not None and last - above < self._room:
            self._inside = None
        if self._inside is not None:
            # An entry that is taller than the window is read on within.
            self._top = max(first, min(self._inside, last - self._room + 1))
            cursor = max(cursor or 0, self._top)
        elif cursor is not None:
            # Show the whole entry where it fits: bring its last row in sight, then its first, then the cursor.
            for row in (last, first):
                _, self._top = frame(around, rows, self._top, row, (width, height), glyphs)
        if cursor is not None and self.at == 0 and self._inside is None:
            self._top = 0
        picture, self._top = frame(around, rows, self._top, cursor, (width, height), glyphs)
        return picture

    def move(self, key: str) -> bool:
        """Move the cursor, or the text where there is nothing for it to stop at; True if the key did."""
        steps = {
            "up": -1,
            "down": 1,
            "pageup": -self._page,
            "pagedown": self._page,
            "home": -_FAR,
            "end": _FAR,
        }
        if key not in steps:
            return False
        if self._stops and self._read_on(steps[key]):
            return True
        self._inside = None
        if self._stops:
            reach = max(self._page // 2, 1) if key.startswith("page") else None
            step = steps[key] if reach is None else (reach if steps[key] > 0 else -reach)
            self.at = max(0, min(self.at + step, self._stops - 1))
        else:
            self._top = max(0, self._top + steps[key])
        return True

    def _read_on(self, step: int) -> bool:
        """Move within an entry that is taller than the window; True if there was more of it that way."""
        if abs(step) >= _FAR:
            return False
        far = self._room - 1
        if step > 0 and self._last >= self._top + self._room:
            self._inside = self._top + max(far, 1)
            return True
        if step < 0 and self._inside is not None and self._top > self._first:
            self._inside = max(self._top - max(far, 1), self._first)
            return True
        return False


def marked(text: str, on: bool, width: int, style: str = "", indent: str = "") -> tuple[Line, ...]:
    """Lay out an entry of a list: a sign and a style of its own for the one that the cursor is on.

    Examples
    --------
    >>> marked("Fit a new seal", True, 20)[0]
    (('selected', '> Fit a new seal    '),)
    """
    head = f"{'>' if on else ' '} {indent}"
    look = "selected" if on else style
    rows: list[Line] = []
    for number, row in enumerate(wrap(text, max(width - len(head), 2))):
        shown = (head if number == 0 else " " * len(head)) + row
        rows.append(((look, shown + " " * max(width - cells(shown), 0)),))
    return tuple(rows)
