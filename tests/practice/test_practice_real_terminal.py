"""Practice as a program in a real terminal: what a signal and Ctrl-C leave behind."""

from __future__ import annotations

import os
import signal
import sys
import time
from pathlib import Path

import pexpect
import pyte
import pytest

from diagtree.practice.history import look_up

KETTLE = Path(__file__).parents[1] / "kettle"


@pytest.mark.parametrize(("how", "status"), [("TERM", 143), ("ctrl-c", 130)])
def test_a_signal_gives_the_terminal_back_and_every_move_is_kept(tmp_path, how, status):
    environ = {k: v for k, v in os.environ.items() if k not in {"NO_COLOR", "ACCESSIBLE"}}
    environ |= {"TERM": "xterm-256color", "PYTHONUTF8": "1", "DIAGTREE_PRACTICE": str(tmp_path)}
    child = pexpect.spawn(
        sys.executable,
        ["-m", "diagtree", "practise", "no-heat", "--seed", "3", "--learner", "Sam", "--level", "beginner",
         "--trees", str(KETTLE), "--block", "library", "--block", "whole-bike"],
        dimensions=(24, 80), env=environ, encoding="utf-8", timeout=20,
    )  # fmt: skip
    child.delaybeforesend = None
    screen = pyte.Screen(80, 24)
    stream = pyte.Stream(screen)
    written = ""

    def see(text, key=""):
        nonlocal written
        deadline = time.monotonic() + 20
        while text not in "\n".join(screen.display):
            assert time.monotonic() < deadline, "\n".join(screen.display)
            if key:
                child.send(key)
            try:
                some = child.read_nonblocking(65536, timeout=0.3)
            except pexpect.TIMEOUT:
                continue
            written += some
            stream.feed(some)

    see("comes in that is not there")
    see("What it may be", "\r")
    see("1 check, 1 min", "1")
    if how == "TERM":
        child.kill(signal.SIGTERM)
    else:
        child.send("\x03")
    child.expect(pexpect.EOF)
    written += child.before
    child.close()
    assert (child.exitstatus, child.signalstatus) == (status, None)
    assert "\x1b[?1049l" in written
    assert "What was done is kept." in written
    assert [move["kind"] for move in look_up(tmp_path, "Sam").left.moves] == ["checked"]
