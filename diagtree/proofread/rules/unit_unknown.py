"""The unit of a reading is not known.

Bands, echoes and sheets carry the unit. One that the program does not know is a slip more often than not.

Wrong::

    family: toaster
    readings:
      heat: {title: Heat, unit: degrees, example: 200 degrees}

Told::

    3:29: readings > heat > unit: The unit 'degrees' is not known. Use one of: mm, cm, m, km, µm, g, kg, N, kN, N·m, N·cm, N/mm, Pa, kPa, bar, psi, MPa, °C, K, °, %, s, min, h, ml, l, V, A, Ω, W, Hz, kHz, mm/m, turns, teeth, clicks, months, years.

Right::

    family: toaster
    readings:
      heat: {title: Heat, unit: °C, example: 200 °C}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault, did_you_mean
from diagtree.proofread.manuscript import Manuscript

GROUP = "measures"
KINDS = ("catalogue",)
KNOWN = (
    "mm",
    "cm",
    "m",
    "km",
    "µm",
    "g",
    "kg",
    "N",
    "kN",
    "N·m",
    "N·cm",
    "N/mm",
    "Pa",
    "kPa",
    "bar",
    "psi",
    "MPa",
    "°C",
    "K",
    "°",
    "%",
    "s",
    "min",
    "h",
    "ml",
    "l",
    "V",
    "A",
    "Ω",
    "W",
    "Hz",
    "kHz",
    "mm/m",
    "turns",
    "teeth",
    "clicks",
    "months",
    "years",
)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, reading, path in manuscript.entries("readings"):
        unit = reading.get("unit")
        if isinstance(unit, str) and unit not in KNOWN:
            told = f"The unit '{unit}' is not known."
            yield manuscript.fault(
                (*path, "unit"), told, did_you_mean(unit, KNOWN, f"Use one of: {', '.join(KNOWN)}.")
            )
