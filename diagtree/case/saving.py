"""Saving a whole file at one stroke: what was there before stays until the new one is safe."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
from pathlib import Path

from diagtree.case.disk import DISK, Disk, cannot_write, close_quietly, write_all
from diagtree.errors import ExpectedError


def save(path: Path, data: bytes, *, force: bool = False, disk: Disk = DISK) -> None:
    """Write a file whole: into a temporary one beside it, onto the disk, then into its place.

    Parameters
    ----------
    path
        Where it goes.
    data
        What it holds.
    force
        True to put it in the place of a file that is there.
    disk
        The file layer.

    Raises
    ------
    ExpectedError
        If there is such a file and ``force`` is not set.
    CannotWriteError
        If it cannot be written; what was there before is there still.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     save(Path(folder) / "sheet.txt", b"Pull the plug first.")
    ...     (Path(folder) / "sheet.txt").read_text()
    'Pull the plug first.'
    """
    check_free(path, force=force)
    kept = "What was there before is unchanged." if path.exists() else ""
    beside = path.with_name(f".{path.name[:100]}.{secrets.token_hex(4)}.part")
    try:
        descriptor = disk.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL)
    except OSError as error:
        raise cannot_write(path, error, kept) from None
    try:
        try:
            write_all(disk, descriptor, data)
            disk.fsync(descriptor)
        finally:
            close_quietly(disk, descriptor)
        _set_usual_rights(beside, path)
        disk.replace(beside, path)
    except OSError as error:
        with contextlib.suppress(OSError):
            disk.remove(beside)
        raise cannot_write(path, error, kept) from None
    # The file is whole in its place; a folder that cannot be synced only delays its name.
    with contextlib.suppress(OSError):
        disk.fsync_folder(path.parent)


def check_free(path: Path, *, force: bool = False) -> None:
    """Refuse a name that is taken: at once, before the work that would be written there.

    Parameters
    ----------
    path
        Where something will be saved.
    force
        True if it may take the place of a file that is there.

    Raises
    ------
    ExpectedError
        If there is such a file and ``force`` is not set.
    CannotWriteError
        If it is a folder, or its folder is not there.

    Examples
    --------
    >>> check_free(Path("no-such-folder") / "sheet.txt")
    Traceback (most recent call last):
    diagtree.errors.CannotWriteError: Cannot write no-such-folder/sheet.txt: its folder is not there. Make the folder first, or choose another.
    """
    try:
        taken, wrong = path.exists(), errno.EISDIR if path.is_dir() else 0
        wrong = wrong or (0 if path.parent.is_dir() else errno.ENOENT)
    except OSError as error:
        raise cannot_write(path, error, "") from None
    if wrong:
        raise cannot_write(path, OSError(wrong, ""), "")
    if taken and not force:
        raise ExpectedError(
            f"{path} is there already.", "Add --force to write over it, or choose another name."
        )


def _set_usual_rights(new: Path, old: Path) -> None:
    """Give an export the rights that the file before had, or those that new files have here."""
    try:
        rights = old.stat().st_mode & 0o777
    except OSError:
        mask = os.umask(0)
        os.umask(mask)
        rights = 0o666 & ~mask
    with contextlib.suppress(OSError):
        new.chmod(rights)
