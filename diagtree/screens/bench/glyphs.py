"""The signs that the screen draws with: one set for terminals that know Unicode, one in plain ASCII."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from prompt_toolkit.utils import get_cwidth


@dataclass(frozen=True, slots=True)
class Glyphs:
    """A set of signs; each is one cell wide.

    Parameters
    ----------
    steps
        A bar's last cell, from the emptiest to the full one.
    empty
        A bar's cell with nothing in it.
    rule
        A line across.
    wall
        A line down between two columns.
    crossing
        Where the line down meets the line across above it.
    rose, fell
        A cause went up or down in the ranking.
    more
        Text was cut here.
    above, below
        There is more above, below.
    dot
        Stands between two short texts.
    ticked, open
        A job that is done, one that is not.
    """

    steps: str
    empty: str
    rule: str
    wall: str
    crossing: str
    rose: str
    fell: str
    more: str
    above: str
    below: str
    dot: str
    ticked: str
    open: str

    def bar(self, chance: float, width: int) -> tuple[str, str]:
        """Draw a bar.

        Parameters
        ----------
        chance
            From 0 to 1.
        width
            Cells for a chance of 1.

        Returns
        -------
        tuple of str
            The filled part and the rest, together as wide as asked for. A chance over nothing always
            shows, one under certainty is never quite full.

        Examples
        --------
        >>> ASCII.bar(0.5, 8), ASCII.bar(0.001, 8), ASCII.bar(0.999, 8)
        (('####', '----'), ('#', '-------'), ('#######', '-'))
        >>> UNICODE.bar(0.55, 10)
        ('█████▌', '····')
        """
        fine = len(self.steps)
        eighths = round(min(max(chance, 0.0), 1.0) * width * fine)
        if chance > 0:
            eighths = max(eighths, 1)
        if chance < 1:
            eighths = min(eighths, width * fine - 1)
        whole, part = divmod(eighths, fine)
        filled = self.steps[-1] * whole + (self.steps[part - 1] if part else "")
        if chance > 0 and not filled:
            filled = self.steps[0]
        return filled, self.empty * (width - len(filled))


UNICODE = Glyphs(
    steps="▏▎▍▌▋▊▉█",
    empty="·",
    rule="─",
    wall="│",
    crossing="┬",
    rose="▲",
    fell="▼",
    more="…",
    above="↑",
    below="↓",
    dot="·",
    ticked="x",
    open=" ",
)
ASCII = Glyphs(
    steps="#",
    empty="-",
    rule="-",
    wall="|",
    crossing="+",
    rose="^",
    fell="v",
    more="~",
    above="^",
    below="v",
    dot="-",
    ticked="x",
    open=" ",
)


_PLAIN_LETTERS = {
    "·": ".",
    "…": "~",
    "–": "-",
    "—": "-",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "°": " ",
    "×": "x",
}


@lru_cache(maxsize=4096)
def in_ascii(text: str) -> str:
    """Write a text with ASCII letters only, each as wide as the one that it stands for.

    Examples
    --------
    >>> in_ascii("5 N·m, 85 °C, Größe, 漢"), in_ascii("plain")
    ('5 N.m, 85  C, Gro?e, ??', 'plain')
    """
    if text.isascii():
        return text
    return "".join(map(_in_ascii, text))


def _in_ascii(letter: str) -> str:
    if letter.isascii():
        return letter
    plain = _PLAIN_LETTERS.get(letter) or unicodedata.normalize("NFKD", letter)[0]
    return plain if plain.isascii() else "?" * get_cwidth(letter)


def glyphs_for(encoding: str | None) -> Glyphs:
    """Choose the signs that an encoding can write.

    Examples
    --------
    >>> glyphs_for("utf-8") is UNICODE, glyphs_for("ascii") is ASCII, glyphs_for(None) is ASCII
    (True, True, True)
    """
    try:
        "█▌▏▲▼─│┬…↑↓·".encode(encoding or "ascii")
    except (LookupError, UnicodeEncodeError):
        return ASCII
    return UNICODE
