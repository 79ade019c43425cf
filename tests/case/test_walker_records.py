"""Records that no version has written, or a newer one has: refused in words, with their line."""

import pytest

from diagtree.case.events import FORMAT
from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.errors import DamagedFileError


@pytest.mark.parametrize(
    "record",
    [
        {"kind": "answered", "when": "", "place": "nowhere", "answer": "a", "asked": "?", "says": "A"},
        {"kind": "answered", "when": "", "place": "look:lime", "answer": 3, "asked": "?", "says": "A"},
        {"kind": "answered", "when": ""},
        {"kind": "noted", "when": "", "text": "x", "colour": "red"},
        {"kind": "asked-on", "when": "", "on": "yes"},
        {"kind": "complained", "when": "", "complaints": "no-heat", "trees": {}},
        {"kind": "complained", "when": "", "complaints": [], "trees": []},
        {"kind": "found-out", "when": "", "cause": "kettle/scale", "present": 1},
        {"kind": "opened", "when": "", "format": True, "program": "", "order": "guided"},
    ],
)
def test_an_event_that_is_not_written_as_it_should_be_is_refused_with_its_line(kettle, record):
    log = MemoryLog()
    Walker(kettle, log, complaints=["no-heat"])
    log.append(record)
    with pytest.raises(
        DamagedFileError, match=f"Line 2 of the case cannot be read: the event '{record['kind']}'"
    ):
        Walker(kettle, log)


def test_a_case_of_a_newer_version_is_refused_with_its_version(kettle):
    log = MemoryLog(
        [{"kind": "opened", "when": "", "format": FORMAT + 1, "program": "9.0", "order": "guided"}]
    )
    with pytest.raises(
        DamagedFileError, match=r"written by a newer diagtree \(9.0\). Open it with that version."
    ):
        Walker(kettle, log)


@pytest.mark.parametrize(
    ("record", "words"),
    [
        ({"kind": "noted", "when": ""}, "This is no case"),
        ({"kind": "opened", "format": 1, "when": 3}, "Line 1 of the case cannot be read"),
    ],
)
def test_a_log_that_is_no_case_is_refused(kettle, record, words):
    with pytest.raises(DamagedFileError, match=words):
        Walker(kettle, MemoryLog([record]))


def test_an_event_that_nobody_knows_is_refused_with_its_line(kettle):
    log = MemoryLog()
    Walker(kettle, log, complaints=["no-heat"])
    log.append({"kind": "sang", "when": ""})
    with pytest.raises(
        DamagedFileError, match="Line 2 of the case cannot be read: an event 'sang' is not known here"
    ):
        Walker(kettle, log)
