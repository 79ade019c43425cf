"""The README: its two commands are as promised, its links lead somewhere, its examples run."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from diagtree.commands.main import COMMANDS

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(ROOT.glob("docs/**/*.md"))]
CONSOLE = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def test_the_job_comes_first_in_one_paragraph_and_then_two_commands():
    after_title = README.split("\n\n")
    assert after_title[0] == "# diagtree"
    assert len(after_title[1]) > 300
    commands = re.findall(r"^```sh\n(.*?)\n```$", README, re.MULTILINE | re.DOTALL)
    assert len(commands) == 2
    assert "diagtree diagnose" in commands[0]
    assert "pytest" in commands[1]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_somewhere(page: Path):
    text = re.sub(r"```.*?```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    for target in re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", text):
        if not re.match(r"[a-z]+:", target):
            assert (page.parent / target).exists(), f"{page.name} links to {target}"


def test_the_readme_names_every_command():
    named = set(re.findall(r"^\| `diagtree ([a-z]+)`", README, re.MULTILINE))
    assert named == set(COMMANDS)


def _lines():
    for block in CONSOLE.findall(README):
        for line in block.splitlines():
            if line.startswith("$ diagtree "):
                yield line.removeprefix("$ ")


@pytest.mark.parametrize("line", list(_lines()))
def test_an_example_in_the_readme_runs(line: str, tmp_path: Path):
    (tmp_path / "docs").symlink_to(ROOT / "docs")
    words = shlex.split(line)[1:]
    done = subprocess.run(
        [sys.executable, "-m", "diagtree", *words], cwd=tmp_path, capture_output=True, text=True, timeout=60
    )
    assert (done.returncode, done.stderr.replace("Written: hybrid.pdf\n", "")) == (0, "")
