"""The page about proofreading: its files are written, its commands run, its output compared."""

import re
import shlex
from pathlib import Path

from diagtree.commands import main as door

PAGE = (Path(__file__).parents[2] / "docs" / "proofreading.md").read_text(encoding="utf-8")


def test_each_command_prints_what_the_page_shows(tmp_path, monkeypatch, capfd):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    for name, text in re.findall(
        r"`(mine/[\w-]+\.yaml)`:\n\n```yml\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    blocks = re.findall(r"^```console\n\$ diagtree ([^\n]*)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
    assert len(blocks) == 2
    for command, shown in blocks:
        assert door.main(shlex.split(command)) == 1
        output = capfd.readouterr()
        # What was mended is told first, how much was found last; both are no data, so they go to stderr.
        *before, last = output.err.splitlines(keepends=True)
        assert "".join(before) + output.out + last == shown
