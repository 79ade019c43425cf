"""The counts of a tree do not add up to 100.

Counts say how many of 100 that come in with this complaint have a cause. If they add up to something else,
one was forgotten or is too high. `--fix` scales them to 100.

Wrong::

    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 30, element-open: 20}}

Told::

    1:1: checks: The counts in this tree add up to 80, not to 100. Think of 100 with this complaint; --fix scales them.

Right::

    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 40, element-open: 30}}
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from diagtree.library.document import value_at
from diagtree.library.fault import Fault
from diagtree.proofread.counts import WITHIN, counted, scaled
from diagtree.proofread.edits import Edit, written_at
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    counts = [value for _, value in counted(manuscript)]
    total = sum(counts, Decimal())
    if counts and total and abs(total - 100) > WITHIN:
        told = f"The counts in this tree add up to {total:f}, not to 100."
        yield manuscript.fault(
            ("checks",), told, "Think of 100 with this complaint; --fix scales them.", of_key=True
        )


def mends(manuscript: Manuscript) -> Iterator[Edit]:
    """Scale the counts to 100."""
    counts = list(counted(manuscript))
    if not any(finds(manuscript)):
        return
    edits: list[Edit] = []
    for (path, _), new in zip(counts, scaled([count for _, count in counts]), strict=True):
        written = written_at(manuscript.document, path)
        if written is None:
            return  # some scaled and some not would be worse than none
        value = str(value_at(manuscript.data, path))
        edits.append(replace(written, new=written.new.replace(value, f"{new:f}")))
    yield from edits
