"""Pages to type on: one field, and a question before something odd is taken."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from prompt_toolkit.buffer import Buffer

from diagtree.clean import clean
from diagtree.errors import ExpectedError
from diagtree.screens.bench.compose import LEAST_HEIGHT, LEAST_WIDTH, too_small
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, Picture, cells, line, wrap
from diagtree.screens.bench.page import Frame, Page, frame
from diagtree.screens.bench.state import Hint

LONGEST = 4000
"""Letters in a field at most: as much as any text of an author."""


class Field:
    """A field of one line, edited with the usual keys.

    Examples
    --------
    >>> field = Field("97")
    >>> field.press("home"); field.press("1"); field.text
    True
    True
    '197'
    """

    def __init__(self, text: str = "") -> None:
        self._buffer = Buffer(multiline=False)
        self.insert(text)

    @property
    def text(self) -> str:
        """What stands in it."""
        return self._buffer.text

    def clear(self) -> None:
        """Empty it."""
        self._buffer.reset()

    def press(self, key: str) -> bool:
        """Take a key; True if it was one for a field."""
        buffer = self._buffer
        if len(key) == 1:
            self.insert(key)
            return True
        if key == "backspace":
            buffer.delete_before_cursor()
        elif key == "delete":
            buffer.delete()
        elif key == "left":
            buffer.cursor_left()
        elif key == "right":
            buffer.cursor_right()
        elif key == "home":
            buffer.cursor_position = 0
        elif key == "end":
            buffer.cursor_position = len(buffer.text)
        elif key == "c-u":
            buffer.delete_before_cursor(buffer.cursor_position)
        elif key == "c-w":
            head = buffer.document.text_before_cursor.rstrip()
            buffer.delete_before_cursor(buffer.cursor_position - (head.rfind(" ") + 1))
        else:
            return False
        return True

    def insert(self, text: str) -> None:
        """Put text in at the cursor; line ends become spaces, what could steer the terminal is shown."""
        self._buffer.insert_text(clean(text)[: max(LONGEST - len(self._buffer.text), 0)])

    def row(self, width: int, label: str = "") -> tuple[Line, int]:
        """Draw it in one row of a width; the second value is the column of the cursor.

        A text that is longer than the row is scrolled so that the cursor stays in sight.
        """
        rows, (column, _) = self.rows(width, 1, label)
        return rows[0], column

    def rows(self, width: int, most: int, label: str = "") -> tuple[list[Line], tuple[int, int]]:
        """Draw it in as many rows as it takes, at most so many; the second value is the cursor's place.

        What has no room is scrolled so that the cursor stays in sight.
        """
        if most == 1:
            return self._scrolled(width, label)
        room = max(width - cells(label) - 1, 1)
        texts, used, cursor = [""], 0, (0, 0)
        for place, letter in enumerate([*self._buffer.text, " "]):
            wide = cells(letter)
            if used + wide > room:
                texts.append("")
                used = 0
            if place == self._buffer.cursor_position:
                cursor = (cells(label) + used, len(texts) - 1)
            texts[-1] += letter
            used += wide
        first = max(0, min(cursor[1] - most + 1, len(texts) - most)) if len(texts) > most else 0
        first = max(first, cursor[1] - most + 1)
        drawn: list[Line] = []
        for number, text in enumerate(texts[first : first + most]):
            lead = label if first + number == 0 else " " * cells(label)
            drawn.append((("key", lead), ("field", text + " " * (room + 1 - cells(text)))))
        return drawn, (cursor[0], cursor[1] - first)

    def _scrolled(self, width: int, label: str) -> tuple[list[Line], tuple[int, int]]:
        room = max(width - cells(label), 2)
        text, at = self._buffer.text, self._buffer.cursor_position
        under = cells(text[at]) if at < len(text) else 1
        first, used = at, 0
        while first > 0 and used + cells(text[first - 1]) <= room - under:
            first -= 1
            used += cells(text[first])
        column = cells(label) + used
        last = at
        while last < len(text) and used + cells(text[last]) <= room:
            used += cells(text[last])
            last += 1
        drawn = (("key", label), ("field", text[first:last] + " " * (room - used)))
        return [drawn], (column, 0)


class EntryPage(Page):
    """A page with one field.

    Parameters
    ----------
    title
        Its head.
    prompt
        What to type: each text begins a row.
    take
        Called with what was typed. The page closes then, unless it returns False (something is asked first)
        or raises an `ExpectedError`, which is shown: what was typed is still there.
    close
        Called with the page when it closes.
    text
        What stands in the field at first.
    label
        Stands before the field.
    more
        Where the whole prompt can be read, should the window be too small for it: ``Esc, then i``.
    """

    takes_text = True

    def __init__(
        self,
        title: str,
        prompt: Sequence[str],
        take: Callable[[str], bool | None],
        close: Callable[[Page], None],
        text: str = "",
        label: str = "> ",
        more: str = "",
    ) -> None:
        self._title = title
        self._prompt = tuple(prompt)
        self._take = take
        self._close = close
        self._label = label
        self._more = more
        self.field = Field(text)

    def seen(self) -> object:
        """A new field is something new."""
        return (type(self), self._title)

    def compose(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Draw the prompt with the field under it."""
        if width < LEAST_WIDTH or height < LEAST_HEIGHT:
            return too_small(width, height)
        prompt = [line(row, "how") for text in self._prompt for row in wrap(text, width - 2)]
        room = height - 6
        most = max(1, min(room - 2, room // 2))
        rows, (column, row) = self.field.rows(width - 2, most, self._label)
        above = (*self._fitting(prompt, max(room - 1 - len(rows), 1)), ())
        head = (*above, *rows)
        hints = (Hint("Enter", "take it"), Hint("Esc", "leave it"))
        around = Frame(
            self._title,
            hints=hints,
            message=self.message,
            head=head,
            head_cursor=(column, len(above) + row),
        )
        picture, _ = frame(around, [], 0, None, (width, height), glyphs)
        return picture

    def _fitting(self, prompt: list[Line], room: int) -> list[Line]:
        """Keep the end of a prompt that has no room, which says what to type, and say what is missing."""
        if len(prompt) <= room:
            return prompt
        missing = len(prompt) - room + 1
        where = f": {self._more}" if self._more else ""
        return [line(f"({missing} more lines{where})", "more"), *prompt[missing:]]

    def press(self, key: str) -> None:
        """Edit, take or leave."""
        if key == "enter":
            try:
                if self._take(self.field.text.strip()) is not False:
                    self._close(self)
            except ExpectedError as error:
                self.message = str(error)
        elif key == "escape":
            self._close(self)
        else:
            self.field.press(key)

    def paste(self, text: str) -> None:
        """Put pasted text into the field; it is taken only with Enter."""
        self.field.insert(text)
