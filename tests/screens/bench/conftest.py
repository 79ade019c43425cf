"""Fixtures of the bench's tests: walkers over the kettle, a bench without and one with a terminal."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker

sys.path.insert(0, str(Path(__file__).parent))

from bench_terminal import Clock, Terminal

from diagtree.screens.bench.bench import Bench

WHEN = "2026-01-02T03:04:05+00:00"


@pytest.fixture
def walk(kettle):
    """Make a walker over the kettle; its case is kept in memory."""

    def make(*complaints: str, label: str = "the red one", looked: bool = True, **options: object) -> Walker:
        log = options.pop("log", None) or MemoryLog()
        walker = Walker(kettle, log, complaints=complaints, label=label, clock=lambda: WHEN, **options)
        if looked and complaints:
            walker.answer("limed")
            walker.answer("fresh")
        return walker

    return make


class Pressed:
    """A bench without a terminal, and a clock that goes on a second at each key."""

    def __init__(self, walker: Walker, **options: object) -> None:
        self.clock = Clock()
        self.walker = walker
        self.bench = Bench(walker, clock=self.clock, **options)

    def press(self, *keys: str, after: float = 1.0) -> None:
        for key in keys:
            self.clock.now += after
            self.bench.press(key)

    def type(self, text: str) -> None:
        self.press(*text)

    def text(self, width: int = 80, height: int = 24) -> str:
        return self.bench.compose(width, height).text


@pytest.fixture
def pressed():
    return Pressed


@pytest.fixture
def terminal():
    return Terminal
