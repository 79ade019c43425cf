"""What every full screen here has in common: one window, keys under plain names, signals caught, the terminal given back."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any, TypeVar

from prompt_toolkit.application import Application
from prompt_toolkit.input import Input
from prompt_toolkit.layout import Layout, Window
from prompt_toolkit.output import ColorDepth, Output

from diagtree.screens.bench.control import PictureControl
from diagtree.screens.bench.glyphs import glyphs_for
from diagtree.screens.bench.guard import Clock
from diagtree.screens.bench.keys import bindings
from diagtree.screens.bench.look import OWN, style_for
from diagtree.screens.bench.stack import Stack

Result = TypeVar("Result")

ESCAPE_AFTER = 0.2
"""Seconds after which an Esc is a key of its own and not the start of an arrow key."""

SIGNALS = ("SIGTERM", "SIGHUP")


def fail(application: Application[Any], error: BaseException) -> None:
    """End with an error that nobody expected; the terminal is given back before it is told."""
    if not application.is_done:
        application.exit(exception=error)


def full_screen(
    stack: Stack,
    clock: Clock,
    pressed: Callable[[], None],
    *,
    input: Input | None = None,  # noqa: A002 - prompt-toolkit's own word
    output: Output | None = None,
    color_depth: ColorDepth | None = None,
) -> Application[Any]:
    """Make the application around pages; `run` runs it.

    Parameters
    ----------
    stack
        The pages: what is shown and takes the keys.
    clock
        Seconds that only go forward.
    pressed
        Called after each key: ends the application once the pages are left.
    input, output
        Of prompt-toolkit; the terminal if None.
    color_depth
        How many colours; None asks the environment (``NO_COLOR``) and the terminal.
    """
    application: Application[Any]

    def failed(error: BaseException) -> None:
        fail(application, error)

    if output is None:
        from prompt_toolkit.application.current import get_app_session

        output = get_app_session().output
    depth = color_depth or ColorDepth.from_env() or output.get_default_color_depth()
    control = PictureControl(stack, glyphs_for(output.encoding()), failed)
    application = Application(
        layout=Layout(Window(control, style=f"class:{OWN}paper", always_hide_cursor=False)),
        style=style_for(depth),
        color_depth=depth,
        key_bindings=bindings(stack, clock, pressed, failed),
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


def run(application: Application[Result], by_signal: Callable[[int], Result]) -> Result | None:
    """Run an application until it is left.

    Parameters
    ----------
    application
        Made by `full_screen`.
    by_signal
        Called with the number of TERM or HUP: what to leave with then.

    Returns
    -------
    Result or None
        None if the terminal went away.
    """

    async def until_left() -> Result:
        with _caught(application, by_signal):
            return await application.run_async(set_exception_handler=False)

    try:
        return asyncio.run(until_left())
    except (EOFError, OSError):
        return None


@contextmanager
def _caught(application: Application[Result], by_signal: Callable[[int], Result]) -> Iterator[None]:
    """Leave in good order on TERM and HUP; in a thread, where that cannot be asked for, do without."""
    loop = asyncio.get_running_loop()
    caught: list[int] = []

    def leave(number: int) -> None:
        if not application.is_done:
            application.exit(result=by_signal(number))

    for name in SIGNALS:
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
