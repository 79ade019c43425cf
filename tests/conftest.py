"""Fixtures that all tests share: the kettle, a machine that is nothing like the bundled library's."""

from __future__ import annotations

import os
import shutil
import signal
import tempfile
from pathlib import Path

import pytest
import yaml

from diagtree.library.library import Library, join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree

# Whatever the person at this machine keeps (own trees, cases, a workshop file) is nothing to the tests.
_HOME = tempfile.TemporaryDirectory(prefix="diagtree-tests-")
for _name in ("CONFIG", "DATA", "CACHE", "STATE"):
    os.environ[f"XDG_{_name}_HOME"] = str(Path(_HOME.name) / _name.lower())
for _name in [name for name in os.environ if name.startswith("DIAGTREE_") and name != "DIAGTREE_WRITE_DOCS"]:
    del os.environ[_name]

# A shell that runs the suite in the background has interrupts ignored, and what the tests start would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

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


SYSTEM_PROGRAMS = {"terminal": ("tmux",), "browser": ("chromium", "chromium-browser")}


def pytest_collection_modifyitems(items):
    """Skip what needs a system program that is absent; where CI runs, its absence is a failure."""
    for marker, programs in SYSTEM_PROGRAMS.items():
        if any(shutil.which(program) for program in programs):
            continue
        for item in items:
            if item.get_closest_marker(marker):
                reason = f"needs {programs[0]}, which is not installed here"
                if os.environ.get("CI"):
                    item.add_marker(pytest.mark.usefixtures("_missing_program"))
                else:
                    item.add_marker(pytest.mark.skip(reason=reason))


@pytest.fixture
def _missing_program():
    pytest.fail("A system program that this test needs is missing, and CI must install it.")
