"""Readings of the chain drive: how long a chain has worn, from a rule or from a gauge."""

from __future__ import annotations

import re
from decimal import Decimal

from diagtree.library.entered import NotAReadingError, quoted
from diagtree.model.reading import Measured, Reading
from diagtree.units import NotAQuantityError, plain, value_in

PITCH = Decimal("12.7")
"""From pin centre to pin centre on a new chain, mm: half an inch."""
_USUAL_LINKS = 24
_LONGEST_GAUGE = Decimal(5)
"""A bare number under this is what a gauge says, in per cent: no chain is as short in mm."""
_OVER = re.compile(
    r"(?P<length>.+?)\s*(?:\bover\b|/(?=\s*\d+\s*(?:links?|pitches|$)))\s*(?P<count>\d+)\s*\w*\s*", re.I
)
_MEND = "Write it like '306.4 mm over 24', '12 1/16 in' or '0.75 %'."


def elongation(length: Decimal, links: int) -> Decimal:
    """Return how much longer than new a chain is, in per cent.

    Parameters
    ----------
    length
        From pin centre to pin centre, mm.
    links
        Number of pitches of 12.7 mm between these pins.

    Examples
    --------
    >>> elongation(Decimal("306.324"), 24)
    Decimal('0.500')
    >>> round(elongation(Decimal("128.0"), 10), 3)
    Decimal('0.787')
    """
    return 100 * (length / (PITCH * links) - 1)


def read_elongation(text: str) -> Measured:
    """Read a chain's elongation from a length over a number of links, or from a gauge.

    Parameters
    ----------
    text
        ``306.4 mm over 24``; ``12 1/16 in`` (the number of links is then the nearest whole one);
        ``+1/16 in`` (what stands over 12 in); ``0.75 %`` or ``0.75`` from a gauge.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If the text is neither a length nor a per cent value, or the number of links makes no sense.

    Examples
    --------
    >>> read_elongation("12 1/16 in").says
    '0.52 % longer than new'
    >>> read_elongation("0,5 %").says
    '0.5 % longer than new'
    """
    text = " ".join(text.split())
    over = _OVER.fullmatch(text)
    if over is None and (gauge := _gauge(text)) is not None:
        return _told(gauge)
    written = over["length"] if over else text
    try:
        length = value_in(written.removeprefix("+"), "mm")
    except NotAQuantityError as error:
        raise NotAReadingError(error.wrong, _MEND) from None
    links = int(over["count"]) if over else _USUAL_LINKS if text.startswith("+") else round(length / PITCH)
    if not 2 <= links <= 200:
        raise NotAReadingError(f"{quoted(text)} is not measured over 2 to 200 links.", _MEND)
    if text.startswith("+"):
        length += PITCH * links
    return _told(elongation(length, links))


def _gauge(text: str) -> Decimal | None:
    """Return the value in per cent if the text is what a gauge says."""
    match = re.fullmatch(r"(?P<number>[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*(?P<unit>%|per ?cent)?", text, re.I)
    if match is None:
        return None
    value = Decimal(match["number"].replace(",", "."))
    return value if match["unit"] or abs(value) < _LONGEST_GAUGE else None


def _told(per_cent: Decimal) -> Measured:
    shown = plain(round(abs(per_cent), 2))
    says = f"{shown} % {'longer' if per_cent >= 0 else 'shorter'} than new"
    odd = None
    if per_cent < Decimal("-0.1"):
        odd = (
            "That is shorter than a new chain. Did you count the links, and measure pin centre to pin centre?"
        )
    elif per_cent > 3:
        odd = "That is longer than a chain that still runs. Did you count the links?"
    return Measured(per_cent, says, odd)


CHAIN_ELONGATION = Reading(
    name="chain-drive/chain-elongation",
    title="How much longer than new the chain is",
    unit="%",
    example="306.4 mm over 24",
    read=read_elongation,
    basis="computed from the pitch of 12.7 mm; limits are common practice",
)
