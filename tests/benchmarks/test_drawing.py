"""Cutting a large tree into sheets against what its layouts alone take, in processor time."""

import gc
import resource
from statistics import median

import pytest

from diagtree.drawing import laid
from diagtree.drawing.diagram import Kind, drawing_of
from diagtree.drawing.paged import TEMPLATES, pages
from diagtree.drawing.printed import Press
from diagtree.drawing.render import render
from diagtree.library.library import join
from diagtree.model.tree import Tree
from diagtree.sheets.letters import text_width
from diagtree.sheets.typeset import typeset

BOXES = 300
SECONDS = 3.0
MOST = 1.3


@pytest.fixture(scope="module")
def large():
    """A tree of a bit over 300 boxes in which ways also join: two checks and a finding after each check."""
    checks, table = 120, {}
    for place in range(checks):
        answers = {"here": {"says": f"It is here, number {place * 7919}", "found": {f"cause-{place}": 1}}}
        for side, name in ((2 * place + 1, "left"), (2 * place + 2, "right")):
            if side < checks:
                answers[name] = {"says": f"It goes {name}", "next": f"c{side}"}
        if place % 7 == 6 and 2 * place + 3 < checks:
            answers["over"] = {"says": "Over to the next", "next": f"c{2 * place + 3}"}
        if len(answers) == 1:
            answers["there"] = {"says": "It is there", "found": {f"cause-{place}": 1}}
        # No two boxes of one size: a layout that is known already helps no more than it does for a tree in use.
        ask = f"What does part number {place} of this long {'very ' * (place % 5)}machine look {'like ' * (place % 3)}?"
        table[f"c{place}"] = {"ask": ask, "minutes": 1, "answers": answers}
    tree = {"symptom": "big", "title": "A big one", "family": "kettle", "first": "c0", "checks": table}
    drawing = drawing_of(join(trees=[Tree.model_validate(tree)]), "big")
    assert len(drawing.boxes) >= BOXES
    assert sum(1 for box in drawing.boxes if box.kind is Kind.QUESTION) == checks
    return drawing


def spent():
    # This process and the layout program that it calls: whatever else runs on the machine counts for neither side.
    own, called = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    return own.ru_utime + own.ru_stime + called.ru_utime + called.ru_stime


def timed(work):
    gc.collect()
    began = spent()
    work()
    return spent() - began


def print_it(drawing):
    return Press(drawing, "a3", "50cm", text_width).sheets()


def test_a_large_tree_takes_little_more_than_its_layouts(benchmark, large, monkeypatch):
    text_width("warm", 10.0, False)
    sources = []
    with monkeypatch.context() as watch:
        watch.setattr(laid, "render", lambda *words: sources.append(words) or render(*words))
        print_it(large)
    assert sources

    def layouts_alone():
        for words in sources:
            render(*words)

    pairs = [(timed(lambda: print_it(large)), timed(layouts_alone)) for _ in range(3)]
    ratio = median(whole / bare for whole, bare in pairs)
    benchmark.extra_info["ratio to its layouts alone"] = round(ratio, 3)
    benchmark.extra_info["layouts"] = len(sources)
    benchmark.pedantic(print_it, args=(large,), rounds=3)
    assert ratio <= MOST


def test_three_hundred_boxes_on_a3_are_cut_and_set_within_three_seconds(benchmark, large):
    press = Press(large, "a3", "50cm", text_width)
    typeset(TEMPLATES, pages(press, press.sheets()))

    def whole():
        press = Press(large, "a3", "50cm", text_width)
        return typeset(TEMPLATES, pages(press, press.sheets()))

    took = median(timed(whole) for _ in range(3))
    benchmark.extra_info["processor seconds"] = round(took, 2)
    assert benchmark.pedantic(whole, rounds=1).startswith(b"%PDF")
    assert took <= SECONDS
