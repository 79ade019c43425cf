"""A sentence begins with a small letter.

Often it is the rest of a text that was cut at a comma: in `[Hold it, then look]` a list has two items.
Quotes around the whole text keep it together.

Wrong::

    checks:
      lamp:
        how: [Fill it half with cold water, switch it on.]

Told::

    3:41: checks > lamp > how > 2: The sentence begins with a small letter. If it is the rest of a text with a comma, put the whole text in quotes; else write a capital.

Right::

    checks:
      lamp:
        how: ["Fill it half with cold water, switch it on."]
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
MEND = "If it is the rest of a text with a comma, put the whole text in quotes; else write a capital."
KINDS = ("tree", "catalogue", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.sentences:
        if words.text[:1].islower():
            told = "The sentence begins with a small letter."
            yield manuscript.fault(words.path, told, MEND)
