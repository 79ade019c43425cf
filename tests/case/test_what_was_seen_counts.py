"""What was seen counts, though a later answer closes the author's way to it; a changed answer sets aside."""

from __future__ import annotations

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import Walker

LAMP, HUM = Place.check("no-heat", "lamp"), Place.check("no-heat", "hum")


@pytest.fixture
def walker(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=("no-heat",), order="shortest")
    for _ in kettle.looks:
        walker.cannot_tell()
    return walker


def test_an_answer_is_not_lost_to_one_that_is_given_after_it(walker):
    walker.answer("no", HUM)
    walker.answer("no", LAMP)
    assert ("no-heat", "hum") in walker.evidence.answers
    assert walker.aside == ()


def test_an_answer_that_rested_on_one_that_is_changed_is_set_aside(walker):
    walker.answer("yes", LAMP)
    walker.answer("no", HUM)
    walker.answer("no", LAMP)
    assert ("no-heat", "hum") not in walker.evidence.answers
    assert [step.place for step in walker.aside] == [HUM]
