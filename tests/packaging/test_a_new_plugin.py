"""The plugin that ``diagtree new plugin`` writes passes its own tests once it is installed."""

import json

import pytest

from diagtree.commands import main as door

SHOW = """
import json
from diagtree.library.loading import load_library
library = load_library()
print(json.dumps([sorted(library.trees), sorted(library.readings), [str(p) for p in library.problems]]))
"""


@pytest.fixture
def written(tmp_path, monkeypatch, capsys):
    monkeypatch.setitem(door.COMMANDS, "new", "Begin.")
    folder = tmp_path / "mine"
    assert door.main(["new", "plugin", "--title", "Bread slicer", "--to", str(folder), "--no-input"]) == 0
    assert capsys.readouterr().out.count("\n") == 7
    return folder


def test_a_new_plugin_passes_its_own_tests_and_is_found(written, own_environment, run):
    python = own_environment(written)
    told = run(str(python), "-m", "pytest", "-q", "-p", "no:cacheprovider", "tests", cwd=written)
    assert "4 passed" in told
    trees, readings, problems = json.loads(run(str(python), "-c", SHOW, cwd=written.parent))
    assert "bread-slicer-fails" in trees
    assert "bread-slicer/wear" in readings
    assert not [text for text in problems if "bread" in text]
