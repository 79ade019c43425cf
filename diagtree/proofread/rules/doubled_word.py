"""A word stands twice in a row.

It slips in when a sentence is changed, and makes a reader stop.

Wrong::

    checks:
      lamp:
        ask: Does the the lamp come on?

Told::

    3:15: checks > lamp > ask: 'the' stands twice in a row. Take one out.

Right::

    checks:
      lamp:
        ask: Does the lamp come on?
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")
TWICE = re.compile(r"\b([A-Za-z]{2,})\s+\1\b(?!-)", re.IGNORECASE)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    if not any(one == other for one, other in itertools.pairwise(manuscript.written)):
        return
    for words, match in manuscript.matching(TWICE):
        told = f"'{match.group(1)}' stands twice in a row."
        yield manuscript.fault_in(words, match.start(), told, "Take one out.")
