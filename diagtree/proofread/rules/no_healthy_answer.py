"""No answer of a check is marked as what a sound part gives.

Where a cause lies elsewhere, a check shows what a sound part shows. Without `healthy: true` the program
knows nothing of that, and the check counts for little.

Wrong::

    checks:
      lamp:
        answers:
          no: {says: Stays dark, next: fuse}
          yes: {says: Comes on, next: hum}

Told::

    3:5: checks > lamp > answers: No answer is marked as the one that a sound part gives. Write 'healthy: true' with it.

Right::

    checks:
      lamp:
        answers:
          no: {says: Stays dark, next: fuse}
          yes: {says: Comes on, next: hum, healthy: true}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import is_true
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, check, path in manuscript.checks:
        answers = mapping(check.get("answers"))
        # A row of its own says what each cause shows: the kind of machine, for example, is never "sound".
        if (
            answers
            and "shows" not in check
            and not any(is_true(mapping(answer).get("healthy")) for answer in answers.values())
        ):
            told = "No answer is marked as the one that a sound part gives."
            yield manuscript.fault((*path, "answers"), told, "Write 'healthy: true' with it.", of_key=True)
