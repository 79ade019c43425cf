"""A measure is given in inches, pounds or degrees Fahrenheit alone.

SI comes first on every sheet; the other unit may follow it.

Wrong::

    checks:
      heat:
        how: Wait until it shows 200 °F.

Told::

    3:30: checks > heat > how: '200 °F' has no SI unit beside it. Write the SI value first.

Right::

    checks:
      heat:
        how: Wait until it shows 93 °C (200 °F).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
NEEDS = frozenset({"psi", "lbf", "lb", "lbs", "oz", "f", "°f", "inch", "inches", "ft"})
KINDS = ("tree", "catalogue", "conditions")
IMPERIAL = re.compile(r"\b\d[\d.,/ ]*\s?(?:psi|lbf|lbs?|oz|°F|inch(?:es)?|ft)\b")
METRIC = re.compile(r"\d\s?(?:mm|cm|m|km|kPa|bar|MPa|N|kg|g|ml|l|°C)\b|N·m")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words, match in manuscript.matching(IMPERIAL, needs=NEEDS):
        if not METRIC.search(words.text):
            told = f"'{match.group()}' has no SI unit beside it."
            yield manuscript.fault_in(words, match.start(), told, "Write the SI value first.")
