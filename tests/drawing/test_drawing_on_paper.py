"""A drawing cut into sheets: nothing lost, connectors that match, letters that can be read."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest
from pypdf import PdfReader

from diagtree.drawing import laid as laid_module
from diagtree.drawing.cut import TooLargeError, cut, dominated
from diagtree.drawing.diagram import Drawing, Kind, drawing_of
from diagtree.drawing.laid import Arrow, lay_out
from diagtree.drawing.measured import SIZE, connector, sized_boxes
from diagtree.drawing.paged import TEMPLATES, legend_of, pages
from diagtree.drawing.printed import LEAST, MARGIN, MILLIMETRE, PAPERS, Press, Printed
from diagtree.drawing.render import render
from diagtree.drawing.shapes import meeting, outlines
from diagtree.errors import UnknownNameError
from diagtree.library.library import Library, join
from diagtree.model.tree import Tree
from diagtree.sheets.letters import text_width
from diagtree.sheets.typeset import typeset


def grown(checks: int, joins: int = 0) -> Library:
    """A tree of many checks: each has a finding, a way on, and a way to a later check."""
    table = {}
    for place in range(checks):
        later = 2 * place + 1, 2 * place + 2
        answers = {"here": {"says": f"It is here, number {place}", "found": {f"cause-{place}": 1}}}
        for side, name in zip(later, ("left", "right"), strict=True):
            if side < checks:
                answers[name] = {"says": f"It goes {name}", "next": f"c{side}"}
        if joins and place % joins == joins - 1 and 2 * place + 3 < checks:
            answers["over"] = {"says": "Over to the next", "next": f"c{2 * place + 3}"}
        if len(answers) == 1:
            answers["there"] = {"says": "It is there", "found": {f"cause-{place}": 1}}
        table[f"c{place}"] = {
            "ask": f"What does part number {place} of this long machine look like?",
            "minutes": 1,
            "answers": answers,
        }
    tree = {"symptom": "big", "title": "A big one", "family": "kettle", "first": "c0", "checks": table}
    return join(trees=[Tree.model_validate(tree)])


def print_it(drawing: Drawing, paper: str = "a4", distance: str = "35cm") -> tuple[Press, Printed]:
    press = Press(drawing, paper, distance, text_width)
    return press, press.sheets()


def set_it(press: Press, printed: Printed) -> PdfReader:
    return PdfReader(io.BytesIO(typeset(TEMPLATES, pages(press, printed))))


BIG = grown(40, joins=4)


@pytest.fixture(scope="module")
def big() -> tuple[Press, Printed]:
    return print_it(drawing_of(BIG, "big"))


def test_every_box_is_on_exactly_one_sheet_and_every_answer_leads_somewhere(big):
    _, printed = big
    drawing = printed.drawing
    assert len(printed.sheets) > 3
    found = [
        p.box.name
        for sheet in printed.sheets
        for p in sheet.laid.boxes
        if not p.box.kind.startswith(("to", "from"))
    ]
    assert sorted(found) == sorted(box.name for box in drawing.boxes)
    said = [arrow for sheet in printed.sheets for arrow in sheet.laid.arrows if arrow.arrow.tail != "from"]
    assert len(said) == len(drawing.lines)


def test_connectors_match_both_ways(big):
    _, printed = big
    entered, left = {}, []
    for sheet in printed.sheets:
        for placed in sheet.laid.boxes:
            label, about = placed.box.rows[0].text, " ".join(row.text for row in placed.box.rows[1:])
            if placed.box.kind.startswith("from"):
                assert label not in entered
                entered[label] = (sheet.number, sorted(map(int, re.findall(r"\d+", about))))
            elif placed.box.kind.startswith("to"):
                left.append((label, sheet.number, int(about.rpartition("sheet ")[2])))
    assert set(entered) == {label for label, _, _ in left}
    for label, (number, come_from) in entered.items():
        assert {there for other, _, there in left if other == label} == {number}
        assert sorted({here for other, here, _ in left if other == label}) == come_from


def test_each_sheet_has_one_entry(big):
    _, printed = big
    for line in printed.drawing.lines:
        here, there = printed.where[line.tail], printed.where[line.head]
        if here != there:
            assert line.head == printed.sheets[there - 1].entry


def test_two_neighbouring_sheets_never_fit_on_one(big):
    press, printed = big
    tails: dict[str, set[str]] = {}
    for line in printed.drawing.lines:
        tails.setdefault(line.head, set()).add(line.tail)
    on = {
        sheet.number: frozenset(n for n, s in printed.where.items() if s == sheet.number)
        for sheet in printed.sheets
    }
    above = {below: name for name, found in dominated(printed.drawing).items() for below in found}
    for sheet in printed.sheets[1:]:
        parent = printed.where[above[sheet.entry]]
        both = on[parent] | on[sheet.number]
        if tails[sheet.entry] <= both:
            assert not press._fits(printed.sheets[parent - 1].entry, both)


@pytest.mark.parametrize(
    ("paper", "distance"), [("a4", "35cm"), ("a3", "50cm"), ("letter", "35cm"), ("a3", "1m")]
)
def test_no_letter_in_the_pdf_is_smaller_than_the_distance_allows(paper: str, distance: str):
    press, printed = print_it(drawing_of(grown(9), "big"), paper, distance)
    assert all(sheet.letters >= LEAST[distance] for sheet in printed.sheets)
    sizes: list[float] = []

    def seen(text, matrix, text_matrix, font, size):
        if text.strip():
            sizes.append(size * abs(text_matrix[3]) * abs(matrix[3]))

    reader = set_it(press, printed)
    for page in reader.pages:
        page.extract_text(visitor_text=seen)
        short, long = sorted(float(side) for side in page.mediabox[2:])
        assert (short, long) == pytest.approx([side * 72 / 25.4 for side in PAPERS[paper]], abs=0.5)
    # The heading that screen readers find is hidden and one point high.
    visible = [size for size in sizes if size > 1.5]
    assert visible
    assert min(visible) >= LEAST[distance] - 0.01


def test_every_word_is_in_the_pdf_with_page_numbers_title_and_index(big):
    press, printed = big
    reader = set_it(press, printed)
    texts = [page.extract_text() for page in reader.pages]
    words = re.sub(r"\s+", "", "".join(texts))
    for box in printed.drawing.boxes:
        assert re.sub(r"\s+", "", box.title) in words
        assert re.sub(r"\s+", "", box.heading) in words
    for number, text in enumerate(texts, 1):
        assert f"Page {number} of {len(texts)}" in text
        assert "A big one" in text
        assert f"version 1 ({BIG.identity('big')})" in text
    assert "Index of findings" in words.replace("Indexoffindings", "Index of findings")
    index = " ".join(" ".join(texts[len(printed.sheets) :]).split())
    for box in printed.drawing.boxes:
        if box.kind is Kind.FINDING:
            assert f"{box.heading} 1 {box.likely[0].title} {printed.where[box.name]}" in index


def test_the_title_stands_clear_of_what_is_drawn(big):
    press, printed = big
    page = set_it(press, printed).pages[0]
    heights: list[float] = []

    def seen(text, matrix, text_matrix, font, size):
        if text.strip() == "A big one" and size * abs(text_matrix[3]) * abs(matrix[3]) > 1.5:
            heights.append(matrix[5] + text_matrix[5] * matrix[3])

    page.extract_text(visitor_text=seen)
    # The title, then the complaint's box, which says the same.
    title, _ = sorted(heights, reverse=True)
    below = float(page.mediabox[3]) - title - MARGIN * MILLIMETRE
    assert 0 < below < press.head - 8


def test_the_pdf_is_tagged_and_the_same_each_time(big):
    press, printed = big
    data = pages(press, printed)
    once = typeset(TEMPLATES, data)
    assert once == typeset(TEMPLATES, data)
    root = PdfReader(io.BytesIO(once)).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    again_press, again = print_it(drawing_of(BIG, "big"))
    assert pages(again_press, again) == data


def test_no_two_boxes_overlap_and_every_line_ends_at_its_boxes(big):
    _, printed = big
    for sheet in printed.sheets:
        places = {placed.box.name: placed for placed in sheet.laid.boxes}
        for one in places.values():
            for other in places.values():
                if one is not other:
                    apart_x = abs(one.at[0] - other.at[0]) - (one.box.width + other.box.width) / 2
                    apart_y = abs(one.at[1] - other.at[1]) - (one.box.height + other.box.height) / 2
                    assert max(apart_x, apart_y) > -0.5
        for routed in sheet.laid.arrows:
            for name, point in ((routed.arrow.tail, routed.curve[0]), (routed.arrow.head, routed.tip)):
                placed = places[name]
                assert abs(point[0] - placed.at[0]) <= placed.box.width / 2 + 1
                assert abs(point[1] - placed.at[1]) <= placed.box.height / 2 + 1


def test_a_tree_that_fits_is_on_one_sheet(kettle: Library):
    _, printed = print_it(drawing_of(kettle, "leaks"))
    assert len(printed.sheets) == 1
    assert printed.connectors == {}


def test_a_check_with_more_answers_than_a_sheet_is_wide_goes_from_left_to_right():
    answers = {f"a{n}": {"says": f"Number {n} of many answers", "found": {f"c{n}": 1}} for n in range(9)}
    tree = {
        "symptom": "wide", "title": "Wide", "family": "kettle", "first": "q",
        "checks": {"q": {"ask": "Which of the many?", "minutes": 1, "answers": answers}},
    }  # fmt: skip
    _, printed = print_it(drawing_of(join(trees=[Tree.model_validate(tree)]), "wide"))
    (sheet,) = [sheet for sheet in printed.sheets if len(sheet.laid.boxes) > 5]
    left = {
        round(placed.at[0] - placed.box.width / 2)
        for placed in sheet.laid.boxes
        if placed.box.kind == "finding"
    }
    assert sheet.letters >= 10
    assert len({placed.at[1] for placed in sheet.laid.boxes if placed.box.kind == "finding"}) == 9
    assert left


def test_what_cannot_be_read_on_the_paper_is_told_with_what_to_do():
    long = drawing_of(grown(3), "big")
    boxes = tuple(
        replace(box, title="word " * 900) if box.kind is Kind.QUESTION else box for box in long.boxes
    )
    with pytest.raises(TooLargeError, match="Choose larger paper, a shorter distance, or --poster"):
        print_it(replace(long, boxes=boxes))


def test_a_check_with_too_many_answers_is_shared_between_two_boxes_and_marked():
    answers = {f"a{n}": {"says": f"Number {n} of many answers", "found": {f"c{n}": 1}} for n in range(9)}
    tree = {
        "symptom": "wide", "title": "Wide", "family": "kettle", "first": "q",
        "checks": {"q": {"ask": "Which of the many?", "minutes": 1, "answers": answers}},
    }  # fmt: skip
    press, printed = print_it(drawing_of(join(trees=[Tree.model_validate(tree)]), "wide"), "a3", "1m")
    assert all(sheet.letters >= 24 for sheet in printed.sheets)
    said = [line.says for line in printed.drawing.lines]
    assert sorted(set(said)) == ["", "Another answer", *(f"Number {n} of many answers" for n in range(9))]
    assert all(said.count(f"Number {n} of many answers") == 1 for n in range(9))
    words = " ".join(" ".join(page.extract_text().split()) for page in set_it(press, printed).pages)
    assert "Question 1, more answers" in words


def test_unknown_paper_and_distance_name_those_there_are(kettle: Library):
    drawing = drawing_of(kettle, "leaks")
    with pytest.raises(UnknownNameError, match=r"no paper 'a5'\. Choose one of: a4, a3, letter"):
        Press(drawing, "a5", "35cm", text_width)
    with pytest.raises(UnknownNameError, match="no distance '2m'"):
        Press(drawing, "a4", "2m", text_width)


def test_the_outline_of_each_kind_has_corners_of_its_own(kettle: Library):
    drawing = drawing_of(kettle, "no-heat")
    boxes = sized_boxes(drawing, text_width)
    corners = {box.kind: [len(line.points) for line in outlines(boxes[box.name])] for box in drawing.boxes}
    assert corners == {Kind.START: [40], Kind.QUESTION: [6], Kind.FINDING: [4], Kind.STOP: [8, 8]}


def test_the_legend_explains_the_circle_where_there_is_one():
    for checks in (3, 40):
        press, printed = print_it(drawing_of(grown(checks), "big"))
        several = len(printed.sheets) > 1
        legend = pages(press, printed)["legend"]
        assert [sample["word"] for sample in legend][len(printed.drawing.kinds) :] == ["C1"] * several
        words = " ".join(set_it(press, printed).pages[0].extract_text().split())
        assert ("goes on elsewhere" in words) is several
    assert several


def test_the_legend_has_as_many_lines_around_each_kind_as_the_drawing(kettle: Library):
    drawing = drawing_of(kettle, "no-heat")
    press = Press(drawing, "a4", "35cm", text_width)
    boxes = sized_boxes(drawing, text_width)
    for box in drawing.boxes:
        sample = legend_of(box.kind, press)
        drawn = outlines(boxes[box.name])
        assert [len(shape["points"]) for shape in sample["shapes"]] == [len(line.points) for line in drawn]
        assert [shape["dashed"] for shape in sample["shapes"]] == [line.dashed for line in drawn]
        for shape in sample["shapes"]:
            assert all(0 <= x <= sample["width"] and 0 <= y <= sample["height"] for x, y in shape["points"])


def test_a_line_from_a_rectangles_corner_is_brought_to_the_shape():
    box = connector(
        "to-1",
        "C1",
        "Question 2, sheet 2",
        text_width,
        widest="Question 2, sheet 888",
        leads_in=False,
        across=False,
    )
    x, y = meeting(box, (box.width / 2, 0.0))
    assert (x, y) == pytest.approx((box.width / 2, 0.0), abs=1e-6)


def test_answers_go_to_the_boxes_that_they_name(kettle: Library):
    drawing = drawing_of(kettle, "no-heat")
    boxes = sized_boxes(drawing, text_width)
    arrows = [Arrow(line.tail, line.head) for line in reversed(drawing.lines)]
    laid = lay_out(list(boxes.values()), arrows, text_width)
    at = {placed.box.name: placed.at for placed in laid.boxes}
    for routed in laid.arrows:
        assert at[routed.arrow.tail][1] < at[routed.arrow.head][1]
        assert abs(routed.tip[1] - at[routed.arrow.head][1]) <= boxes[routed.arrow.head].height / 2 + 1


def test_the_widest_row_of_a_box_fits_between_its_sides(kettle: Library):
    for box in sized_boxes(drawing_of(kettle, "no-heat"), text_width).values():
        assert max(text_width(row.text, SIZE, row.bold) + row.indent for row in box.rows) <= box.width - 10


def fewest(drawing: Drawing, room: int) -> int:
    """The least number of sheets, by trying all cuts."""
    children, start = dominated(drawing), drawing.boxes[0].name
    checks = [box.name for box in drawing.boxes if box.kind is Kind.QUESTION]
    for number in range(len(checks) + 1):
        for cuts in combinations(checks, number):
            home: dict[str, str] = {}
            waiting = [(start, start)]
            while waiting:
                name, entry = waiting.pop()
                home[name] = name if name in cuts else entry
                waiting += [(below, home[name]) for below in children[name]]
            entered_well = all(
                home[line.tail] == home[line.head] or line.head in cuts for line in drawing.lines
            )
            if entered_well and max(Counter(home.values()).values()) <= room:
                return number + 1
    raise AssertionError("each check on a sheet of its own is always allowed")


@pytest.mark.parametrize(
    ("checks", "joins", "room"), [(7, 0, 6), (9, 3, 7), (10, 4, 8), (11, 0, 5), (12, 3, 9)]
)
def test_as_few_sheets_as_can_be_where_sizes_add_up(checks: int, joins: int, room: int):
    """Kundu and Misra (1977) prove it for trees; with joins the exhaustive search is the judge."""
    drawing = drawing_of(grown(checks, joins), "big")
    ours = len(cut(drawing, lambda entry, boxes: len(boxes) <= room))
    assert ours == fewest(drawing, room)


def test_progress_is_told_and_ends_at_the_whole():
    said: list[tuple[int, int]] = []
    drawing = drawing_of(grown(12), "big")
    cut(drawing, lambda entry, boxes: len(boxes) <= 8, lambda done, of: said.append((done, of)))
    assert said[-1] == (len(drawing.boxes), len(drawing.boxes))


def test_a_large_tree_takes_about_one_layout_a_box(monkeypatch: pytest.MonkeyPatch):
    """Layouts are all that takes time; tests/benchmarks holds the rest to them, in processor time."""
    made = []
    monkeypatch.setattr(laid_module, "render", lambda *words: made.append(1) or render(*words))
    drawing = drawing_of(grown(60, joins=7), "big")
    _, printed = print_it(drawing, "a3", "50cm")
    assert len(printed.where) == len(drawing.boxes) > 140
    assert len(made) < 2.5 * len(drawing.boxes)


def test_the_layout_program_is_not_asked_the_same_twice(monkeypatch: pytest.MonkeyPatch):
    sources: list[str] = []

    def watched(source: str, form: str) -> bytes:
        sources.append(source)
        return render(source, form)

    monkeypatch.setattr(laid_module, "render", watched)
    press, printed = print_it(drawing_of(grown(30, joins=4), "big"))
    assert len(printed.sheets) > 2
    assert len(sources) == len(set(sources))
    asked = len(sources)
    assert pages(press, press.sheets()) == pages(press, printed)
    assert len(sources) == asked
