"""Practice on the full screen, through a terminal that is not there: 80x24 and 44x13."""

from __future__ import annotations

import asyncio
import time

import pyte
import pytest
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import ColorDepth
from prompt_toolkit.output.vt100 import Vt100_Output

from diagtree.case.log import MemoryLog
from diagtree.practice.debrief import debrief
from diagtree.screens.practice.application import make_application
from diagtree.screens.practice.bench import PracticeBench

ENTER, DOWN, ESC, CTRL_C = "\r", "\x1b[B", "\x1b", "\x03"


class Wire:
    """Takes what the program writes to the terminal."""

    encoding = "utf-8"

    def __init__(self, screen):
        self.stream = pyte.Stream(screen)

    def write(self, text):
        self.stream.feed(text)

    def flush(self):
        pass

    def isatty(self):
        return True

    def fileno(self):
        raise OSError("no file")


class Hand:
    """Presses keys a second apart and waits until what they do is drawn."""

    def __init__(self, game, columns, rows):
        self.now = 100.0
        self.screen = pyte.Screen(columns, rows)
        self.bench = PracticeBench(game, "Sam", lambda: debrief(game), clock=lambda: self.now)
        self.taken = 0
        press = self.bench.press

        def pressed(key):
            self.taken += 1
            press(key)

        self.bench.press = pressed
        size = Size(rows=rows, columns=columns)
        self.output = Vt100_Output(Wire(self.screen), lambda: size, term="xterm-256color")

    @property
    def text(self):
        return "\n".join(row.rstrip() for row in self.screen.display)

    async def until_drawn(self):
        before, deadline = -1, time.monotonic() + 10
        while not self.running.done():
            await asyncio.sleep(0)
            count = self.application.render_counter
            if count == before and count > 0 and not self.application._invalidated:
                return
            before = count
            assert time.monotonic() < deadline, "nothing is drawn"

    async def press(self, *keys, after=1.0):
        for key in keys:
            self.now += after
            wanted, deadline = self.taken + 1, time.monotonic() + 10
            self.keyboard.send_text(key)
            while self.taken < wanted and not self.running.done():
                assert time.monotonic() < deadline, f"{key!r} does not arrive"
                await asyncio.sleep(0)
            await self.until_drawn()

    def play(self, script):
        async def run():
            with create_pipe_input() as self.keyboard:
                self.application = make_application(
                    self.bench, lambda: self.now, input=self.keyboard, output=self.output,
                    color_depth=ColorDepth.DEPTH_8_BIT,
                )  # fmt: skip
                self.application.ttimeoutlen = 0.02
                self.running = asyncio.ensure_future(self.application.run_async(set_exception_handler=False))
                try:
                    await self.until_drawn()
                    await script(self)
                finally:
                    if not self.running.done():
                        self.keyboard.send_text(CTRL_C)
                    self.status = await asyncio.wait_for(self.running, 10)

        asyncio.run(run())
        return self.status


def find(play, cause, **options):
    for seed in range(200):
        game = play("no-heat", seed=seed, **options)
        if game.machine.causes["no-heat"] == cause:
            return game
    raise AssertionError(cause)


@pytest.mark.parametrize("size", [(80, 24), (44, 13)], ids=str)
def test_a_machine_is_found_out_from_the_greeting_to_the_debrief(play, size):
    game = find(play, "kettle/element-open", level="beginner")
    hand = Hand(game, *size)

    async def script(hand):
        assert "A kettle comes in that is not there" in hand.text
        assert "The water stays cold." in hand.text
        await hand.press(ENTER)
        assert "> 1  Does the lamp come on? (1 min)" in hand.text
        assert "0 checks, 0 min" in hand.text
        await hand.press("1")
        assert "Comes on. (1 minute)" in hand.text
        await hand.press("5")
        assert "2 checks, 2 min" in hand.text
        await hand.press("f")
        assert "What is behind it?" in hand.text
        assert "> 1 Element burnt out" in hand.text
        await hand.press("1")
        assert "It is: Element burnt out?" in hand.text
        await hand.press("2")
        assert "It was" in hand.text
        assert "Element burnt out." in hand.text
        await hand.press(ENTER)
        assert "How tight does it go" in hand.text.replace("\n", " ")
        await hand.press("5", ENTER)
        assert "Right: 4 to 6 N·m (35-53 lbf·in)." in hand.text
        await hand.press("2")
        assert "What it was" in hand.text
        assert "It was: Element burnt out." in hand.text
        assert f"{debrief(game).score.total} points" in hand.text
        await hand.press(ESC)
        assert "What it was" in hand.text
        await hand.press("q")

    assert hand.play(script) == 0
    assert [told.right for told in game.told] == [True, True]


def test_beside_the_checks_stand_the_way_and_for_a_beginner_the_ranking(play):
    hand = Hand(find(play, "kettle/element-open", level="beginner"), 80, 24)

    async def script(hand):
        await hand.press(ENTER, "1")
        assert "What it may be" in hand.text
        assert "Way so far" in hand.text
        assert "Comes on" in hand.text

    assert hand.play(script) == 130
    hand = Hand(find(play, "kettle/fuse-blown", level="apprentice"), 80, 24)

    async def apprentice(hand):
        await hand.press(ENTER, DOWN, ENTER)
        assert "What it may be" not in hand.text
        assert "Way so far" in hand.text
        assert len(hand.bench.play.steps) == 1

    hand.play(apprentice)


def test_a_burst_of_keys_does_one_check_and_nothing_is_named_by_a_bounce(play):
    log = MemoryLog()
    hand = Hand(play("no-heat", seed=2, log=log), 80, 24)

    async def script(hand):
        await hand.press(ENTER)
        await hand.press("1")
        await hand.press("2", "3", after=0.01)
        assert len(hand.bench.play.steps) == 1
        await hand.press("f", "1")
        await hand.press("2", after=0.01)
        assert not hand.bench.play.guesses

    hand.play(script)
    assert [record["kind"] for record in log.records] == ["checked"]


def test_it_is_left_with_q_twice_or_given_up(play):
    hand = Hand(play("no-heat", seed=2), 80, 24)

    async def script(hand):
        await hand.press(ENTER, "q")
        assert "Press q again to leave." in hand.text
        await hand.press("q")

    assert hand.play(script) == 3
    hand = Hand(play("no-heat", seed=2), 44, 13)

    async def gives_up(hand):
        await hand.press(ENTER, "g", "2")
        assert "You gave up." in hand.text
        await hand.press("q")

    assert hand.play(gives_up) == 0


def test_each_page_fits_any_window(play):
    for columns, rows in ((40, 12), (44, 13), (72, 18), (80, 24), (120, 40), (30, 8)):
        bench = PracticeBench(play("no-heat", "leaks", seed=3, level="beginner"), "Sam", lambda: None)
        for key in (
            "",
            "enter",
            "1",
            "i",
            "enter",
            "l",
            "enter",
            "w",
            "enter",
            "r",
            "enter",
            "?",
            "enter",
            "f",
        ):
            if key:
                bench._guard = type(bench._guard)(lambda: 0.0, 0.0)
                bench.press(key)
            picture = bench.compose(columns, rows)
            assert len(picture.lines) == rows, (columns, rows, key)
            assert all(sum(len(text) for _, text in row) == columns for row in picture.lines), (
                columns,
                rows,
                key,
            )
