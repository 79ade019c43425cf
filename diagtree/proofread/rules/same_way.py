"""All answers of a check lead the same way.

The answer changes nothing, so the question only costs time. Take it out, or let the answers lead apart.

Wrong::

    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {next: fuse}

Told::

    2:3: checks > lamp: All answers to 'lamp' lead the same way. Take the check out, or let its answers lead apart.

Right::

    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {next: hum}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, check, path in manuscript.checks:
        ways = {
            repr((answer.get("next"), answer.get("found")))
            for answer in map(mapping, mapping(check.get("answers")).values())
        }
        if "shows" in check or "fact" in check:
            continue  # it tells about causes elsewhere, or settles the same question of another tree
        if len(ways) == 1 and len(mapping(check.get("answers"))) > 1:
            told = f"All answers to '{name}' lead the same way."
            yield manuscript.fault(
                path, told, "Take the check out, or let its answers lead apart.", of_key=True
            )
