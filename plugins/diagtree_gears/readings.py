"""Readings of the gears: how far a hanger is out, how much cable a click pulls, and how far the cage steps."""

from __future__ import annotations

import math
import re
from decimal import Decimal

from diagtree.library.entered import NotAReadingError, alike, misread, quoted, taken_apart
from diagtree.model.reading import Measured, Reading
from diagtree.units import plain, value_in

RIM = Decimal(622)
"""Across the rim at the tyre's seat, mm, of the usual large wheel (ISO 5775: 622)."""
_CLOCK = ("top", "front", "bottom", "back")
_OVER = re.compile(r"(?P<length>.+?)\s*\b(?:over|in)\s+(?P<count>\d+)\s*(?:clicks?|steps?)?\s*", re.I)
_STEP = re.compile(
    r"(?:cage)?\s*(?P<cage>.+?)\s*(?:(?<!\d),|,(?!\d)|;|\bsprockets?\b|\bagainst\b)[\s,]*(?:sprockets?)?\s*(?P<gap>\d.*)",
    re.I,
)


def deviation(gaps: tuple[Decimal, Decimal, Decimal, Decimal]) -> Decimal:
    """Return how far a hanger is out, in mm at the rim: the largest gap less the smallest.

    Parameters
    ----------
    gaps
        Between the gauge's feeler and the rim, at 12, 3, 6 and 9 o'clock, mm.

    Examples
    --------
    >>> deviation((Decimal(12), Decimal(10), Decimal(7), Decimal(9)))
    Decimal('5')
    """
    return max(gaps) - min(gaps)


def tilt(gaps: tuple[Decimal, Decimal, Decimal, Decimal], across: Decimal = RIM) -> float:
    """Return the angle that a hanger leans by, in degrees.

    The two differences between opposite gaps are the two sides of one slope over the width of the rim.

    Examples
    --------
    >>> round(tilt((Decimal("10.857"), Decimal(5), Decimal(0), Decimal(5))), 2)
    1.0
    """
    up_down, front_back = gaps[0] - gaps[2], gaps[1] - gaps[3]
    return math.degrees(math.atan(math.hypot(float(up_down), float(front_back)) / float(across)))


def read_hanger(text: str) -> Measured:
    """Read how far a hanger is out: four gaps at 12, 3, 6 and 9 o'clock, or their largest difference.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If there are neither four values nor one.
    diagtree.units.NotAQuantityError
        If a value is no length.

    Examples
    --------
    >>> read_hanger("12 10 7 9 mm").says
    '5 mm apart at the rim, 0.5° out, leaning in at the bottom'
    >>> read_hanger("3.5 mm").says
    '3.5 mm apart at the rim'
    """
    numbers = re.sub(r"(?i)mm", " ", text)
    words = [word.strip(",") for word in re.split(r"[;\s/]+", numbers.strip()) if word.strip(",")]
    if len(words) not in {1, 4}:
        raise NotAReadingError(
            f"{quoted(text)} is not four gaps.",
            "Write the gaps at 12, 3, 6 and 9 o'clock with spaces between: '12 10 7 9 mm'.",
        )
    values = [value_in(word, "mm") for word in words]
    if len(values) == 1:
        return _hanger(abs(values[0]), f"{plain(abs(values[0]))} mm apart at the rim")
    gaps = (values[0], values[1], values[2], values[3])
    apart = deviation(gaps)
    says = f"{plain(apart)} mm apart at the rim, {tilt(gaps):.1f}° out"
    if apart:
        says += f", leaning in at the {_CLOCK[gaps.index(min(gaps))]}"
    return _hanger(apart, says)


def _hanger(apart: Decimal, says: str) -> Measured:
    odd = (
        "That is more than a hanger bends without breaking. Was the feeler set to the same place of the rim?"
    )
    return Measured(apart, says, odd if apart > 60 else None)


def read_cable_pull(text: str) -> Measured:
    """Read how much cable the lever pulls for one click, from the way over several clicks.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If the number of clicks is nothing.
    diagtree.units.NotAQuantityError
        If the text is no length.

    Examples
    --------
    >>> read_cable_pull("11.2 mm over 4").says
    '2.8 mm a click'
    """
    over = _OVER.fullmatch(text.strip())
    clicks = int(over["count"]) if over else 1
    if not 1 <= clicks <= 14:
        raise misread(text, "over 1 to 14 clicks", "11.2 mm over 4")
    pull = value_in(over["length"] if over else text, "mm") / clicks
    odd = "No lever pulls so much for one click. Did you count the clicks?" if pull > 6 or pull < 0 else None
    return Measured(pull, f"{plain(round(pull, 2))} mm a click", odd)


def read_gear_step(text: str) -> Measured:
    """Read how far the cage steps against how far the sprockets are apart, over the same number of gears.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If there are not two lengths.
    diagtree.units.NotAQuantityError
        If one of them is no length.

    Examples
    --------
    >>> read_gear_step("cage 15.0 mm, sprockets 15.8 mm").says
    'the cage moves 5.1 % less than the sprockets are apart'
    """
    match = taken_apart(text, _STEP, "two lengths", "cage 15.0 mm, sprockets 15.8 mm")
    cage, gap = alike(match["cage"], match["gap"], "mm")
    if gap <= 0:
        raise NotAReadingError("The sprockets cannot be no distance apart.", "Measure over several gears.")
    per_cent = 100 * (cage / gap - 1)
    word = "more" if per_cent >= 0 else "less"
    says = f"the cage moves {plain(round(abs(per_cent), 1))} % {word} than the sprockets are apart"
    odd = (
        "That is far apart. Were both measured over the same number of gears?" if abs(per_cent) > 40 else None
    )
    return Measured(per_cent, says, odd)


HANGER_DEVIATION = Reading(
    name="gears/hanger-deviation",
    title="How far the hanger is out, at the rim",
    unit="mm",
    example="12 10 7 9 mm",
    read=read_hanger,
    basis="computed from four gaps; rim of 622 mm, ISO 5775; the limit of 4 mm is common practice",
)
CABLE_PULL = Reading(
    name="gears/cable-pull",
    title="Cable pulled by one click",
    unit="mm",
    example="11.2 mm over 4",
    read=read_cable_pull,
    basis="computed from the way over several clicks",
)
GEAR_STEP = Reading(
    name="gears/gear-step",
    title="Step of the cage against the sprockets",
    unit="%",
    example="cage 15.0 mm, sprockets 15.8 mm",
    read=read_gear_step,
    basis="computed from two lengths over the same gears",
)
