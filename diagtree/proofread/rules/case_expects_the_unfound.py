"""A worked case expects a cause that the tree never finds.

It can only fail. The cause is missing from the tree, or the case is another tree's.

Wrong::

    family: kettle
    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 70}}
    cases:
      - {answers: {lamp: no}, expect: lid-loose}

Told::

    9:35: cases > 1 > expect: The tree never finds 'lid-loose'. Add it to a finding, or mend the case.

Right::

    family: kettle
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
from diagtree.library.references import each, mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "cases"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    found = {
        manuscript.full(cause) for answer in manuscript.answers for cause in mapping(answer.data.get("found"))
    }
    for case, path in each(manuscript.data.get("cases"), ("cases",)):
        expected = mapping(case).get("expect")
        if not isinstance(expected, str) or manuscript.full(expected) in found:
            continue
        # A cause that is in no catalogue is told as such; once is enough.
        if manuscript.shelf.entry("causes", manuscript.full(expected)):
            told = f"The tree never finds '{expected}'."
            yield manuscript.fault((*path, "expect"), told, "Add it to a finding, or mend the case.")
