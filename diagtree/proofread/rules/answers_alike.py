"""Two answers of a check say the same.

Nobody can choose between them.

Wrong::

    checks:
      lamp:
        answers:
          no: {says: Stays dark, next: a}
          yes: {says: stays dark, next: b}

Told::

    5:19: checks > lamp > answers > yes > says: The answers 'no' and 'yes' say the same. Say how they differ.

Right::

    checks:
      lamp:
        answers:
          no: {says: Stays dark, next: a}
          yes: {says: Comes on, next: b}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for section in ("checks", "looks"):
        for _, entry, path in manuscript.entries(section):
            seen: dict[str, str] = {}
            for name, answer in mapping(entry.get("answers")).items():
                says = str(mapping(answer).get("says", name)).strip(" .").casefold()
                if says in seen:
                    told = f"The answers '{seen[says]}' and '{name}' say the same."
                    yield manuscript.fault((*path, "answers", name, "says"), told, "Say how they differ.")
                seen.setdefault(says, name)
