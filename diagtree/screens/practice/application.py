"""Runs practice in a terminal: full screen, signals caught, the terminal always given back."""

from __future__ import annotations

import asyncio
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

from prompt_toolkit.application import Application
from prompt_toolkit.data_structures import Point
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.input import Input
from prompt_toolkit.input.ansi_escape_sequences import ANSI_SEQUENCES
from prompt_toolkit.key_binding import KeyBindings
from prompt_toolkit.key_binding.key_processor import KeyPressEvent
from prompt_toolkit.keys import Keys
from prompt_toolkit.layout import Layout, Window
from prompt_toolkit.layout.controls import UIContent, UIControl
from prompt_toolkit.output import ColorDepth, Output

from diagtree.practice.debrief import Debrief
from diagtree.practice.play import Play
from diagtree.screens.bench.glyphs import ASCII, Glyphs, glyphs_for, in_ascii
from diagtree.screens.bench.guard import Clock, Splinters
from diagtree.screens.bench.keys import NAMES
from diagtree.screens.bench.look import OWN, style_for
from diagtree.screens.practice.bench import PracticeBench

ESCAPE_AFTER = 0.2
"""Seconds after which an Esc is a key of its own and not the start of an arrow key."""

LEFT = 3


class _Control(UIControl):
    """One control that fills the window."""

    def __init__(self, bench: PracticeBench, glyphs: Glyphs) -> None:
        self._bench = bench
        self._glyphs = glyphs

    def preferred_width(self, max_available_width: int) -> int | None:  # noqa: ARG002 - as wide as it gets
        return None

    def is_focusable(self) -> bool:
        return True

    def create_content(self, width: int, height: int) -> UIContent:
        picture = self._bench.compose(width, height, self._glyphs)
        written = in_ascii if self._glyphs is ASCII else str
        rows: list[StyleAndTextTuples] = [
            [(f"class:{OWN}{style}" if style else "", written(text)) for style, text in line]
            for line in picture.lines
        ]
        cursor = picture.cursor
        return UIContent(
            get_line=lambda number: rows[number],
            line_count=len(rows),
            cursor_position=Point(*cursor) if cursor else None,
            show_cursor=cursor is not None,
        )


def _bindings(bench: PracticeBench, clock: Clock, pressed: Callable[[KeyPressEvent], None]) -> KeyBindings:
    table = KeyBindings()
    splinters = Splinters(clock)

    @table.add(Keys.BracketedPaste, eager=True)
    def _paste(event: KeyPressEvent) -> None:
        bench.paste(event.data)
        pressed(event)

    @table.add(Keys.ControlL)
    def _redraw(event: KeyPressEvent) -> None:
        event.app.renderer.clear()

    @table.add(Keys.ControlZ)
    def _suspend(event: KeyPressEvent) -> None:
        event.app.suspend_to_background()

    def take(event: KeyPressEvent) -> None:
        key = event.key_sequence[0].key
        if key in NAMES:
            bench.press(NAMES[key])
        elif key is Keys.Escape:
            splinters.take("\x1b")
            bench.press("escape")
        elif not isinstance(key, Keys) and key.isprintable():
            letter, whole = splinters.take(key)
            found = ANSI_SEQUENCES.get(whole) if whole is not None else None
            name = NAMES.get(found) if isinstance(found, Keys) else None
            if name is not None or letter is not None:
                bench.press(name or letter or "")
        pressed(event)

    def guarded(event: KeyPressEvent) -> None:
        try:
            take(event)
        except Exception as error:  # whatever it is, the terminal is given back before it is told
            if not event.app.is_done:
                event.app.exit(exception=error)

    for key in (Keys.Any, Keys.Escape, *NAMES):
        table.add(key)(guarded)
    return table


def make_application(
    bench: PracticeBench,
    clock: Clock,
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    color_depth: ColorDepth | None = None,
) -> Application[int]:
    """Make the full-screen application around a machine; `run_practice` runs it.

    Parameters
    ----------
    bench
        What is shown and takes the keys.
    clock
        Seconds that only go forward.
    input, output
        Of prompt-toolkit; the terminal if None.
    color_depth
        How many colours; None asks the environment (``NO_COLOR``) and the terminal.
    """

    def pressed(event: KeyPressEvent) -> None:
        if bench.result is not None and not event.app.is_done:
            event.app.exit(result=bench.result)

    if output is None:
        from prompt_toolkit.application.current import get_app_session

        output = get_app_session().output
    depth = color_depth or ColorDepth.from_env() or output.get_default_color_depth()
    application: Application[int] = Application(
        layout=Layout(
            Window(
                _Control(bench, glyphs_for(output.encoding())),
                style=f"class:{OWN}paper",
                always_hide_cursor=False,
            )
        ),
        style=style_for(depth),
        color_depth=depth,
        key_bindings=_bindings(bench, clock, pressed),
        full_screen=True,
        mouse_support=False,
        include_default_pygments_style=False,
        erase_when_done=True,
        input=input,
        output=output,
    )
    application.ttimeoutlen = ESCAPE_AFTER
    application.timeoutlen = ESCAPE_AFTER
    return application


def run_practice(play: Play, learner: str, at_end: Callable[[], Debrief]) -> int:
    """Practise on the full screen until the machine is left.

    Parameters
    ----------
    play
        The machine.
    learner
        Who practises.
    at_end
        Called once at the end: keeps the result and returns the debrief.

    Returns
    -------
    int
        The exit status: 0 at the end, 3 if it was left before, 130 after Ctrl-C, 128 and the signal's number
        after TERM and HUP. Every move is on the disk before the screen changes.
    """
    bench = PracticeBench(play, learner, at_end)
    application = make_application(bench, time.monotonic)

    async def run() -> int:
        with _caught(application):
            return await application.run_async(set_exception_handler=False)

    try:
        return asyncio.run(run())
    except (EOFError, OSError):
        # The terminal went away; what was done is on the disk.
        return LEFT if bench.result is None else bench.result


@contextmanager
def _caught(application: Application[int]) -> Iterator[None]:
    """Leave in good order on TERM and HUP."""
    loop = asyncio.get_running_loop()
    caught: list[int] = []

    def leave(number: int) -> None:
        if not application.is_done:
            application.exit(result=128 + number)

    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is None:
            continue
        with suppress(NotImplementedError, RuntimeError, ValueError):
            loop.add_signal_handler(number, leave, number)
            caught.append(number)
    try:
        yield
    finally:
        for number in caught:
            loop.remove_signal_handler(number)
