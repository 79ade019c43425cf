"""None of a tree's worked cases shows a misleading answer.

In life some answers mislead. A case with one shows that the tree still comes to the right end.

Wrong::

    checks:
      lamp:
        ask: Does it come on?
    cases:
      - {answers: {lamp: no}, expect: fuse-blown}

Told::

    4:1: cases: No worked case shows a misleading answer. Add one with 'kind: misleading'.

Right::

    checks:
      lamp:
        ask: Does it come on?
    cases:
      - {answers: {lamp: no}, expect: fuse-blown}
      - {kind: misleading, answers: {lamp: yes}, expect: fuse-blown}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import each, mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "cases"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    cases = [mapping(case) for case, _ in each(manuscript.data.get("cases"), ("cases",))]
    if cases and not any(case.get("kind") == "misleading" for case in cases):
        told = "No worked case shows a misleading answer."
        yield manuscript.fault(("cases",), told, "Add one with 'kind: misleading'.", of_key=True)
