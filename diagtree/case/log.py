"""What a walker writes to: the journal on disk, or one in memory."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol


class Log(Protocol):
    """Somewhere that keeps records; a record is kept once `append` has returned."""

    @property
    def records(self) -> Sequence[Mapping[str, Any]]:
        """All records so far, first to last."""

    def append(self, record: Mapping[str, Any]) -> None:
        """Keep one more record.

        Raises
        ------
        CannotWriteError
            If it could not be kept; everything before it still is.
        """


class MemoryLog:
    """A log that is forgotten with the program: for drafts, practice and simulated cases.

    Examples
    --------
    >>> log = MemoryLog()
    >>> log.append({"kind": "noted"})
    >>> len(log.records)
    1
    """

    def __init__(self, records: Sequence[Mapping[str, Any]] = ()) -> None:
        self._records = list(records)

    @property
    def records(self) -> Sequence[Mapping[str, Any]]:
        """All records so far, first to last."""
        return self._records

    def append(self, record: Mapping[str, Any]) -> None:
        """Keep one more record."""
        self._records.append(record)


class ScratchLog(MemoryLog):
    """A log for trying something out: screens say that nothing is kept."""
