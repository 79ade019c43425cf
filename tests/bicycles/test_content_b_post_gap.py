"""The gap between seat-post and tube, against subtraction by hand."""

from decimal import Decimal

import pytest
from diagtree_contact_points.readings import POST_GAP

from diagtree.errors import ExpectedError


@pytest.mark.parametrize(
    ("text", "gap", "says"),
    [
        ("27.0 mm in 27.2 mm", "0.2", "0.2 mm thinner than the tube"),
        ("27.2 in 27.2", "0", "0 mm thinner than the tube"),
        ("27.2 mm, 27.1 mm", "-0.1", "0.1 mm thicker than the tube"),
        ("1 1/16 in in 1 1/8 in", "1.5875", "1.59 mm thinner than the tube"),
        ("27,0 mm in 27,2 mm", "0.2", "0.2 mm thinner than the tube"),
        ("1 in in 27.2 mm", "1.8", "1.8 mm thinner than the tube"),
    ],
)
def test_the_gap_is_tube_less_post(text, gap, says):
    measured = POST_GAP.read(text)
    assert measured.value == Decimal(gap)
    assert measured.says == says
    assert measured.odd is None


def test_the_example_is_taken():
    assert POST_GAP.read(POST_GAP.example).value == Decimal("0.2")


@pytest.mark.parametrize("text", ["31.6 in 27.2", "20 mm in 27.2 mm"])
def test_sizes_that_do_not_go_together_are_questioned(text):
    assert POST_GAP.read(text).odd


@pytest.mark.parametrize(
    ("text", "wrong"), [("27.2 mm", "'27.2 mm' is not two sizes."), ("", "'' is not two sizes.")]
)
def test_one_size_alone_is_refused(text, wrong):
    with pytest.raises(ExpectedError) as caught:
        POST_GAP.read(text)
    assert caught.value.wrong == wrong
