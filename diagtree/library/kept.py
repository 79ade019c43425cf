"""Keeps a library that was put together, so that the next start need not read and check every file again.

What is kept belongs to exactly the files it was made of: their places, sizes and times, and the program's own.
Anything else, a file that was touched or a damaged store, and the library is put together anew; nothing is ever
answered from what is kept if it could differ from what would be read. A library with problems is never kept.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import pickle
import sys
from collections.abc import Iterable
from pathlib import Path

from diagtree import __version__
from diagtree.library.library import Library

FORM = 1
"""Counts up when the form of the store changes."""

MOST = 4
"""So many libraries are kept; older ones go."""

_CODE = ("model", "library")
"""The rooms whose code decides what a library is."""


def key_of(files: Iterable[tuple[object, str]], readings: Iterable[str]) -> str | None:
    """Tell the key of a library: it changes with anything that the library is made of.

    Parameters
    ----------
    files
        The files with their origins.
    readings
        The names of the readings that plugins offer.

    Returns
    -------
    str or None
        None if a file cannot be told apart from a later one of the same name: it lies in an archive, say.
    """
    try:
        here = Path.cwd()
    except OSError:  # the folder that we stand in was taken away
        return None
    told = hashlib.sha256(f"{FORM} {__version__} {sys.version}".encode())
    home = Path(__file__).parent.parent
    code = [(file, "code") for room in _CODE for file in sorted((home / room).glob("*.py"))]
    for file, origin in [*files, *code]:
        if not isinstance(file, Path):
            return None
        try:
            stat = file.stat()
        except OSError:
            return None
        told.update(f"{file.absolute()}|{origin}|{stat.st_size}|{stat.st_mtime_ns}|{stat.st_ino}\n".encode())
    told.update("\n".join(sorted(readings)).encode())
    told.update(str(here).encode())  # places are told from where their author stands
    return told.hexdigest()


def take(folder: Path, key: str) -> Library | None:
    """Return the library that is kept under a key, or None."""
    file = _file(folder, key)
    try:
        if hasattr(os, "getuid") and file.stat().st_uid != os.getuid():
            return None  # somebody else put it there
        raw = file.read_bytes()
        digest, content = raw[:32], raw[32:]
        if hashlib.sha256(content).digest() != digest:
            return None
        library = _Opener(io.BytesIO(content)).load()
    except Exception:  # whatever is wrong with the store, the files themselves are there
        return None
    return library if isinstance(library, Library) else None


def keep(folder: Path, key: str, library: Library) -> None:
    """Keep a library under a key; a folder that cannot be written is no misfortune."""
    content = pickle.dumps(library, protocol=5)
    new = _file(folder, f"{key}.{os.getpid()}")
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        new.write_bytes(hashlib.sha256(content).digest() + content)
        new.replace(_file(folder, key))
        kept = sorted(folder.glob("*.kept"), key=lambda file: file.stat().st_mtime_ns)
        for old in kept[:-MOST]:
            old.unlink(missing_ok=True)
    except OSError:
        with contextlib.suppress(OSError):
            new.unlink(missing_ok=True)


def _file(folder: Path, key: str) -> Path:
    return folder / f"{key}.kept"


class _Opener(pickle.Unpickler):
    """Makes nothing but what a library is made of, so that a store can hold no surprise."""

    def find_class(self, module: str, name: str) -> object:
        if module.startswith("diagtree.model.") or (module, name) in _PLAIN:
            return super().find_class(module, name)
        raise pickle.UnpicklingError(f"{module}.{name} is no part of a library")


_PLAIN = frozenset(
    {("diagtree.library.library", "Library"), ("diagtree.library.library", "Problem"), ("decimal", "Decimal")}
)
