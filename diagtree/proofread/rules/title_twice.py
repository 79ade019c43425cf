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
    mine = [
        (text, path)
        for key in ("title", "also-called")
        for text, path in items(manuscript.data.get(key), (key,))
    ]
    for other in manuscript.shelf.trees:
        if other.data.get("symptom") == manuscript.data.get("symptom"):
            continue
        theirs = {
            text.casefold()
            for key in ("title", "also-called")
            for text, _ in items(other.data.get(key), (key,))
        }
        for text, path in mine:
            if text.casefold() in theirs:
                told = f"The tree '{other.data.get('symptom')}' is called that too."
                yield manuscript.fault(path, told, "Say how they differ.")
