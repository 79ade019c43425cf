"""The parts of the question screen: each turns its share of the state into rows of a given width."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagtree.clean import clean
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, cells, line, shorten, wrap, wrap_all
from diagtree.screens.bench.state import AnswerRow, Hint, Ranked, Step, Trait


def per_cent(chance: float) -> str:
    """Spell a chance; what is possible is never called 0 %, what is not certain never 100 %.

    Examples
    --------
    >>> per_cent(0.523), per_cent(0.001), per_cent(0.9999), per_cent(1.0), per_cent(0.0)
    (' 52 %', ' <1 %', '>99 %', '100 %', '  0 %')
    """
    whole = round(100 * chance)
    if chance > 0 and whole == 0:
        return " <1 %"
    if chance < 1 and whole == 100:
        return ">99 %"
    return f"{whole:3d} %"


def heading(text: str, width: int, glyphs: Glyphs) -> Line:
    """Head a pane."""
    return line(shorten(text, width, glyphs.more), "heading")


# The answers ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class AnswerBlock:
    """The answers that there was room for.

    Parameters
    ----------
    rows
        The rows, with what is not shown said in words.
    cursor
        Column and row of the selected answer's sign within ``rows``.
    whole
        True if every answer is there, word for word.
    """

    rows: tuple[Line, ...]
    cursor: tuple[int, int]
    whole: bool


def answer_rows(answer: AnswerRow, on: bool, width: int, keyed: bool) -> list[Line]:
    """Lay one answer out: a sign for the selected one, its key, a sign for the one given before."""
    mark = ">" if on else " "
    key = f"{answer.key or ' '} " if keyed else ""
    given = "(*)" if answer.given else "( )"
    head = f"{mark} {key}{given} "
    style = "selected" if on else "answer"
    rows: list[Line] = []
    for number, text in enumerate(wrap(answer.says, max(width - len(head), 2))):
        first = head if number == 0 else " " * len(head)
        rows.append(((style, (first + text).ljust(width - cells(first + text) + len(first + text))),))
    return rows


def answers(
    given: Sequence[AnswerRow], selected: int, width: int, room: int, glyphs: Glyphs, roomy: bool = False
) -> AnswerBlock:
    """Lay the answers out in the room that there is.

    Parameters
    ----------
    given
        The answers.
    selected
        The one that the cursor is on; it is always shown.
    width, room
        Cells and rows, at least 1 row.
    glyphs
        The signs.
    roomy
        True to set an empty row between answers where the room allows.

    Returns
    -------
    AnswerBlock
        Where not all have room, long ones that are not selected are cut with a sign first; then a row says
        how many are above or below.
    """
    keyed = any(answer.key for answer in given)
    blocks = [answer_rows(answer, at == selected, width, keyed) for at, answer in enumerate(given)]
    if not blocks:
        return AnswerBlock((line("  (no answer fits what was typed)", "quiet"),), (0, 0), True)
    tall = sum(map(len, blocks))
    if tall <= room:
        loose = roomy and len(blocks) > 1 and tall + len(blocks) - 1 <= room
        rows: list[Line] = []
        cursor = 0
        for at, block in enumerate(blocks):
            if loose and at:
                rows.append(())
            if at == selected:
                cursor = len(rows)
            rows += block
        return AnswerBlock(tuple(rows), (0, cursor), True)
    for cap in (4, 3, 2, 1):
        capped = [
            block if at == selected else _cut(block, cap, width, glyphs) for at, block in enumerate(blocks)
        ]
        if sum(map(len, capped)) <= room:
            rows = [row for block in capped for row in block]
            return AnswerBlock(tuple(rows), (0, sum(map(len, capped[:selected]))), False)
    return _some(capped, selected, room, glyphs)


def _cut(block: list[Line], cap: int, width: int, glyphs: Glyphs) -> list[Line]:
    """Keep so many rows of an answer; the last one says that it goes on."""
    if len(block) <= cap:
        return block
    sign = f"{glyphs.more} (more: i)"
    style, text = block[cap - 1][0]
    return [*block[: cap - 1], ((style, shorten(text.rstrip(), width - cells(sign), "")), ("more", sign))]


def _some(blocks: list[list[Line]], selected: int, room: int, glyphs: Glyphs) -> AnswerBlock:
    """Show the selected answer and as many of its neighbours as fit, below first."""
    first = last = selected

    def needed(start: int, end: int) -> int:
        signs = (start > 0) + (end < len(blocks) - 1)
        return signs + sum(len(block) for block in blocks[start : end + 1])

    grown = True
    while grown:
        grown = False
        for start, end in ((first, last + 1), (first - 1, last)):
            if start >= 0 and end < len(blocks) and needed(start, end) <= room:
                first, last, grown = start, end, True
                break
    above, below = first, len(blocks) - 1 - last
    rows: list[Line] = []
    if above and below and room < 3:
        both = f"{glyphs.above} {above} more above, {glyphs.below} {below} more below"
        signs_over, signs_under = [line(f"  {both}", "more")], []
    else:
        signs_over = [line(f"  {glyphs.above} {above} more", "more")] if above else []
        signs_under = [line(f"  {glyphs.below} {below} more", "more")] if below else []
    shown = [row for block in blocks[first : last + 1] for row in block]
    left = room - len(signs_over) - len(signs_under)
    if len(shown) > left:
        shown = shown[: max(left - 1, 1)]
        if left > 1:
            shown.append(line("      (goes on: press i)", "more"))
    if room <= 1:
        return AnswerBlock((shown[0],), (0, 0), False)
    rows = [*signs_over, *shown, *signs_under][:room]
    cursor = len(signs_over) + sum(len(block) for block in blocks[first:selected])
    return AnswerBlock(tuple(rows), (0, min(cursor, room - 1)), False)


# The ranking ------------------------------------------------------------------------------------------


def ranking(causes: Sequence[Ranked], width: int, room: int, glyphs: Glyphs) -> list[Line]:
    """Lay the ranking out: a percentage and a bar for each cause, and how many were left out.

    Where there is room each cause takes two rows, so that its name can be read from a step away.
    """
    if room < 1 or not causes:
        return []
    tops = [cause for cause in causes if cause.chance >= 0.005] or list(causes[:1])
    left_out = len(causes) > len(tops)
    wanted = min(len(tops), 4)
    if width >= 24:
        for rows_each in (3, 2):
            if room >= rows_each * wanted - (rows_each - 2) + (left_out or wanted < len(tops)):
                return _tall_ranking(causes, tops, width, room, glyphs, rows_each)
    return _flat_ranking(causes, tops, width, room, glyphs)


def _moved(cause: Ranked, glyphs: Glyphs) -> str:
    return {1: glyphs.rose, -1: glyphs.fell}.get(cause.moved, " ")


def _left_out(causes: Sequence[Ranked], shown: int) -> str:
    rest = len(causes) - shown
    chance = sum(cause.chance for cause in causes[shown:])
    return f"{rest} more, together {per_cent(chance).strip()}"


def _tall_ranking(
    causes: Sequence[Ranked], tops: Sequence[Ranked], width: int, room: int, glyphs: Glyphs, rows_each: int
) -> list[Line]:
    blank = rows_each - 2
    fits = min(len(tops), (room + blank) // rows_each)
    if len(causes) > fits:
        fits = min(fits, (room - 1 + blank) // rows_each)
    rows: list[Line] = []
    for number, cause in enumerate(tops[:fits]):
        top = "top-cause" if number == 0 else "cause"
        title = shorten(cause.title, width - 2, glyphs.more)
        gap = " " * (width - cells(title) - 1)
        rows.append(((top, title), ("moved", f"{gap}{_moved(cause, glyphs)}")))
        full, empty = glyphs.bar(cause.chance, width - 6)
        rows.append((("bar", full), ("bar.rest", empty), (top, " " + per_cent(cause.chance))))
        rows += [()] * blank
    rows = rows[: len(rows) - blank]
    if len(causes) > fits:
        rows += [line(shorten(_left_out(causes, fits), width, glyphs.more), "quiet")]
    return rows[:room]


def _flat_ranking(
    causes: Sequence[Ranked], tops: Sequence[Ranked], width: int, room: int, glyphs: Glyphs
) -> list[Line]:
    fits = min(len(tops), room)
    if len(causes) > fits and fits == room and room > 2:
        fits -= 1
    long = 10 if width >= 50 else 6
    rows: list[Line] = []
    for number, cause in enumerate(tops[:fits]):
        top = "top-cause" if number == 0 else "cause"
        full, empty = glyphs.bar(cause.chance, long)
        title = shorten(cause.title, width - long - 10, glyphs.more)
        rows.append(
            (
                (top, per_cent(cause.chance) + " "),
                ("bar", full),
                ("bar.rest", empty),
                ("moved", f" {_moved(cause, glyphs)} "),
                (top, title),
            )
        )
    if len(causes) > fits and len(rows) < room:
        rows.append(line(shorten(_left_out(causes, fits), width, glyphs.more), "quiet"))
    return rows


# The picture, the way, the keys -----------------------------------------------------------------------


def traits(picture: Sequence[Trait], width: int, room: int, glyphs: Glyphs) -> list[Line]:
    """Lay out how the machine has lived: each side with its likeliest state and the chance of it."""
    if room < 1 or not picture:
        return []
    fits = len(picture) if len(picture) <= room else max(room - 1, 1)
    rows: list[Line] = []
    for trait in picture[:fits]:
        says = f"{trait.title}: {trait.says}"
        if cells(says) > width - 6:
            says = trait.says
        says = shorten(says, width - 6, glyphs.more)
        gap = " " * (width - cells(says) - 5)
        rows.append((("", says + gap), ("figure", per_cent(trait.chance))))
    if fits < len(picture) and len(rows) < room:
        rows.append(line(f"{len(picture) - fits} more", "quiet"))
    return rows


def one_line_picture(picture: Sequence[Trait], width: int, glyphs: Glyphs) -> Line:
    """Say the picture in one row, the surest sides first."""
    told = sorted(picture, key=lambda trait: -trait.chance)
    parts = [f"{trait.says} {per_cent(trait.chance).strip()}" for trait in told]
    text = f" {glyphs.dot} ".join(parts)
    while len(parts) > 1 and cells(text) > width:
        parts.pop()
        text = f" {glyphs.dot} ".join(parts)
    return line(shorten(text, width, glyphs.more), "quiet")


def steps(way: Sequence[Step], width: int, room: int, glyphs: Glyphs) -> list[Line]:
    """Lay out the way so far, the latest step last; what has no room is counted at the top."""
    if room < 1:
        return []
    if not way:
        return [line("Nothing answered yet.", "quiet")]
    fits = len(way) if len(way) <= room else max(room - 1, 1)
    rows: list[Line] = []
    if fits < len(way) and room > 1:
        rows.append(line(f"{glyphs.above} {len(way) - fits} earlier (j: go to one)", "quiet"))
    for step in way[len(way) - fits :]:
        number = f"{step.number:2d} "
        says = shorten(step.says, max(width // 2, 8), glyphs.more)
        ask = shorten(step.ask, width - len(number) - cells(says) - 1, glyphs.more)
        rows.append((("quiet", number + ask + " "), ("step", says)))
    return rows


def one_line_way(way: Sequence[Step], width: int, glyphs: Glyphs) -> Line:
    """Say the last step in one row."""
    if not way:
        return line("Nothing answered yet.", "quiet")
    return steps(way[-1:], width, 1, glyphs)[0]


def keys(hints: Sequence[Hint], width: int, room: int) -> list[Line]:
    """Lay the keys out in at most so many rows: the first ones come first, `?` is always among them."""
    if room < 1:
        return []
    helped = [hint for hint in hints if hint.key == "?"]
    rest = [hint for hint in hints if hint.key != "?"]
    for count in range(len(rest), -1, -1):
        rows = _flow([*rest[:count], *helped], width)
        if len(rows) <= room:
            return rows
    return _flow(helped, width)[:room]


def _flow(hints: Sequence[Hint], width: int) -> list[Line]:
    rows: list[Line] = []
    row: list[tuple[str, str]] = []
    used = 0
    for hint in hints:
        wide = cells(hint.key) + 1 + cells(hint.does)
        if row and used + 2 + wide > width:
            rows.append(tuple(row))
            row, used = [], 0
        if row:
            row.append(("keys", "  "))
            used += 2
        row += [("key", clean(hint.key)), ("keys", " " + clean(hint.does))]
        used += wide
    if row:
        rows.append(tuple(row))
    return rows


def foot(hints: Sequence[Hint], message: str, width: int, room: int) -> list[Line]:
    """Lay the last rows out: what is said now, at most three rows, then the keys in what room is left."""
    if not message:
        return keys(hints, width, room)
    said = [line(row, "message") for row in wrap(message, width)[:3]]
    return [*said, *keys(hints, width, max(room - len(said), 0))]


def cautions(texts: Sequence[str], width: int) -> list[Line]:
    """Lay cautions out, each with a sign that does without colour."""
    rows: list[Line] = []
    for text in texts:
        for number, row in enumerate(wrap(text, max(width - 2, 2))):
            rows.append((("caution", ("! " if number == 0 else "  ") + row),))
    return rows


def advice(texts: Sequence[str], width: int) -> list[Line]:
    """Lay advice out, each with a sign that does without colour."""
    rows: list[Line] = []
    for text in texts:
        for number, row in enumerate(wrap(text, max(width - 2, 2))):
            rows.append((("advice", ("* " if number == 0 else "  ") + row),))
    return rows


def instructions(texts: Sequence[str], width: int) -> list[Line]:
    """Lay out how to do a check."""
    return [line(row, "how") for row in wrap_all(texts, width)]
