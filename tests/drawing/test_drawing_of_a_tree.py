"""A drawing shows the whole tree, each thing once, and no author's text can break or restyle it."""

from __future__ import annotations

import colorsys
import re
import subprocess
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.drawing import render as render_module
from diagtree.drawing.diagram import PLAIN, Kind, Line, Shown, check_box, drawing_of, finding_box, says_of
from diagtree.drawing.dot import LOOKS, to_dot
from diagtree.drawing.render import LayoutError, find_binary, render
from diagtree.errors import UnknownNameError
from diagtree.library.library import Library, join
from diagtree.model.tree import Tree

SVG = "{http://www.w3.org/2000/svg}"


def drawn(library: Library, symptom: str, shown: Shown = PLAIN) -> ElementTree.Element:
    return ElementTree.fromstring(render(to_dot(drawing_of(library, symptom, shown)).source, "svg"))


def groups(svg: ElementTree.Element) -> dict[str, list[ElementTree.Element]]:
    found: dict[str, list[ElementTree.Element]] = {}
    for group in svg.iter(f"{SVG}g"):
        found.setdefault(group.get("id", ""), []).append(group)
    return found


def words(group: ElementTree.Element) -> str:
    return "\n".join("".join(text.itertext()) for text in group.iter(f"{SVG}text"))


def one_check(says: str, ask: str = "Well?") -> Library:
    return join(
        trees=[
            Tree.model_validate(
                {
                    "symptom": "dead",
                    "title": "It is dead",
                    "family": "kettle",
                    "first": "lamp",
                    "checks": {
                        "lamp": {
                            "ask": ask,
                            "minutes": 1,
                            "answers": {
                                "no": {"says": says, "found": {"fuse": 60}},
                                "yes": {"says": "Yes", "found": {"element": 40}},
                            },
                        }
                    },
                }
            )
        ]
    )


@pytest.mark.parametrize("symptom", ["no-heat", "slow-boil", "leaks"])
def test_each_check_answer_and_finding_is_on_the_drawing_exactly_once(kettle: Library, symptom: str):
    tree = kettle.trees[symptom]
    svg = drawn(kettle, symptom)
    by_id = groups(svg)
    answers = sum(len(check.answers) for check in tree.checks.values())
    assert sum(1 for name in by_id if name.startswith("answer-")) == answers + 1  # and the way in
    for name, check in tree.checks.items():
        (box,) = by_id[check_box(name)]
        assert check.ask.replace(" ", "") in re.sub(r"\s", "", words(box))
        for answer_name, answer in check.answers.items():
            if answer.found is None:
                assert finding_box(name, answer_name) not in by_id
                continue
            (finding,) = by_id[finding_box(name, answer_name)]
            for cause, count in answer.found.items():
                assert f"{count} {kettle.causes[cause].title}" in words(finding).replace("\n  ", " ")
    lines = [words(group) for name, found in by_id.items() if name.startswith("answer-") for group in found]
    for check in tree.checks.values():
        for answer in check.answers.values():
            assert any(answer.says[:10] in line for line in lines)
    assert len([name for name in by_id if name.startswith("check-")]) == len(tree.checks)


def test_the_drawing_says_minutes_cautions_stops_bands_and_which_tree_it_is(kettle: Library):
    text = words(drawn(kettle, "no-heat"))
    assert "Question 4 · 3 min" in text
    assert "Caution: Pull the plug before you" in text
    assert "STOP 5" in text
    assert "Do not plug it in again." in text
    assert f"identity {kettle.identity('no-heat')}" in text
    assert "under 90 °C" in words(drawn(kettle, "slow-boil")).replace("\n", " ")


@pytest.mark.parametrize(
    ("says", "below", "told"),
    [
        ("Under 90 °C", "90", "Under 90 °C"),
        ("Under 0.90 °C", "90", "Under 0.90 °C (under 90 °C)"),
        ("Under 90", "90", "Under 90 (under 90 °C)"),
        ("Under 900 °C", "90", "Under 900 °C (under 90 °C)"),
        ("Cool", "90", "Cool (under 90 °C)"),
    ],
)
def test_a_band_that_the_answer_names_itself_is_not_said_twice(
    kettle: Library, says: str, below: str, told: str
):
    check = next(c for c in kettle.trees["slow-boil"].checks.values() if c.reading is not None)
    answer = next(a for a in check.answers.values() if a.below is not None and a.from_ is None)
    changed = answer.model_copy(update={"says": says, "below": Decimal(below)})
    assert says_of(kettle, check, changed) == told


def test_remedies_are_named_when_they_are_asked_for(kettle: Library):
    assert "Descale" not in words(drawn(kettle, "no-heat"))
    assert "– Descale" in words(drawn(kettle, "no-heat", Shown(remedies=True)))


def test_the_same_tree_gives_the_same_bytes(kettle: Library):
    source = to_dot(drawing_of(kettle, "no-heat")).source
    assert to_dot(drawing_of(kettle, "no-heat")).source == source
    for form in ("svg", "png"):
        assert render(source, form) == render(source, form)


HOSTILE = [
    'a "quoted" word',
    "5 N·m < 6 & > 4",
    "<B>bold</B><BR/>",
    "<TABLE><TR><TD>x</TD></TR></TABLE>",
    r"C:\new \N \G \l \r end\\",
    "port:ne {x|y}",
    "&lt;escaped&gt; &amp; &#92;",
    "Größe Ωμ 漢字 Привет",
    "]]> --> <!-- ; } digraph { a -> b }",
    "' onload='x'",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_a_hostile_label_comes_out_as_written(text: str):
    svg = drawn(one_check(text, text), "dead")
    by_id = groups(svg)
    assert re.sub(r"\s", "", text) in re.sub(r"\s", "", words(by_id["answer-1"][0]))
    assert re.sub(r"\s", "", text) in re.sub(r"\s", "", words(by_id["check-lamp"][0]))
    assert set(by_id) == set(groups(drawn(one_check("plain"), "dead")))


def test_line_ends_break_the_line_and_control_letters_are_shown():
    box = words(groups(drawn(one_check("x", "one\ntwo\x1b[31m"), "dead"))["check-lamp"][0])
    assert "one\n" in box
    assert r"two\x1b[31m" in box


@settings(max_examples=25, deadline=None)
@given(st.text(min_size=1, max_size=60).filter(lambda text: text.strip()))
def test_any_label_leaves_the_drawing_whole(text: str):
    by_id = groups(drawn(one_check(text, text), "dead"))
    assert "Yes" in words(by_id["answer-2"][0])
    assert len(by_id["check-lamp"]) == 1


def test_kinds_differ_in_shape_and_word_without_any_colour(kettle: Library):
    looks = {kind: (look.shape, look.peripheries, look.weight) for kind, look in LOOKS.items()}
    assert len({(shape, rim) for shape, rim, _ in looks.values()} | {"rounded"}) >= len(Kind)
    by_id = groups(drawn(kettle, "no-heat"))
    corners = {
        name: [len(p.get("points", "").split()) for p in by_id[name][0].iter(f"{SVG}polygon")]
        for name in ("check-lamp", "finding-fuse-no", "finding-flex-hurt")
    }
    assert corners == {"check-lamp": [7], "finding-fuse-no": [5], "finding-flex-hurt": [9, 9]}
    assert len({kind.word for kind in Kind}) == len(Kind)


def test_letters_stay_readable_on_every_fill_in_grey():
    for look in LOOKS.values():
        red, green, blue = (int(look.fill[place : place + 2], 16) / 255 for place in (1, 3, 5))
        lightness = colorsys.rgb_to_hls(red, green, blue)[1]
        # WCAG 2.2 contrast of black letters against the fill: 7 to 1 and better.
        assert (lightness**2.2 + 0.05) / 0.05 >= 7


def test_an_unknown_symptom_lists_near_ones(kettle: Library):
    with pytest.raises(UnknownNameError, match="Did you mean 'no-heat'"):
        drawing_of(kettle, "no-heet")


def test_a_graph_that_cannot_be_drawn_is_an_expected_error():
    with pytest.raises(LayoutError, match="could not draw this"):
        render("digraph { a -> ", "svg")


def test_a_program_that_dies_is_an_expected_error(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    broken = tmp_path / "graphviz-pure"
    broken.write_text("#!/bin/sh\nexit 3\n")
    broken.chmod(0o755)
    monkeypatch.setattr(render_module, "find_binary", lambda system=False: broken)
    with pytest.raises(LayoutError, match="'graphviz-pure' could not draw this"):
        render("digraph {}" + " " * 200_000, "svg")


def test_the_layout_program_is_found_and_a_system_one_only_when_asked(monkeypatch: pytest.MonkeyPatch):
    assert find_binary().name.startswith("graphviz-pure")
    monkeypatch.setenv("PATH", "")
    assert find_binary().name.startswith("graphviz-pure")
    with pytest.raises(LayoutError, match="no program 'dot' on this system"):
        find_binary(system=True)


def test_a_missing_layout_program_says_what_to_install(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(render_module, "_places", lambda name: iter(()))
    with pytest.raises(LayoutError, match=r"is missing\. Install it again: python"):
        find_binary()


def test_the_dot_form_is_read_by_the_layout_program(kettle: Library, tmp_path: Path):
    path = tmp_path / "tree.dot"
    path.write_text(to_dot(drawing_of(kettle, "leaks")).source, encoding="utf-8")
    done = subprocess.run([find_binary(), "-Tsvg", path], capture_output=True, check=True)
    assert b"Water on the table" in done.stdout


def test_a_check_that_nothing_leads_to_is_drawn_all_the_same(kettle: Library):
    tree = kettle.trees["leaks"]
    checks = {**tree.checks, "alone": tree.checks["flex-look"]}
    lonely = replace(kettle, trees={"leaks": tree.model_copy(update={"checks": checks})})
    assert check_box("alone") in groups(drawn(lonely, "leaks"))


def test_a_way_that_is_possible_is_never_called_0_of_100():
    assert [Line("a", "b", "so", share=share).figure for share in (None, 0.0, 0.2, 0.5, 12.4)] == [
        "", "0 of 100", "under 1 of 100", "under 1 of 100", "12 of 100",
    ]  # fmt: skip
