"""A finding stops the work, and none of its causes says whom to refer to.

To be told to stop is half the help. The sheet needs to say who takes it on, and why.

Wrong::

    family: kettle
    checks:
      smell:
        answers:
          burnt: {says: It smells burnt, found: {element-open: 10}, stop: Do not switch it on.}
          no: {says: No smell, found: {scale: 90}}

Told::

    5:71: checks > smell > answers > burnt > stop: The work stops here, and nothing says who takes it on. Say so, or add 'refer:' to the cause.

Right::

    family: kettle
    checks:
      smell:
        answers:
          burnt: {says: It smells burnt, found: {element-open: 10}, stop: Do not switch it on. A qualified electrician looks at it.}
          no: {says: No smell, found: {scale: 90}}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "safety"
KINDS = ("tree",)
REFER = re.compile(
    r"\b(?:refer|go on|tree|specialist|qualified|owner|customer|maker|electrician|replac\w+|nobody|never)\b",
    re.IGNORECASE,
)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for answer in manuscript.answers:
        if not answer.data.get("stop"):
            continue
        causes = [
            manuscript.shelf.entry("causes", manuscript.full(name))
            for name in mapping(answer.data.get("found"))
        ]
        if not REFER.search(str(answer.data["stop"])) and not any(cause.get("refer") for cause in causes):
            told = "The work stops here, and nothing says who takes it on."
            yield manuscript.fault((*answer.path, "stop"), told, "Say so, or add 'refer:' to the cause.")
