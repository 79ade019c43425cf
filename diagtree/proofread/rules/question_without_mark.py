"""A question does not end with a question mark.

The screen shows questions and instructions in one place. The mark tells them apart at a glance.

Wrong::

    checks:
      lamp:
        ask: Does the lamp come on

Told::

    3:10: checks > lamp > ask: The question does not end with a question mark. Add it.

Right::

    checks:
      lamp:
        ask: Does the lamp come on?
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.words:
        if words.key == "ask" and words.text.strip() and not words.text.rstrip().endswith("?"):
            yield manuscript.fault(words.path, "The question does not end with a question mark.", "Add it.")
