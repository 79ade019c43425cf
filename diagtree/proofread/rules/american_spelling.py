"""A word is spelt in the American way.

One spelling throughout: a search finds what it should, and the texts read as of one hand.

Wrong::

    checks:
      lamp:
        ask: Is the color of the lamp gray?

Told::

    3:17: checks > lamp > ask: 'color' is the American spelling. Write 'colour'.
    3:35: checks > lamp > ask: 'gray' is the American spelling. Write 'grey'.

Right::

    checks:
      lamp:
        ask: Is the colour of the lamp grey?
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")
SPELT = {
    "color": "colour",
    "colors": "colours",
    "colored": "coloured",
    "gray": "grey",
    "center": "centre",
    "centers": "centres",
    "centered": "centred",
    "aluminum": "aluminium",
    "meters": "metres",
    "millimeter": "millimetre",
    "millimeters": "millimetres",
    "liter": "litre",
    "liters": "litres",
    "odor": "odour",
    "vapor": "vapour",
    "mold": "mould",
    "plow": "plough",
    "catalog": "catalogue",
    "analyze": "analyse",
}
WORDS = re.compile(r"\b(" + "|".join(SPELT) + r")\b", re.IGNORECASE)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words, match in manuscript.matching(WORDS, needs=SPELT):
        british = SPELT[match.group().lower()]
        told = f"'{match.group()}' is the American spelling."
        yield manuscript.fault_in(words, match.start(), told, f"Write '{british}'.")
