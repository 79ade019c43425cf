"""What only sounds like the words is asked about, even where it is the only one."""

import io

import pytest

from diagtree.screens.line_talk import Talk
from diagtree.screens.line_which import which

BOLTS = {"kettle/base-screw": "Base screw", "kettle/lid-pin": "Lid pin"}


@pytest.mark.parametrize(("typed", "meant"), [("1\n", "kettle/base-screw"), ("\n", None), ("", None)])
def test_a_misspelt_name_is_not_taken_unasked(typed, meant):
    said = io.StringIO()
    assert which(Talk(io.StringIO(typed), said), BOLTS, "bse screww", "fastener") == meant
    assert "1  Base screw" in said.getvalue()


def test_words_that_stand_in_one_title_are_taken_at_once():
    said = io.StringIO()
    assert which(Talk(io.StringIO(""), said), BOLTS, "base", "fastener") == "kettle/base-screw"
    assert said.getvalue() == ""
