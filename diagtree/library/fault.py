"""A fault in a file: a value that says where, what, and what to do. Printing it is somebody else's work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from diagtree.errors import FaultsFoundError, meant, near_names

Path = tuple[str | int, ...]
"""Where something is in a file: keys and places in lists, from the outside in."""


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """Something wrong in a file.

    Parameters
    ----------
    file
        The file, as it is shown to its author.
    line, column
        Counted from 1.
    path
        The way there in the author's words: ``checks > lever-feel > answers > soft``; may be empty.
    text
        What is wrong, a sentence.
    mend
        What to do, a sentence; may be empty.
    rule
        The proofreading rule that found it; empty for faults in reading.
    at
        The same way as keys and places; empty where the writing is too broken to tell, and for the whole file.

    Examples
    --------
    >>> print(Fault("a.yaml", 3, 5, "checks > lamp", "'ask:' is missing.", "Add it."))
    a.yaml:3:5: checks > lamp: 'ask:' is missing. Add it.
    """

    file: str
    line: int
    column: int
    path: str
    text: str
    mend: str = ""
    rule: str = ""
    at: Path = field(default=(), compare=False, repr=False)

    @property
    def where(self) -> str:
        """File, line and column, as editors understand them."""
        return f"{self.file}:{self.line}:{self.column}"

    @property
    def message(self) -> str:
        """Everything but the place in the file."""
        words = f"{self.text} {self.mend}".strip()
        return f"{self.path}: {words}" if self.path else words

    def __str__(self) -> str:
        return f"{self.where}: {self.message}"


class FaultyFileError(FaultsFoundError):
    """A file with faults, all of them.

    Parameters
    ----------
    faults
        At least one.
    """

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


def in_words(path: Iterable[str | int]) -> str:
    """Spell a path as an author would say it; places in lists are counted from 1.

    Examples
    --------
    >>> in_words(("cases", 0, "answers", "lamp"))
    'cases > 1 > answers > lamp'
    """
    return " > ".join(str(part + 1) if isinstance(part, int) else short(part) or "''" for part in path)


def ring(names: Sequence[str]) -> str:
    """Name what stands in a ring, the middle of a long one left out.

    Examples
    --------
    >>> ring(["a", "b", "a"]), ring(list("abcdefghija"))
    ('a, b, a', 'a, b, c, d, ..., j, a')
    """
    shown = names if len(names) <= 9 else [*names[:4], "...", *names[-2:]]
    return ", ".join(shown)


def short(text: str) -> str:
    """Shorten a text that is quoted back to its author.

    Examples
    --------
    >>> short("lever"), len(short("x" * 4000))
    ('lever', 63)
    """
    return text if len(text) <= 63 else f"{text[:60]}..."


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """Say which known words are near, or list them if they are few, or say something else.

    Examples
    --------
    >>> did_you_mean("titel", ["title", "family"])
    "Did you mean 'title'?"
    >>> did_you_mean("zzz", ["title", "family"])
    'Choose one of: family, title.'
    >>> did_you_mean("zzz", [], "Write a title first.")
    'Write a title first.'
    """
    words = sorted(set(known))
    near = near_names(word, words)
    if near:
        return meant(near)
    if words and len(words) <= 12:
        return f"Choose one of: {', '.join(words)}."
    return otherwise
