"""The tutorial is followed word for word, in an empty folder: what it shows is what comes."""

from __future__ import annotations

import importlib.util
from pathlib import Path

HERE = Path(__file__).parent


def _follower():
    spec = importlib.util.spec_from_file_location("follow_a_page", HERE / "follow_a_page.py")
    module = importlib.util.module_from_spec(spec)
    # A dataclass looks its module up by name while it is made.
    import sys

    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_a_reader_who_types_what_the_tutorial_says_sees_what_it_shows(tmp_path, monkeypatch):
    """If the program's words have changed: run tests/docs/follow_a_page.py, and read what it wrote."""
    monkeypatch.chdir(tmp_path)
    for name in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path / ".home"))
    monkeypatch.setenv("DIAGTREE_TREES", "")
    page = _follower()
    blocks = list(page.follow(page.PAGE.read_text(encoding="utf-8")))
    assert len(blocks) >= 10
    for told in blocks:
        assert told.came == told.written, f"docs/tutorial.md, line {told.line}"
    left = {path.name for path in tmp_path.iterdir()}
    assert {"my-trees", "before.yaml", "bell.svg"} <= left


def test_the_reader_is_told_how_the_program_is_found_before_it_is_first_typed():
    """The README's first command leaves the program in an environment that is not on the path."""
    text = (HERE.parents[1] / "docs" / "tutorial.md").read_text(encoding="utf-8")
    before = text[: text.index("$ diagtree")]
    assert "```sh\n. .venv/bin/activate\n```" in before
    assert ".venv\\Scripts\\activate" in before
    assert "pip install pytest" in text
