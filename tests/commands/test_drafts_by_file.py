"""A draft that is named by its file is appraised and proofread with the catalogue beside it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from diagtree.commands.main import main

KETTLE = Path(__file__).parents[1] / "kettle"
ALONE = ["--block", "library", "--block", "whole-bike"]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.delenv("DIAGTREE_TREES", raising=False)
    for name in ("catalogue.yaml", "conditions.yaml", "leaks.yaml"):
        shutil.copy(KETTLE / name, tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_file_is_proofread_with_the_catalogue_beside_it(folder: Path, capsys):
    main(["proofread", "leaks.yaml", *ALONE])
    said = capsys.readouterr().out
    assert "There is no family" not in said
    assert "There is no cause" not in said


def test_a_draft_is_appraised_by_its_file(folder: Path, capsys):
    assert main(["appraise", "leaks.yaml", *ALONE]) == 0
    assert capsys.readouterr().out.startswith("Water on the table (leaks)\n")


def test_a_broken_draft_is_appraised_and_its_faults_are_told(folder: Path, capsys):
    text = (folder / "leaks.yaml").read_text().replace("lid-loose: 24", "lid-lose: 24")
    (folder / "leaks.yaml").write_text(text)
    assert main(["appraise", "leaks.yaml", *ALONE]) == 0
    told = capsys.readouterr()
    assert told.out.startswith("Water on the table (leaks)\n")
    assert "There is no cause 'kettle/lid-lose'. Did you mean 'lid-loose'?" in told.err


def test_a_name_cannot_steer_the_terminal(folder: Path, capsys):
    assert main(["appraise", "\x1b[31mred.yaml", *ALONE]) == 2
    assert "\x1b" not in capsys.readouterr().err
