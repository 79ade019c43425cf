"""Hands each key of the terminal to the pages under a plain name."""

from __future__ import annotations

from collections.abc import Callable

from prompt_toolkit.input.ansi_escape_sequences import ANSI_SEQUENCES
from prompt_toolkit.key_binding import KeyBindings
from prompt_toolkit.key_binding.key_processor import KeyPressEvent
from prompt_toolkit.keys import Keys

from diagtree.screens.bench.guard import Clock, Splinters
from diagtree.screens.bench.stack import Stack

NAMES: dict[str, str] = {
    Keys.Up: "up",
    Keys.Down: "down",
    Keys.Left: "left",
    Keys.Right: "right",
    Keys.Home: "home",
    Keys.End: "end",
    Keys.PageUp: "pageup",
    Keys.PageDown: "pagedown",
    Keys.ControlM: "enter",
    Keys.ControlJ: "enter",
    Keys.ControlH: "backspace",
    Keys.Delete: "delete",
    Keys.Tab: "down",
    Keys.BackTab: "up",
    Keys.F1: "f1",
    Keys.ControlU: "c-u",
    Keys.ControlW: "c-w",
    Keys.ControlA: "home",
    Keys.ControlE: "end",
    Keys.ControlP: "up",
    Keys.ControlN: "down",
    Keys.ControlC: "c-c",
    Keys.SIGINT: "c-c",
}
"""The keys that mean something; all others are let go by."""


def bindings(
    stack: Stack, clock: Clock, pressed: Callable[[], None], failed: Callable[[Exception], None]
) -> KeyBindings:
    """Bind every key to the page on top.

    There are no chords: Esc stands alone, so that it need not wait for a second key.

    Parameters
    ----------
    stack
        The pages: the one on top takes the keys.
    clock
        Seconds that only go forward: pieces of a split escape sequence come close together.
    pressed
        Called after each key.
    failed
        Called with an error that nobody expected.
    """
    table = KeyBindings()
    splinters = Splinters(clock)

    @table.add(Keys.BracketedPaste, eager=True)
    def _paste(event: KeyPressEvent) -> None:
        stack.paste(event.data)
        pressed()

    @table.add(Keys.ControlZ)
    def _suspend(event: KeyPressEvent) -> None:
        event.app.suspend_to_background()

    @table.add(Keys.ControlL)
    def _redraw(event: KeyPressEvent) -> None:
        event.app.renderer.clear()

    def take(event: KeyPressEvent) -> None:
        pressed_key = event.key_sequence[0].key
        name = NAMES.get(pressed_key)
        if name is not None:
            stack.press(name)
        elif pressed_key is Keys.Escape:
            splinters.take("\x1b")
            stack.press("escape")
        elif not isinstance(pressed_key, Keys) and pressed_key.isprintable():
            letter, whole = splinters.take(pressed_key)
            if whole is not None:
                found = ANSI_SEQUENCES.get(whole)
                key = NAMES.get(found) if isinstance(found, Keys) else None
                if key is not None:
                    stack.press(key)
            elif letter is not None:
                stack.press(letter)
        pressed()

    def guarded(event: KeyPressEvent) -> None:
        try:
            take(event)
        except Exception as error:
            failed(error)

    table.add(Keys.Any)(guarded)
    for key in (*NAMES, Keys.Escape):
        table.add(key)(guarded)
    return table
