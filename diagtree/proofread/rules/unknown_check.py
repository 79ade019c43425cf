"""An answer leads to a check that is not in the tree.

The walk would end in the middle of nowhere. Most often the name is spelt in two ways.

Wrong::

    first: lamp
    checks:
      lamp:
        answers:
          no: {next: fuze}
          yes: {found: {scale: 10}}
      fuse:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {found: {switch-worn: 10}}

Told::

    5:18: checks > lamp > answers > no > next: There is no check 'fuze' in this tree. Did you mean 'fuse'?

Right::

    first: lamp
    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {found: {scale: 10}}
      fuse:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {found: {switch-worn: 10}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "unknown-check")
