"""Every YAML example in docs/ and the README is read by the models; whole files must be whole."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Check, Tree
from diagtree.model.workshop import Workshop
from diagtree.screens.line_unattended import Answers

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"^```yaml\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def _examples():
    pages = [
        page for page in ROOT.glob("docs/**/*.md") if page.parent.name != "rules"
    ]  # have tests of their own
    for path in sorted([*pages, ROOT / "README.md"]):
        for match in BLOCK.finditer(path.read_text(encoding="utf-8")):
            line = path.read_text(encoding="utf-8")[: match.start()].count("\n") + 1
            yield pytest.param(match.group(1), id=f"{path.relative_to(ROOT)}:{line}")


@pytest.mark.parametrize("text", list(_examples()))
def test_a_yaml_example_is_what_it_says(text: str):
    data = yaml.load(text, Loader=yaml.BaseLoader)
    if "symptom" in data:
        tree = Tree.model_validate(data, by_alias=True, by_name=False)
        counts = [
            n for c in tree.checks.values() for a in c.answers.values() for n in (a.found or {}).values()
        ]
        assert sum(counts) == 100
    elif "family" in data:
        Family.model_validate(data, by_alias=True, by_name=False)
    elif "conditions" in data:
        Conditions.model_validate(data, by_alias=True, by_name=False)
    elif "answers" in data:
        Answers.model_validate(data, by_alias=True, by_name=False)
    elif "rate" in data:
        Workshop.model_validate(data, by_alias=True, by_name=False)
    else:
        for check in data.values():
            Check.model_validate(check, by_alias=True, by_name=False)
