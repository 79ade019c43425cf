"""What can be shown beside the plain tree: chances, a case's way, the shortest order, a poster."""

from __future__ import annotations

import argparse
import io
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from diagtree.case.journal import Journal
from diagtree.case.walker import Walker
from diagtree.clean import clean
from diagtree.commands import draw
from diagtree.drawing.diagram import Kind, Shown, drawing_of
from diagtree.drawing.dot import to_dot
from diagtree.drawing.paged import pages
from diagtree.drawing.poster import TEMPLATES, poster_pages
from diagtree.drawing.printed import Press
from diagtree.drawing.shares import shares_of
from diagtree.drawing.shortest import beside, shortest_drawing
from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.library import Library, join
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.shortest import next_check
from diagtree.sheets.letters import printable, text_width
from diagtree.sheets.typeset import typeset

KETTLE = Path(__file__).parent.parent / "kettle"


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    draw.add_arguments(parser)
    return draw.run(parser.parse_args([*words, "--trees", str(KETTLE)]))


def test_what_comes_to_a_check_is_what_leaves_it(kettle: Library):
    tree, shares = kettle.trees["no-heat"], shares_of(kettle, "no-heat")
    into = {tree.first: 100.0}
    for name, check in tree.checks.items():
        for answer_name, answer in check.answers.items():
            if answer.next:
                into[answer.next] = into.get(answer.next, 0.0) + shares[name, answer_name]
    for name, check in tree.checks.items():
        assert sum(shares[name, answer] for answer in check.answers) == pytest.approx(into[name], abs=1e-6)


def test_shares_are_the_chain_rule_over_the_belief(kettle: Library):
    """P(lamp dark, other socket dead) = P(evidence with both) / P(complaint), from the belief's own normaliser."""
    model = BeliefModel.of(kettle, ("no-heat",))
    both = {("no-heat", "lamp"): "no", ("no-heat", "other-socket"): "no"}
    first, second = model.given(Evidence(("no-heat",))), model.given(Evidence(("no-heat",), answers=both))
    wanted = 100 * math.exp(second.log_chance - first.log_chance)
    assert shares_of(kettle, "no-heat")["other-socket", "no"] == pytest.approx(wanted, rel=1e-9)


def test_wider_lines_where_more_go_and_thick_ones_on_a_cases_way(kettle: Library):
    shares = shares_of(kettle, "no-heat")
    way = frozenset({("lamp", "yes"), ("hum", "no")})
    drawing = drawing_of(kettle, "no-heat", Shown(shares=shares, way=way, note="x"))
    assert [line.says for line in drawing.lines if line.marked] == ["Comes on", "Silent"]
    shown = {line.says: line.share for line in drawing.lines if line.share is not None}
    assert shown["Comes on"] == pytest.approx(shares["lamp", "yes"])


def test_the_shortest_order_begins_with_the_check_that_the_engine_would_ask(kettle: Library):
    drawing = shortest_drawing(kettle, "no-heat")
    best = next_check(BeliefModel.of(kettle, ("no-heat",)).given(Evidence(("no-heat",))))
    assert best is not None
    first = drawing.box(drawing.lines[0].head)
    assert first.title == kettle.trees["no-heat"].checks[best.check].ask
    heads = [line.head for line in drawing.lines]
    assert sorted(heads) == sorted(box.name for box in drawing.boxes[1:])
    out = sum(
        line.share for line in drawing.lines if drawing.box(line.head).kind in {Kind.FINDING, Kind.STOP}
    )
    assert out == pytest.approx(100, abs=1e-6)


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (drawing_of, "that come in with the complaint"),
        (shortest_drawing, "that come to the finding"),
        (
            lambda *tree: beside(drawing_of(*tree), shortest_drawing(*tree)),
            "that come in with the complaint; in the order that asks least: that come to the finding",
        ),
    ],
)
def test_the_index_and_the_legend_say_of_which_machines_the_figures_tell(make, told: str, kettle: Library):
    drawing = make(kettle, "no-heat")
    press = Press(drawing, "a4", "35cm", text_width)
    assert (
        pages(press, press.sheets())["index_note"]
        == f"The figures: how many of 100 kettles {told}. Basis: invented."
    )
    legend = re.sub(r"<[^>]+>|\s+", " ", to_dot(drawing).source.partition("legend-finding")[2])
    assert f"of 100 kettles {told}" in " ".join(legend.split())


def test_a_stop_stays_a_stop_in_the_shortest_order(kettle: Library):
    stops = [box for box in shortest_drawing(kettle, "no-heat").boxes if box.kind is Kind.STOP]
    assert stops
    assert all("Do not plug it in again" in box.title for box in stops)


def test_both_orders_stand_side_by_side(kettle: Library):
    author, engine = drawing_of(kettle, "no-heat"), shortest_drawing(kettle, "no-heat")
    both = beside(author, engine)
    assert len(both.boxes) == len(author.boxes) + len(engine.boxes)
    assert len({box.name for box in both.boxes}) == len(both.boxes)
    numbered = [box.heading for box in both.boxes if box.number]
    assert len(set(numbered)) == len(numbered), "the index of findings would name two of them alike"
    assert [box.also[0] for box in both.boxes if box.kind is Kind.START] == [
        "The author's order.",
        "The order that asks least.",
    ]
    printed = Press(both, "a4", "35cm", text_width).sheets()
    assert len(printed.where) == len(both.boxes)


def test_a_poster_has_every_word_on_some_sheet_and_marks_to_trim_by(kettle: Library):
    press = Press(drawing_of(kettle, "no-heat"), "a4", "1m", text_width)
    data = poster_pages(press)
    reader = PdfReader(io.BytesIO(typeset(TEMPLATES, data)))
    assert 1 < len(reader.pages) == len(data["tiles"]) <= data["rows"] * data["columns"]
    words = re.sub(r"\s+", "", "".join(page.extract_text() for page in reader.pages))
    for box in press.drawing.boxes:
        assert re.sub(r"\s+", "", box.heading).lower() in words.lower()
    assert "Row2of" in words
    assert data["letters"] >= 24


def test_a_posters_letters_grow_until_its_sheets_are_full_and_empty_sheets_are_left_out():
    """A chain of checks runs down to the right: the corners of its poster are empty."""
    table = {}
    for place in range(8):
        on = {"next": f"c{place + 1}"} if place < 7 else {"found": {"last": 1}}
        table[f"c{place}"] = {
            "ask": f"Is it number {place} of the long chain of parts?", "minutes": 1,
            "answers": {
                "yes": {"says": "Yes, that is the one", "found": {f"cause-{place}": 1}},
                "no": {"says": "No, it is further on", **on},
            },
        }  # fmt: skip
    tree = {"symptom": "long", "title": "A long one", "family": "kettle", "first": "c0", "checks": table}
    press = Press(drawing_of(join(trees=[Tree.model_validate(tree)]), "long"), "a4", "1m", text_width)
    data = poster_pages(press)
    assert len(data["tiles"]) < data["rows"] * data["columns"]
    assert 24 <= data["letters"] <= 36
    wide, high = ((side - data["overlap"]) for side in data["inner"])
    laid, scale = press.whole(), data["letters"] / 10
    filled = (
        laid.width * scale / (data["columns"] * wide + data["overlap"]),
        (laid.height * scale + data["head"]) / (data["rows"] * high + data["overlap"]),
    )
    assert max(filled) == pytest.approx(1) or data["letters"] == pytest.approx(36)
    reader = PdfReader(io.BytesIO(typeset(TEMPLATES, data)))
    words = [re.sub(r"\s+", "", page.extract_text()) for page in reader.pages]
    # The legend is on the first sheet, with the title.
    for kind in press.drawing.kinds:
        assert kind.word in words[0]
    for box in press.drawing.boxes:
        assert any(re.sub(r"\s+", "", box.heading) in page for page in words)


def test_the_command_prints_pdfs_and_posters(tmp_path: Path):
    for words in (["--chances", "--remedies"], ["--poster", "--distance", "1m"], ["--order", "both"]):
        target = tmp_path / f"{words[0].strip('-')}.pdf"
        assert run("no-heat", "--to", str(target), *words) == 0
        assert target.read_bytes().startswith(b"%PDF")
    with pytest.raises(UnknownNameError, match="no order 'fast'"):
        run("no-heat", "--to", str(tmp_path / "a.svg"), "--order", "fast")


def test_the_command_marks_the_way_of_a_case(kettle: Library, tmp_path: Path):
    case = tmp_path / "one.case"
    with Journal.create(case) as journal:
        walker = Walker(kettle, journal, complaints=["no-heat"])
        for answer in ("limed", "worn", "yes", "no"):
            walker.answer(answer)
    target = tmp_path / "way.svg"
    assert run("no-heat", "--to", str(target), "--case", str(case)) == 0
    assert target.read_text("utf-8").count('class="edge answer marked"') == 2
    with pytest.raises(ExpectedError, match=r"is not about 'leaks'\. Choose one of its complaints: no-heat"):
        run("leaks", "--to", str(tmp_path / "b.svg"), "--case", str(case))


@pytest.mark.parametrize(
    "text",
    [
        'a "quoted" word',
        "5 N·m < 6 & > 4",
        "<B>bold</B>",
        r"C:\new \N \G \l end\\",
        '#panic("x") $y$ *z* _w_ `v` @u //t',
        "port:ne {x|y}",
        "Größe Ωμ Привет",
        "漢字 and an arrow",
        "esc\x1b[31m turn\u202eround",
        "x" * 90,
    ],
)
def test_a_hostile_label_comes_out_as_written_on_paper(kettle: Library, text: str):
    tree = kettle.trees["leaks"]
    where = tree.checks["where"]
    answers = {**where.answers, "top": where.answers["top"].model_copy(update={"says": text})}
    checks = {**tree.checks, "where": where.model_copy(update={"ask": text, "answers": answers})}
    library = replace(kettle, trees={"leaks": tree.model_copy(update={"checks": checks})})
    pdf = draw.printed_pdf(drawing_of(library, "leaks"), "a4", "35cm")
    words = "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    wanted = re.sub(r"\s+", "", printable(clean(text)))
    assert re.sub(r"\s+", "", words).count(wanted) == 2
