"""A check does not say how it is done.

An apprentice alone at the bench needs the grip, the place and the number of tries, not only the question.

Wrong::

    checks:
      lamp:
        ask: Does the lamp come on?
        minutes: 1

Told::

    2:3: checks > lamp: The check does not say how it is done. Add 'how:'.

Right::

    checks:
      lamp:
        ask: Does the lamp come on?
        how: Fill it half. Switch it on.
        minutes: 1
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, check, path in manuscript.checks:
        if not check.get("how"):
            yield manuscript.fault(path, "The check does not say how it is done.", "Add 'how:'.", of_key=True)
