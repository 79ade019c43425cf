"""Two causes have nearly the same title.

They are likely meant as one. If they are two, the titles should say how they differ.

Wrong::

    family: toaster
    causes:
      lime: {title: Scale on the elements}

Told::

    3:17: causes > lime > title: The title is 98 % like that of 'kettle/scale'. If they are one, use that; else say how they differ.

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
LIKE = 92
KINDS_APART = frozenset(
    {
        "front",
        "rear",
        "left",
        "right",
        "upper",
        "lower",
        "inner",
        "outer",
        "long",
        "short",
        "loose",
        "tight",
        "not",
    }
)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    from rapidfuzz import fuzz, process

    known = manuscript.shelf.cause_titles
    choices = list(known)
    for name, cause, path in manuscript.entries("causes"):
        title = str(cause.get("title", "")).casefold()
        for near, score, _ in process.extract(title, choices, scorer=fuzz.ratio, score_cutoff=LIKE, limit=3):
            others = [full for full in known[near] if full != manuscript.full(name)]
            if near != title and others and not differ_in_kind(title, near):
                told = f"The title is {score:.0f} % like that of '{others[0]}'."
                yield manuscript.fault(
                    (*path, "title"), told, "If they are one, use that; else say how they differ."
                )
                break


def differ_in_kind(one: str, other: str) -> bool:
    """Tell whether two titles differ in a word that makes them two things: front and rear.

    Examples
    --------
    >>> differ_in_kind("front axle bent", "rear axle bent"), differ_in_kind("axle bent", "axles bent")
    (True, False)
    """
    apart = set(one.split()) ^ set(other.split())
    return bool(apart & KINDS_APART)
