"""Two causes have the same title.

One cause under two names is counted and paid for twice. A tree can point at another family's cause:
`family/name`.

Wrong::

    family: toaster
    causes:
      lime: {title: Scale on the element}

Told::

    3:17: causes > lime > title: The cause 'kettle/scale' has the same title. Use that one, or say how they differ.

Right::

    family: toaster
    causes:
      lime: {title: Lime in the slots}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "shared"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, cause, path in manuscript.entries("causes"):
        title = str(cause.get("title", "")).casefold()
        for full in manuscript.shelf.cause_titles.get(title, ()):
            if full != manuscript.full(name):
                told = f"The cause '{full}' has the same title."
                yield manuscript.fault((*path, "title"), told, "Use that one, or say how they differ.")
                break
