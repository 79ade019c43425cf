"""Puts the site into a folder that is empty or its own."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Mapping
from pathlib import Path

from diagtree.case.disk import cannot_write
from diagtree.case.saving import save
from diagtree.errors import ExpectedError

LIST = "diagtree-page.json"
"""Names the files that belong to the site: by it a folder is known to be ours."""


class FolderInUseError(ExpectedError):
    """A folder that holds something else."""


def write_site(folder: Path, pages: Mapping[str, bytes], *, force: bool = False) -> None:
    """Write the site.

    Parameters
    ----------
    folder
        Where to; it is made if it is not there.
    pages
        What goes where.
    force
        True to write into a folder that holds other things; those stay unless they have a page's name.

    Raises
    ------
    FolderInUseError
        If the folder holds something else and ``force`` is not set.
    CannotWriteError
        If it cannot be written.
    """
    before = check_folder(folder, force=force)
    listed = json.dumps({"schema": 1, "files": sorted(pages)}, indent=1).encode() + b"\n"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        home = folder.resolve(strict=True)
        # Until the last page is there both the old and the new ones count as ours.
        save(home / LIST, _list(sorted({*pages, *before})), force=True)
        for place, content in pages.items():
            path = home / place
            path.parent.mkdir(parents=True, exist_ok=True)
            if not (path.is_file() and path.read_bytes() == content):
                save(path, content, force=True)
        for place in before:
            path = home / place
            if place not in pages and path.resolve().is_relative_to(home):
                path.unlink(missing_ok=True)
                with contextlib.suppress(OSError):
                    path.parent.rmdir()
        save(home / LIST, listed, force=True)
    except OSError as error:
        raise cannot_write(folder, error, "") from None


def check_folder(folder: Path, *, force: bool = False) -> tuple[str, ...]:
    """See that the site may go into a folder.

    Returns
    -------
    tuple of str
        The files of the site that is there already.

    Raises
    ------
    FolderInUseError
        If it holds something else and ``force`` is not set.
    """
    if not folder.exists():
        return ()
    if not folder.is_dir():
        raise FolderInUseError(f"{folder} is a file.", "Name a folder.")
    try:
        listed = json.loads((folder / LIST).read_text("utf-8"))["files"]
        return tuple(str(place) for place in listed)
    except (OSError, ValueError, KeyError, TypeError):
        pass
    if not force and any(folder.iterdir()):
        raise FolderInUseError(
            f"The folder {folder} holds something else.",
            "Name an empty one, or add --force to write into it.",
        )
    return ()


def _list(places: list[str]) -> bytes:
    return json.dumps({"schema": 1, "files": places}, indent=1).encode() + b"\n"
