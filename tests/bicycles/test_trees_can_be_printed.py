"""Bundled trees on paper: in the hand and on the wall, no letter too small and nothing lost."""

from __future__ import annotations

import pytest

from diagtree.drawing.diagram import drawing_of
from diagtree.drawing.printed import LEAST, Press
from diagtree.library.loading import load_library
from diagtree.sheets.letters import text_width


@pytest.fixture(scope="module")
def bundled():
    return load_library()


@pytest.mark.parametrize(
    ("symptom", "paper", "distance"),
    [
        ("no-brakes", "a4", "35cm"),
        ("notchy-cranks", "a4", "35cm"),
        ("seized-chain", "letter", "35cm"),
        ("tight-steering", "a3", "50cm"),
        ("no-brakes", "a3", "1m"),
        ("after-a-crash", "a3", "1m"),
    ],
)
def test_a_bundled_tree_can_be_read_from_where_one_stands(bundled, symptom: str, paper: str, distance: str):
    drawing = drawing_of(bundled, symptom)
    printed = Press(drawing, paper, distance, text_width).sheets()
    assert min(sheet.letters for sheet in printed.sheets) >= LEAST[distance]
    assert {box.name for box in drawing.boxes} <= set(printed.where)
    answers = [arrow for sheet in printed.sheets for arrow in sheet.laid.arrows if arrow.arrow.tail != "from"]
    assert len(answers) == len(printed.drawing.lines) >= len(drawing.lines)
