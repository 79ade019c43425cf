"""The file layer: the few operations on which a case's safety rests, in one place that a test can replace."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from pathlib import Path

from diagtree.errors import CannotWriteError


class Disk:
    """The operating system's files.

    Each method is one operation, so a test can hand in a disk whose Nth operation fails.
    """

    def open(self, path: Path, flags: int) -> int:
        """Open a file; return its descriptor."""
        return os.open(path, flags | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0), 0o600)

    def write(self, descriptor: int, data: bytes) -> int:
        """Write; return how many bytes were taken, which may be fewer."""
        return os.write(descriptor, data)

    def read(self, path: Path) -> bytes:
        """Read a whole file."""
        return path.read_bytes()

    def fsync(self, descriptor: int) -> None:
        """Return once what was written is on the disk itself."""
        os.fsync(descriptor)

    def truncate(self, descriptor: int, size: int) -> None:
        """Cut a file back."""
        os.ftruncate(descriptor, size)

    def replace(self, source: Path, target: Path) -> None:
        """Put one file in the place of another, at one stroke."""
        os.replace(source, target)

    def rename(self, source: Path, target: Path) -> None:
        """Give a file another name; never one that is taken."""
        if sys.platform == "win32":
            os.rename(source, target)
            return
        # A rename would silently put an end to a file of that name; a link does not.
        os.link(source, target)
        os.unlink(source)

    def remove(self, path: Path) -> None:
        """Remove a file."""
        os.unlink(path)

    def close(self, descriptor: int) -> None:
        """Close a descriptor."""
        os.close(descriptor)

    def make_folder(self, path: Path) -> None:
        """Make a folder and those above it, where they are not there yet."""
        path.mkdir(parents=True, exist_ok=True, mode=0o700)

    def fsync_folder(self, path: Path) -> None:
        """Return once a new name in a folder is on the disk itself."""
        if sys.platform == "win32":
            return  # folders cannot be opened there, and new names need no such care
        descriptor = os.open(path, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)

    def is_at(self, descriptor: int, path: Path) -> bool:
        """Tell whether an open file is still the one at a path: not removed, not moved away."""
        mine = os.fstat(descriptor)
        try:
            there = os.stat(path)
        except FileNotFoundError:
            return False
        return (mine.st_dev, mine.st_ino) == (there.st_dev, there.st_ino)

    def lock(self, descriptor: int) -> bool | None:
        """Take the only lock on a file, at once or not at all; it goes when the descriptor is closed.

        Returns
        -------
        bool or None
            False if somebody else has it; None if this place knows no locks, as some network folders do.
        """
        try:
            if sys.platform == "win32":
                import msvcrt

                # A byte far behind the end: the text itself stays readable for others.
                os.lseek(descriptor, 2**30, os.SEEK_SET)
                msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
            else:
                import fcntl

                fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except (BlockingIOError, PermissionError):
            return False
        except OSError as error:
            if error.errno in {errno.ENOTSUP, errno.ENOLCK, errno.ENOSYS}:
                return None
            raise
        return True


DISK = Disk()
"""The real one."""


class ShortWriteError(OSError):
    """The disk took only a part of what was written: it is full."""


def write_all(disk: Disk, descriptor: int, data: bytes) -> None:
    """Write all of it, or raise; a disk that takes only a part is full.

    Raises
    ------
    ShortWriteError
        If the disk stops taking.
    OSError
        If it fails.
    """
    done = 0
    while done < len(data):
        took = disk.write(descriptor, data[done:])
        if took <= 0:
            raise ShortWriteError("the disk took nothing more")
        done += took


def cannot_write(path: Path, error: OSError, kept: str) -> CannotWriteError:
    """Say in words why a file cannot be written, what is kept, and what to do.

    Examples
    --------
    >>> full = OSError(errno.ENOSPC, "No space left on device")
    >>> print(cannot_write(Path("a.case"), full, "All earlier answers are saved."))
    Cannot write a.case: the disk is full. All earlier answers are saved. Make room, then try again.
    """
    if isinstance(error, ShortWriteError) or error.errno in {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}:
        why, mend = "the disk is full", "Make room, then try again."
    elif error.errno in {errno.EACCES, errno.EPERM, errno.EROFS}:
        why, mend = "this place is read-only for you", "Choose another folder."
    elif error.errno in {errno.ENOENT, errno.ENOTDIR}:
        why, mend = "its folder is not there", "Make the folder first, or choose another."
    elif error.errno == errno.EISDIR:
        why, mend = "it is a folder", "Name a file in it."
    elif error.errno == errno.ENAMETOOLONG:
        why, mend = "the name is too long", "Choose a shorter one."
    else:
        why, mend = (error.strerror or str(error)).lower(), "Try again, or choose another folder."
    return CannotWriteError(f"Cannot write {path}: {why}.", f"{kept} {mend}".strip())


def close_quietly(disk: Disk, descriptor: int) -> None:
    """Close a descriptor; what was to be kept is kept already, so a failure means nothing."""
    with contextlib.suppress(OSError):
        disk.close(descriptor)
