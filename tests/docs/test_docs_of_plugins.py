"""The page for authors of plugins names every hook with its exact arguments, and its examples run."""

import inspect
import re
from pathlib import Path

import pytest

from diagtree import testing
from diagtree.library import hookspecs
from diagtree.proofread.rulebook import built_in
from diagtree.sheets.writers import all_writers

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "writing-a-plugin.md").read_text(encoding="utf-8")
HOOKS = sorted(name for name in vars(hookspecs) if name.startswith("diagtree_"))
PYTHON = re.findall(r"^```python\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("hook", HOOKS)
def test_each_hook_has_a_heading_with_its_exact_arguments(hook):
    arguments = ", ".join(inspect.signature(getattr(hookspecs, hook)).parameters)
    assert f"\n### `{hook}({arguments})`\n" in PAGE


def test_the_page_has_no_hook_that_is_not_there():
    assert sorted(re.findall(r"^### `(\w+)\(", PAGE, re.MULTILINE)) == HOOKS


@pytest.mark.parametrize("hook", HOOKS)
def test_each_hook_says_when_it_is_called_what_to_return_and_what_becomes_of_it(hook):
    said = inspect.getdoc(getattr(hookspecs, hook)) or ""
    assert "Called when" in said
    assert "Returns\n-------" in said
    assert "Notes\n-----" in said


@pytest.mark.parametrize("hook", HOOKS)
def test_each_hook_has_a_test_of_its_own(hook):
    tests = (ROOT / "tests" / "library" / "test_plugins.py").read_text(encoding="utf-8")
    assert f"def {hook}(" in tests


@pytest.mark.parametrize("text", PYTHON, ids=range(len(PYTHON)))
def test_each_example_runs(text):
    exec(compile(text, "writing-a-plugin.md", "exec"), {"__name__": "diagtree"})


def test_the_page_names_what_the_kit_offers():
    offered = [
        name
        for name, thing in vars(testing).items()
        if inspect.isfunction(thing) and thing.__module__ == testing.__name__ and not name.startswith("_")
    ]
    assert [name for name in offered if f"`{name}(" not in PAGE] == []


def test_what_the_page_offers_is_not_refused():
    space: dict = {"__name__": "diagtree"}
    for text in PYTHON:
        exec(compile(text, "writing-a-plugin.md", "exec"), space)
    writers, problems = all_writers([("bread-slicer", space["WRITER"])])
    assert problems == ()
    assert space["WRITER"].name in writers
    assert space["RULE"].name not in {rule.name for rule in built_in()}


def test_the_way_from_the_draft_to_its_tests_needs_no_index_that_has_this_program():
    (commands,) = re.findall(r"^    (cd bread-slicer\n    .*)$", PAGE, re.MULTILINE)
    assert "venv" not in commands
    assert commands.endswith('python -m pip install -e ".[dev]" && python -m pytest')
