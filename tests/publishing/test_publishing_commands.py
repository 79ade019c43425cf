"""The two commands from end to end, with the kettle in place of the bundled library."""

from __future__ import annotations

import io
from importlib.metadata import entry_points
from pathlib import Path

import pytest
from pypdf import PdfReader

from diagtree.commands.main import main

KETTLE = Path(__file__).parents[1] / "kettle"


@pytest.fixture
def kettle_alone(tmp_path, monkeypatch) -> list[str]:
    """Options that leave out every bundled plugin and take the kettle's files as own ones."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.delenv("DIAGTREE_TREES", raising=False)
    bundled = [point.name for point in entry_points(group="diagtree")]
    return ["--trees", str(KETTLE), *(word for name in bundled for word in ("--block", name))]


def test_a_site_is_written_twice_into_the_same_folder_with_the_same_bytes(tmp_path, kettle_alone, capsys):
    site = tmp_path / "site"
    written = []
    for _ in range(2):
        assert main(["page", "--to", str(site), *kettle_alone]) == 0
        assert "index.html (14 files)" in capsys.readouterr().err
        written.append({path: path.read_bytes() for path in site.rglob("*") if path.is_file()})
    assert written[0] == written[1]
    assert b"Fault finding: kettles" in written[0][site / "index.html"]


def test_a_binder_is_written_and_not_written_over(tmp_path, kettle_alone, capsys):
    binder = tmp_path / "binder.pdf"
    words = ["binder", "--to", str(binder), "--only", "no-heat", *kettle_alone]
    assert main(words) == 0
    assert len(PdfReader(io.BytesIO(binder.read_bytes())).pages) > 6
    assert capsys.readouterr().out == ""
    assert main(words) == 2
    assert main([*words, "--force"]) == 0


def test_a_library_without_trees_makes_no_binder(tmp_path, monkeypatch, kettle_alone, capsys):
    (tmp_path / "none").mkdir()
    words = [str(tmp_path / "none") if word == str(KETTLE) else word for word in kettle_alone]
    assert main(["binder", "--to", str(tmp_path / "b.pdf"), *words]) == 2
    assert "There is no tree here." in capsys.readouterr().err
