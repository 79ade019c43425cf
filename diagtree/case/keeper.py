"""The keeper: a case and its log, and everything that is entered without a question being put."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from diagtree.case import events
from diagtree.case.case import Case, apply, fold
from diagtree.case.log import Log, ScratchLog
from diagtree.errors import DamagedFileError, UnknownNameError
from diagtree.library.library import Library
from diagtree.model.family import Torque
from diagtree.units import plain


def now() -> str:
    """Tell the time as the journal writes it."""
    return datetime.now(UTC).isoformat(timespec="seconds")


class Keeper:
    """A case that is being kept: each verb writes its event into the log before it returns.

    Parameters
    ----------
    library
        What the names in the case are looked up in.
    log
        Where the events are kept. One that holds events already is taken up.
    clock
        Tells the time; given by tests.

    Raises
    ------
    DamagedFileError
        If the log holds what no version has written.
    """

    def __init__(self, library: Library, log: Log, clock: Callable[[], str] = now) -> None:
        self.library = library
        self._log = log
        self._clock = clock
        self._case = read_case(log.records)

    @property
    def case(self) -> Case:
        """Everything that was entered."""
        return self._case

    @property
    def keeps(self) -> bool:
        """False where something is only tried out, so that nobody is told that it is saved."""
        return not isinstance(self._log, ScratchLog)

    def label(self, text: str, brief: str = "") -> None:
        """Say what the machine is called, and how much is to be done."""
        self._do(events.Labelled(self._clock(), text, brief))

    def wish(self, wishes: Sequence[str]) -> None:
        """Set the customer's extra wishes."""
        self._do(events.Wished(self._clock(), tuple(wishes)))

    def overrule(self, part: str, remedy: str, reason: str = "") -> None:
        """Choose another remedy for a part; an empty remedy takes that back."""
        if remedy and remedy not in self.library.remedies:
            raise UnknownNameError("remedy", remedy, list(self.library.remedies))
        self._do(events.Overruled(self._clock(), part, remedy, reason))

    def tick(self, job: str, done: bool = True) -> None:
        """Tick a job off, or take the tick back."""
        if job not in self.library.jobs:
            raise UnknownNameError("job", job, list(self.library.jobs))
        self._do(events.JobTicked(self._clock(), job, done))

    def outside_range(self, fastener: str, value: Decimal, own: Torque | None = None) -> str | None:
        """Tell what is odd about a torque as done, or None if it lies in its range.

        Parameters
        ----------
        fastener
            Its full name.
        value
            As done, N·m.
        own
            The workshop's own range, which comes before the catalogue's; None if it has none.
        """
        torque = own or self.library.fastener(fastener).torque
        if torque is None or torque.from_ <= value <= torque.to:
            return None
        side = "under" if value < torque.from_ else "over"
        read = plain(round(value, 2))
        return f"{read} N·m is {side} the range, {torque.from_} to {torque.to} N·m. Is that right?"

    def tighten(self, fastener: str, value: Decimal | None, note: str = "") -> None:
        """Enter the torque as done, N·m; None takes it back."""
        self.library.fastener(fastener)
        self._do(events.Tightened(self._clock(), fastener, "" if value is None else str(value), note))

    def tighten_by_feel(self, fastener: str, done: bool = True, note: str = "") -> None:
        """Tick off a fastener that no torque rules, or take the tick back."""
        self.library.fastener(fastener)
        self._do(events.Tightened(self._clock(), fastener, events.DONE if done else "", note))

    def agree(self, price: Decimal, ceiling: Decimal | None = None, note: str = "") -> None:
        """Enter what the customer agreed to, and the ceiling above which to stop and ask."""
        above = "" if ceiling is None else str(ceiling)
        self._do(events.Agreed(self._clock(), str(price), above, note))

    def hand_over(self, by: str, confirmed: Mapping[str, str] | None = None, note: str = "") -> None:
        """Hand the machine over; say for each complaint what it turned out to be."""
        for cause in (confirmed or {}).values():
            self.library.cause(cause)
        self._do(events.HandedOver(self._clock(), by, dict(confirmed or {}), note))

    def _append(self, event: events.Event) -> None:
        self._log.append(events.write(event))
        self._become(apply(self._case, event))

    def _become(self, case: Case) -> None:
        self._case = case

    def _do(self, event: events.Event) -> None:
        self._append(event)


def read_case(records: Sequence[Mapping[str, Any]]) -> Case:
    """Tell the case that a log's records tell; an empty log tells an empty case.

    Raises
    ------
    DamagedFileError
        If the records are not what any version has written, or a newer one has.
    """
    happened = []
    for number, record in enumerate(records, 1):
        if number == 1:
            _check_opening(record)
        try:
            happened.append(events.read(record))
        except ValueError as error:
            raise DamagedFileError(f"Line {number} of the case cannot be read: {error}.") from None
    return fold(happened)


def _check_opening(record: Mapping[str, Any]) -> None:
    if record.get("kind") != events.Opened.kind or not isinstance(record.get("format"), int):
        raise DamagedFileError("This is no case: it does not begin as a case does.")
    if record["format"] > events.FORMAT:
        raise DamagedFileError(
            f"The case was written by a newer diagtree ({record.get('program')}).",
            "Open it with that version.",
        )
