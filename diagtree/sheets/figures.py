"""Figures as people read them: chances, money, minutes, torques, dates; and where each comes from."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from diagtree.clean import clean
from diagtree.units import plain


def percents(chances: Sequence[float]) -> list[str]:
    """Give chances that belong together as whole per cents that add up (largest remainder).

    Parameters
    ----------
    chances
        Each from 0 to 1; together at most 1.

    Examples
    --------
    >>> percents([1 / 3, 1 / 3, 1 / 3])
    ['34 %', '33 %', '33 %']
    >>> percents([0.996, 0.004])
    ['over 99 %', 'under 1 %']
    """
    whole = round(sum(chances) * 100)
    parts = [int(chance * 100) for chance in chances]
    order = sorted(range(len(chances)), key=lambda place: (parts[place] - chances[place] * 100, place))
    for place in order[: max(0, whole - sum(parts))]:
        parts[place] += 1
    return [
        "under 1 %" if part == 0 else "over 99 %" if part == 100 and chance < 1 else f"{part} %"
        for part, chance in zip(parts, chances, strict=True)
    ]


def percent(chance: float) -> str:
    """Give one chance as a whole per cent; nothing is ever called impossible or certain.

    Examples
    --------
    >>> percent(0.384), percent(0.0001), percent(0.9999), percent(1.0)
    ('38 %', 'under 1 %', 'over 99 %', '100 %')
    """
    if chance >= 1:
        return "100 %"
    if chance > 0.995:
        return "over 99 %"
    return "under 1 %" if chance < 0.005 else f"{chance * 100:.0f} %"


def money(amount: Decimal, currency: str = "") -> str:
    """Give an amount with two places, and the currency before it.

    Examples
    --------
    >>> money(Decimal("1234.5"), "EUR"), money(Decimal("-0.02"))
    ('EUR 1234.50', '-0.02')
    """
    text = f"{amount.quantize(Decimal('0.01'), rounding=ROUND_HALF_UP):f}"
    return f"{currency} {text}" if currency else text


def number(value: Decimal) -> str:
    """Give a number without idle zeros.

    Examples
    --------
    >>> number(Decimal("2.50")), number(Decimal("40")), number(Decimal("1E+2"))
    ('2.5', '40', '100')
    """
    return plain(value)


def span(least: Decimal, most: Decimal) -> str:
    """Give a range.

    Examples
    --------
    >>> span(Decimal("4"), Decimal("6")), span(Decimal("1.0"), Decimal("1.4")), span(Decimal(40), Decimal(40))
    ('4–6', '1–1.4', '40')
    """
    return number(least) if least == most else f"{number(least)}–{number(most)}"


def hours(minutes: float) -> str:
    """Give minutes as people say them.

    Examples
    --------
    >>> hours(8.4), hours(60), hours(135.2)
    ('8 min', '1 h', '2 h 15 min')
    """
    whole = max(1, round(minutes)) if minutes > 0 else 0
    full, rest = divmod(whole, 60)
    if not full:
        return f"{rest} min"
    return f"{full} h {rest} min" if rest else f"{full} h"


def moment(when: str) -> str:
    """Give a point in time as date and minute; a text that is no ISO 8601 comes out as it is.

    Examples
    --------
    >>> moment("2026-01-02T03:04:05+00:00"), moment("2026-01-02"), moment("some day")
    ('2026-01-02 03:04', '2026-01-02', 'some day')
    """
    match = re.fullmatch(r"(\d{4}-\d\d-\d\d)(?:T(\d\d:\d\d).*)?", when)
    if match is None:
        return when
    return f"{match[1]} {match[2]}" if match[2] else match[1]


def first_up(text: str) -> str:
    """Begin a text with a capital letter.

    Examples
    --------
    >>> first_up("clockwise")
    'Clockwise'
    """
    return text[:1].upper() + text[1:]


def first_low(text: str) -> str:
    """Begin a title with a small letter, for the middle of a sentence; what is written in capitals stays.

    Examples
    --------
    >>> first_low("Fuse blown"), first_low("ABS ring")
    ('fuse blown', 'ABS ring')
    """
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


class Sources:
    """Numbers the bases of the figures on one paper, in the order in which they appear.

    Examples
    --------
    >>> sources = Sources()
    >>> sources.mark("common practice"), sources.mark("invented"), sources.mark("common practice")
    ('[1]', '[2]', '[1]')
    >>> sources.mark(""), sources.lines()
    ('', ('[1] common practice', '[2] invented'))
    """

    def __init__(self) -> None:
        self._known: dict[str, int] = {}

    def mark(self, basis: str | None) -> str:
        """Return the mark that stands behind a figure with this basis; empty for no basis."""
        text = clean(" ".join(basis.split())) if basis else ""
        if not text:
            return ""
        return f"[{self._known.setdefault(text, len(self._known) + 1)}]"

    def lines(self) -> tuple[str, ...]:
        """Return the list of bases for the foot of the paper."""
        return tuple(f"[{place}] {text}" for text, place in self._known.items())
