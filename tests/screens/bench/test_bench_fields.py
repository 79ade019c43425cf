"""Fields: edited, wrapped and scrolled, the cursor always in sight."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.screens.bench.entry_pages import LONGEST, EntryPage, Field
from diagtree.screens.bench.lines import cells, plain

TEXTS = st.text(st.sampled_from("ab 漢é"), max_size=200)


@settings(max_examples=150, deadline=None)
@given(TEXTS, st.integers(8, 60), st.integers(1, 6), st.data())
def test_the_cursor_is_in_sight_and_no_row_is_wider_than_asked(text, width, most, data):
    field = Field(text)
    left = data.draw(st.integers(0, len(text)))
    for _ in range(left):
        field.press("left")
    rows, (column, row) = field.rows(width, most, "> ")
    assert len(rows) <= most
    assert all(cells(plain(line)) <= width for line in rows)
    assert 0 <= row < len(rows)
    assert 2 <= column < width
    under = plain(rows[row])
    here = text[len(text) - left] if left else " "
    seen = next(letter for letter, start in _places(under) if start == column)
    assert seen == here


def _places(text):
    at = 0
    for letter in text:
        yield letter, at
        at += cells(letter)


def test_a_long_note_is_shown_over_several_rows():
    page = EntryPage("A note", ["Type."], lambda text: None, lambda page: None)
    for letter in "the paint is blistered around the lever and somebody bled it before me":
        page.press(letter)
    from diagtree.screens.bench.glyphs import ASCII

    picture = page.compose(44, 13, ASCII)
    assert "the paint is blistered" in picture.text
    assert "bled it before me" in picture.text
    column, row = picture.cursor
    assert plain(picture.lines[row])[:column].endswith("before me")


def test_editing_keys():
    field = Field("one two three")
    for key in ("c-w", "home", "delete", "right", "backspace", "end", "x"):
        assert field.press(key)
    assert field.text == "e two x"
    assert field.press("c-u")
    assert field.text == ""
    assert not field.press("up")


def test_pasted_line_ends_become_spaces_and_what_could_steer_is_shown():
    field = Field()
    field.insert("a\nb\x1b[31m\u202e")
    assert field.text == "a b\\x1b[31m\\u202e"


@pytest.mark.parametrize("more", [1, 100])
def test_a_field_takes_so_much_and_no_more(more):
    field = Field("x" * (LONGEST - 1))
    field.insert("y" * more)
    field.insert("z")
    assert len(field.text) == LONGEST
