"""Journals that were cut, changed or mixed: what was written is told apart from what was not."""

from pathlib import Path

import pytest

from diagtree.case.journal import Journal, read_journal, recover
from diagtree.case.lines import read_lines
from diagtree.errors import DamagedFileError, ExpectedError

RECORDS = [{"kind": "opened", "format": 1}, *({"kind": "noted", "text": f"note {n} Ü"} for n in range(1, 6))]


def keep(path: Path) -> None:
    """Write the records."""
    with Journal.create(path) as journal:
        for record in RECORDS:
            journal.append(record)


def test_cut_at_any_byte_the_whole_lines_before_are_read(tmp_path):
    path = tmp_path / "one.case"
    keep(path)
    data = path.read_bytes()
    ends = [0, *(place + 1 for place, byte in enumerate(data) if byte == 10)]
    cut = tmp_path / "cut.case"
    for size in range(len(data) + 1):
        cut.write_bytes(data[:size])
        whole = max(number for number, end in enumerate(ends) if end <= size)
        with Journal.open(cut) as journal:
            assert list(journal.records) == RECORDS[:whole]
            assert bool(journal.notices) == (size not in ends)
            if size % 7 == 0:
                journal.append({"kind": "noted", "text": "after the cut"})
        if size % 7 == 0:
            assert read_journal(cut).records[-1]["text"] == "after the cut"


def test_what_is_said_of_a_torn_line(tmp_path):
    path = tmp_path / "one.case"
    keep(path)
    path.write_bytes(path.read_bytes()[:-5])
    with Journal.open(path) as journal:
        assert journal.notices == (
            "The last line of one.case was never finished, and was dropped. All 5 lines before it are whole.",
        )


def test_a_bit_flipped_anywhere_is_never_taken_for_what_was_written(tmp_path):
    path = tmp_path / "one.case"
    keep(path)
    data = path.read_bytes()
    lines = data.splitlines(keepends=True)
    refused = 0
    for place in range(len(data)):
        line = next(n for n in range(1, len(lines) + 1) if place < sum(map(len, lines[:n])))
        for bit in range(8):
            flipped = bytearray(data)
            flipped[place] ^= 1 << bit
            contents = read_lines(bytes(flipped))
            assert list(contents.records) == RECORDS[: line - 1]
            if contents.damage is None:
                # Only the line end of the last line: it looks like one that was never finished.
                assert (line, place) == (len(lines), len(data) - 1)
                assert contents.torn
            else:
                assert contents.damage.line == line
                refused += 1
    assert refused == 8 * (len(data) - 1)


def test_lines_left_out_doubled_or_swapped_are_seen(tmp_path):
    path = tmp_path / "one.case"
    keep(path)
    one, two, three, *_ = path.read_bytes().splitlines(keepends=True)
    for mixed, line in [(one + three, 2), (one + one, 2), (two + one, 1), (one + three + two, 2)]:
        assert read_lines(mixed).damage.line == line


def test_a_damaged_line_is_named_and_what_came_before_can_be_saved(tmp_path):
    path = tmp_path / "one.case"
    keep(path)
    path.write_bytes(path.read_bytes().replace(b"note 3", b"note 8"))
    with pytest.raises(DamagedFileError) as refused:
        Journal.open(path)
    assert str(refused.value) == (
        f"{path}, line 4: damaged (its checksum does not fit). "
        f"To save the 3 lines before it: diagtree cases recover {path} --to NEW"
    )
    new = tmp_path / "new.case"
    assert recover(path, new) == 3
    with Journal.open(new) as journal:
        assert list(journal.records) == RECORDS[:3]
    with pytest.raises(ExpectedError, match="is there already"):
        recover(path, new)


@pytest.mark.parametrize(
    "data", [b"PK\x03\x04 something else\n", b"{}\n", b'{"crc":"00000000","n":1}\n', b"\n"]
)
def test_a_file_that_is_no_case_is_refused(tmp_path, data):
    path = tmp_path / "one.case"
    path.write_bytes(data)
    with pytest.raises(DamagedFileError):
        Journal.open(path)
    assert path.read_bytes() == data
