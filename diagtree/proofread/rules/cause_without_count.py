"""A finding gives a cause the count 0.

Nothing can ever point at that cause. If it is very rare, write 0.5.

Wrong::

    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30, flex-damaged: 0}}
          yes: {found: {scale: 70}}

Told::

    4:50: checks > lamp > answers > no > found > flex-damaged: The cause 'flex-damaged' has the count 0 here, so it is never found. Write how many of 100 have it, or take it out.

Right::

    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 29.5, flex-damaged: 0.5}}
          yes: {found: {scale: 70}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for answer in manuscript.answers:
        for cause, count in mapping(answer.data.get("found")).items():
            if number(count) == 0:
                told = f"The cause '{cause}' has the count 0 here, so it is never found."
                at = (*answer.path, "found", cause)
                yield manuscript.fault(at, told, "Write how many of 100 have it, or take it out.")
