"""How well the sheets of the bundled trees are filled: against all cuts that would need fewer than 6 in 10 of them."""

from collections import defaultdict
from itertools import combinations
from math import ceil

import pytest

from diagtree.drawing.cut import dominated
from diagtree.drawing.diagram import Kind, drawing_of
from diagtree.drawing.printed import Press
from diagtree.library.loading import load_library
from diagtree.sheets.letters import text_width

LIBRARY = load_library()
LEAST_SHARE = 0.6


def can_be_cut_into(press: Press, sheets: int) -> bool:
    """Whether any cut at checks gives that many sheets, each with one entry and each readable."""
    drawing = press.drawing
    children, start = dominated(drawing), drawing.boxes[0].name
    checks = [box.name for box in drawing.boxes if box.kind is Kind.QUESTION and box.name != start]
    for cuts in combinations(checks, sheets - 1):
        home: dict[str, str] = {}
        waiting = [(start, start)]
        while waiting:
            name, entry = waiting.pop()
            home[name] = name if name in cuts else entry
            waiting += [(below, home[name]) for below in children[name]]
        if any(home[line.tail] != home[line.head] and line.head not in cuts for line in drawing.lines):
            continue
        pieces = defaultdict(set)
        for name, entry in home.items():
            pieces[entry].add(name)
        if all(press._fits(entry, frozenset(names)) for entry, names in pieces.items()):
            return True
    return False


@pytest.mark.parametrize("symptom", list(LIBRARY.trees))
def test_no_cut_needs_fewer_than_six_tenths_of_the_sheets(symptom: str):
    press = Press(drawing_of(LIBRARY, symptom), "a4", "35cm", text_width)
    ours = len(press.sheets().sheets)
    too_few = ceil(LEAST_SHARE * ours) - 1
    for sheets in range(1, too_few + 1):
        assert not can_be_cut_into(press, sheets), f"{symptom}: {sheets} sheets would do, we take {ours}"
    print(f"{symptom}: {ours} sheets; at least {too_few + 1} are needed")
