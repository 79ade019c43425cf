"""Finds fasteners by what a mechanic calls them."""

from __future__ import annotations

from diagtree.errors import ExpectedError
from diagtree.library.library import Library

NEAR_ENOUGH = 70.0
"""Likeness out of 100 from which a name is offered."""


class NoSuchFastenerError(ExpectedError):
    """Words that no fastener answers to."""


def find_fasteners(library: Library, wanted: str) -> tuple[str, ...]:
    """Return the full names of the fasteners that are meant.

    A name is taken as it is, in full or bare; else all fasteners are meant whose name, title and side
    hold every word; failing that, their part and family count too, and the beginnings of words.

    Parameters
    ----------
    library
        Where to look.
    wanted
        ``kettle/base-screw``, ``base-screw`` or plain words: ``base screw``.

    Returns
    -------
    tuple of str
        At least one.

    Raises
    ------
    NoSuchFastenerError
        If nothing is meant; near names are listed.
    """
    if wanted in library.fasteners:
        return (wanted,)
    text = wanted.strip().lower()
    bare = tuple(name for name in library.fasteners if name.partition("/")[2] == text)
    if bare:
        return bare
    words = _split(text)
    for known in (_title_words(library), _all_words(library)):
        for fits in (_whole, _begun):
            meant = tuple(
                name for name, row in known.items() if words and all(fits(word, row) for word in words)
            )
            if meant:
                return meant
    near = _near(library, words)
    raise NoSuchFastenerError(
        f"There is no fastener '{wanted}'.",
        f"Did you mean {' or '.join(repr(name) for name in near)}?"
        if near
        else "Name it by words of its title, for example: stem bolt."
        if library.fasteners
        else "No fastener is known here at all.",
    )


def _whole(word: str, row: frozenset[str]) -> bool:
    return word in row


def _begun(word: str, row: frozenset[str]) -> bool:
    return any(known.startswith(word) for known in row)


def _split(text: str) -> list[str]:
    for mark in "-/,'":
        text = text.replace(mark, " ")
    return text.lower().split()


def _title_words(library: Library) -> dict[str, frozenset[str]]:
    return {
        name: frozenset(_split(f"{name.partition('/')[2]} {row.title} {row.side or ''}"))
        for name, row in library.fasteners.items()
    }


def _all_words(library: Library) -> dict[str, frozenset[str]]:
    words = {}
    for name, known in _title_words(library).items():
        part = library.fasteners[name].part
        title = library.parts[part].title if part is not None and part in library.parts else ""
        words[name] = known | frozenset(_split(f"{name} {title}"))
    return words


def _near(library: Library, words: list[str]) -> list[str]:
    from rapidfuzz import fuzz

    likeness = {
        name: sum(max(fuzz.ratio(word, one) for one in known) for word in words) / len(words)
        for name, known in _title_words(library).items()
        if words
    }
    ranked = sorted(likeness, key=lambda name: (-likeness[name], name))
    return [name for name in ranked if likeness[name] >= NEAR_ENOUGH][:4]
