"""Text in lines: how wide a text is in a terminal or a drawing, and where to break it."""

from __future__ import annotations

import unicodedata


def cells(text: str) -> int:
    """Tell how many cells wide a text is: wide letters take two, marks that sit on others none.

    Examples
    --------
    >>> cells("5 N·m"), cells("漢字"), cells("e\u0301")
    (5, 4, 1)
    """
    if text.isascii():
        return len(text)
    return sum(_cells_of(letter) for letter in text)


def _cells_of(letter: str) -> int:
    if unicodedata.category(letter) in {"Mn", "Me", "Cf", "Cc"}:
        return 0
    return 2 if unicodedata.east_asian_width(letter) in {"W", "F"} else 1


def wrap(text: str, width: int) -> list[str]:
    """Break a text into lines of at most ``width`` cells, between words where it can be done.

    Parameters
    ----------
    text
        The text; line ends in it are kept, runs of spaces become one.
    width
        Cells in a line, 2 or more.

    Returns
    -------
    list of str
        At least one line. No letter but spaces is lost; a word longer than a line is broken.

    Examples
    --------
    >>> wrap("Take the base off and look inside.", 18)
    ['Take the base off', 'and look inside.']
    >>> wrap("漢字漢字漢字", 4)
    ['漢字', '漢字', '漢字']
    """
    return [line for part in text.split("\n") for line in _wrap_one(part, max(2, width))]


def _wrap_one(text: str, width: int) -> list[str]:
    lines: list[str] = []
    line = ""
    for whole in text.split():
        word = whole
        if line and cells(line) + 1 + cells(word) <= width:
            line = f"{line} {word}"
            continue
        if line:
            lines.append(line)
        while cells(word) > width:
            cut = _fits(word, width)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    if line or not lines:
        lines.append(line)
    return lines


def _fits(word: str, width: int) -> int:
    used = 0
    for place, letter in enumerate(word):
        used += _cells_of(letter)
        if used > width:
            return max(1, place)
    return len(word)


def pad(text: str, width: int, right: bool = False) -> str:
    """Fill a text up with spaces to a width in cells; to the right-hand side if ``right``.

    Examples
    --------
    >>> pad("5", 3) + "|", pad("5", 3, right=True) + "|"
    ('5  |', '  5|')
    """
    fill = " " * max(0, width - cells(text))
    return fill + text if right else text + fill
