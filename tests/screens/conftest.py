"""Fixtures of the line mode's tests."""

from __future__ import annotations

import io

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.screens.line import LineMode

RESUME = "diagtree diagnose --case x.case"


@pytest.fixture
def talk():
    """Type some lines; the exit status, what was said, and the walker."""

    def make(library, lines, *complaints, log=None, looks=True, **options):
        walker = Walker(library, MemoryLog() if log is None else log, complaints=complaints)
        if looks and complaints:
            for look in walker.looks:
                walker.cannot_tell(look.place)
        sink = io.StringIO()
        source = io.StringIO("".join(f"{line}\n" for line in lines))
        status = LineMode(walker, source, sink, resume=RESUME, **options).run()
        return status, sink.getvalue(), walker

    return make
