"""Pages on one another: the top one takes the keys, and what is new on the screen holds them back for a moment."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence

from diagtree.errors import ExpectedError
from diagtree.screens.bench.glyphs import UNICODE, Glyphs
from diagtree.screens.bench.guard import Clock, Guard
from diagtree.screens.bench.lines import Picture
from diagtree.screens.bench.page import MOVES, Page
from diagtree.screens.bench.reading_pages import Paragraph, TextPage

UNGUARDED = MOVES | {"escape", "?", "f1"}
"""Keys that decide nothing: taken at once even when the screen has just changed."""


class Stack(ABC):
    """Pages over a page that is always there; knows keys and sizes, and no terminal.

    Parameters
    ----------
    clock
        Seconds that only go forward.
    """

    def __init__(self, clock: Clock) -> None:
        self._guard = Guard(clock)
        self._over: list[Page] = []
        self._leaving = False
        self._seen: object = None

    @property
    @abstractmethod
    def base(self) -> Page:
        """The page under all others."""

    @abstractmethod
    def _settle(self) -> None:
        """Show what things have come to after a key; ends with `_hold_back`."""

    @abstractmethod
    def _interrupt(self) -> None:
        """Leave at once, as Ctrl-C wants."""

    @property
    def page(self) -> Page:
        """The page on top."""
        return self._over[-1] if self._over else self.base

    def compose(self, width: int, height: int, glyphs: Glyphs = UNICODE) -> Picture:
        """Draw the page on top."""
        return self.page.compose(width, height, glyphs)

    def compose_soon(self, width: int, height: int, glyphs: Glyphs = UNICODE) -> Picture:
        """Draw the page on top at once, even if something on it is still to be worked out."""
        page = self.page
        return (page.waiting if page.due else page.compose)(width, height, glyphs)

    def press(self, key: str) -> None:
        """Take a key: a single letter as typed, or a name such as ``up``, ``enter``, ``c-c``.

        Shortly after something new has appeared keys are let go by, unless they only move or a field
        takes them: a burst or a bounce never answers two questions.
        """
        if key == "c-c":
            self._interrupt()
            return
        page = self.page
        if len(key) == 1 and not page.takes_text:
            key = key.lower()
        if not page.takes_text and key not in UNGUARDED and not self._guard.open:
            return
        self._run(page, lambda: page.press(key), key)

    def paste(self, text: str) -> None:
        """Take pasted text: it goes into a field or nowhere."""
        page = self.page
        self._run(page, lambda: page.paste(text), "")

    def _run(self, page: Page, act: Callable[[], None], key: str) -> None:
        said = page.message
        page.message = ""
        if key != "q":
            self._leaving = False
        try:
            act()
        except ExpectedError as error:
            self.page.message = str(error)
        if said and not self.page.message and page is self.page and key in MOVES:
            page.message = said
        self._settle()

    def _hold_back(self) -> None:
        """Let keys go by for a moment if the page on top asks something new."""
        now = (len(self._over), self.page.seen())
        if self._seen is not None and now != self._seen:
            self._guard.close()
        self._seen = now

    # What pages ask of it

    def show(self, page: Page) -> None:
        """Put a page on top."""
        self._over.append(page)

    def close(self, page: Page | None = None) -> None:
        """Take a page away, by default the one on top; the page under all others stays."""
        if page is not None:
            self._over = [each for each in self._over if each is not page]
        elif self._over:
            self._over.pop()

    def read(self, title: str, paragraphs: Sequence[Paragraph]) -> None:
        """Show a text."""
        self.show(TextPage(title, paragraphs, self.close))
