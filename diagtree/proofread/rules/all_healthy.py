"""Every answer of a check is marked healthy.

If each answer is what a sound part gives, the check tells nothing about what is broken.

Wrong::

    checks:
      lamp:
        answers:
          no: {next: fuse, healthy: true}
          yes: {next: hum, healthy: true}

Told::

    3:5: checks > lamp > answers: Every answer is marked healthy, so none of them tells what is broken. Keep 'healthy: true' for sound parts.

Right::

    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {next: hum, healthy: true}
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
        if answers and all(is_true(mapping(answer).get("healthy")) for answer in answers.values()):
            told = "Every answer is marked healthy, so none of them tells what is broken."
            yield manuscript.fault(
                (*path, "answers"), told, "Keep 'healthy: true' for sound parts.", of_key=True
            )
