"""Readings of brakes: how much of a lever's way to the grip is used before the brake bites."""

from __future__ import annotations

import re
from decimal import Decimal

from diagtree.errors import ExpectedError
from diagtree.model.reading import Measured, Reading
from diagtree.units import parse, plain

_OF = re.compile(r"(?P<used>.+?)\s*(?:\bof\b|/)\s*(?P<whole>.+)", re.I)


class NotALeverTravelError(ExpectedError):
    """A text that tells no lever travel."""


def read_lever_travel(text: str) -> Measured:
    """Read a lever's travel until it bites, as a share of its way to the grip.

    Parameters
    ----------
    text
        Two lengths at the lever's end: ``25 of 60 mm``, moved and whole way to the grip; or ``42 %``.

    Raises
    ------
    NotALeverTravelError
        If it is neither, or the lever moved further than to the grip.

    Examples
    --------
    >>> read_lever_travel("25 of 60 mm").says
    '42 % of the way to the grip'
    >>> read_lever_travel("1 in of 2 1/2 in").value
    Decimal('40.0')
    """
    text = text.strip()
    if text.endswith("%"):
        share = parse(text, like="%").value
    else:
        match = _OF.fullmatch(text)
        if match is None:
            raise NotALeverTravelError(
                f"'{' '.join(text.split())}' is not a travel of a lever.", "Write it like '25 of 60 mm'."
            )
        whole = parse(match["whole"], like="mm")
        used = parse(match["used"], like=whole.unit).to("mm").value
        if whole.value <= 0:
            raise NotALeverTravelError(
                "The way to the grip must be more than nothing.", "Write it like '25 of 60 mm'."
            )
        share = 100 * used / whole.to("mm").value
    share = round(Decimal(share), 1)
    if not 0 <= share <= 100:
        raise NotALeverTravelError(
            f"A lever cannot move {plain(share)} % of its way to the grip.",
            "Measure both at the lever's end: first until it bites, then the whole way.",
        )
    odd = "Hardly any travel. Is the brake dragging?" if share < 5 else None
    return Measured(share, f"{plain(round(share, 0))} % of the way to the grip", odd)


LEVER_TRAVEL = Reading(
    name="disc-brakes/lever-travel",
    title="How far the lever moves before the brake bites",
    unit="%",
    example="25 of 60 mm",
    read=read_lever_travel,
    basis="computed; half-way to the grip at most is common practice",
)
