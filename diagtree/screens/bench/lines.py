"""Lines of styled text, measured in cells of the terminal: wrapped between words, shortened with a sign."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from prompt_toolkit.utils import get_cwidth

from diagtree.clean import clean

Piece = tuple[str, str]
"""A style (the names of classes) and a text."""

Line = tuple[Piece, ...]
"""One row of the screen."""


@dataclass(frozen=True, slots=True)
class Picture:
    """What stands on the screen.

    Parameters
    ----------
    lines
        The rows, top first: as many as the window has, none wider than it.
    cursor
        Column and row of the real cursor, from 0; None hides it.
    """

    lines: tuple[Line, ...]
    cursor: tuple[int, int] | None = None

    @property
    def text(self) -> str:
        """The bare text, a row a line, without spaces at the ends."""
        return "\n".join(plain(line).rstrip() for line in self.lines)


def line(text: str, style: str = "") -> Line:
    """Make a line of one piece; what could steer the terminal is shown instead.

    Examples
    --------
    >>> line("Is it hot?", "question")
    (('question', 'Is it hot?'),)
    """
    return ((style, clean(text)),)


def plain(row: Line) -> str:
    """Return the bare text of a line.

    Examples
    --------
    >>> plain((("bar", "52 %"), ("", " Scale")))
    '52 % Scale'
    """
    return "".join(text for _, text in row)


def cells(text: str) -> int:
    """Count the cells that a text takes.

    Examples
    --------
    >>> cells("Scale"), cells("漢字")
    (5, 4)
    """
    return get_cwidth(text)


@lru_cache(maxsize=2048)
def wrap(text: str, width: int) -> tuple[str, ...]:
    """Break a text into rows between words; only a word wider than a row is broken inside.

    Parameters
    ----------
    text
        Any text; what could steer the terminal is shown instead.
    width
        Cells in a row, at least 2.

    Returns
    -------
    tuple of str
        The rows; at least one.

    Examples
    --------
    >>> wrap("Squeeze it hard and hold it.", 12)
    ('Squeeze it', 'hard and', 'hold it.')
    >>> wrap("漢字漢字漢字", 5)
    ('漢字', '漢字', '漢字')
    """
    rows: list[str] = []
    row, used = "", 0
    for word in clean(text).split():
        wide = get_cwidth(word)
        if row and used + 1 + wide <= width:
            row, used = f"{row} {word}", used + 1 + wide
            continue
        if row:
            rows.append(row)
        while wide > width:
            head = _head(word, width)
            rows.append(head)
            word = word[len(head) :]  # noqa: PLW2901 - what is left of the word goes on the next row
            wide = get_cwidth(word)
        row, used = word, wide
    rows.append(row)
    return tuple(rows)


def wrap_all(texts: Iterable[str], width: int) -> list[str]:
    """Break several texts, each beginning on a row of its own.

    Examples
    --------
    >>> wrap_all(["Fill it half.", "Wait."], 10)
    ['Fill it', 'half.', 'Wait.']
    """
    return [row for text in texts for row in wrap(text, width)]


def shorten(text: str, width: int, sign: str = "…") -> str:
    """Cut a text to a width and say so with a sign.

    Examples
    --------
    >>> shorten("Heating element", 9), shorten("Lid", 9)
    ('Heating …', 'Lid')
    """
    text = clean(text)
    if get_cwidth(text) <= width:
        return text
    return _head(text, max(width - get_cwidth(sign), 0)) + sign


def fill(row: Line, width: int, style: str | None = None) -> Line:
    """Make a line exactly so wide: blanks are added in a style (the last piece's if None), too much is cut.

    Examples
    --------
    >>> fill((("", "Lid"),), 5), fill((("", "Element"),), 5)
    ((('', 'Lid'), ('', '  ')), (('', 'Eleme'),))
    """
    room = width
    kept: list[Piece] = []
    for name, text in row:
        wide = get_cwidth(text)
        if wide > room:
            text = _head(text, room)  # noqa: PLW2901 - the rest has no room
            wide = get_cwidth(text)
            if text:
                kept.append((name, text))
            room -= wide
            break
        kept.append((name, text))
        room -= wide
    if room > 0:
        blank = style if style is not None else (kept[-1][0] if kept else "")
        kept.append((blank, " " * room))
    return tuple(kept)


def beside(left: Sequence[Line], right: Sequence[Line], widths: tuple[int, int], gap: Piece) -> list[Line]:
    """Set two columns side by side with a gap between; the shorter one is filled with blanks.

    Examples
    --------
    >>> [plain(row) for row in beside([line("a")], [line("b"), line("c")], (2, 1), ("", "|"))]
    ['a |b', '  |c']
    """
    rows: list[Line] = []
    for number in range(max(len(left), len(right))):
        first = left[number] if number < len(left) else ()
        second = right[number] if number < len(right) else ()
        rows.append((*fill(first, widths[0], ""), gap, *fill(second, widths[1], "")))
    return rows


def apart(left: Line, right: Line, width: int, style: str = "") -> Line:
    """Set one text at the left edge and one at the right; the left one is cut where they would meet.

    Examples
    --------
    >>> plain(apart(line("no heat"), line("3 answered"), 20))
    'no heat   3 answered'
    """
    wide = sum(get_cwidth(text) for _, text in right)
    if wide > width - 8:
        return fill(left, width, style)
    room = width - wide - (1 if wide else 0)
    head = left
    if sum(get_cwidth(text) for _, text in left) > room:
        name = left[0][0] if left else ""
        head = ((name, shorten(plain(left), room)),)
    return (*fill(head, room, style), *(((style, " "),) if wide else ()), *right)


def _head(text: str, width: int) -> str:
    """Return as many letters as fit."""
    used = 0
    for number, letter in enumerate(text):
        used += get_cwidth(letter)
        if used > width:
            return text[:number]
    return text
