"""The engine's source speaks of no particular machine: everything about bicycles is in plugins and trees."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import diagtree

ENGINE = Path(diagtree.__file__).parent
WORDS = re.compile(
    r"\bbicycl(e|es|ing|ist)\b|\bcyclists?\b|\bbikes?\b|\bbrakes?\b|\bbraking\b|\bpedals?\b|\bcranks?\b|\bheadsets?\b|\bderailleurs?\b"
    r"|\bwheels?\b|\btyres?\b|\bsaddles?\b|\bhandlebars?\b|\bspokes\b|\brims?\b|\bsprockets?\b|\bchainrings?\b"
    r"|\bcassettes?\b|\bforks?\b|\bseat-?posts?\b|\bsteerers?\b|\brotors?\b|\bcalipers?\b",
    re.IGNORECASE,
)
SOURCES = sorted(
    path
    for path in ENGINE.rglob("*")
    if path.suffix in {".py", ".typ", ".html", ".css", ".j2", ".yaml", ".json"} and "fonts" not in path.parts
)


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ENGINE)))
def test_no_source_of_the_engine_speaks_of_a_bicycle(path: Path):
    # "wheel" in the sense of a packed distribution is no part of a machine.
    text = re.sub(
        r"(binary|graphviz-pure|mouse|typst|zipped) wheel|targets\.wheel",
        "",
        path.read_text(encoding="utf-8"),
    )
    found = [f"line {text[: m.start()].count(chr(10)) + 1}: {m.group()}" for m in WORDS.finditer(text)]
    assert not found


def test_the_vocabulary_catches_a_slip():
    assert WORDS.search("the brake lever")
    assert WORDS.search("Bikes")
    assert not WORDS.search("a torque wrench on a bolt")
