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

    Where there is room each cause takes rows of its own, so that its name can be read from a step away; a
    long name takes two before a fourth cause is shown, since causes often differ in their last word only.
    """
    if room < 1 or not causes:
        return []
    tops = [cause for cause in causes if cause.chance >= 0.005] or list(causes[:1])
    if width >= 24:
        for title_rows, blank, wanted in ((2, 1, 4), (2, 0, 3), (1, 0, 4)):
            near = tops[: room // 2]
            blocks = [_tall_cause(cause, n == 0, width, title_rows, glyphs) for n, cause in enumerate(near)]
            fits = _how_many_fit(blocks, room, blank, len(causes))
            if fits >= min(len(tops), wanted):
                return _tall_ranking(causes, blocks[:fits], width, blank, glyphs)
    return _flat_ranking(causes, tops, width, room, glyphs)


def _moved(cause: Ranked, glyphs: Glyphs) -> str:
    return {1: glyphs.rose, -1: glyphs.fell}.get(cause.moved, " ")


def _left_out(causes: Sequence[Ranked], shown: int) -> str:
    rest = len(causes) - shown
    chance = sum(cause.chance for cause in causes[shown:])
    return f"{rest} more, together {per_cent(chance).strip()}"


def _tall_cause(cause: Ranked, first: bool, width: int, title_rows: int, glyphs: Glyphs) -> list[Line]:
    """Lay one cause out: its name, and under it the bar, the percentage, and whether it rose or fell."""
    style = "top-cause" if first else "cause"
    rows = [line(text, style) for text in capped(cause.title, width, title_rows, glyphs)]
    full, empty = glyphs.bar(cause.chance, width - 8)
    tail = (("moved", f" {_moved(cause, glyphs)}"),)
    return [*rows, (("bar", full), ("bar.rest", empty), (style, " " + per_cent(cause.chance)), *tail)]


def capped(text: str, width: int, most: int, glyphs: Glyphs) -> list[str]:
    """Wrap a text into at most so many rows; the last one is cut with a sign if it must be.

    Examples
    --------
    >>> from diagtree.screens.bench.glyphs import UNICODE
    >>> capped("Leak at a joint with oil", 14, 2, UNICODE), capped("Leak at a joint with oil", 14, 1, UNICODE)
    (['Leak at a', 'joint with oil'], ['Leak at a joi…'])
    """
    rows = wrap(text, width)
    if len(rows) <= most:
        return list(rows)
    return [*rows[: most - 1], shorten(" ".join(rows[most - 1 :]), width, glyphs.more)]


def _how_many_fit(blocks: Sequence[Sequence[Line]], room: int, blank: int, causes: int) -> int:
    """Count the causes that fit, with a row for what is left out."""
    fits = used = 0
    for number, block in enumerate(blocks, 1):
        used += len(block) + (blank if number > 1 else 0)
        if used + (1 if number < causes else 0) <= room:
            fits = number
    return fits


def _tall_ranking(
    causes: Sequence[Ranked], blocks: Sequence[Sequence[Line]], width: int, blank: int, glyphs: Glyphs
) -> list[Line]:
    rows: list[Line] = []
    for number, block in enumerate(blocks):
        rows += [()] * (blank if number else 0)
        rows += block
    if len(causes) > len(blocks):
        rows += [line(shorten(_left_out(causes, len(blocks)), width, glyphs.more), "quiet")]
    return rows


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
    """Lay out how the machine has lived: each side's likeliest state and the chance of it.

    A long state takes a second row where there is room for it.
    """
    if room < 1 or not picture:
        return []
    long = width - 6
    tall = [_trait(trait, width, capped(trait.says, long, 2, glyphs)) for trait in picture]
    if sum(map(len, tall)) <= room:
        return [row for block in tall for row in block]
    fits = len(picture) if len(picture) <= room else max(room - 1, 1)
    spare = max(room - fits, 0) if fits == len(picture) else 0
    rows: list[Line] = []
    for trait, block in zip(picture[:fits], tall, strict=False):
        if len(block) - 1 <= spare:
            spare -= len(block) - 1
            rows += block
        else:
            rows += _trait(trait, width, [shorten(trait.says, long, glyphs.more)])
    if fits < len(picture) and len(rows) < room:
        rows.append(line(f"{len(picture) - fits} more", "quiet"))
    return rows


def _trait(trait: Trait, width: int, says: Sequence[str]) -> list[Line]:
    first, *rest = says
    gap = " " * (width - cells(first) - 5)
    return [(("", first + gap), ("figure", per_cent(trait.chance))), *(line(row) for row in rest)]


def one_line_picture(picture: Sequence[Trait], width: int, glyphs: Glyphs) -> Line:
    """Say the picture in one row, the surest sides first."""
    told = sorted(picture, key=lambda trait: -trait.chance)
    parts = [f"{trait.says} {per_cent(trait.chance).strip()}" for trait in told]
    text = f" {glyphs.dot} ".join(parts)
    while len(parts) > 1 and cells(text) > width:
        parts.pop()
        text = f" {glyphs.dot} ".join(parts)
    return line(shorten(text, width, glyphs.more), "quiet")


ASK_LEAST = 12
"""A question that would be cut to fewer cells than this says nothing: its answer then stands alone."""


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
    return [*rows, *(_step(step, width, glyphs) for step in way[len(way) - fits :])]


def _step(step: Step, width: int, glyphs: Glyphs) -> Line:
    number = f"{step.number:2d} "
    room = width - cells(number)
    says = clean(step.says)
    left = room - cells(says) - 1
    if left >= min(ASK_LEAST, cells(step.ask)):
        ask = shorten(step.ask, left, glyphs.more) + " "
        return (("quiet", number + ask), ("step", says))
    return (("quiet", number), ("step", shorten(says, room, glyphs.more)))


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


MESSAGE_ROWS = 5
"""What is said at the foot takes at most so many rows; it is cut with a sign."""


def foot(hints: Sequence[Hint], message: str, width: int, room: int) -> list[Line]:
    """Lay the last rows out: what is said now, at most five rows, then the keys in what room is left."""
    if not message:
        return keys(hints, width, room)
    told = wrap(message, width)
    said = [line(row, "message") for row in told[:MESSAGE_ROWS]]
    if len(told) > MESSAGE_ROWS:
        last = shorten(" ".join(told[MESSAGE_ROWS - 1 :]), width, "...")
        said[-1] = line(last, "message")
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
