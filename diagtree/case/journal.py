"""The journal: a case's events on disk, each safe before the next question is put."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from diagtree.case.disk import DISK, Disk, cannot_write, close_quietly, write_all
from diagtree.case.lines import Contents, line_of, read_lines
from diagtree.errors import CannotWriteError, CaseInUseError, DamagedFileError, ExpectedError

_KEPT = "Everything before it is saved."
NO_LOCKS = "This folder knows no locks. Keep the case open in one window only."


class Journal:
    """An append-only file of events, locked while it is open.

    Make one with `create` or `open`; close it, or use it in a ``with`` statement. A record is on the disk
    itself once `append` has returned. If `append` raises, the file holds what it held before.

    Examples
    --------
    >>> import tempfile
    >>> folder = tempfile.TemporaryDirectory()
    >>> path = Path(folder.name) / "one.case"
    >>> with Journal.create(path) as journal:
    ...     journal.append({"kind": "opened"})
    >>> with Journal.open(path) as journal:
    ...     len(journal.records), journal.notices
    (1, ())
    >>> folder.cleanup()
    """

    def __init__(self, path: Path, descriptor: int, contents: Contents, disk: Disk) -> None:
        self.path = path
        self.notices: tuple[str, ...] = ()
        """What a person should be told: an unfinished last line was dropped, the folder knows no locks."""
        self._descriptor = descriptor
        self._disk = disk
        self._records = list(contents.records)
        self._size = contents.size
        self._rest = contents.torn > 0
        """True if the file may hold something behind the last record that must be cut off."""

    @classmethod
    def create(cls, path: Path, disk: Disk = DISK) -> Self:
        """Make a new journal; its folder is made too.

        Raises
        ------
        CannotWriteError
            If it cannot be made there.
        ExpectedError
            If there is a file of that name already.
        """
        try:
            disk.make_folder(path.parent)
            descriptor = disk.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_APPEND)
        except FileExistsError:
            if path.parent.is_dir():
                raise ExpectedError(
                    f"There is a case {path} already.", "Open it, or choose another name."
                ) from None
            raise cannot_write(path, NotADirectoryError(20, ""), "") from None
        except OSError as error:
            raise cannot_write(path, error, "") from None
        journal = cls(path, descriptor, Contents((), 0), disk)
        try:
            journal._take_lock()
            disk.fsync(descriptor)
            disk.fsync_folder(path.parent)
        except OSError as error:
            journal.close()
            raise cannot_write(path, error, "") from None
        except CaseInUseError:
            journal.close()
            raise
        return journal

    @classmethod
    def open(cls, path: Path, disk: Disk = DISK) -> Self:
        """Open a journal that is there, to go on with it.

        Raises
        ------
        CaseInUseError
            If another window has it open.
        DamagedFileError
            If a line is not as it was written.
        CannotWriteError
            If it can be read but not written.
        ExpectedError
            If it is not there.
        """
        if path.exists() and not path.is_file():
            raise ExpectedError(f"{path} is no file.", "See: diagtree cases")
        try:
            descriptor = disk.open(path, os.O_RDWR | os.O_APPEND)
        except FileNotFoundError:
            raise ExpectedError(f"There is no case {path}.", "See: diagtree cases") from None
        except OSError as error:
            raise cannot_write(path, error, "Nothing in it is lost.") from None
        journal = cls(path, descriptor, Contents((), 0), disk)
        try:
            journal._take_lock()
            contents = read_journal(path, disk)
            refuse_damage(path, contents)
        except OSError as error:
            journal.close()
            raise cannot_write(path, error, "Nothing in it is lost.") from None
        except ExpectedError:
            journal.close()
            raise
        journal._records = list(contents.records)
        journal._size = contents.size
        journal._rest = contents.torn > 0
        if contents.torn:
            notice = (
                f"The last line of {path.name} was never finished, and was dropped. "
                f"All {len(contents.records)} lines before it are whole."
            )
            journal.notices = (*journal.notices, notice)
        return journal

    def _take_lock(self) -> None:
        locked = self._disk.lock(self._descriptor)
        if locked is False:
            raise CaseInUseError(f"{self.path} is open in another window.", "Go on there, or close it first.")
        if locked is None:
            self.notices = (*self.notices, NO_LOCKS)

    @property
    def records(self) -> Sequence[Mapping[str, Any]]:
        """All records so far, first to last."""
        return self._records

    @property
    def closed(self) -> bool:
        """True once the journal has been closed."""
        return self._descriptor < 0

    def append(self, record: Mapping[str, Any]) -> None:
        """Put one more record on the disk; it is safe once this returns.

        Raises
        ------
        CannotWriteError
            If it could not be written; the file holds all that it held before.
        """
        if self.closed:
            raise ValueError("the journal is closed")
        line = line_of(len(self._records) + 1, record)
        try:
            if not self._disk.is_at(self._descriptor, self.path):
                raise CannotWriteError(
                    f"{self.path} was moved or removed while it was open, so nothing more can be saved in it.",
                    "Put it back, or start again with --case and another name.",
                )
            if self._rest:
                self._cut_back()
            self._rest = True
            write_all(self._disk, self._descriptor, line)
            self._disk.fsync(self._descriptor)
        except OSError as error:
            # What has arrived of the line must not stay: the next one would be written behind it.
            try:
                self._cut_back()
            except OSError:
                self._rest = True
            raise cannot_write(self.path, error, _KEPT) from None
        self._rest = False
        self._size += len(line)
        self._records.append(record)

    def _cut_back(self) -> None:
        self._disk.truncate(self._descriptor, self._size)
        self._rest = False

    def close(self) -> None:
        """Close the file and give up the lock."""
        if not self.closed:
            close_quietly(self._disk, self._descriptor)
            self._descriptor = -1

    def rename(self, path: Path) -> bool:
        """Give the file another name while it is open; False if that cannot be done: it then keeps its own."""
        try:
            self._disk.rename(self.path, path)
        except OSError:
            return False
        self.path = path
        with suppress(OSError):  # the name may be lost with the power, not the file
            self._disk.fsync_folder(path.parent)
        return True

    def discard(self) -> None:
        """Close the journal and remove its file: for a case in which nothing was entered."""
        self.close()
        try:
            self._disk.remove(self.path)
        except OSError as error:
            raise cannot_write(self.path, error, "") from None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def read_journal(path: Path, disk: Disk = DISK) -> Contents:
    """Read a journal without opening it for writing; damage is told, not raised.

    Raises
    ------
    ExpectedError
        If the file cannot be read.
    """
    try:
        return read_lines(disk.read(path))
    except FileNotFoundError:
        raise ExpectedError(f"There is no case {path}.", "See: diagtree cases") from None
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise ExpectedError(f"Cannot read {path}: {why}.", "Check who may read it.") from None


def refuse_damage(path: Path, contents: Contents) -> None:
    """Raise if a journal is damaged.

    Raises
    ------
    DamagedFileError
        With the line and how to save what came before it.
    """
    if contents.damage is None:
        return
    line, why = contents.damage.line, contents.damage.why
    if line == 1 and why == "it is no line of a case":
        raise DamagedFileError(f"{path} is no case of diagtree.", "See: diagtree cases")
    before = "1 line" if line == 2 else f"{line - 1} lines"
    raise DamagedFileError(
        f"{path}, line {line}: damaged ({why}).",
        f"To save the {before} before it: diagtree cases recover {path} --to NEW"
        if line > 1
        else "Nothing before it can be saved.",
    )


def recover(path: Path, to: Path, disk: Disk = DISK) -> int:
    """Save all whole lines before the damage as a new journal; the damaged one stays as it is.

    Returns
    -------
    int
        How many lines were saved.

    Raises
    ------
    DamagedFileError
        If not even the first line is whole.
    ExpectedError
        If the file cannot be read, or the new one is there already.
    CannotWriteError
        If the new one cannot be written.
    """
    from diagtree.case.saving import save

    contents = read_journal(path, disk)
    if not contents.records:
        raise DamagedFileError(f"{path}: not even its first line is whole.", "There is nothing to save.")
    save(to, disk.read(path)[: contents.size], disk=disk)
    return len(contents.records)
