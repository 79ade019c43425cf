"""A worked case does not come out as its author expects.

Either the tree or the case is wrong; both are the author's to judge. The fault tells which cause came first
instead, and with what chance.

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
          no: {says: Stays dark, found: {fuse-blown: 30}}
          yes: {says: Comes on, found: {scale: 70}, healthy: true}
    cases:
      - {answers: {lamp: yes}, expect: fuse-blown}

Told::

    13:36: cases > 1 > expect: 'kettle/scale' comes first with 97 in 100; 'kettle/fuse-blown' has 3 in 100. Mend the tree or the case.

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
          no: {says: Stays dark, found: {fuse-blown: 30}}
          yes: {says: Comes on, found: {scale: 70}, healthy: true}
    cases:
      - {answers: {lamp: no}, expect: fuse-blown}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.cases import outcomes, own_library, places
from diagtree.proofread.manuscript import Manuscript

GROUP = "cases"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    if manuscript.sheet.model is None:
        return
    stands = places(manuscript)
    for outcome in outcomes(own_library(manuscript), manuscript.sheet.model.symptom):
        if not outcome.holds:
            path = ("cases", stands[outcome.place], "expect")
            yield manuscript.fault(path, outcome.told, "Mend the tree or the case.")
