"""An answer leads to a check that is not in the tree.

The walk would end in the middle of nowhere. Most often the name is spelt in two ways.

Wrong::

    symptom: hums
    title: It hums
    family: kettle
    first: lamp
    checks:
      lamp:
        ask: Does the lamp come on?
        minutes: 1
        answers:
          no: {says: Stays dark, next: fuze}
          yes: {says: Comes on, found: {scale: 10}}
      fuse:
        ask: Is the fuse whole?
        minutes: 1
        answers:
          no: {says: Blown, found: {fuse-blown: 10}}
          yes: {says: Whole, found: {switch-worn: 10}}

Told::

    10:36: checks > lamp > answers > no > next: There is no check 'fuze' in this tree. Did you mean 'fuse'?

Right::

    symptom: hums
    title: It hums
    family: kettle
    first: lamp
    checks:
      lamp:
        ask: Does the lamp come on?
        minutes: 1
        answers:
          no: {says: Stays dark, next: fuse}
          yes: {says: Comes on, found: {scale: 10}}
      fuse:
        ask: Is the fuse whole?
        minutes: 1
        answers:
          no: {says: Blown, found: {fuse-blown: 10}}
          yes: {says: Whole, found: {switch-worn: 10}}
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
