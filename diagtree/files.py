"""Puts bytes into a file: whole or not at all, and never over another file unless asked to."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from diagtree.errors import CannotWriteError, ExpectedError


def write_whole(path: Path, content: bytes, *, force: bool = False) -> None:
    """Write a file by way of a temporary one beside it.

    Parameters
    ----------
    path
        Where to.
    content
        What.
    force
        True to write over a file that is there.

    Raises
    ------
    ExpectedError
        If the file is there and ``force`` is False.
    CannotWriteError
        If the folder is missing or cannot be written, or the disk is full; what was there before stays.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     write_whole(Path(folder) / "sheet.txt", b"work")
    ...     (Path(folder) / "sheet.txt").read_bytes()
    b'work'
    """
    if path.exists() and not force:
        raise ExpectedError(f"The file {path} is there already.", "Choose another name, or add --force.")
    if path.is_dir():
        raise CannotWriteError(f"{path} is a folder.", "Name a file in it.")
    temporary: str | None = None
    try:
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name[:40]}.", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        # mkstemp makes files for their owner alone; a sheet is an ordinary file.
        Path(temporary).chmod(0o666 & ~mask)
        Path(temporary).replace(path)
    except OSError as fault:
        if temporary is not None:
            with contextlib.suppress(OSError):
                Path(temporary).unlink()
        raise CannotWriteError(
            f"The file {path} cannot be written: {fault.strerror or fault}.",
            "Choose a folder that is there and that you may write to.",
        ) from fault
