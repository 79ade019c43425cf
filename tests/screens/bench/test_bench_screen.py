"""The bench in a terminal in memory: what stands on the screen, with the state behind it, at each size."""

import pytest
from bench_terminal import (
    BACKSPACE,
    CTRL_C,
    DOWN,
    END,
    ENTER,
    ESC,
    HOME,
    LEFT,
    PAGE_DOWN,
    PAGE_UP,
    UP,
    Terminal,
    paste,
)
from prompt_toolkit.output import ColorDepth

from diagtree.screens.bench.bench import BenchResult

SIZES = [(120, 40), (100, 30), (80, 24), (60, 20), (44, 13)]


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_a_whole_walk_at_each_size(walk, columns, rows):
    walker = walk(label="", looked=False)
    at = Terminal(walker, columns, rows)

    async def script(hand):
        await hand.see("What does the customer say?")
        await hand.type("dead")
        await hand.see("The water stays cold")
        await hand.press(ENTER)
        await hand.see("Go on with 1 complaint")
        await hand.press(ENTER)
        await hand.type("red, Hill")
        await hand.press(ENTER)
        await hand.see("Is there lime around the spout?")
        await hand.press("2")
        await hand.see("> 1 ( ) Like new")
        await hand.press("1")
        await hand.see("Does the lamp come on?")
        assert walker.case.label == "red, Hill"
        await hand.press("1")
        await hand.see("another socket?")
        for shown in ("> 1 ( ) Still dead", "2 ( ) Works there", "0 ( ) I can't tell", "%", "Stays dark"):
            assert shown in at.text
        assert at.cursor == (1, at.row_of("> 1 ( ) Still dead"))
        await hand.press(DOWN)
        assert at.cursor == (1, at.row_of("> 2 ( ) Works there"))
        await hand.press(UP, ENTER)
        await hand.see("Does the fuse let current through?")
        await hand.press("1")
        await hand.see("What is to be done")
        assert [step.answer for step in walker.way] == ["limed", "fresh", "no", "no", "no"]
        assert walker.finished
        await hand.press("q", "q")

    assert at.play(script) == BenchResult("done", 0)


def test_resizing_keeps_everything(walk):
    walker = walk("no-heat")
    at = Terminal(walker)

    async def script(hand):
        await hand.press("1", DOWN)
        for columns, rows in [*SIZES, (39, 11), (200, 60), (40, 12), (80, 24)]:
            at.resize(columns, rows)
            await hand.until_drawn()
            if columns < 40:
                await hand.see("too small")
            else:
                await hand.see("> 2 ( ) Works there")
                assert at.cursor == (1, at.row_of("> 2 ( )"))
        await hand.press(ENTER)
        assert walker.way[-1].answer == "yes"

    at.play(script)


def test_a_typed_field_survives_a_resize(walk):
    at = Terminal(walk("no-heat"))

    async def script(hand):
        await hand.press("n")
        await hand.type("smells bur")
        at.resize(39, 11)
        await hand.see("too small")
        await hand.type("nt")
        at.resize(60, 20)
        await hand.see("> smells burnt")
        await hand.press(ENTER)

    at.play(script)
    assert at.bench.walker.case.notes[0].text == "smells burnt"


def test_a_burst_and_a_paste_answer_one_and_none(walk):
    walker = walk("no-heat")
    at = Terminal(walker)

    async def script(hand):
        await hand.burst("1111")
        await hand.see("Does it work from another socket?")
        assert len(walker.way) == 3
        await hand.press(paste("1\r1\r2"))
        await hand.see("Pasted text never answers")
        assert len(walker.way) == 3

    at.play(script)


def test_escape_alone_is_quick_and_harmless_and_a_split_arrow_key_is_put_together(walk):
    walker = walk("no-heat")
    at = Terminal(walker)

    async def script(hand):
        await hand.press(ESC)
        await hand.pieces("[", "B")
        await hand.see("> 2 ( ) Comes on")
        # The 5 and the 6 of a split page key must not be answers.
        for digit in "56":
            await hand.press(ESC)
            await hand.pieces("[", digit, "~")
        await hand.see("> 0 ( )")
        await hand.press(ESC)
        await hand.pieces("O", "A")
        await hand.see("> 2 ( )")
        assert len(walker.way) == 2
        await hand.press("1")
        assert walker.way[-1].answer == "no"

    at.play(script)


def test_moves_go_by_arrows_home_end_and_page_keys(walk):
    at = Terminal(walk("no-heat"))

    async def script(hand):
        for key, row in ((END, "0"), (HOME, "1"), (PAGE_DOWN, "0"), (PAGE_UP, "1"), (DOWN, "2"), (UP, "1")):
            await hand.press(key)
            assert f"> {row} ( )" in at.text

    at.play(script)


@pytest.mark.parametrize("key", [LEFT, BACKSPACE, "b"])
def test_three_keys_go_back(walk, key):
    walker = walk("no-heat")
    at = Terminal(walker)

    async def script(hand):
        await hand.press("2")
        await hand.see("Does it hum")
        await hand.press(key)
        await hand.see("> 2 (*) Comes on")

    at.play(script)


def test_the_real_cursor_is_in_the_field_while_typing(walk):
    at = Terminal(walk("no-heat"))

    async def script(hand):
        await hand.press("/")
        await hand.type("da")
        row = at.row_of("/ da")
        assert at.cursor == (5, row)
        await hand.press(ESC, "n")
        await hand.type("ab")
        assert at.cursor == (5, at.row_of("> ab"))

    at.play(script)


def test_control_c_leaves_and_gives_the_screen_back(walk):
    at = Terminal(walk("no-heat"))

    async def script(hand):
        await hand.press("1", CTRL_C)

    assert at.play(script) == BenchResult("interrupted", 130)
    written = "".join(at.wire.written)
    assert "\x1b[?1049h" in written
    assert written.rindex("\x1b[?1049l") > written.rindex("\x1b[?1049h")
    assert written.rindex("\x1b[?2004l") > written.rindex("\x1b[?2004h")
    assert written.rindex("\x1b[?25h") > written.rfind("\x1b[?25l")
    assert "\x1b[?1000h" not in written, "the mouse belongs to the terminal's own selection"


@pytest.mark.parametrize("columns", [80, 44])
def test_two_colours_need_no_colour_to_be_read(walk, columns):
    at = Terminal(walk("no-heat"), columns, 24, depth=ColorDepth.DEPTH_1_BIT)

    async def script(hand):
        await hand.press("1")
        cells = [at.screen.buffer[y][x] for y in range(24) for x in range(columns)]
        assert {(cell.fg, cell.bg) for cell in cells} == {("default", "default")}
        row = at.row_of("> 1 ( )")
        assert at.screen.buffer[row][4].reverse

    at.play(script)
    assert "\x1b[38;" not in "".join(at.wire.written)


def test_sixteen_colours_use_the_terminals_own(walk):
    at = Terminal(walk("no-heat"), depth=ColorDepth.DEPTH_4_BIT)

    async def script(hand):
        await hand.press("1")
        names = {at.screen.buffer[y][x].fg for y in range(24) for x in range(80)}
        assert names <= {"default", "cyan", "brown", "red"}

    at.play(script)


def test_no_color_is_honoured(walk, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    at = Terminal(walk("no-heat"), depth=None)

    async def script(hand):
        await hand.press("1")
        assert {at.screen.buffer[y][x].fg for y in range(24) for x in range(80)} == {"default"}

    at.play(script)


def test_an_ascii_terminal_gets_nothing_but_ascii(walk):
    at = Terminal(walk("slow-boil", label="Größe 漢"), 100, 60, ascii_only=True)

    async def script(hand):
        await hand.press("2", "2")
        assert "####" in at.text
        assert "Gro?e ??" in at.text
        assert "for example 97  C" in at.text
        await hand.press("2")
        await hand.see("1.0-1.4 N.m")
        assert "".join(at.wire.written).isascii()

    at.play(script)


def contrast(ink: str, paper: str) -> float:
    """The contrast ratio of WCAG 2.2, from its definition of relative luminance."""

    def light(colour: str) -> float:
        parts = [int(colour[n : n + 2], 16) / 255 for n in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    bright, dark = sorted((light(ink), light(paper)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def test_all_words_stand_out_from_the_paper(walk):
    """At least 7 to 1, the enhanced contrast of WCAG 2.2, success criterion 1.4.6."""
    assert contrast("000000", "ffffff") == pytest.approx(21)
    at = Terminal(walk("no-heat"))
    seen = set()

    async def script(hand):
        for key in ("1", "w", ESC, "?", ESC, "n", ESC, "j"):
            await hand.press(key)
            for y in range(24):
                for x in range(80):
                    cell = at.screen.buffer[y][x]
                    if cell.data.isalnum() or cell.data in ">()!*%":
                        pair = (cell.bg, cell.fg) if cell.reverse else (cell.fg, cell.bg)
                        seen.add(pair)

    at.play(script)
    assert len(seen) > 4
    assert all(contrast(ink, paper) >= 7 for ink, paper in seen), seen


def test_what_takes_a_moment_is_said_before_it_is_done(walk):
    at = Terminal(walk("no-heat"))
    work = []

    async def script(hand):
        await hand.press("2", "1")
        await hand.see("What is to be done")
        work.append(at.bench.page.work)

    at.play(script)
    written = "".join(at.wire.written)
    assert written.index("Working out the work and its price.") < written.index("What is to be done")
    assert work[0].verdicts


@pytest.mark.parametrize("where", ["press", "compose_soon"])
def test_a_bug_gives_the_terminal_back_before_it_is_shown(walk, monkeypatch, where):
    at = Terminal(walk("no-heat"))

    async def script(hand):
        def broken(*_):
            raise ZeroDivisionError("a bug")

        monkeypatch.setattr(at.bench, where, broken)
        hand.send("1")
        await hand.until_left()

    with pytest.raises(ZeroDivisionError, match="a bug"):
        at.play(script)
    written = "".join(at.wire.written)
    assert written.rindex("\x1b[?1049l") > written.rindex("\x1b[?1049h")
