"""The kettle with some of its words changed."""

from pathlib import Path

import pytest

from diagtree.library.assembly import assemble
from diagtree.library.sources import read_source

KETTLE = Path(__file__).parent.parent / "kettle"
FILES = ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "slow-boil.yaml", "leaks.yaml")


@pytest.fixture
def changed():
    """Assemble the kettle with some words replaced: ``changed((file, old, new), ...)``."""

    def change(*changes, files=FILES, readings=()):
        sources = []
        for name in files:
            text = (KETTLE / name).read_text(encoding="utf-8")
            for file, old, new in changes:
                if file == name:
                    assert old in text
                    text = text.replace(old, new, 1)
            sources.append(read_source(text.encode(), name, "own"))
        return assemble(sources, readings).library

    return change
