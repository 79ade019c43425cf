"""Texts that would steer a terminal, in every place where an author or a person can put one."""

from pathlib import Path

import pytest
import yaml
from bench_terminal import Terminal

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.clean import clean
from diagtree.library.library import join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.screens.bench.lines import plain

KETTLE = Path(__file__).parents[2] / "kettle"
EVIL = "\x1b]0;owned\x07\x1b[2J\u202e\u200b"
TEXTS = {
    "title", "ask", "how", "says", "why", "caution", "tell", "refer", "stop", "note", "until", "order",
    "preparation", "thread", "side", "verify", "next-due", "tools", "read", "attacks", "basis", "one", "many",
    "cautions", "also-called", "example",
}  # fmt: skip


def spoilt(value, key=""):
    """Put the letters that steer into every text; names, numbers and units stay."""
    if isinstance(value, dict):
        return {name: spoilt(item, name) for name, item in value.items()}
    if isinstance(value, list):
        return [spoilt(item, key) for item in value]
    return value + EVIL if key in TEXTS else value


@pytest.fixture(scope="module")
def hostile():
    def read(name):
        return spoilt(yaml.load((KETTLE / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader))

    family = read("catalogue.yaml")
    nut = family["fasteners"]["element-nut"]
    del nut["torque"]
    nut["until"] = "snug" + EVIL
    return join(
        [Family.model_validate(family)],
        [Conditions.model_validate(read("conditions.yaml"))],
        [Tree.model_validate(read(f"{name}.yaml")) for name in ("no-heat", "slow-boil", "leaks")],
    )


def test_nothing_steers_the_terminal_on_any_page(hostile, pressed):
    walker = Walker(hostile, MemoryLog(), label="red" + EVIL)
    bench = pressed(walker)
    seen = []

    def look():
        for size in ((120, 60), (80, 24), (44, 13)):
            for row in bench.bench.compose(*size).lines:
                text = plain(row)
                assert clean(text) == text
                seen.append(text)

    def press(*keys):
        for key in keys:
            bench.press(key)
            look()

    look()
    press("down", "enter", "enter", "up", "enter")
    if not walker.case.complaints:
        press("enter")
    press("2", "1", "i", "escape", "w", "escape", "y", "1", "escape", "escape", "x", "escape", "p", "escape")
    press("?", "escape", "j", "escape", "n", "a", "enter", "o", "escape", "l", "escape")
    bench.bench.paste(EVIL)
    look()
    for _ in range(12):
        press("1", "enter")
        if walker.finished:
            break
    assert walker.finished
    press("home", *["down"] * 40, "home", "enter", "escape")
    press("m", *"seal", "enter", "1", "1", "s", "escape", "g", "escape", "h", *"Jo", "enter")
    assert any("\\x1b[2J\\u202e" in text for text in seen)


def test_what_goes_to_the_terminal_holds_no_sequence_of_an_author(hostile):
    walker = Walker(hostile, MemoryLog(), complaints=["no-heat"], label="red" + EVIL)
    at = Terminal(walker)

    async def script(hand):
        await hand.press("2", "1", "1", "1", "1")
        await hand.see("What is to be done")

    at.play(script)
    written = "".join(at.wire.written)
    assert "\x1b]0;owned" not in written
    assert "\u202e" not in written
    assert "\\x1b]0;owned" in written
