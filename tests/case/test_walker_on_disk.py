"""A whole walk over a journal whose disk fails: what returned is kept, what raised is not half done."""

from __future__ import annotations

import errno

import pytest

from diagtree.case.disk import Disk
from diagtree.case.journal import Journal, read_journal
from diagtree.case.keeper import read_case
from diagtree.case.places import Place
from diagtree.case.walker import Walker
from diagtree.errors import CannotWriteError, ExpectedError

SCRIPT = [
    lambda walker: walker.answer("limed"),
    lambda walker: walker.cannot_tell(),
    lambda walker: walker.answer("no"),
    lambda walker: walker.note("smells burnt"),
    lambda walker: walker.cannot_tell(),
    lambda walker: walker.back(),
    lambda walker: walker.answer("no"),
    lambda walker: walker.answer("yes"),
    lambda walker: walker.enter_reading("97 °C", place=Place.check("slow-boil", "heat")),
    lambda walker: walker.choose(["no-heat"]),
    lambda walker: walker.finish(),
    lambda walker: walker.tick("kettle/swap-fuse"),
    lambda walker: walker.hand_over("Kim"),
]


class FailingWrites(Disk):
    """The Nth write or fsync fails, and goes on failing for some time."""

    def __init__(self, number: int, times: int) -> None:
        self.left, self.times = number, times

    def _count(self) -> None:
        self.left -= 1
        if -self.times < self.left <= 0:
            raise OSError(errno.EIO, "Input/output error")

    def write(self, descriptor, data):
        self._count()
        return super().write(descriptor, data)

    def fsync(self, descriptor):
        self._count()
        super().fsync(descriptor)


@pytest.mark.parametrize("times", [1, 3])
def test_whichever_write_fails_what_returned_is_kept(kettle, tmp_path, times):
    failed = 0
    for number in range(1, 50):
        path = tmp_path / f"{times}-{number}.case"
        disk = FailingWrites(number, times)
        try:
            journal = Journal.create(path, disk)
        except CannotWriteError:
            continue
        with journal:
            try:
                walker = Walker(kettle, journal, complaints=["no-heat", "slow-boil"])
            except CannotWriteError:
                continue
            for step in SCRIPT:
                before = walker.case
                try:
                    step(walker)
                except CannotWriteError:
                    failed += 1
                    assert walker.case == before
                except ExpectedError:
                    pass  # an answer that the question before it would have made possible
                assert read_case(read_journal(path).records) == walker.case
        if disk.left > 0:
            break
    else:
        raise AssertionError("there was always one more write to fail")
    assert failed >= len(SCRIPT)
