"""Another tree has the same title or also-called.

Who types what the customer says is offered both and cannot tell them apart.

Wrong::

    symptom: cold
    title: The water stays cold
    family: kettle

Told::

    2:8: title: The tree 'no-heat' is called that too. Say how they differ.

Right::

    symptom: cold
    title: The water stays lukewarm
    family: kettle
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "wording"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    symptom = str(manuscript.data.get("symptom"))
    for key in ("title", "also-called"):
        for text, path in items(manuscript.data.get(key), (key,)):
            others = [one for one in manuscript.shelf.tree_titles.get(text.casefold(), ()) if one != symptom]
            if others:
                told = f"The tree '{others[0]}' is called that too."
                yield manuscript.fault(path, told, "Say how they differ.")
