"""Proof that no acknowledged answer is lost: every operation failing, kills, full disks, moved files."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from pathlib import Path

import pytest

from diagtree.case.disk import Disk
from diagtree.case.journal import Journal, read_journal, recover
from diagtree.case.saving import save
from diagtree.errors import CannotWriteError, CaseInUseError, ExpectedError

RECORDS = [{"kind": "opened", "format": 1}, *({"kind": "noted", "text": f"note {n} Ü"} for n in range(1, 6))]


class FailingDisk(Disk):
    """A disk whose Nth operation fails; ``short`` makes a failing write take a part first."""

    def __init__(self, fails_at: int, error: int, short: bool = False, for_good: bool = False) -> None:
        self.left = fails_at
        self.error = error
        self.short = short
        self.for_good = for_good
        self.failed = 0

    def _maybe_fail(self) -> bool:
        self.left -= 1
        if self.left == 0 or (self.left < 0 and self.for_good):
            self.failed += 1
            return True
        return False

    def write(self, descriptor, data):
        if self._maybe_fail():
            if self.short:
                return super().write(descriptor, data[: len(data) // 2])
            raise OSError(self.error, os.strerror(self.error))
        return super().write(descriptor, data)


def _failing(name):
    def operation(self, *arguments):
        if self._maybe_fail():
            raise OSError(self.error, os.strerror(self.error))
        return getattr(Disk, name)(self, *arguments)

    return operation


for _name in (
    "open",
    "read",
    "fsync",
    "truncate",
    "replace",
    "rename",
    "remove",
    "close",
    "make_folder",
    "is_at",
    "fsync_folder",
    "lock",
):
    setattr(FailingDisk, _name, _failing(_name))


def keep(path: Path, disk: Disk, tries: int = 1) -> int:
    """Write the records, each tried a few times; return how many were acknowledged."""
    acknowledged = 0
    with Journal.create(path, disk) as journal:
        for record in RECORDS:
            for _ in range(tries):
                try:
                    journal.append(record)
                except CannotWriteError:
                    continue
                acknowledged += 1
                break
            else:
                break
    return acknowledged


@pytest.mark.parametrize("error", [errno.ENOSPC, errno.EIO])
@pytest.mark.parametrize("for_good", [False, True])
@pytest.mark.parametrize("short", [False, True])
def test_whichever_operation_fails_every_acknowledged_record_is_there(tmp_path, error, for_good, short):
    failures = 0
    told = set()
    for number in range(1, 60):
        path = tmp_path / f"{number}" / "one.case"
        disk = FailingDisk(number, error, short, for_good)
        acknowledged = 0
        try:
            acknowledged = keep(path, disk, tries=3)
        except CannotWriteError as refused:
            told.add(refused.exit_code)
        failures += disk.failed
        if path.exists():
            records = read_journal(path).records
            assert list(records[:acknowledged]) == RECORDS[:acknowledged]
            # At most the one that was being written when the disk failed for good.
            assert len(records) <= acknowledged + 1
            if not for_good:
                assert acknowledged in {0, len(RECORDS)}
        else:
            assert acknowledged == 0
        if not disk.failed:
            break
    else:
        raise AssertionError("there was always one more operation to fail")
    assert failures > 15
    assert told == {6}


@pytest.mark.parametrize("for_good", [False, True])
def test_whichever_operation_fails_while_it_is_renamed_the_case_is_whole_under_one_of_the_names(
    tmp_path, for_good
):
    names = set()
    for number in range(1, 40):
        folder = tmp_path / str(number)
        disk = FailingDisk(10**6, errno.EIO, for_good=for_good)
        with Journal.create(folder / "a.case", disk) as journal:
            journal.append(RECORDS[0])
            disk.left = number
            journal.rename(folder / "b.case")
            at, failed = journal.path, disk.failed
            disk.left = 10**6
            journal.append(RECORDS[1])
        assert list(read_journal(at).records) == RECORDS[:2]
        assert [each.name for each in folder.iterdir()] == [at.name]
        names.add(at.name)
        if not failed:
            break
    assert names == {"a.case", "b.case"}


def test_whichever_operation_fails_a_saved_file_is_the_old_one_or_the_new_one(tmp_path):
    path = tmp_path / "sheet.txt"
    told = set()
    for number in range(1, 20):
        save(path, b"old", force=True)
        disk = FailingDisk(number, errno.EIO)
        try:
            save(path, b"new " * 100, force=True, disk=disk)
        except CannotWriteError as refused:
            told.add(refused.mend.split(". ")[0])
            assert path.read_bytes() == b"old"
        else:
            assert path.read_bytes() == b"new " * 100
        assert [each.name for each in tmp_path.iterdir()] == ["sheet.txt"]
        if not disk.failed:
            break
    assert told == {"What was there before is unchanged"}


def test_a_short_write_is_cut_back_and_the_next_record_follows_cleanly(tmp_path):
    path = tmp_path / "one.case"

    class Small(Disk):
        room = 150

        def write(self, descriptor, data):
            took = data[: max(0, self.room)]
            self.room -= len(took)
            if not took:
                raise OSError(errno.ENOSPC, "No space left on device")
            return super().write(descriptor, took)

    disk = Small()
    with Journal.create(path, disk) as journal:
        journal.append(RECORDS[0])
        journal.append(RECORDS[1])
        before = path.read_bytes()
        with pytest.raises(
            CannotWriteError,
            match=r"the disk is full. Everything before it is saved. Make room, then try again.",
        ):
            journal.append(RECORDS[2])
        assert path.read_bytes() == before
        disk.room = 10_000
        journal.append(RECORDS[2])
    assert list(read_journal(path).records) == RECORDS[:3]


OPENED = """
import sys
from pathlib import Path
from diagtree.case.journal import Journal
from diagtree.errors import ExpectedError
try:
    Journal.open(Path(sys.argv[1]))
except ExpectedError as error:
    sys.exit(error.exit_code)
"""


def test_a_second_window_is_refused_at_once(tmp_path):
    path = tmp_path / "one.case"
    with Journal.create(path):
        started = time.monotonic()
        with pytest.raises(
            CaseInUseError, match=r"is open in another window\. Go on there, or close it first\."
        ):
            Journal.open(path)
        other = subprocess.run([sys.executable, "-c", OPENED, str(path)], check=False)
        assert other.returncode == 5
        assert time.monotonic() - started < 10
    with Journal.open(path):
        pass


KEPT = """
import sys
from pathlib import Path
from diagtree.case.journal import Journal
path = Path(sys.argv[1])
journal = Journal.open(path) if path.exists() else Journal.create(path)
number = len(journal.records)
while True:
    journal.append({"kind": "noted", "text": f"note {number}"})
    sys.stdout.write(f"{number}\\n")
    sys.stdout.flush()
    number += 1
"""


def test_killed_again_and_again_no_acknowledged_record_is_lost(tmp_path):
    path = tmp_path / "one.case"
    acknowledged = -1
    for turn in range(12):
        writer = subprocess.Popen(
            [sys.executable, "-c", KEPT, str(path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        first = writer.stdout.readline()
        assert first, writer.stderr.read()
        time.sleep(0.003 * turn)
        writer.send_signal(signal.SIGKILL)
        told, _ = writer.communicate()
        last = (first + told).decode().split("\n")[-2]
        acknowledged = int(last)
        records = read_journal(path).records
        assert [record["text"] for record in records] == [f"note {n}" for n in range(len(records))]
        assert len(records) in {acknowledged + 1, acknowledged + 2}
    assert acknowledged > 50


def test_a_folder_that_cannot_be_written_is_told_at_once(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(CannotWriteError, match="its folder is not there"):
        Journal.create(tmp_path / "file" / "one.case")
    with pytest.raises(CannotWriteError, match="the name is too long"):
        Journal.create(tmp_path / ("x" * 300))

    class ReadOnly(Disk):
        def open(self, path, flags):
            raise OSError(errno.EROFS, "Read-only file system")

    with pytest.raises(CannotWriteError, match=r"this place is read-only for you\. Choose another folder\."):
        Journal.create(tmp_path / "one.case", ReadOnly())
    path = tmp_path / "two.case"
    keep(path, Disk())
    with pytest.raises(CannotWriteError, match=r"read-only for you\. Nothing in it is lost\."):
        Journal.open(path, ReadOnly())


def test_a_case_that_is_there_is_never_written_over(tmp_path):
    path = tmp_path / "one.case"
    keep(path, Disk())
    before = path.read_bytes()
    with pytest.raises(ExpectedError, match=r"There is a case .* already"):
        Journal.create(path)
    assert path.read_bytes() == before


def test_a_new_case_is_for_its_owner_only(tmp_path):
    path = tmp_path / "new" / "one.case"
    keep(path, Disk())
    assert path.stat().st_mode & 0o077 == 0


@pytest.fixture
def small_disk():
    """A file system of 64 KiB."""
    if sys.platform != "linux" or os.geteuid() != 0:
        pytest.skip("mounting a file system of 64 KiB takes the superuser")
    with tempfile.TemporaryDirectory() as folder:
        mounted = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", folder],
            capture_output=True,
            text=True,
            check=False,
        )
        if mounted.returncode:
            pytest.skip(f"cannot mount a file system of 64 KiB here: {mounted.stderr.strip()}")
        try:
            yield Path(folder)
        finally:
            subprocess.run(["umount", folder], check=True)


def test_on_a_file_system_of_64_kib_everything_acknowledged_is_there(small_disk):
    path = small_disk / "one.case"
    acknowledged = 0
    with Journal.create(path) as journal:
        with suppress(CannotWriteError):
            while True:
                journal.append({"kind": "noted", "text": "x" * 97})
                acknowledged += 1
        assert len(read_journal(path).records) == acknowledged > 100
        with pytest.raises(CannotWriteError, match="the disk is full"):
            journal.append({"kind": "noted", "text": "x" * 97})
    with pytest.raises(CannotWriteError, match="the disk is full"):
        save(small_disk / "sheet.txt", b"x" * 60_000)
    with (
        pytest.raises(CannotWriteError, match="the disk is full"),
        Journal.create(small_disk / "two.case") as second,
    ):
        second.append({"kind": "opened"})
    with Journal.open(path) as journal:
        assert len(journal.records) == acknowledged
        assert not journal.notices


def test_a_read_only_place_is_told_before_anything_is_asked(small_disk):
    path = small_disk / "one.case"
    keep(path, Disk())
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    with pytest.raises(CannotWriteError, match="this place is read-only for you"):
        Journal.create(small_disk / "two.case")
    with pytest.raises(CannotWriteError, match=r"read-only for you\. Nothing in it is lost\."):
        Journal.open(path)
    assert list(read_journal(path).records) == RECORDS


def test_a_file_that_is_removed_or_moved_while_open_takes_nothing_more(tmp_path):
    path = tmp_path / "one.case"
    with Journal.create(path) as journal:
        journal.append(RECORDS[0])
        path.rename(tmp_path / "two.case")
        with pytest.raises(CannotWriteError, match="was moved or removed while it was open"):
            journal.append(RECORDS[1])
        path.write_bytes(b"another")
        with pytest.raises(CannotWriteError, match="was moved or removed while it was open"):
            journal.append(RECORDS[1])
        (tmp_path / "two.case").rename(path)
        journal.append(RECORDS[1])
    assert list(read_journal(path).records) == RECORDS[:2]


def test_a_place_without_locks_says_so_and_keeps_the_case(tmp_path):
    class NoLocks(Disk):
        def lock(self, descriptor):
            return None

    with Journal.create(tmp_path / "one.case", NoLocks()) as journal:
        assert journal.notices == ("This folder knows no locks. Keep the case open in one window only.",)
        journal.append(RECORDS[0])
    with Journal.open(tmp_path / "one.case") as journal:
        assert journal.notices == ()


@pytest.mark.skipif(os.name == "nt", reason="there are no such files on Windows")
def test_what_is_no_file_is_refused():
    with pytest.raises(ExpectedError, match="/dev/null is no file"):
        Journal.open(Path("/dev/null"))


def test_a_case_in_which_nothing_was_entered_can_be_thrown_away(tmp_path):
    path = tmp_path / "one.case"
    journal = Journal.create(path)
    journal.discard()
    assert not path.exists()
    assert journal.closed
    with pytest.raises(ValueError, match="the journal is closed"):
        journal.append(RECORDS[0])


def test_a_case_that_is_not_there_is_told(tmp_path):
    with pytest.raises(ExpectedError, match=r"There is no case .*none\.case"):
        Journal.open(tmp_path / "none.case")
    with pytest.raises(ExpectedError, match=r"There is no case .*none\.case"):
        recover(tmp_path / "none.case", tmp_path / "new.case")
