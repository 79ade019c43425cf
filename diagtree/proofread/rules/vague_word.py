"""An instruction leaves the point open.

'Properly' and 'as needed' help only those who know already. Say what must be seen, felt or measured.

Wrong::

    jobs:
      soak:
        how: Rinse it properly.

Told::

    3:19: jobs > soak > how: 'properly' leaves the point open. Say what must be seen, felt or measured.

Right::

    jobs:
      soak:
        how: Rinse it twice, until the water stays clear.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KEYS = frozenset({"how", "verify", "tell"})
NEEDS = frozenset(
    {
        "properly",
        "appropriately",
        "needed",
        "required",
        "appropriate",
        "necessary",
        "sufficiently",
        "correctly",
        "etc",
    }
)
KINDS = ("tree", "catalogue", "conditions")
VAGUE = re.compile(
    r"\b(?:properly|appropriately|as (?:needed|required|appropriate)|if necessary|sufficiently|correctly|etc)\b",
    re.IGNORECASE,
)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words, match in manuscript.matching(VAGUE, KEYS, NEEDS):
        told = f"'{match.group()}' leaves the point open."
        yield manuscript.fault_in(words, match.start(), told, "Say what must be seen, felt or measured.")
