"""Choosing the complaints in line mode."""

import io

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.library.library import join
from diagtree.screens.line import LineMode

RESUME = "diagtree diagnose --case x.case"


def test_complaints_are_found_by_what_the_customer_says_several_at_once(kettle, talk):
    _, said, walker = talk(kettle, ["blorf", "list", "1 2", "1", "9", "it leaks", "1", "", "quit"])
    assert "Nothing sounds like 'blorf'." in said
    assert "Type numbers from 1 to 3." in said
    assert walker.case.complaints == ("slow-boil", "leaks")


def test_complaints_can_be_added_later(kettle, talk):
    _, _, walker = talk(kettle, ["1", "complaints", "leaks", "", "quit"], "no-heat")
    assert walker.case.complaints == ("no-heat", "leaks")


def test_leaving_before_a_complaint_is_chosen_is_an_unfinished_case(kettle, talk):
    status, said, _ = talk(kettle, ["", "quit"])
    assert status == 3
    assert said.endswith("> quit\nLeft before anything was entered.\n")


def test_a_library_without_trees_says_so(talk):
    status, said, _ = talk(join(), [])
    assert status == 3
    assert "There is no tree here at all" in said


def test_choosing_complaints_says_how(kettle, talk):
    _, said, _ = talk(kettle, ["?", "done", "1", "done", "way", "quit"])
    assert "Several numbers may stand in one line. A number again drops it. Enter goes on." in said
    assert "Choose at least one, by its number or in the customer's words; or quit." in said
    assert "Nothing has been asked yet." in said


@pytest.mark.parametrize("leaving", [["quit"], []])
def test_complaints_that_were_chosen_are_kept_by_whoever_leaves_there(kettle, talk, leaving):
    status, said, walker = talk(kettle, ["leaks", *leaving])
    assert (status, walker.case.complaints) == (3, ("leaks",))
    assert said.endswith("Saved. To go on: diagtree diagnose --case x.case\n")
    status, said, walker = talk(kettle, ["1", "complaints", "leaks", *leaving], "no-heat")
    assert (status, walker.case.complaints) == (3, ("no-heat", "leaks"))
    assert said.count("Saved.") == 1, "quit leaves at once, not only the choice"


def test_ctrl_c_while_complaints_are_chosen_keeps_them(kettle):
    class Interrupted(io.StringIO):
        def readline(self, *_):
            line = super().readline()
            if not line:
                raise KeyboardInterrupt
            return line

    walker = Walker(kettle, MemoryLog())
    assert LineMode(walker, Interrupted("leaks\n"), io.StringIO(), resume=RESUME).run() == 130
    assert walker.case.complaints == ("leaks",)
