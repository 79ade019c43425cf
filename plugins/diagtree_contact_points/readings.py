"""Readings of the contact points: how much thinner a post is than the tube it stands in."""

from __future__ import annotations

from decimal import Decimal

from diagtree.library.entered import alike, two
from diagtree.model.reading import Measured, Reading
from diagtree.units import plain


def read_post_gap(text: str) -> Measured:
    """Read how much thinner the post is than the tube, both measured across, in mm.

    Parameters
    ----------
    text
        ``27.0 mm in 27.2 mm``.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If there are not two sizes.
    diagtree.units.NotAQuantityError
        If one of them is no length.

    Examples
    --------
    >>> read_post_gap("27.0 mm in 27.2 mm").says
    '0.2 mm thinner than the tube'
    """
    post, tube = alike(*two(text, "in", "two sizes", "27.0 mm in 27.2 mm"), "mm")
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
