"""Tells whether a terminal can show the full screen; imports nothing that is slow."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Protocol


class Stream(Protocol):
    """A stream that may be a terminal."""

    def isatty(self) -> bool:
        """Tell whether it is one."""


def fits_terminal(
    stdin: Stream | None, stdout: Stream | None, environ: Mapping[str, str] | None = None
) -> bool:
    """Tell whether the full screen can be shown; otherwise the line mode is the face to use.

    Parameters
    ----------
    stdin, stdout
        Both must be a terminal. A stream that is closed or absent is none.
    environ
        The environment: ``TERM=dumb`` or no ``TERM`` at all knows no full screen, and with
        ``ACCESSIBLE`` set to anything but ``0`` static text is wanted.

    Examples
    --------
    >>> class Terminal:
    ...     def isatty(self): return True
    >>> fits_terminal(Terminal(), Terminal(), {"TERM": "xterm"})
    True
    >>> fits_terminal(Terminal(), None, {"TERM": "xterm"}), fits_terminal(Terminal(), Terminal(), {"TERM": "dumb"})
    (False, False)
    """
    environ = os.environ if environ is None else environ
    if environ.get("ACCESSIBLE", "0") not in {"", "0"}:
        return False
    if environ.get("TERM", "").lower() in {"", "dumb", "unknown"} and os.name != "nt":
        return False
    try:
        return all(stream is not None and stream.isatty() for stream in (stdin, stdout))
    except ValueError:  # closed
        return False
