"""Talking in lines: plain text out, one line in, nothing redrawn, nothing coloured."""

from __future__ import annotations

import os
import select
import shutil
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TextIO

from diagtree.clean import clean
from diagtree.lines import wrap

MOST_LETTERS = 4_000
"""A line longer than this is refused."""


def _wait_for_line_or_signal(terminal: TextIO) -> None:
    """Wait until a terminal has a line, or a signal such as Ctrl-C has come.

    A signal that comes a moment before a plain read is not seen by it: Ctrl-C would do nothing until Enter
    is pressed. The pipe is written by the signal itself, so no moment is missed.
    """
    if sys.platform == "win32" or threading.current_thread() is not threading.main_thread():
        return
    came, comes = os.pipe()
    os.set_blocking(comes, False)
    before = signal.set_wakeup_fd(comes, warn_on_full_buffer=False)
    try:
        while True:
            ready, _, _ = select.select([terminal.fileno(), came], [], [])
            # Woken from sleep: nothing was typed and nobody wants to leave.
            if terminal.fileno() in ready or set(os.read(came, 64)) != {getattr(signal, "SIGCONT", 0)}:
                break
    finally:
        signal.set_wakeup_fd(before)
        os.close(came)
        os.close(comes)


@contextmanager
def _said_again_after_sleep(say: Callable[[], None]) -> Iterator[None]:
    """Say something again when the program goes on after Ctrl-Z: what stood there is lost among other lines."""
    woken = getattr(signal, "SIGCONT", None)
    if woken is None or threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(woken, lambda *_: say())
    try:
        yield
    finally:
        signal.signal(woken, before)


class Talk:
    r"""One side of a talk with a person, or with a pipe.

    Parameters
    ----------
    source
        Where lines come from.
    sink
        Where lines go to.
    width
        Lines are broken to this many cells. None breaks them to the terminal's width, and leaves them whole
        in a pipe.

    Examples
    --------
    >>> import io
    >>> talk = Talk(io.StringIO("2\n"), out := io.StringIO())
    >>> talk.say("Does the lamp come on?")
    >>> talk.ask(), talk.ask()
    ('2', None)
    >>> print(out.getvalue().rstrip())
    Does the lamp come on?
    > 2
    >
    """

    def __init__(self, source: TextIO, sink: TextIO, width: int | None = None) -> None:
        self._source = source
        self._sink = sink
        self._width = width
        # A terminal shows what is typed; what comes through a pipe is shown here, so that the text reads on.
        self._echo = not source.isatty()
        # A byte that is no letter must not end the talk.
        for stream in (source, sink):
            reconfigure = getattr(stream, "reconfigure", None)
            if reconfigure is not None:
                reconfigure(errors="replace")

    def say(self, *texts: str, indent: str = "") -> None:
        """Say some lines; whatever an author or a customer wrote cannot steer the terminal."""
        for text in texts:
            for line in self._lines(clean(text), indent):
                self._sink.write(line + "\n")
        self._sink.flush()

    def say_choices(self, choices: Iterable[tuple[str, str]]) -> None:
        """Say what can be chosen: what to type, and what it means."""
        pairs = list(choices)
        widest = max((len(key) for key, _ in pairs), default=0)
        for key, text in pairs:
            indent = " " * (widest + 4)
            first, *rest = self._lines(clean(text), indent) or [indent]
            self._sink.write(f"  {key:>{widest}}  {first[len(indent) :]}\n")
            for line in rest:
                self._sink.write(line + "\n")
        self._sink.flush()

    def ask(self, prompt: str = "> ") -> str | None:
        """Put the prompt and take a line; None at the end of the input."""

        def put() -> None:
            self._sink.write(prompt)
            self._sink.flush()

        put()
        if self._echo:
            line = self._source.readline()
        else:
            with _said_again_after_sleep(put):
                _wait_for_line_or_signal(self._source)
                line = self._source.readline()
        if not line:
            self._sink.write("\n")
            self._sink.flush()
            return None
        said = clean(line.rstrip("\r\n")).strip()
        if self._echo:
            self._sink.write(said + "\n")
        return said

    def _lines(self, text: str, indent: str) -> list[str]:
        width = self._width
        if width is None and self._sink.isatty():
            width = shutil.get_terminal_size().columns - 1
        if width is None:
            return [indent + text]
        return [indent + line for line in wrap(text, max(20, width - len(indent)))]
