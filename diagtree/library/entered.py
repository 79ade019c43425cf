"""What was entered for a reading, taken apart: helps for those who write readings."""

from __future__ import annotations

import re
from decimal import Decimal

from diagtree.errors import ExpectedError
from diagtree.library.fault import short
from diagtree.units import parse


class NotAReadingError(ExpectedError):
    """A text that does not tell what was to be measured."""


def quoted(text: str) -> str:
    """Say back what was entered, in quotes, on one line, and not all of it if it is long.

    Examples
    --------
    >>> print(quoted("a  lot"))
    'a lot'
    """
    return f"'{short(' '.join(text.split()))}'"


def misread(text: str, what: str, example: str) -> NotAReadingError:
    """Return the error to raise for a text that is something else.

    Parameters
    ----------
    text
        What was entered.
    what
        What was wanted, with its article: ``two sizes``, ``a pressure in a range``.
    example
        A text that is taken.

    Examples
    --------
    >>> print(misread("a lot", "two sizes", "27.0 mm in 27.2 mm"))
    'a lot' is not two sizes. Write it like '27.0 mm in 27.2 mm'.
    """
    return NotAReadingError(f"{quoted(text)} is not {what}.", f"Write it like '{example}'.")


def taken_apart(text: str, pattern: re.Pattern[str], what: str, example: str) -> re.Match[str]:
    """Match the whole of what was entered, runs of blanks as one.

    Parameters
    ----------
    text
        What was entered.
    pattern
        What it must be.
    what, example
        As for `misread`.

    Raises
    ------
    NotAReadingError
        If it does not match.

    Examples
    --------
    >>> taken_apart(" 3  clicks", re.compile(r"(?P<count>[0-9]+) clicks"), "a number of clicks", "3 clicks")["count"]
    '3'
    """
    match = pattern.fullmatch(" ".join(text.split()))
    if match is None:
        raise misread(text, what, example)
    return match


def two(text: str, word: str, what: str, example: str) -> tuple[str, str]:
    """Part what was entered in two: at a word, else at a semicolon, a comma or a stroke.

    A comma or a stroke inside a number parts nothing (``2,5 mm``, ``1/2 in of 1 in``), unless there is nothing
    else to part at: ``25/60 mm``.

    Parameters
    ----------
    text
        What was entered.
    word
        What stands between the two: ``of``; several are told apart by ``|``.
    what, example
        As for `misread`.

    Raises
    ------
    NotAReadingError
        If there are not two.

    Examples
    --------
    >>> two("1/2 in of 2 1/2 in", "of", "two lengths", "25 of 60 mm")
    ('1/2 in', '2 1/2 in')
    >>> two("25/60 mm", "of", "two lengths", "25 of 60 mm")
    ('25', '60 mm')
    """
    said = " ".join(text.split())
    bare = re.fullmatch(r"([\d.,]+)/([\d.,].*)", said)
    for parting in (
        rf"\s*\b(?:{word})\s+(?=[^\w\s]*[\d½⅓⅔¼¾⅛⅜⅝⅞])",
        ";",
        r"(?<!\d),|,(?!\d)",
        r"(?<!\d)/|/(?!\d)",
    ):
        parts = [part.strip() for part in re.split(parting, said, flags=re.IGNORECASE)]
        if len(parts) == 2 and all(parts):
            return parts[0], parts[1]
    if bare is not None:
        return bare[1], bare[2]
    raise misread(text, what, example)


def alike(first: str, second: str, unit: str) -> tuple[Decimal, Decimal]:
    """Read two quantities of one kind, and return their values in a unit.

    The unit may be written once, behind the second: a bare first one has it too.

    Raises
    ------
    diagtree.units.NotAQuantityError
        If one of them is none.

    Examples
    --------
    >>> alike("1", "2 in", "mm")
    (Decimal('25.4'), Decimal('50.8'))
    """
    later = parse(second, like=unit)
    return parse(first, like=later.unit).to(unit).value, later.to(unit).value
