"""A distribution that this project knows nothing of, built and installed by itself, is found."""

import json
import sys

import pytest

FILES = {
    "pyproject.toml": """\
[build-system]
requires = ["hatchling"]
build-backend = "hatchling.build"

[project]
name = "a-stranger"
version = "1.0"
dependencies = ["diagtree"]

[project.entry-points.diagtree]
toaster = "a_stranger"
broken = "a_stranger.broken"
""",
    "a_stranger/__init__.py": '''\
"""Toasters, by somebody else."""

from importlib.resources import files

from diagtree.library.hookspecs import hookimpl


@hookimpl
def diagtree_families():
    return [files(__name__) / "toaster.yaml"]


@hookimpl
def diagtree_tree_folders():
    return [files(__name__) / "trees"]
''',
    "a_stranger/broken.py": '"""Broken."""\n\nraise RuntimeError("left unfinished")\n',
    "a_stranger/toaster.yaml": """\
family: toaster
title: Toaster
causes:
  crumbs:
    title: Crumbs under the carriage
    out-of-100: 40
    risk: unsafe
    why: Nobody empties the tray.
    remedies: [empty]
remedies:
  empty: {title: Empty the tray, verdict: clean, holds: 90, jobs: [empty]}
jobs:
  empty: {title: Empty the tray, minutes: [1, 2, 4]}
""",
    "a_stranger/trees/will-not-stay-down.yaml": """\
symptom: will-not-stay-down
title: The carriage will not stay down
family: toaster
first: tray
checks:
  tray:
    ask: Is the crumb tray full?
    minutes: 1
    answers:
      yes: {says: Full, found: {crumbs: 60}}
      no: {says: Empty, found: {crumbs: 5}, healthy: true}
cases:
  - {answers: {tray: yes}, expect: crumbs}
""",
}

SHOW = """
import json
from diagtree.library.loading import load_library
library = load_library()
blocked = load_library(blocked=["toaster", "broken"])
print(json.dumps({
    "trees": sorted(library.trees), "causes": sorted(library.causes), "families": sorted(library.families),
    "problems": [str(problem) for problem in library.problems],
    "trees without it": sorted(blocked.trees), "causes without it": sorted(blocked.causes),
}))
"""


@pytest.fixture(scope="module")
def stranger(own_environment, tmp_path_factory):
    """An environment of its own with the stranger installed by pip."""
    folder = tmp_path_factory.mktemp("stranger")
    for name, text in FILES.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return own_environment(folder)


def test_a_stranger_adds_a_family_and_a_tree_by_the_same_door(stranger, run, tmp_path):
    library = json.loads(run(str(stranger), "-c", SHOW, cwd=tmp_path))
    assert "will-not-stay-down" in library["trees"]
    assert "toaster/crumbs" in library["causes"]
    assert "toaster" in library["families"]
    assert (
        "plugin 'broken': cannot be imported: RuntimeError: left unfinished. Mend it, or block it."
        in (library["problems"])
    )
    assert not [text for text in library["problems"] if "toaster" in text]


def test_a_stranger_can_be_blocked_and_the_rest_is_as_before(stranger, run, tmp_path):
    library = json.loads(run(str(stranger), "-c", SHOW, cwd=tmp_path))
    assert "will-not-stay-down" not in library["trees without it"]
    assert library["causes without it"] == [name for name in library["causes"] if name != "toaster/crumbs"]


def test_the_stranger_is_not_installed_here():
    assert "a_stranger" not in sys.modules
    with pytest.raises(ModuleNotFoundError):
        __import__("a_stranger")
