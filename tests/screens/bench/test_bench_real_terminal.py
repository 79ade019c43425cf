"""The bench as a program in a real terminal: exit codes, signals, sizes, what is on disk afterwards."""

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pexpect
import pyte
import pytest

from diagtree.case.journal import Journal
from diagtree.screens.bench import fits_terminal

PROGRAM = str(Path(__file__).parent / "kettle_bench.py")


class RealTerminal:
    """A program in a terminal of its own; what it shows goes through pyte."""

    def __init__(self, case: Path, columns: int = 80, rows: int = 24, **environment: str) -> None:
        names = {"TERM": "xterm-256color", "LC_ALL": "C.UTF-8", "PYTHONUTF8": "1", **environment}
        environ = {**{k: v for k, v in os.environ.items() if k not in {"NO_COLOR", "ACCESSIBLE"}}, **names}
        self.child = pexpect.spawn(
            sys.executable,
            [PROGRAM, str(case)],
            dimensions=(rows, columns),
            env=environ,
            encoding="utf-8",
            timeout=20,
        )
        self.child.delaybeforesend = None
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.Stream(self.screen)
        self.written = ""

    @property
    def text(self) -> str:
        return "\n".join(self.screen.display)

    def take(self, seconds: float) -> None:
        """Take what the program has written meanwhile."""
        try:
            some = self.child.read_nonblocking(65536, timeout=seconds)
        except pexpect.TIMEOUT:
            return
        self.written += some
        self._stream.feed(some)

    def see(self, text: str) -> None:
        """Wait until a text is on the screen."""
        deadline = time.monotonic() + 20
        while text not in self.text:
            assert time.monotonic() < deadline, f"{text!r} does not appear:\n{self.text}"
            self.take(0.2)

    def press(self, keys: str) -> None:
        self.child.send(keys)

    def answer(self, key: str, then: str) -> None:
        """Press a key until the question after it is there: one that comes too soon is let go by."""
        deadline = time.monotonic() + 20
        while then not in self.text:
            assert time.monotonic() < deadline, f"{then!r} does not appear:\n{self.text}"
            self.press(key)
            for _ in range(10):
                if then in self.text:
                    break
                self.take(0.05)

    def pass_time(self, seconds: float) -> None:
        """Let the pause after a new question go by, and take what is written meanwhile."""
        deadline = time.monotonic() + seconds
        while time.monotonic() < deadline:
            self.take(0.02)

    def end(self) -> int:
        """Wait for the program's end; return its exit status."""
        while True:
            try:
                self.take(20)
            except pexpect.EOF:
                break
        self.child.close()
        return self.child.exitstatus if self.child.exitstatus is not None else -self.child.signalstatus


@pytest.fixture
def real(tmp_path):
    opened = []

    def start(columns=80, rows=24, **environment):
        terminal = RealTerminal(tmp_path / "kettle.case", columns, rows, **environment)
        opened.append(terminal)
        return terminal

    yield start
    for terminal in opened:
        terminal.child.close(force=True)


def answers_on_disk(tmp_path) -> list[str]:
    with Journal.open(tmp_path / "kettle.case") as journal:
        return [record["answer"] for record in journal.records if record["kind"] == "answered"]


def given_back(written: str) -> bool:
    """True if the terminal got its own screen, its cursor and its paste mode back."""
    return (
        written.rindex("\x1b[?1049l") > written.rindex("\x1b[?1049h")
        and written.rindex("\x1b[?25h") > written.rfind("\x1b[?25l")
        and written.rindex("\x1b[?2004l") > written.rindex("\x1b[?2004h")
    )


@pytest.mark.parametrize(("columns", "rows"), [(120, 40), (80, 24), (44, 13)])
def test_the_same_walk_as_in_memory(real, tmp_path, columns, rows):
    terminal = real(columns, rows)
    terminal.see("Is there lime around the spout?")
    terminal.answer("2", "1 ( ) Like new")
    terminal.answer("1", "Does the lamp come on?")
    terminal.answer("1", "another socket?")
    terminal.press("\x1b[B")
    terminal.see("> 2 ( ) Works there")
    terminal.child.setwinsize(20, 60)
    terminal.screen.resize(20, 60)
    terminal.see("> 2 ( ) Works there")
    terminal.press("\x03")
    assert terminal.end() == 130
    assert "left: interrupted 130" in terminal.written
    assert given_back(terminal.written)
    assert answers_on_disk(tmp_path) == ["limed", "fresh", "no"]


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT], ids=["TERM", "HUP", "INT"])
def test_a_signal_leaves_in_good_order(real, tmp_path, number):
    terminal = real()
    terminal.answer("2", "1 ( ) Like new")
    terminal.child.kill(number)
    assert terminal.end() == 128 + number
    assert given_back(terminal.written)
    assert answers_on_disk(tmp_path) == ["limed"]


def test_a_kill_loses_no_answer_that_was_shown(real, tmp_path):
    terminal = real()
    terminal.answer("2", "1 ( ) Like new")
    terminal.answer("1", "Does the lamp come on?")
    terminal.child.kill(signal.SIGKILL)
    assert terminal.end() == -signal.SIGKILL
    assert answers_on_disk(tmp_path) == ["limed", "fresh"]
    again = real()
    again.see("Does the lamp come on?")
    again.see("2 answered")
    again.press("\x03")
    assert again.end() == 130


def test_a_paste_and_a_burst_in_a_real_terminal(real, tmp_path):
    terminal = real()
    terminal.answer("2", "1 ( ) Like new")
    terminal.answer("1", "Does the lamp come on?")
    terminal.press("\x1b[200~1\r1\r\x1b[201~")
    terminal.see("Pasted text never answers")
    terminal.pass_time(0.2)
    terminal.press("1111")
    terminal.see("another socket?")
    terminal.press("\x03")
    assert terminal.end() == 130
    assert answers_on_disk(tmp_path) == ["limed", "fresh", "no"]


def test_a_terminal_that_goes_away_leaves_the_case_whole(real, tmp_path):
    terminal = real()
    terminal.answer("2", "1 ( ) Like new")
    terminal.child.ptyproc.fileobj.close()
    terminal.child.closed = True
    deadline = time.monotonic() + 20
    while terminal.child.isalive():
        assert time.monotonic() < deadline, "it still runs"
        time.sleep(0.01)
    assert answers_on_disk(tmp_path) == ["limed"]


def test_no_color_and_an_ascii_locale(real):
    terminal = real(NO_COLOR="1", LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    terminal.answer("2", "1 ( ) Like new")
    terminal.answer("1", "Does the lamp come on?")
    terminal.see("####")
    terminal.press("\x03")
    assert terminal.end() == 130
    assert terminal.written.isascii()
    assert not re.search(r"\x1b\[[0-9;]*(?:3[0-7]|38;)[0-9;]*m", terminal.written)


@pytest.mark.parametrize("case", ["pipe", "dumb", "accessible"])
def test_without_a_fitting_terminal_the_line_mode_is_taken(tmp_path, case):
    if case == "pipe":
        run = subprocess.run(
            [sys.executable, PROGRAM, str(tmp_path / "a")],
            capture_output=True,
            text=True,
            check=True,
            input="",
        )
        assert run.stdout == "line mode\n"
        return
    changes = {"dumb": {"TERM": "dumb"}, "accessible": {"ACCESSIBLE": "1"}}[case]
    terminal = RealTerminal(tmp_path / "a", **changes)
    assert terminal.end() == 0
    assert terminal.written.strip() == "line mode"


def test_closed_and_absent_streams_are_no_terminal(tmp_path):
    with (tmp_path / "file").open("w") as file:
        assert not fits_terminal(file, file, {"TERM": "xterm"})
    assert not fits_terminal(file, file, {"TERM": "xterm"})
    assert not fits_terminal(None, None, {"TERM": "xterm"})


def test_nothing_slow_is_imported_before_the_bench_is_shown():
    code = (
        "import sys; from diagtree.screens.bench import fits_terminal, run_bench; "
        "slow = {'prompt_toolkit', 'rapidfuzz', 'numpy', 'pydantic'} & set(sys.modules); "
        "print(sorted(slow))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout == "[]\n"


@pytest.mark.terminal
def test_a_walk_in_tmux(tmp_path):
    server = f"bench-{os.getpid()}"

    def tmux(*words: str) -> str:
        run = subprocess.run(["tmux", "-L", server, *words], capture_output=True, text=True, check=True)
        return run.stdout

    def see(text: str) -> str:
        deadline = time.monotonic() + 20
        while text not in (shown := tmux("capture-pane", "-p")):
            assert time.monotonic() < deadline, f"{text!r} does not appear:\n{shown}"
        return shown

    def answer(key: str, then: str) -> None:
        deadline = time.monotonic() + 20
        while then not in tmux("capture-pane", "-p"):
            assert time.monotonic() < deadline, then
            tmux("send-keys", key)
            until = time.monotonic() + 0.4
            while time.monotonic() < until and then not in tmux("capture-pane", "-p"):
                pass

    tmux(
        "-f", "/dev/null", "new-session", "-d", "-x", "80", "-y", "24",
        "env", "LC_ALL=C.UTF-8", "sh", "-c", f"{sys.executable} {PROGRAM} {tmp_path}/kettle.case; exec cat",
    )  # fmt: skip
    try:
        see("Is there lime around the spout?")
        answer("2", "1 ( ) Like new")
        answer("1", "Does the lamp come on?")
        tmux("send-keys", "Down")
        see("> 2 ( ) Comes on")
        tmux("resize-window", "-x", "60", "-y", "20")
        see("> 2 ( ) Comes on")
        answer("Enter", "Does it hum after a minute?")
        tmux("send-keys", "C-c")
        shown = see("left: interrupted 130")
        assert "hum" not in shown, "the screen was given back"
    finally:
        subprocess.run(["tmux", "-L", server, "kill-server"], capture_output=True, check=False)
    assert answers_on_disk(tmp_path) == ["limed", "fresh", "yes"]
