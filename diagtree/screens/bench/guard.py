"""Keeps a burst or a bounce of keys from answering two questions."""

from __future__ import annotations

from collections.abc import Callable

Clock = Callable[[], float]
"""Seconds that only go forward, like `time.monotonic`."""

PAUSE = 0.15
"""For so many seconds after something new has appeared a key is meant for what was there before."""


class Guard:
    """Closed for a moment after something new has appeared on the screen.

    Parameters
    ----------
    clock
        Tells the time, in seconds.
    pause
        How long it stays closed.

    Examples
    --------
    >>> now = [10.0]
    >>> guard = Guard(lambda: now[0])
    >>> guard.open
    True
    >>> guard.close(); guard.open
    False
    >>> now[0] += 0.2; guard.open
    True
    """

    def __init__(self, clock: Clock, pause: float = PAUSE) -> None:
        self._clock = clock
        self._pause = pause
        self._since: float | None = None

    @property
    def open(self) -> bool:
        """True if a key is meant for what is on the screen."""
        if self._since is None:
            return True
        return not 0 <= self._clock() - self._since < self._pause

    def close(self) -> None:
        """Begin the pause: something new has appeared."""
        self._since = self._clock()


class Splinters:
    """Puts an arrow key together again that a slow link has split into Esc and letters.

    Esc followed soon by ``[`` or ``O`` is no Esc that a person pressed and no letters that a person typed:
    ``Esc [ 5 ~`` would otherwise answer with 5.

    Parameters
    ----------
    clock
        Tells the time, in seconds.
    soon
        Seconds between two pieces at most.
    """

    def __init__(self, clock: Clock, soon: float = 0.5) -> None:
        self._clock = clock
        self._soon = soon
        self._held = ""
        self._last = 0.0

    def take(self, letter: str) -> tuple[str | None, str | None]:
        r"""Take a key that was read.

        Parameters
        ----------
        letter
            ``\x1b`` for Esc, else what was typed.

        Returns
        -------
        tuple
            What the key is now, None while it is held as a piece; and a whole escape sequence, if this
            was its last piece.

        Examples
        --------
        >>> pieces = Splinters(lambda: 0.0)
        >>> pieces.take("\x1b"), pieces.take("["), pieces.take("A"), pieces.take("1")
        (('\x1b', None), (None, None), (None, '\x1b[A'), ('1', None))
        """
        now = self._clock()
        if self._held and not 0 <= now - self._last <= self._soon:
            self._held = ""
        self._last = now
        if letter == "\x1b":
            self._held = letter
            return letter, None
        if self._held == "\x1b":
            if letter in {"[", "O"}:
                self._held += letter
                return None, None
            self._held = ""
            return letter, None
        if self._held:
            self._held += letter
            if "@" <= letter <= "~" and len(letter) == 1:
                whole, self._held = self._held, ""
                return None, whole
            if len(self._held) > 16:
                self._held = ""
            return None, None
        return letter, None
