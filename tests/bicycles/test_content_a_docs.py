"""The pages that defend what the trees find say what the trees say."""

import re
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from diagtree.library.loading import load_library

PAGES = ("disc-brakes", "headset", "rim-brakes", "wheels")
FOLDER = Path(__file__).parents[2] / "docs" / "trees"
_ROW = re.compile(r"\| (?P<title>.+?) \(`(?P<cause>[a-z/-]+)`\) \| (?P<count>[\d.]+) \|")
_HEAD = re.compile(r"## (?P<title>.+) \(`(?P<symptom>[a-z-]+)`\)")


@pytest.fixture(scope="module")
def library():
    return load_library()


@pytest.mark.parametrize("page", PAGES)
def test_the_page_has_a_section_with_a_defence_for_each_tree_of_the_family(library, page):
    text = (FOLDER / f"{page}.md").read_text("utf-8")
    told = [match["symptom"] for match in _HEAD.finditer(text)]
    assert sorted(told) == sorted(s for s, tree in library.trees.items() if tree.family == page)
    for section in text.split("\n## ")[1:]:
        assert len(section.rsplit("|\n\n", 1)[1]) > 80


@pytest.mark.parametrize("page", PAGES)
def test_the_tables_of_likely_findings_are_the_trees(library, page):
    text = (FOLDER / f"{page}.md").read_text("utf-8")
    for section in text.split("\n## ")[1:]:
        head = _HEAD.match(f"## {section}")
        tree = library.trees[head["symptom"]]
        assert head["title"] == tree.title
        counts = Counter()
        for check in tree.checks.values():
            for answer in check.answers.values():
                counts.update(answer.found or {})
        rows = [(row["cause"], row["title"], Decimal(row["count"])) for row in _ROW.finditer(section)]
        assert len(rows) == 6
        for cause, title, count in rows:
            assert (title, count) == (library.causes[cause].title, counts.pop(cause)), head["symptom"]
        assert max(counts.values()) <= rows[-1][2]


def test_the_glossary_page_is_the_librarys_glossary(library):
    rows = re.findall(r"^\| (.+?) \| (.+) \|$", (FOLDER / "glossary.md").read_text("utf-8"), re.M)
    assert rows[0] == ("term", "what it is")
    assert rows[1:] == sorted(library.glossary.items())
