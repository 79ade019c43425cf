"""The titles of all causes, to find one cause under two names."""

from __future__ import annotations

from collections.abc import Mapping
from weakref import WeakKeyDictionary

from diagtree.proofread.manuscript import Shelf

_KNOWN: WeakKeyDictionary[Shelf, Mapping[str, list[str]]] = WeakKeyDictionary()


def titles(shelf: Shelf) -> Mapping[str, list[str]]:
    """Return the full names of the causes that have a title, by the title in small letters."""
    if shelf not in _KNOWN:
        found: dict[str, list[str]] = {}
        for full, (_, cause) in shelf.entries("causes").items():
            found.setdefault(str(cause.data.get("title", "")).casefold(), []).append(full)
        _KNOWN[shelf] = found
    return _KNOWN[shelf]
