"""Two answers of one check find the same single cause.

If both answers mean the same, one answer is enough; if they do not, one of them names the wrong cause.

Wrong::

    checks:
      lamp:
        answers:
          dim: {says: Dim, found: {switch-worn: 10}}
          flickers: {says: Flickers, found: {switch-worn: 5}}
          bright: {says: Bright, next: hum}

Told::

    5:42: checks > lamp > answers > flickers > found > switch-worn: The answers 'dim' and 'flickers' find the same: switch-worn. Make one answer of them.

Right::

    checks:
      lamp:
        answers:
          dim: {says: Dim or flickering, found: {switch-worn: 15}}
          bright: {says: Bright, next: hum}
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
        seen: dict[str, str] = {}
        for name, answer in mapping(check.get("answers")).items():
            if is_true(mapping(answer).get("healthy")):
                continue  # nothing was seen there: what is found is what is left over
            found = mapping(mapping(answer).get("found"))
            if len(found) == 1 and "from" not in answer and "below" not in answer:
                (written,) = found
                cause = manuscript.full(written)
                if cause in seen:
                    told = f"The answers '{seen[cause]}' and '{name}' find the same: {written}."
                    at = (*path, "answers", name, "found", written)
                    yield manuscript.fault(at, told, "Make one answer of them.", of_key=True)
                seen.setdefault(cause, name)
