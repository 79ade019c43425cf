"""diagtree proofread --watch: it tells what the look without it tells."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from diagtree.commands.main import main

KETTLE = Path(__file__).parents[1] / "kettle"


@pytest.fixture
def mine(tmp_path: Path, monkeypatch) -> Path:
    """A folder whose tree takes the place of another one of the same name."""
    monkeypatch.chdir(tmp_path)

    def ended(_seconds: float) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("diagtree.commands.proofread.time.sleep", ended)
    for name in ("first", "second"):
        shutil.copytree(KETTLE, name)
    for file in Path("second").glob("*.yaml"):
        if file.stem != "leaks":
            file.unlink()
    return tmp_path


@pytest.mark.parametrize("watch", [[], ["--watch"]])
def test_what_takes_the_place_of_something_else_is_told(watch: list[str], mine: Path, capsys):
    words = ["second/leaks.yaml", "--trees", "first", *watch]
    main(["proofread", *words, "--block", "library", "--block", "whole-bike"])
    assert "note: second/leaks.yaml:1:10: This tree 'leaks' takes the place of the one in" in (
        capsys.readouterr().err
    )


def test_watching_nothing_and_mending_while_watching_are_refused(mine: Path, capsys):
    assert main(["proofread", "--watch"]) == 2
    assert "There is nothing to watch. Name a file or a folder." in capsys.readouterr().err
    assert main(["proofread", "first", "--watch", "--fix"]) == 2
    assert "--watch only looks. Mend first: the same without --watch." in capsys.readouterr().err
