"""Files that add to a family: what they need to say, and what they replace."""

from pathlib import Path

import pytest

from diagtree.library.assembly import assemble
from diagtree.library.sources import read_source

KETTLE = Path(__file__).parent.parent / "kettle"


def told(library):
    return [str(problem) for problem in library.problems]


def test_an_own_catalogue_extends_a_family_and_says_what_it_replaces(changed):
    more = b"""
family: kettle
title: More about kettles
parts:
  handle: {title: Handle}
  lid: {title: Lid with a catch}
"""
    sources = [
        read_source((KETTLE / "catalogue.yaml").read_bytes(), "catalogue.yaml", "kettle"),
        read_source(more, "own.yaml", "own"),
    ]
    library = assemble(sources).library
    assert library.parts["kettle/handle"].title == "Handle"
    assert library.parts["kettle/lid"].title == "Lid with a catch"
    assert library.parts["kettle/element"].title == "Heating element"
    assert library.families["kettle"].title == "Electric kettle"
    assert set(library.families["kettle"].parts) == {"element", "lid", "switch", "flex", "body", "handle"}
    assert [str(notice) for notice in library.notices] == [
        "own.yaml:6:3: This part 'kettle/lid' takes the place of the one in catalogue.yaml."
    ]
    assert told(library) == []


MORE = """\
family: kettle
causes:
  lid-warped: {title: Lid warped, out-of-100: 2, risk: nuisance, why: Heat., remedies: [new-lid]}
remedies:
  new-lid: {title: Fit a new lid, verdict: replace, holds: 99, jobs: [swap-lid]}
jobs:
  swap-lid: {title: Swap the lid, minutes: [1, 2, 3]}
"""


@pytest.mark.parametrize("order", [1, -1])
def test_a_file_that_adds_to_a_family_needs_no_title(order):
    catalogue = (KETTLE / "catalogue.yaml").read_text(encoding="utf-8")
    files = [("catalogue.yaml", catalogue), ("more.yaml", MORE)][::order]
    library = assemble([read_source(text.encode(), name, "own") for name, text in files]).library
    assert told(library) == []
    assert library.families["kettle"].title == "Electric kettle"
    assert {"kettle/scale", "kettle/lid-warped"} <= set(library.causes)


def test_a_family_that_no_file_gives_a_title_is_told_once():
    sources = [read_source(MORE.encode(), name, "own") for name in ("one.yaml", "two.yaml")]
    library = assemble(sources).library
    assert told(library)[0] == "one.yaml:1:1: 'title:' is missing. Add it."
    assert len(told(library)) == 1
    assert library.families["kettle"].title == "kettle"
