"""A title ends with a full stop.

Titles stand in lists and in the middle of sentences; the stop would cut them.

Wrong::

    causes:
      scale:
        title: Scale on the element.

Told::

    3:32: causes > scale > title: The title ends with a full stop. Take it out.

Right::

    causes:
      scale:
        title: Scale on the element
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.words:
        if words.key == "title" and words.text.endswith(".") and not words.text.endswith("..."):
            yield manuscript.fault_in(
                words, len(words.text) - 1, "The title ends with a full stop.", "Take it out."
            )
