"""The remedies of a cause are not in order from the mildest to the strongest.

The next stronger one is what follows if a remedy does not hold, so the order counts.

Wrong::

    family: kettle
    causes:
      lime: {title: Lime, out-of-100: 5, risk: nuisance, remedies: [new-element, descale]}

Told::

    3:78: causes > lime > remedies > 2: 'descale' (clean) is milder than the remedy before it. Write the mildest first.

Right::

    family: kettle
    causes:
      lime: {title: Lime, out-of-100: 5, risk: nuisance, remedies: [descale, new-element]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.model.family import Verdict
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "jobs"
KINDS = ("catalogue",)
STRENGTH = {verdict.value: verdict.strength for verdict in Verdict}


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, cause, path in manuscript.entries("causes"):
        before = -1
        for name, at in items(cause.get("remedies"), (*path, "remedies")):
            verdict = manuscript.shelf.entry("remedies", manuscript.full(name)).get("verdict")
            strength = STRENGTH.get(str(verdict), before)
            if strength < before:
                told = f"'{name}' ({verdict}) is milder than the remedy before it."
                yield manuscript.fault(at, told, "Write the mildest first.")
                break
            before = strength
