"""A sentence begins with a small letter.

It looks as if something before it was lost, and often something was.

Wrong::

    checks:
      lamp:
        how: switch it on.

Told::

    3:10: checks > lamp > how: The sentence begins with a small letter. Write 'S'.

Right::

    checks:
      lamp:
        how: Switch it on.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.sentences:
        if words.text[:1].islower():
            told = "The sentence begins with a small letter."
            yield manuscript.fault(words.path, told, f"Write '{words.text[:1].upper()}'.")
