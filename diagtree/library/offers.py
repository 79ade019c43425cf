"""What a plugin can offer, and small helps for offering it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from diagtree.model.reading import Reading

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable
    from types import ModuleType


@dataclass(frozen=True, slots=True)
class Rule:
    """A proofreading rule: one kind of fault in what authors write.

    Parameters
    ----------
    name
        The fault, as it is printed: ``question-without-mark``.
    page
        What it finds, why it matters, and two samples, one wrong and one right; the docstring of its module.
    finds
        The rule itself: takes what is proofread and yields faults.
    group
        The chapter that its page is in: ``structure``, ``counts``, ``wording``, ``safety`` and so on.
    kinds
        What it proofreads: ``tree``, ``catalogue``, ``conditions``.
    mends
        Yields the edits (`diagtree.proofread.edits.Edit`) that mend it safely, if that can be done.
    """

    name: str
    page: str
    finds: Callable[[Any], Iterable[Any]]
    group: str = "plugins"
    kinds: tuple[str, ...] = ("tree", "catalogue", "conditions")
    mends: Callable[[Any], Iterable[Any]] | None = None


@dataclass(frozen=True, slots=True)
class SheetWriter:
    """A form in which sheets can be written, beside those that are built in.

    Parameters
    ----------
    name
        What is asked for on the command line: ``--form NAME``.
    title
        What it is, in a few words.
    suffix
        How a file of this form ends: ``.csv``.
    write
        Takes the paper (`diagtree.sheets.paper.Paper`) and returns the bytes of the file.
    """

    name: str
    title: str
    suffix: str
    write: Callable[[Any], bytes]


def files_of(package: str, *names: str) -> list[Traversable]:
    """Return those of a package's files that are there.

    Parameters
    ----------
    package
        The package's name; a plugin passes its own ``__name__``.
    names
        The files' names.

    Examples
    --------
    >>> [file.name for file in files_of("diagtree", "errors.py", "not-there.yaml")]
    ['errors.py']
    """
    home = files(package)
    return [file for name in names if (file := home / name).is_file()]


def readings_in(module: ModuleType) -> list[Reading]:
    """Return the readings that a module defines at its top, alone or in lists, each once.

    Examples
    --------
    >>> from types import SimpleNamespace
    >>> readings_in(SimpleNamespace(ROUGHLY=3))
    []
    """
    found: dict[str, Reading] = {}
    for value in vars(module).values():
        for item in value if isinstance(value, (list, tuple)) else (value,):
            if isinstance(item, Reading):
                found.setdefault(item.name, item)
    return list(found.values())
