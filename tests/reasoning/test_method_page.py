"""The page on the method states the constants that the program uses."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import pytest

PAGE = (Path(__file__).parents[2] / "docs" / "method.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\| `(\w+)\.(\w+)` \| ([\d.]+) \|", PAGE, re.MULTILINE)


@pytest.mark.parametrize(("module", "name", "value"), ROWS)
def test_a_constant_has_the_value_that_the_page_states(module, name, value):
    assert getattr(import_module(f"diagtree.reasoning.{module}"), name) == float(value)


def test_the_page_states_the_constants_and_shows_pictures_that_are_there():
    assert len(ROWS) >= 15
    pictures = re.findall(r"\]\((\w[\w-]*\.svg)\)", PAGE)
    assert pictures
    for picture in pictures:
        assert (Path(__file__).parents[2] / "docs" / picture).is_file()
