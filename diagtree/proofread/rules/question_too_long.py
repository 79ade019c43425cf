"""A question is longer than a line.

The question is read again and again. What else belongs to it goes under `how:`.

Wrong::

    checks:
      lamp:
        ask: When you have filled it and put it back and switched it on, does the little lamp beside the handle come on?

Told::

    3:10: checks > lamp > ask: The question has 107 letters; 90 fit on a line. Ask shortly, and move the rest to 'how:'.

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
KINDS = ("tree",)
MOST = 90


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.words:
        if words.key == "ask" and len(words.text) > MOST:
            told = f"The question has {len(words.text)} letters; {MOST} fit on a line."
            yield manuscript.fault(words.path, told, "Ask shortly, and move the rest to 'how:'.")
