"""Fixtures that all tests share: the kettle, a machine that is nothing like the bundled library's."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from diagtree.library.library import Library, join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree

KETTLE = Path(__file__).parent / "kettle"


def _plain(name: str):
    return yaml.load((KETTLE / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


@pytest.fixture(scope="session")
def kettle() -> Library:
    return join(
        families=[Family.model_validate(_plain("catalogue.yaml"))],
        conditions=[Conditions.model_validate(_plain("conditions.yaml"))],
        trees=[Tree.model_validate(_plain(f"{name}.yaml")) for name in ("no-heat", "slow-boil", "leaks")],
    )
