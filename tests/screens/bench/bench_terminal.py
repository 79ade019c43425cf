"""A terminal for the tests of the bench: keys through a pipe, what is shown through pyte; no tty is needed."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import pyte
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import ColorDepth
from prompt_toolkit.output.vt100 import Vt100_Output

from diagtree.case.walker import Walker
from diagtree.screens.bench.advice import Adviser
from diagtree.screens.bench.application import make_application
from diagtree.screens.bench.bench import Bench, BenchResult

UP, DOWN, LEFT, RIGHT = "\x1b[A", "\x1b[B", "\x1b[D", "\x1b[C"
HOME, END, PAGE_UP, PAGE_DOWN = "\x1b[H", "\x1b[F", "\x1b[5~", "\x1b[6~"
ENTER, ESC, BACKSPACE, CTRL_C = "\r", "\x1b", "\x7f", "\x03"


def paste(text: str) -> str:
    """Make what a terminal sends for a bracketed paste."""
    return f"\x1b[200~{text}\x1b[201~"


class Clock:
    """A clock that goes forward only when it is told to."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


class _Ascii(Vt100_Output):
    """An output of a terminal that knows ASCII only."""

    def encoding(self) -> str:
        return "ascii"


@dataclass
class _Wire:
    """Takes what the program writes and feeds it to the terminal."""

    stream: pyte.Stream
    written: list[str] = field(default_factory=list)
    encoding: str = "utf-8"

    def write(self, text: str) -> None:
        self.written.append(text)
        self.stream.feed(text)

    def flush(self) -> None:
        """Nothing is held back."""

    def isatty(self) -> bool:
        return True

    def fileno(self) -> int:
        raise OSError("no file")


class Terminal:
    """A bench in a terminal of a given size.

    Parameters
    ----------
    walker
        The case.
    columns, rows
        The size; can be changed with `resize`.
    """

    def __init__(
        self,
        walker: Walker,
        columns: int = 80,
        rows: int = 24,
        *,
        ascii_only: bool = False,
        depth: ColorDepth | None = ColorDepth.DEPTH_8_BIT,
        adviser: Adviser | None = None,
        **options: object,
    ) -> None:
        self.clock = Clock()
        self.screen = pyte.Screen(columns, rows)
        self.wire = _Wire(pyte.Stream(self.screen))
        self.size = (columns, rows)
        self.depth = depth
        self.adviser = adviser
        kind = _Ascii if ascii_only else Vt100_Output
        self.output = kind(
            self.wire, lambda: Size(rows=self.size[1], columns=self.size[0]), term="xterm-256color"
        )
        self.bench = Bench(walker, clock=self.clock, **options)
        self.taken = 0
        self._count(self.bench)
        self.result: BenchResult | None = None

    def _count(self, bench: Bench) -> None:
        """Count what the bench takes, so that a test can wait until a key has arrived."""
        press, put = bench.press, bench.paste

        def pressed(key: str) -> None:
            self.taken += 1
            press(key)

        def pasted(text: str) -> None:
            self.taken += 1
            put(text)

        bench.press, bench.paste = pressed, pasted  # type: ignore[method-assign]

    @property
    def text(self) -> str:
        """What is on the screen, without blanks at the ends of the rows."""
        return "\n".join(row.rstrip() for row in self.screen.display)

    @property
    def cursor(self) -> tuple[int, int]:
        """Column and row of the real cursor, from 0."""
        return self.screen.cursor.x, self.screen.cursor.y

    def row_of(self, text: str) -> int:
        """Tell the row that a text is on."""
        for number, row in enumerate(self.screen.display):
            if text in row:
                return number
        raise AssertionError(f"{text!r} is not on the screen:\n{self.text}")

    def resize(self, columns: int, rows: int) -> None:
        """Change the size, as a window manager does."""
        self.size = (columns, rows)
        self.screen.resize(rows, columns)
        self.screen.reset()
        self.application._on_resize()

    def play(self, script: Callable[[Hand], Iterable[object]] | Callable) -> BenchResult:
        """Run the bench while a coroutine plays on it; it is left with Ctrl-C at the end if it still runs."""

        async def run() -> BenchResult:
            with create_pipe_input() as keyboard:
                self.application = make_application(
                    self.bench,
                    self.clock,
                    input=keyboard,
                    output=self.output,
                    color_depth=self.depth,
                    adviser=self.adviser,
                )
                self.application.ttimeoutlen = 0.02
                running = asyncio.ensure_future(self.application.run_async(set_exception_handler=False))
                hand = Hand(self, keyboard, running)
                try:
                    await hand.until_drawn()
                    await script(hand)
                finally:
                    if not running.done():
                        keyboard.send_text(CTRL_C)
                    self.result = await asyncio.wait_for(running, 10)
                return self.result

        return asyncio.run(run())


class Hand:
    """Presses keys and waits for what is drawn."""

    def __init__(self, terminal: Terminal, keyboard: PipeInput, running: asyncio.Future) -> None:
        self.terminal = terminal
        self._keyboard = keyboard
        self._running = running

    async def until_drawn(self) -> None:
        """Wait until all that was sent has been taken and drawn."""
        # What is read comes first, then the drawing that it asked for: a few turns of the loop settle both.
        application = self.terminal.application
        before = -1
        deadline = time.monotonic() + 10
        while not self._running.done():
            await asyncio.sleep(0)
            count = application.render_counter
            if count == before and count > 0 and not application._invalidated:
                return
            before = count
            assert time.monotonic() < deadline, "nothing is drawn"

    async def press(self, *keys: str, after: float = 1.0) -> None:
        """Press keys one after another, each so many seconds after the one before."""
        for key in keys:
            self.terminal.clock.now += after
            await self._send(key, 1)

    async def burst(self, text: str) -> None:
        """Send letters all at once."""
        self.terminal.clock.now += 1.0
        await self._send(text, len(text))

    async def type(self, text: str) -> None:
        """Type letters into a field."""
        await self.burst(text)

    async def pieces(self, *pieces: str, after: float = 0.1) -> None:
        """Send pieces of a key that the bench is to see only when it is whole, if at all."""
        for piece in pieces:
            self.terminal.clock.now += after
            await self._send(piece, 0)

    async def _send(self, text: str, keys: int) -> None:
        wanted = self.terminal.taken + keys
        deadline = time.monotonic() + 10
        self._keyboard.send_text(text)
        while self.terminal.taken < wanted and not self._running.done():
            assert time.monotonic() < deadline, f"{text!r} does not arrive"
            await asyncio.sleep(0)
        for _ in range(0 if keys else 20):
            await asyncio.sleep(0)
        await self.until_drawn()

    def send(self, text: str) -> None:
        """Send keys and wait for nothing."""
        self._keyboard.send_text(text)

    async def until_left(self) -> None:
        """Wait until the bench is left."""
        await asyncio.wait([self._running], timeout=10)

    async def see(self, text: str) -> None:
        """Wait for a text on the screen."""
        deadline = time.monotonic() + 10
        while text not in self.terminal.text:
            assert time.monotonic() < deadline, f"{text!r} does not appear:\n{self.terminal.text}"
            assert not self._running.done(), f"left before {text!r} appeared"
            await asyncio.sleep(0)
