"""The proofreading rules that know bicycles: their pages are true, and the bundled library keeps them."""

from pathlib import Path

import pytest
from diagtree_whole_bike.proofreading import RULES

from diagtree.library.assembly import assemble
from diagtree.library.loading import collected
from diagtree.library.plugins import load_plugins
from diagtree.library.sources import read_source
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.proofreader import faults_in, proofread
from diagtree.proofread.rulebook import page_of, rulebook


def told(rule, text):
    manuscript = Shelf(assemble([read_source(text.encode(), "sample.yaml", "own")])).manuscripts[-1]
    faults = [fault for fault in faults_in(manuscript, [rule]) if fault.rule == rule.name]
    return [f"{fault.line}:{fault.column}: {fault.message}" for fault in faults]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_page_is_true(rule):
    page = page_of(rule)
    assert told(rule, page.wrong) == list(page.told)
    assert told(rule, page.right) == []


THREADS = {
    # ISO 6696 (1.375 in x 24): the drive side is left-hand, the other side right-hand.
    "{title: Cup, side: drive side, thread: 1.375 in x 24 tpi": "left",
    "{title: 'Cup, drive side', thread: 1.375 x 24": "left",
    "{title: Fixed cup, thread: 1.375 in x 24 tpi": "left",
    "{title: Cup, side: non-drive side, thread: 1.375 in x 24 tpi": "right",
    "{title: Adjustable cup, thread: 1.375 in x 24 tpi": "right",
    # Italian, 36 mm x 24: both sides are right-hand, so nothing is asked of them.
    "{title: Cup, side: drive side, thread: 36 mm x 24 tpi": None,
    # Pedals, 9/16 in x 20: the left one is left-hand.
    "{title: Left pedal, thread: 9/16 in x 20 tpi": "left",
    "{title: Right pedal, thread: 9/16 in x 20 tpi": "right",
    "{title: Pedals, thread: 9/16 in x 20 tpi": None,
}


@pytest.mark.parametrize("beginning", THREADS)
@pytest.mark.parametrize("hand", ["left", "right"])
def test_which_way_a_thread_goes_follows_from_its_side(beginning, hand):
    text = f"family: x\nfasteners:\n  one: {beginning}, hand: {hand}}}\n"
    right = THREADS[beginning]
    assert bool(told(RULES[0], text)) == (right is not None and right != hand)


def test_the_bundled_library_keeps_the_rules_that_know_bicycles():
    plugins = load_plugins()
    rules = [rule for rule in rulebook(plugins) if rule.name in {one.name for one in RULES}]
    assert len(rules) == 2, "they come in by the door for all"
    shelf = Shelf(collected(plugins).put_together())
    faults = [fault for fault in proofread(shelf, rules) if fault.rule != "reading"]
    assert list(map(str, faults)) == []


def test_the_rules_find_what_they_are_for_in_the_bundled_catalogues():
    """Turn one thread the other way, and take one bedding-in out: both are told."""
    plugins = Path(__file__).parents[2] / "plugins"
    pedals = (plugins / "diagtree_cranks_and_pedals" / "catalogue.yaml").read_text(encoding="utf-8")
    assert "hand: left" in pedals
    assert told(RULES[0], pedals) == []
    assert len(told(RULES[0], pedals.replace("hand: left", "hand: right", 1))) == 1
    brakes = (plugins / "diagtree_disc_brakes" / "catalogue.yaml").read_text(encoding="utf-8")
    assert told(RULES[1], brakes) == []
    assert told(RULES[1], brakes.replace("bed-in, ", ""))
