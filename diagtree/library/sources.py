"""The files of a library: found in plugins and folders, read, and told apart by what they begin with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib.resources.abc import Traversable
from pathlib import Path

from diagtree.library.document import MOST_BYTES, Document, read_document
from diagtree.library.fault import Fault, did_you_mean
from diagtree.library.library import SECTIONS, Problem
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.model.words import in_authors_words
from diagtree.model.workshop import Workshop

Model = type[Tree] | type[Family] | type[Conditions]

_TREE_KEYS = ("symptom", "checks", "first", "cases")
_CONDITIONS_KEYS = ("conditions", "looks", "final-checks", "glossary", "machine", "cautions")
MOST_FOLDERS_DEEP = 8


@dataclass(frozen=True, slots=True)
class Source:
    """One file that was read.

    Parameters
    ----------
    document
        Its data with positions.
    model
        What it should be: `Tree`, `Family` or `Conditions`; None if nobody can tell.
    origin
        The plugin that offered it, or ``own`` for a folder of the user's.
    faults
        Why nobody can tell.
    """

    document: Document
    model: Model | None
    origin: str
    faults: tuple[Fault, ...] = ()


def read_source(raw: bytes, file: str, origin: str) -> Source:
    """Read one file and tell what it is.

    Examples
    --------
    >>> read_source(b"symptom: no-heat", "a.yaml", "own").model.__name__
    'Tree'
    >>> print(read_source(b"sympton: no-heat", "a.yaml", "own").faults[0])
    a.yaml:1:1: sympton: There is no key 'sympton' here. Did you mean 'symptom'?
    """
    document = read_document(raw, file)
    data = document.data
    if data is None:
        return Source(document, None, origin, document.faults)
    if any(key in data for key in _TREE_KEYS):
        return Source(document, Tree, origin, document.faults)
    if "family" in data or any(key in data for key in SECTIONS):
        return Source(document, Family, origin, document.faults)
    if any(key in data for key in _CONDITIONS_KEYS) or not data:
        return Source(document, Conditions, origin, document.faults)
    first = next(iter(data))
    workshop = {in_authors_words(field) for field in Workshop.model_fields}
    if set(data) <= workshop and not set(data) <= {"title", "basis"}:
        told, mend = "This is a workshop file, no part of the library.", "Put it into another folder."
    else:
        known = (*_TREE_KEYS, "family", *SECTIONS, *_CONDITIONS_KEYS)
        told, mend = f"There is no key '{first}' here.", did_you_mean(first, known)
        if not mend.startswith("Did"):
            mend = "A tree begins with 'symptom:', a catalogue with 'family:'."
    fault = document.fault((first,), told, mend, of_key=True)
    return Source(document, None, origin, (*document.faults, fault))


def bytes_of(file: Traversable) -> bytes:
    """Return what a file holds, or as much of it as shows that it is too large."""
    with file.open("rb") as stream:
        return stream.read(MOST_BYTES + 1)


def read_files(files: Iterable[tuple[Traversable, str]], problems: list[Problem]) -> Iterator[Source]:
    """Read files with the origin of each; one that cannot be opened is a problem and passed over."""
    for file, origin in files:
        try:
            raw = bytes_of(file)
        except Exception as error:  # a plugin's own traversable may raise anything
            why = getattr(error, "strerror", None) or type(error).__name__
            problems.append(
                Problem(shown(file), f"The file cannot be read: {why}. Mend that, or take it out.")
            )
            continue
        yield read_source(raw, shown(file), origin)


def shown(file: Traversable) -> str:
    """Name a file for its author: from where they stand, if it is under there."""
    if isinstance(file, Path):
        try:
            return str(file.relative_to(Path.cwd()))
        except (ValueError, OSError):
            return str(file)
    return str(file)


def yaml_files(place: Traversable, problems: list[Problem]) -> list[Traversable]:
    """List the YAML files in and under a folder, in order of their names; a file stands for itself.

    A link that leads out of the folder is told and not followed.
    """
    return [place] if place.is_file() else files_under(place, (".yaml", ".yml"), problems)


def files_under(folder: Traversable, endings: tuple[str, ...], problems: list[Problem]) -> list[Traversable]:
    """List the files in and under a folder that end in one of some ways, in order of their names.

    Hidden files and folders are passed over. A link that leads out of the folder is told and not followed.
    """
    root = folder.resolve() if isinstance(folder, Path) else None
    found: list[Traversable] = []
    _list(folder, root, endings, MOST_FOLDERS_DEEP, found, problems)
    return found


def _list(
    folder: Traversable,
    root: Path | None,
    endings: tuple[str, ...],
    deep: int,
    found: list[Traversable],
    problems: list[Problem],
) -> None:
    try:
        entries = sorted(folder.iterdir(), key=lambda one: one.name)
        for entry in entries:
            wanted = entry.name.endswith(endings)
            if entry.name.startswith((".", "__")) or not (wanted or entry.is_dir()):
                continue
            if root is not None and isinstance(entry, Path) and _leads_out(entry, root):
                told = "This link leads out of its folder, or round in a loop. Put the file itself there."
                problems.append(Problem(shown(entry), told))
            elif entry.is_dir():
                if deep:
                    _list(entry, root, endings, deep - 1, found, problems)
                else:
                    problems.append(Problem(shown(entry), "The folder lies too deep. Move it further up."))
            elif isinstance(entry, Path) and entry.exists() and not entry.is_file():
                # A pipe would be waited for without end.
                problems.append(Problem(shown(entry), "This is no ordinary file. Give it another name."))
            else:
                found.append(entry)
    except Exception as error:  # a plugin's own traversable may raise anything
        why = getattr(error, "strerror", None) or type(error).__name__
        problems.append(Problem(shown(folder), f"The folder cannot be read: {why}."))


def _leads_out(entry: Path, root: Path) -> bool:
    if not entry.is_symlink():
        return False
    target = entry.resolve()
    return not target.is_relative_to(root) or target in (root, *entry.absolute().parents)
