"""Pages to read and to choose on: a text that scrolls, a list of choices."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, cells, line, wrap
from diagtree.screens.bench.page import Entry, Frame, ListPage, marked
from diagtree.screens.bench.state import Hint

LEAVING = frozenset({"escape", "enter", "b", "left", "backspace", "q"})
"""Keys that close a page on which nothing can be lost."""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A text with a style; an empty text makes an empty row.

    Parameters
    ----------
    text, style
        What is said and how it looks.
    lead
        Stands before the first row; the others are set in as far.
    """

    text: str
    style: str = ""
    lead: str = ""


class TextPage(ListPage):
    """A text that scrolls.

    Parameters
    ----------
    title
        Its head.
    paragraphs
        The text.
    close
        Called when it is left.
    """

    def __init__(self, title: str, paragraphs: Sequence[Paragraph], close: Callable[[], None]) -> None:
        super().__init__()
        self._title = title
        self._paragraphs = tuple(paragraphs)
        self._close = close

    def seen(self) -> object:
        """A new text is something new."""
        return (type(self), self._title)

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:  # noqa: ARG002 - the text has no signs
        """Wrap the text."""
        found: list[Entry] = []
        for paragraph in self._paragraphs:
            rows: tuple[Line, ...] = ((),)
            if paragraph.text:
                lead = paragraph.lead
                rows = tuple(
                    (("key", lead if number == 0 else " " * cells(lead)), *line(row, paragraph.style))
                    for number, row in enumerate(wrap(paragraph.text, max(width - cells(lead), 2)))
                )
            found.append(Entry(rows))
        return found

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with its title."""
        hints = (Hint("Enter", "back"), Hint("up down", "scroll"))
        return Frame(self._title, hints=hints, message=self.message)

    def press(self, key: str) -> None:
        """Scroll, or close."""
        if key == " ":
            key = "pagedown"
        if not self.move(key) and key in LEAVING:
            self._close()


@dataclass(frozen=True, slots=True)
class Option:
    """Something to choose, with what is said under it in a quieter voice."""

    text: str
    under: str = ""
    given: bool = False
    heading: str = ""
    """Set on the first option of a group."""


class ChoicePage(ListPage):
    """A list to choose one thing from.

    Parameters
    ----------
    title
        Its head.
    options
        What there is to choose.
    choose
        Called with the number of the option, from 0.
    close
        Called when nothing is chosen.
    at
        The option that the cursor starts on.
    intro
        Said above the list.
    """

    def __init__(
        self,
        title: str,
        options: Sequence[Option],
        choose: Callable[[int], None],
        close: Callable[[], None],
        at: int = 0,
        intro: str = "",
    ) -> None:
        super().__init__()
        self._title = title
        self._options = tuple(options)
        self._choose = choose
        self._close = close
        self._intro = intro
        self.at = at

    def seen(self) -> object:
        """A new list is something new."""
        return (type(self), self._title)

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:  # noqa: ARG002 - words do here
        """Lay the options out; the first nine have a digit."""
        found: list[Entry] = []
        if self._intro:
            found.append(Entry((*(line(row, "how") for row in wrap(self._intro, width)), ())))
        for number, option in enumerate(self._options):
            on = number == self.at
            if option.heading:
                space: tuple[Line, ...] = ((),) if number else ()
                found.append(Entry((*space, line(option.heading, "heading"))))
            digit = f"{number + 1}" if number < 9 else " "
            given = "(*) " if option.given else "( ) " if any(o.given for o in self._options) else ""
            rows = marked(f"{option.text}", on, width, indent=f"{digit} {given}")
            under = tuple(line("    " + row, "quiet") for row in wrap(option.under, width - 4))
            found.append(Entry((*rows, *(under if option.under else ())), (number,)))
        return found

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with its title."""
        hints = (Hint("1-9", "choose"), Hint("Enter", "choose"), Hint("Esc", "back"), Hint("up down", "move"))
        return Frame(self._title, hints=hints, message=self.message)

    def press(self, key: str) -> None:
        """Move, choose or close."""
        if self.move(key):
            return
        if key.isdecimal() and 1 <= int(key) <= min(len(self._options), 9):
            self._choose(int(key) - 1)
        elif key == "enter" and self._options:
            self._choose(max(0, min(self.at, len(self._options) - 1)))
        elif key in {"escape", "b", "left", "backspace", "q"}:
            self._close()
