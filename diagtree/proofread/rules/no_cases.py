"""A tree has no worked cases.

A worked case says what the author means, and fails when a later change breaks it. Four do: two common, one
rare, one with a misleading answer.

Wrong::

    symptom: hums
    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 70}}

Told::

    3:1: checks: The tree has no worked cases. Add 'cases:'.

Right::

    symptom: hums
    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 70}}
    cases:
      - {answers: {lamp: no}, expect: fuse-blown}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "cases"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    if manuscript.checks and not manuscript.data.get("cases"):
        yield manuscript.fault(("checks",), "The tree has no worked cases.", "Add 'cases:'.", of_key=True)
