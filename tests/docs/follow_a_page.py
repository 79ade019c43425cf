"""Follows a page as a reader does: writes its files, changes its lines, types its commands.

Run as a program, it writes what the commands said into the page.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import shutil
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

PAGE = Path(__file__).parents[2] / "docs" / "tutorial.md"
BLOCK = re.compile(r"^```(yaml|yml|console)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
EDIT = re.compile(r"# (?P<file>\S+), (?P<what>line|after line|at the end)(?: (?P<line>\d+))?$")


@dataclass
class Told:
    """A console block: as it stands in the page, and as it came out."""

    line: int
    written: str
    came: str


def follow(text: str) -> Iterator[Told]:
    """Do what a page says, in the folder that is the current one."""
    for match in BLOCK.finditer(text):
        kind, block = match.groups()
        if kind == "console":
            yield Told(text[: match.start()].count("\n") + 2, block, "".join(_run(block)))
            continue
        first, _, rest = block.partition("\n")
        if first.startswith("# file: "):
            Path(first.removeprefix("# file: ")).write_text(block, encoding="utf-8")
        elif edit := EDIT.match(first):
            _change(edit, rest)
        else:
            raise AssertionError(f"A block that is neither a file nor a change: {first}")


def _change(edit: re.Match[str], rest: str) -> None:
    path = Path(edit["file"])
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    if edit["what"] == "at the end":
        lines.append(rest)
    elif edit["what"] == "line":
        lines[int(edit["line"]) - 1] = rest
    else:
        lines.insert(int(edit["line"]), rest)
    path.write_text("".join(lines), encoding="utf-8")


def _run(block: str) -> Iterator[str]:
    """Type the lines after ``$``; the lines after ``>`` are typed when the program asks."""
    rows = block.splitlines()
    for place, row in enumerate(rows):
        if row.startswith("$ "):
            typed = []
            for following in rows[place + 1 :]:
                if following.startswith("$ "):
                    break
                if following == ">" or following.startswith("> "):
                    typed.append(following[2:] + "\n")
            yield f"{row}\n{_typed(row[2:], ''.join(typed))}"


def _typed(command: str, answers: str) -> str:
    words = shlex.split(command)
    if words[0] == "mkdir":
        Path(words[1]).mkdir()
    elif words[0] == "cp":
        shutil.copy(words[1], words[2])
    elif words[0] == "export":
        name, _, value = words[1].partition("=")
        os.environ[name] = value
    else:
        assert words[0] == "diagtree", f"the reader cannot type: {command}"
        return _program(words[1:], answers)
    return ""


def _program(words: list[str], answers: str) -> str:
    from diagtree.commands.main import main

    sink, before = io.StringIO(), sys.stdin
    sys.stdin = io.StringIO(answers)
    try:
        with contextlib.redirect_stdout(sink), contextlib.redirect_stderr(sink):
            main(words)
    finally:
        sys.stdin = before
    said = sink.getvalue()
    said = said if said.endswith("\n") or not said else said + "\n"
    return "".join(row.rstrip() + "\n" for row in said.splitlines())


def _rewrite() -> None:
    import tempfile

    text = PAGE.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        os.environ |= {"XDG_CONFIG_HOME": folder + "/.config", "XDG_CACHE_HOME": folder + "/.cache"}
        for told in list(follow(text)):
            text = text.replace(f"```console\n{told.written}```", f"```console\n{told.came}```", 1)
    PAGE.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    _rewrite()
