"""Readings of brakes: how much of a lever's way to the grip is used before the brake bites."""

from __future__ import annotations

from diagtree.library.entered import NotAReadingError, alike, two
from diagtree.model.reading import Measured, Reading
from diagtree.units import plain, value_in

_EXAMPLE = "25 of 60 mm"


def read_lever_travel(text: str) -> Measured:
    """Read a lever's travel until it bites, as a share of its way to the grip.

    Parameters
    ----------
    text
        Two lengths at the lever's end: ``25 of 60 mm``, moved and whole way to the grip; or ``42 %``.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If it is neither, or the lever moved further than to the grip.
    diagtree.units.NotAQuantityError
        If a length is none.

    Examples
    --------
    >>> read_lever_travel("25 of 60 mm").says
    '42 % of the way to the grip'
    >>> read_lever_travel("1 in of 2 1/2 in").value
    Decimal('40.0')
    """
    if text.strip().endswith("%"):
        share = value_in(text, "%")
    else:
        used, whole = alike(*two(text, "of", "a travel of a lever", _EXAMPLE), "mm")
        if whole <= 0:
            raise NotAReadingError(
                "The way to the grip must be more than nothing.", f"Write it like '{_EXAMPLE}'."
            )
        share = 100 * used / whole
    share = round(share, 1)
    if not 0 <= share <= 100:
        raise NotAReadingError(
            f"A lever cannot move {plain(share)} % of its way to the grip.",
            "Measure both at the lever's end: first until it bites, then the whole way.",
        )
    odd = "Hardly any travel. Is the brake dragging?" if share < 5 else None
    return Measured(share, f"{plain(round(share, 0))} % of the way to the grip", odd)


LEVER_TRAVEL = Reading(
    name="disc-brakes/lever-travel",
    title="How far the lever moves before the brake bites",
    unit="%",
    example=_EXAMPLE,
    read=read_lever_travel,
    basis="computed; half-way to the grip at most is common practice",
)
