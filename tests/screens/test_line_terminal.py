"""Line mode in a real terminal: typed, killed, taken up again, left."""

from __future__ import annotations

import os
import shutil
import signal
import sys
from pathlib import Path

import pytest

pexpect = pytest.importorskip("pexpect", reason="a real terminal takes pexpect, which is not for Windows")

HERE = Path(__file__).parent
WITHOUT_A_WIDTH = {name: text for name, text in os.environ.items() if name not in {"COLUMNS", "LINES"}}
TALK = f"""
import sys
from pathlib import Path
sys.path.insert(0, {str(HERE.parent)!r})
from conftest import kettle
from diagtree.case.journal import Journal
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.screens.line import LineMode
path = Path(sys.argv[1])
try:
    with (Journal.open(path) if path.exists() else Journal.create(path)) as journal:
        library = getattr(kettle, "__wrapped__", None) or kettle.__pytest_wrapped__.obj
        walker = Walker(library(), journal, complaints=["no-heat"])
        print(*journal.notices)
        sys.exit(LineMode(walker, resume="take it up").run())
except ExpectedError as error:
    print(error)
    sys.exit(error.exit_code)
"""


@pytest.fixture
def terminal(tmp_path):
    opened = []

    def open_one(**environment: str):
        child = pexpect.spawn(
            sys.executable,
            ["-c", TALK, str(tmp_path / "one.case")],
            env={**WITHOUT_A_WIDTH, "TERM": "dumb", **environment},
            encoding="utf-8",
            codec_errors="replace",
            timeout=20,
            dimensions=(24, 60),
        )
        child.delaybeforesend = None
        opened.append(child)
        return child

    yield open_one
    for child in opened:
        child.close(force=True)


def status(child) -> int:
    child.expect(pexpect.EOF)
    child.close()
    return child.exitstatus


def test_a_walk_is_typed_killed_and_taken_up_again(terminal):
    first = terminal()
    first.expect_exact("Question 1. Is there lime around the spout?")
    first.sendline("2")
    first.expect_exact("Answered: Limed.")
    first.expect_exact("Question 2.")
    first.sendline("t")
    first.expect_exact("Question 3. Does the lamp come on?")
    first.kill(signal.SIGKILL)
    first.expect(pexpect.EOF)
    second = terminal()
    second.expect_exact("Taken up again after 2 answers.")
    second.expect_exact("Question 3. Does the lamp come on?")
    for answer, asked in [("1", "Question 4."), ("1", "Question 5."), ("1", "at their end")]:
        second.sendline(answer)
        second.expect_exact(asked)
    second.sendline("")
    assert status(second) == 0


def test_nothing_but_plain_text_is_written_and_no_line_is_wider_than_the_terminal(terminal):
    child = terminal(TERM="xterm-256color")
    # What is typed before the prompt stands there is echoed into the middle of other lines: wait for it.
    child.expect_exact("\r\n> ")
    child.sendline("2")
    child.expect_exact("\r\n> ")
    child.sendline("why element burnt out")
    child.expect_exact("\r\n> ")
    heard = child.before
    assert "Element burnt out" in heard
    child.sendeof()
    assert status(child) == 3
    assert "\x1b" not in heard + child.before
    assert max(map(len, (heard + child.before).split("\r\n"))) < 60


def test_the_end_key_saves_and_leaves(terminal):
    child = terminal()
    child.expect_exact("Question 1.")
    child.sendline("1")
    child.expect_exact("Question 2.")
    child.sendeof()
    child.expect_exact("Saved. To go on: take it up")
    assert status(child) == 3


def test_ctrl_c_saves_and_leaves(terminal):
    child = terminal()
    child.expect_exact("Question 1.")
    child.sendline("1")
    child.expect_exact("Question 2.")
    child.sendintr()
    child.expect_exact("Saved. To go on: take it up")
    assert status(child) == 130


def test_a_second_terminal_is_refused_at_once(terminal):
    first = terminal()
    first.expect_exact("Question 1.")
    second = terminal()
    second.expect_exact("is open in another window.")
    assert status(second) == 5
    first.sendline("quit")
    assert status(first) == 3


def test_bytes_that_are_no_letters_answer_nothing(terminal):
    child = terminal()
    child.expect_exact("Question 1.")
    os.write(child.child_fd, b"\xff\xfe\x80\n")
    child.expect_exact("is none of the answers.")
    child.sendline("quit")
    assert status(child) == 3


@pytest.mark.skipif(shutil.which("bash") is None, reason="putting a program to sleep takes a shell")
def test_ctrl_z_sleeps_and_the_prompt_stands_there_again_after_it(tmp_path):
    script = tmp_path / "talk.py"
    script.write_text(TALK, encoding="utf-8")
    shell = pexpect.spawn(
        "bash",
        ["--norc", "--noprofile", "-i"],
        env={**WITHOUT_A_WIDTH, "TERM": "dumb", "PS1": "shell$ "},
        encoding="utf-8",
        timeout=20,
        dimensions=(24, 200),
    )
    try:
        shell.expect_exact("shell$ ")
        shell.sendline(f"{sys.executable} {script} {tmp_path / 'one.case'}")
        shell.expect_exact("Question 1.")
        shell.expect_exact("\r\n> ")
        shell.sendline("1")
        shell.expect_exact("Question 2.")
        shell.expect_exact("\r\n> ")
        shell.sendcontrol("z")
        shell.expect_exact("Stopped")
        shell.expect_exact("shell$ ")
        assert b'"answered"' in (tmp_path / "one.case").read_bytes()
        shell.sendline("fg")
        shell.expect(r"one\.case\r\n> ")
        shell.sendline("t")
        shell.expect_exact("Answered: can't tell.")
        shell.expect_exact("Question 3.")
        shell.expect_exact("\r\n> ")
        shell.sendcontrol("z")
        shell.expect_exact("shell$ ")
        shell.sendline("fg")
        shell.expect(r"one\.case\r\n> ")
        shell.sendintr()
        shell.expect_exact("Saved. To go on: take it up")
        shell.expect_exact("shell$ ")
    finally:
        shell.close(force=True)
