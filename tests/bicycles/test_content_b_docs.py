"""The pages that defend what the trees of drive, gears, suspension and contact points find say what the trees say."""

import re
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from diagtree.library.loading import load_library

PAGES = ("bottom-bracket", "chain-drive", "contact-points", "cranks-and-pedals", "gears", "suspension")
FOLDER = Path(__file__).parents[2] / "docs" / "trees"
_HEAD = re.compile(r"(?P<title>.+) \(`(?P<symptom>[a-z-]+)`\)")
_ROW = re.compile(r"\| (?P<title>.+?) \(`(?P<cause>[a-z/-]+)`\) \| (?P<count>[\d.]+) \|")
_OTHERS = re.compile(r"\| (?P<how_many>\d+) others \| (?P<count>[\d.]+) \|\n\n(?P<why>.+)", re.S)


@pytest.fixture(scope="module")
def library():
    return load_library()


@pytest.mark.parametrize("page", PAGES)
def test_the_page_tables_and_defends_each_tree_of_the_family(library, page):
    sections = (FOLDER / f"{page}.md").read_text("utf-8").split("\n## ")[1:]
    heads = [_HEAD.match(section) for section in sections]
    assert {head["symptom"]: head["title"] for head in heads} == {
        symptom: tree.title for symptom, tree in library.trees.items() if tree.family == page
    }
    for head, section in zip(heads, sections, strict=True):
        counts = Counter()
        for check in library.trees[head["symptom"]].checks.values():
            for answer in check.answers.values():
                counts.update(answer.found or {})
        rows = {row["cause"]: (row["title"], Decimal(row["count"])) for row in _ROW.finditer(section)}
        assert rows == {cause: (library.causes[cause].title, count) for cause, count in counts.most_common(6)}
        others = _OTHERS.search(section)
        assert int(others["how_many"]) == len(counts) - 6
        assert Decimal(others["count"]) == 100 - sum(count for _, count in rows.values())
        assert len(others["why"]) > 120
