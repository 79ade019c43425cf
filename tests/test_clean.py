"""Whatever goes in, nothing that leaves the program can steer a terminal or hide."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.clean import clean


@pytest.mark.parametrize(
    ("hostile", "shown"),
    [
        ("\x1b[2J", r"\x1b[2J"),
        ("\x1b]8;;http://x\x1b\\link", r"\x1b]8;;http://x\x1b\link"),
        ("\x9b31m", r"\x9b31m"),
        ("a\u202egnp.exe", r"a\u202egnp.exe"),
        ("in\u200bvisible", r"in\u200bvisible"),
        ("\ufeffstart", r"\ufeffstart"),
        ("bell\x07 nul\x00 del\x7f", r"bell\x07 nul\x00 del\x7f"),
        ("tag\U000e0041", r"tag\U000e0041"),
        ("half\ud800", r"half\ud800"),
        ("filler\u3164", r"filler\u3164"),
        ("back\x08space", r"back\x08space"),
    ],
)
def test_what_steers_or_hides_is_shown(hostile: str, shown: str):
    assert clean(hostile) == shown


def test_line_ends_become_spaces_unless_they_are_wanted():
    assert clean("a\r\nb\u2028c\x85d\te") == "a b c d e"
    assert clean("a\r\nb\u2028c\x85d\te", keep_newlines=True) == "a\nb\nc\nd e"


@settings(max_examples=150)
@given(st.text(), st.booleans())
def test_any_text_comes_out_without_a_letter_that_acts(text: str, keep: bool):
    out = clean(text, keep_newlines=keep)
    allowed = {"\n"} if keep else set()
    assert all(c in allowed or unicodedata.category(c) not in {"Cc", "Cf", "Cs"} for c in out)
    assert clean(out, keep_newlines=keep) == out
    out.encode("utf-8")


@settings(max_examples=80)
@given(st.text(st.characters(categories=["L", "N", "P", "S"], exclude_characters="\u115f\u1160\u3164\uffa0")))
def test_letters_numbers_and_marks_come_out_as_written(text: str):
    assert clean(text) == text
