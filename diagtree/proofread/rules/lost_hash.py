"""A `#` after a blank begins a comment, so the rest of a text is lost.

`use tool #5` reads as `use tool`. The whole text in quotes keeps it. `--fix` sets them.

Wrong::

    checks:
      fuse:
        how: Open it with tool #5 from the rack

Told::

    3:28: Everything from '#' on is lost: '#5 from the rack'. Put the whole text in quotes.

Right::

    checks:
      fuse:
        how: "Open it with tool #5 from the rack"
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.hashes import hashes
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for number, row, at in hashes(manuscript):
        told = f"Everything from '#' on is lost: '{row[at:].strip()}'."
        yield Fault(manuscript.document.file, number, at + 1, "", told, "Put the whole text in quotes.")
