"""A bike that was kept dry, ridden little and kept up well clears parts by that alone, but none that can hurt."""

from __future__ import annotations

import pytest

from diagtree.library.loading import load_library
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.beyond import leave_alone
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.work.work import work_out


@pytest.fixture(scope="module")
def library():
    return load_library()


def believed(library, symptom, states):
    """The answer to each quick look that is the likeliest for a state of what it speaks of."""
    looks = {
        name: max(look.answers, key=lambda answer: look.answers[answer].shows.get(states[look.speaks_of], 0))
        for name, look in library.looks.items()
    }
    evidence = spread_facts(library, Evidence((symptom,), looks))
    return BeliefModel.of(library, [symptom]).given(evidence), evidence


SPARED = {"kept": "dry", "used": "hardly", "worked-on": "well"}


def test_a_part_is_cleared_by_the_picture_alone_and_the_sheet_says_so(library):
    belief, evidence = believed(library, "seized-chain", SPARED)
    (sprockets,) = [each for each in leave_alone(belief) if each.part == "chain-drive/sprockets"]
    assert sprockets.because is None
    assert sprockets.picture == ("kept dry", "hardly ridden", "put together and kept up well")
    assert sprockets.reason.endswith(" It is kept dry, hardly ridden, put together and kept up well.")
    work = work_out(library, belief, evidence, Workshop(), draws=200)
    assert sprockets.part in {each.part for each in work.left_alone}
    (line,) = [each for each in work.left_alone if each.part == sprockets.part]
    assert line.reason == (
        "Cassette or sprocket: leave. The bike is kept dry, hardly ridden, put together and kept up well."
    )


def test_the_picture_alone_clears_nothing_that_can_hurt(library):
    spared = set()
    for symptom in library.trees:
        belief, evidence = believed(library, symptom, SPARED)
        by_picture = {each.part for each in leave_alone(belief) if each.because is None}
        left = {each.part for each in work_out(library, belief, evidence, Workshop(), draws=50).left_alone}
        assert not {part for part in by_picture & left if library.parts[part].safety}
        spared |= by_picture
    assert any(library.parts[part].safety for part in spared), "or this test would look at nothing"


def test_what_else_to_look_at_names_what_speaks_for_it(library):
    belief, evidence = believed(library, "seized-chain", {**SPARED, "kept": "damp", "used": "hard"})
    texts = [line.text for line in work_out(library, belief, evidence, Workshop(), draws=200).advice]
    assert any(
        "; kept damp or outdoors" in text and text.endswith("Nobody asked: look at it.") for text in texts
    )
