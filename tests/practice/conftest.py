"""Fixtures of practice: kettles with a hidden fault, and kettles whose checks need opening work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagtree.case.log import MemoryLog
from diagtree.library.library import Library
from diagtree.practice.levels import LEVELS
from diagtree.practice.machine import draw_machine
from diagtree.practice.play import Play

WHEN = "2026-01-02T03:04:05+00:00"


@pytest.fixture(scope="session")
def boxed(kettle) -> Library:
    """The kettle whose fuse and flex are behind the base: taking it off takes 2 minutes, once."""
    tree = kettle.trees["no-heat"]
    checks = {
        name: check.model_copy(update={"behind": ("kettle/base-off",)}) if name in {"fuse", "flex"} else check
        for name, check in tree.checks.items()
    }
    trees = {**kettle.trees, "no-heat": tree.model_copy(update={"checks": checks})}
    return replace(kettle, trees=trees)


@pytest.fixture
def play(kettle):
    """Make a machine to practise on; its moves are kept in memory."""

    def make(*complaints, level="apprentice", seed=1, library=kettle, log=None) -> Play:
        machine = draw_machine(library, complaints or ("no-heat",), LEVELS[level], seed)
        return Play(library, machine, log or MemoryLog(), clock=lambda: WHEN)

    return make
