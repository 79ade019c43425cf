"""Lines: wrapped, shortened and filled by cells, whatever is in them."""

from hypothesis import given, settings
from hypothesis import strategies as st
from prompt_toolkit.utils import get_cwidth

from diagtree.clean import clean
from diagtree.screens.bench.glyphs import ASCII, UNICODE
from diagtree.screens.bench.lines import fill, plain, shorten, wrap

TEXTS = st.text(st.sampled_from("abc dé 漢字🔧\u0301-"), max_size=60)


@settings(max_examples=150, deadline=None)
@given(TEXTS, st.integers(2, 40))
def test_wrapping_keeps_every_letter_and_no_row_is_too_wide(text, width):
    rows = wrap(text, width)
    assert all(get_cwidth(row) <= width for row in rows)
    assert "".join("".join(rows).split()) == "".join(clean(text).split())


@settings(max_examples=100, deadline=None)
@given(TEXTS, st.integers(1, 40))
def test_a_filled_line_is_exactly_as_wide_as_asked(text, width):
    row = fill((("a", clean(text)), ("b", "x")), width)
    assert get_cwidth(plain(row)) == width


@settings(max_examples=100, deadline=None)
@given(TEXTS, st.integers(1, 40))
def test_a_shortened_text_fits_and_says_that_it_was_cut(text, width):
    short = shorten(text, width)
    assert get_cwidth(short) <= width
    assert short == clean(text) or short.endswith("…")


def test_a_word_is_broken_only_where_it_is_wider_than_a_row():
    assert wrap("a bottom-bracket-tool", 12) == ("a", "bottom-brack", "et-tool")


def test_what_could_steer_the_terminal_is_shown_instead():
    assert wrap("red\x1b[31m \u202eevil", 40) == ("red\\x1b[31m \\u202eevil",)


@given(st.floats(0, 1), st.integers(1, 60))
def test_a_bar_is_as_wide_as_asked_and_grows_with_the_chance(chance, width):
    for glyphs in (UNICODE, ASCII):
        full, empty = glyphs.bar(chance, width)
        assert len(full) + len(empty) == width
        assert (len(full) > 0) == (chance > 0)
        more, _ = glyphs.bar(min(chance + 0.3, 1.0), width)
        assert len(more) >= len(full)
