"""Journals that older versions wrote are read by this one: the files are kept here and never written anew."""

from __future__ import annotations

from pathlib import Path

from diagtree.case.folder import look_at
from diagtree.case.journal import read_journal
from diagtree.case.keeper import read_case
from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import Walker

KEPT = Path(__file__).parent / "kept"


def test_a_case_of_format_1_tells_what_it_told(kettle):
    contents = read_journal(KEPT / "format-1.case")
    assert contents.damage is None
    case = read_case(contents.records)
    assert case.complaints == ("no-heat", "slow-boil", "leaks")
    assert (case.label, case.brief, case.order) == ("the blue one", "full", "shortest")
    assert {place.key: given.answer for place, given in case.given.items()} == {
        "look:lime": "limed",
        "look:handle": None,
        "check:no-heat:lamp": "no",
        "check:no-heat:other-socket": "no",
        "check:no-heat:fuse": "yes",
        "check:no-heat:flex": "sound",
        "check:slow-boil:look-inside": "bare",
        "check:slow-boil:lid": "yes",
        "check:slow-boil:heat": "full",
    }
    heat = case.given[Place.check("slow-boil", "heat")]
    assert (heat.text, heat.value, heat.measured) == ("97 °C", "97", "97 °C")
    assert [note.text for note in case.notes] == ["smells burnt"]
    assert case.notes[0].place == Place.check("no-heat", "lamp")
    assert case.overruled["kettle/switch"].remedy == "kettle/clean-contacts"
    assert case.found["kettle/switch-worn"].present
    assert list(case.jobs_done) == ["kettle/base-off"]
    assert case.torques["kettle/base-screw"].value == "1.2"
    assert (case.agreed.price, case.agreed.ceiling) == ("41.50", "50")
    assert case.wishes == ("kettle/descale",)
    assert case.asking_on
    assert case.handed_over.confirmed == {"no-heat": "kettle/switch-worn"}
    assert case.opened == "2026-01-02T03:00:00+00:00"
    # And it can be walked on.
    walker = Walker(kettle, MemoryLog(contents.records))
    assert walker.question.place == Place.check("leaks", "where")


def test_the_kept_file_is_listed(kettle):
    assert look_at(KEPT / "format-1.case").case.label == "the blue one"
