"""An own folder with a faulty tree in it, for the program to stand in."""

from pathlib import Path

import pytest

from diagtree.commands import main as door

KETTLE = Path(__file__).parent.parent / "kettle"
FAULTY = (Path(__file__).parent / "faulty_tree.txt").read_text(encoding="utf-8")


@pytest.fixture
def mine(tmp_path, monkeypatch):
    """An own folder with the kettle and a faulty tree, and the program standing in it."""
    for name in ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "slow-boil.yaml", "leaks.yaml"):
        (tmp_path / name).write_bytes((KETTLE / name).read_bytes())
    (tmp_path / "hums.yaml").write_text(FAULTY, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "no-config"))
    monkeypatch.setitem(door.COMMANDS, "proofread", "Find faults.")
    return tmp_path
