"""What is entered for a reading: two quantities at once, one unit for both, and what is said of anything else."""

import re
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import ExpectedError
from diagtree.library.entered import NotAReadingError, alike, quoted, taken_apart, two


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("25 of 60 mm", ("25", "60 mm")),
        ("25 OF 60 mm", ("25", "60 mm")),
        ("  25\u00a0of  60 mm ", ("25", "60 mm")),
        ("1/2 in of 2 1/2 in", ("1/2 in", "2 1/2 in")),
        ("1/2 in of ½ in", ("1/2 in", "½ in")),
        ("25/60 mm", ("25", "60 mm")),
        ("25 mm/60 mm", ("25 mm", "60 mm")),
        ("1/2 in / 2 1/2 in", ("1/2 in", "2 1/2 in")),
        ("2,5 mm, 6,5 mm", ("2,5 mm", "6,5 mm")),
        ("2,5; 6,5 mm", ("2,5", "6,5 mm")),
        ("25 mm,60 mm", ("25 mm", "60 mm")),
        ("-2 of -3 mm", ("-2", "-3 mm")),
    ],
)
def test_a_comma_or_a_stroke_inside_a_number_parts_nothing(text, parts):
    assert two(text, "of", "two lengths", "25 of 60 mm") == parts


def test_a_word_that_is_a_unit_too_parts_where_a_number_follows():
    assert two("1 in in 1 1/8 in", "in", "two sizes", "27 in 28 mm") == ("1 in", "1 1/8 in")


@pytest.mark.parametrize(
    "text", ["", "of", "25 mm", "12 1/2 in", "1,5 mm", "25 of 60 of 70", "of 60 mm", "a/b/c"]
)
def test_what_is_not_two_is_told_with_an_example(text):
    with pytest.raises(NotAReadingError) as caught:
        two(text, "of", "two lengths", "25 of 60 mm")
    assert caught.value.wrong == f"'{text}' is not two lengths."
    assert caught.value.mend == "Write it like '25 of 60 mm'."


def test_a_unit_that_is_written_once_is_meant_for_both():
    assert alike("2", "6 in", "mm") == (Decimal("50.8"), Decimal("152.4"))
    assert alike("2 mm", "6 in", "mm") == (Decimal(2), Decimal("152.4"))
    assert alike("60", "85 psi", "psi") == (Decimal(60), Decimal(85))


def test_what_was_entered_is_said_back_on_one_line_and_not_a_page_of_it():
    assert quoted("a\n b") == "'a b'"
    assert len(quoted("x" * 4000)) == 65
    with pytest.raises(NotAReadingError) as caught:
        taken_apart("x" * 4000, re.compile("[0-9]+"), "a number", "5")
    assert len(str(caught.value)) < 120


@settings(max_examples=150)
@given(st.text(alphabet="0123456789.,/; of½ mm\n-", max_size=30))
def test_any_text_is_parted_or_refused_in_words(text):
    refused = None
    try:
        alike(*two(text, "of", "two lengths", "25 of 60 mm"), "mm")
    except ExpectedError as error:
        refused = error
    assert refused is None or refused.mend
