"""Readings of the contact points: how much thinner a post is than the tube it stands in."""

from __future__ import annotations

import re
from decimal import Decimal

from diagtree.errors import ExpectedError
from diagtree.model.reading import Measured, Reading
from diagtree.units import parse, plain

_IN = re.compile(r"(?P<post>.+?)\s*(?:\bin\s+(?=[\d.,])|[;/]|,\s)\s*(?P<tube>\d.*)", re.I)


class NotAPostGapError(ExpectedError):
    """A text that does not tell the sizes of post and tube."""


def read_post_gap(text: str) -> Measured:
    """Read how much thinner the post is than the tube, both measured across, in mm.

    Parameters
    ----------
    text
        ``27.0 mm in 27.2 mm``.

    Raises
    ------
    NotAPostGapError
        If there are not two sizes.
    diagtree.units.NotAQuantityError
        If one of them is no length.

    Examples
    --------
    >>> read_post_gap("27.0 mm in 27.2 mm").says
    '0.2 mm thinner than the tube'
    """
    match = _IN.fullmatch(text.strip())
    if match is None:
        raise NotAPostGapError(
            f"'{' '.join(text.split())}' is not two sizes.", "Write it like '27.0 mm in 27.2 mm'."
        )
    post = parse(match["post"], like="mm").to("mm").value
    tube = parse(match["tube"], like="mm").to("mm").value
    gap = tube - post
    word = "thinner" if gap >= 0 else "thicker"
    odd = None
    if gap < Decimal("-0.3"):
        odd = "A post thicker than its tube does not go in. Measure again?"
    elif gap > 5:
        odd = "That is far apart. Is there a sleeve in the tube?"
    return Measured(gap, f"{plain(round(abs(gap), 2))} mm {word} than the tube", odd)


POST_GAP = Reading(
    name="contact-points/post-gap",
    title="How much thinner the post is than the seat tube",
    unit="mm",
    example="27.0 mm in 27.2 mm",
    read=read_post_gap,
    basis="computed from two diameters; posts come in steps of 0.2 mm, common practice",
)
