"""What customers say leads to the complaint that a mechanic would choose (invented sayings, common practice)."""

from __future__ import annotations

import pytest

from diagtree.library.loading import load_library
from diagtree.screens.words import sounding_like

SAYINGS = {
    "brake lever goes to the bar": "no-brakes",
    "squeaky brakes": "brakes-squeal",
    "lever goes soft": "lever-feel-changes",
    "brakes spongy": "lever-feel-changes",
    "the bike won't stop": "no-brakes",
    "brake rubs": "brakes-drag",
    "no brakes": "no-brakes",
    "notchy cranks": "notchy-cranks",
    "steering is stiff": "tight-steering",
    "seized chain": "seized-chain",
    "he says the chain is rusty and it won't turn": "seized-chain",
    "chain skips": "chain-skips",
    "chain comes off": "chain-falls-off",
    "keeps getting punctures": "repeat-punctures",
    "fork leaks oil": "fork-leaks",
    "buckled wheel": "wheel-wobbles",
    "back wheel wobbles": "wheel-wobbles",
    "rear wheel grinding": "wheel-grinds",
    "loose headset": "loose-steering",
    "seat slips down": "seat-post-stuck-or-slips",
    "pedal won't come off": "pedal-stuck",
    "broken spoke": "spokes-break",
    "crashed": "after-a-crash",
    "grinding wheel": "wheel-grinds",
    "hub gear slipping": "hub-gear-slips",
    "weak rim brakes": "rim-brakes-weak",
    "rear derailleur in the spokes": "derailleur-fouls-wheel",
    "crank loose": "cranks-rock",
}


@pytest.fixture(scope="module")
def library():
    return load_library()


@pytest.mark.parametrize(("said", "meant"), SAYINGS.items())
def test_a_saying_finds_its_complaint_first(library, said, meant):
    assert sounding_like(library, said)[0] == meant


def test_both_kinds_of_brake_come_up_where_the_saying_fits_both(library):
    assert {"brakes-drag", "rim-brakes-rub"} <= set(sounding_like(library, "brake rubs")[:3])


@pytest.mark.parametrize("said", ["xyzzy frein", "the", "motor cuts out"])
def test_what_says_nothing_of_what_a_bike_has_finds_nothing(library, said):
    assert sounding_like(library, said) == []


@pytest.mark.parametrize("said", ["b", "br", "bra", "brak", "brake", "brakes", "brakes g", "brakes gon"])
def test_a_saying_is_found_while_it_is_being_typed(library, said):
    assert "no-brakes" in sounding_like(library, said)


def test_each_complaint_is_found_first_by_each_of_its_own_names(library):
    for symptom, tree in library.trees.items():
        for name in (tree.title, symptom, *tree.also_called):
            assert symptom in sounding_like(library, name)[:2], (symptom, name)
