"""A progress bar on stderr, for what takes longer than a breath."""

from __future__ import annotations

import sys
import time
from typing import TextIO

PATIENCE = 0.5
"""Seconds before a bar is shown at all."""


class Progress:
    """A bar that is drawn only where somebody looks: on a terminal, after `PATIENCE`.

    Use it as a context manager; call it with how many are done.

    Parameters
    ----------
    what
        What is being done.
    total
        How many there are.
    stream
        Where to; stderr if None.

    Examples
    --------
    >>> with Progress("drawing", 10) as progress:
    ...     progress(5)
    """

    def __init__(self, what: str, total: int, stream: TextIO | None = None) -> None:
        self._what = what
        self._total = max(1, total)
        self._stream = sys.stderr if stream is None else stream
        self._start = time.monotonic()
        self._drawn = ""

    def __enter__(self) -> Progress:
        return self

    def __exit__(self, *_: object) -> None:
        if self._drawn:
            self._stream.write("\r" + " " * len(self._drawn) + "\r")
            self._stream.flush()

    def __call__(self, done: int) -> None:
        """Show that so many are done."""
        if not self._stream.isatty() or time.monotonic() - self._start < PATIENCE:
            return
        share = min(1.0, done / self._total)
        bar = "#" * round(24 * share)
        drawn = f"{self._what} [{bar:24}] {round(100 * share):3} %"
        if drawn != self._drawn:
            self._stream.write("\r" + drawn)
            self._stream.flush()
            self._drawn = drawn
