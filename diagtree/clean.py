r"""Makes any text fit to leave the program: nothing in it can steer a terminal or hide.

Authors, customers and mechanics all write texts; a pasted one may carry escape sequences, letters that
turn the reading direction, or letters that nobody can see. They are shown as ``\x1b`` or ``\u202e``, so
that nothing is lost and nothing acts.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_LINE_ENDS = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
_FILLERS = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0")
"""Letters by name that print nothing at all."""

_STEERING = frozenset({"Cc", "Cf", "Cs"})
"""Control, formatting (bidi, zero-width, tags) and lone surrogates."""


@lru_cache(maxsize=4096)
def _shown(letter: str) -> str:
    if unicodedata.category(letter) not in _STEERING and letter not in _FILLERS:
        return letter
    code = ord(letter)
    if code <= 0xFF:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


def clean(text: str, keep_newlines: bool = False) -> str:
    r"""Show what could steer a terminal, turn the reading direction or hide; leave all else as written.

    Parameters
    ----------
    text
        Any text at all.
    keep_newlines
        True to keep line ends (all kinds become ``\n``); otherwise each becomes a space.

    Returns
    -------
    str
        The text on its way out. Cleaning it again changes nothing.

    Examples
    --------
    >>> print(clean("a\x1b]0;title\x07b"))
    a\x1b]0;title\x07b
    >>> print(clean("left\u202eright\u200b, one\ttwo\nthree"))
    left\u202eright\u200b, one two three
    >>> clean("one\r\ntwo", keep_newlines=True)
    'one\ntwo'
    >>> clean("Größe 5 N·m 漢字")
    'Größe 5 N·m 漢字'
    """
    if text.isascii() and text.isprintable():
        return text
    lines = _LINE_ENDS.split(text.replace("\t", " "))
    return ("\n" if keep_newlines else " ").join("".join(map(_shown, line)) for line in lines)
