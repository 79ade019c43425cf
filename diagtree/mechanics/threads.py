"""Screw threads: designations as people write them, and the geometry of the 60-degree profile.

References
----------
ISO 724: basic dimensions of metric threads. ISO 261: coarse pitches. ISO 965-1: tolerances 6g and 6H, table
values from memory, confirmed by the shear areas that other sources compute from them.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from diagtree.errors import ExpectedError

COARSE = {
    1.6: 0.35, 2.0: 0.4, 2.5: 0.45, 3.0: 0.5, 4.0: 0.7, 5.0: 0.8, 6.0: 1.0, 7.0: 1.0, 8.0: 1.25, 10.0: 1.5,
    12.0: 1.75, 14.0: 2.0, 16.0: 2.0, 18.0: 2.5, 20.0: 2.5, 22.0: 2.5, 24.0: 3.0,
}  # fmt: skip
"""Diameter and coarse pitch, mm (ISO 261)."""

_LIMITS = {
    (3.0, 0.5): (0.020, 0.106, 0.100), (4.0, 0.7): (0.022, 0.140, 0.118), (5.0, 0.8): (0.024, 0.150, 0.125),
    (6.0, 1.0): (0.026, 0.180, 0.150), (8.0, 1.25): (0.028, 0.212, 0.160),
    (10.0, 1.5): (0.032, 0.236, 0.180), (12.0, 1.75): (0.034, 0.265, 0.200),
}  # fmt: skip
"""(diameter, pitch): fundamental deviation g, tolerance of d at 6, tolerance of D2 at 6, mm (ISO 965-1)."""


class ThreadError(ExpectedError):
    """A text that is no thread designation, or a thread that cannot be."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread of 60-degree profile.

    Parameters
    ----------
    diameter
        Nominal (major) diameter d, mm.
    pitch
        P, mm.
    written
        The designation in its usual form.

    Examples
    --------
    >>> m5 = parse("M5")
    >>> round(m5.stress_area, 2), round(m5.pitch_diameter, 3)
    (14.18, 4.48)
    """

    diameter: float
    pitch: float
    written: str

    @property
    def pitch_diameter(self) -> float:
        """d2 = d - 0.649519 P, mm (ISO 724)."""
        return self.diameter - 3 * math.sqrt(3) / 8 * self.pitch

    @property
    def root_diameter(self) -> float:
        """d3 = d - 1.226869 P, mm: of the bolt."""
        return self.diameter - 17 * math.sqrt(3) / 24 * self.pitch

    @property
    def minor_diameter(self) -> float:
        """D1 = d - 1.082532 P, mm: of the nut."""
        return self.diameter - 5 * math.sqrt(3) / 8 * self.pitch

    @property
    def stress_diameter(self) -> float:
        """d0 = (d2 + d3)/2, mm: a rod of this diameter is as strong as the thread."""
        return (self.pitch_diameter + self.root_diameter) / 2

    @property
    def stress_area(self) -> float:
        """A_s = pi/4 d0^2, mm2 (ISO 898-1)."""
        return math.pi / 4 * self.stress_diameter**2

    @property
    def least_bolt_diameter(self) -> float:
        """Least major diameter of a bolt at 6g, mm (ISO 965-1)."""
        deviation, tolerance, _ = self._limits()
        return self.diameter - deviation - tolerance

    @property
    def most_nut_pitch_diameter(self) -> float:
        """Largest pitch diameter of a nut at 6H, mm (ISO 965-1)."""
        return self.pitch_diameter + self._limits()[2]

    def _limits(self) -> tuple[float, float, float]:
        listed = _LIMITS.get((self.diameter, self.pitch))
        if listed is not None:
            return listed
        # The standard's formulas, in micrometres, before it rounds them to preferred numbers.
        pitch = self.pitch
        # Diameters are grouped in ranges from 1.4 mm, each twice the one before; the middle one counts.
        middle = 1.4 * 2.0 ** math.floor(math.log2(self.diameter / 1.4)) * math.sqrt(2)
        return (
            (15 + 11 * pitch) / 1000,
            (180 * pitch ** (2 / 3) - 3.15 / math.sqrt(pitch)) / 1000,
            1.32 * 90 * pitch**0.4 * middle**0.1 / 1000,
        )


_MOST_TEXT = 60
_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
_TIMES = r"\s*(?:[x×*]|-)\s*"
_METRIC = re.compile(
    rf"m\s*(?P<d>{_NUMBER})(?:{_TIMES}(?P<p>{_NUMBER})(?:\s*mm)?)?(?:\s*(?:lh|rh))?", re.I | re.A
)
_INCH = re.compile(
    rf"""(?P<d>(?:\d+\s+)?\d+\s*/\s*\d+|{_NUMBER})\s*(?P<unit>in\.?|inch|"|″|mm)?{_TIMES}
    (?P<n>\d+(?:[.]\d+)?)\s*(?P<tpi>tpi|threads?\s+(?:per|an|to\s+the)\s+inch)?""",
    re.I | re.A | re.X,
)


def parse(text: str) -> Thread:
    """Read a thread designation.

    Parameters
    ----------
    text
        ``M5`` (coarse), ``M5x0.8``, ``9/16 in x 20 tpi``, ``1.375 x 24`` (inches and threads an inch),
        ``36 mm x 24 tpi``.

    Raises
    ------
    ThreadError
        If it is none of these, or the pitch is too coarse for the diameter.

    Examples
    --------
    >>> parse("9/16 in x 20 tpi").pitch
    1.27
    >>> parse("1.375 x 24")
    Thread(diameter=34.925, pitch=1.0583333333333333, written='1.375 in x 24 tpi')
    >>> parse("m8 x 1").written
    'M8x1'
    """
    wanted = " ".join(text.split())
    metric = _METRIC.fullmatch(wanted) if len(wanted) <= _MOST_TEXT else None
    if metric is not None:
        diameter = _value(metric["d"])
        pitch = COARSE.get(diameter) if metric["p"] is None else _value(metric["p"])
        if pitch is None:
            raise ThreadError(
                f"M{diameter:g} has no coarse pitch here.", f"Write it with its pitch: M{diameter:g}x1."
            )
        return _checked(diameter, pitch, f"M{diameter:g}x{pitch:g}", wanted)
    inch = _INCH.fullmatch(wanted) if len(wanted) <= _MOST_TEXT else None
    if inch is not None and (inch["unit"] or inch["tpi"] or _looks_inch(inch)):
        size, count = _value(inch["d"]), float(inch["n"])
        if count > 0:
            in_mm = (inch["unit"] or "").lower() == "mm"
            diameter = size if in_mm else float(Fraction(repr(size)) * Fraction("25.4"))
            if "/" in inch["d"]:
                diameter = float(_fraction(inch["d"]) * Fraction("25.4"))
            shown = " ".join(inch["d"].split())
            written = f"{shown} {'mm' if in_mm else 'in'} x {count:g} tpi"
            return _checked(diameter, float(Fraction("25.4") / Fraction(repr(count))), written, wanted)
    raise ThreadError(
        f"'{wanted[:_MOST_TEXT]}' is not a thread.",
        "Write it like 'M5x0.8', '9/16 in x 20 tpi' or '1.375 x 24'.",
    )


def _looks_inch(match: re.Match[str]) -> bool:
    """``1.375 x 24`` can only be inches and threads an inch; ``5 x 0.8`` can only be metric."""
    return _value(match["d"]) < 8 <= float(match["n"])


def _fraction(text: str) -> Fraction:
    whole, _, rest = text.strip().rpartition(" ") if " " in text.strip() else ("0", "", text)
    top, _, bottom = rest.partition("/")
    if int(bottom) == 0:
        raise ThreadError(f"'{text}' divides by nothing.", "Write it like '9/16 in x 20 tpi'.")
    return int(whole or 0) + Fraction(int(top), int(bottom))


def _value(text: str) -> float:
    return float(_fraction(text)) if "/" in text else float(text.replace(",", "."))


def _checked(diameter: float, pitch: float, written: str, text: str) -> Thread:
    if not 0.5 <= diameter <= 200 or not 0.1 <= pitch <= 0.5 * diameter:
        raise ThreadError(
            f"'{text}' cannot be: {diameter:g} mm with a pitch of {pitch:g} mm.",
            "Write diameter and pitch like 'M5x0.8', or inches and threads an inch like '9/16 in x 20 tpi'.",
        )
    return Thread(diameter, pitch, written)
