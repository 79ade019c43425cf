"""Lays the question screen out: from a state and a size to rows, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass

from diagtree.screens.bench import panes
from diagtree.screens.bench.glyphs import UNICODE, Glyphs
from diagtree.screens.bench.lines import Line, Picture, apart, beside, cells, fill, line, shorten, wrap
from diagtree.screens.bench.state import BenchState

LEAST_WIDTH, LEAST_HEIGHT = 40, 12
"""Below this nothing can be read: the screen says so."""

TWO_COLUMNS = (72, 18)
"""From this width and height on the ranking, the picture and the way stand beside the question."""

ADVICE_ROWS = 4
"""So many rows, a blank one among them, the how-to leaves free where something is advised."""


def compose(state: BenchState, width: int, height: int, glyphs: Glyphs = UNICODE) -> Picture:
    """Lay the question screen out.

    Answers come first: none is left out without a row that says how many. Where room is short the ranking
    gives way, then the way and the picture, then the how-to (key ``i`` shows all of it).

    Parameters
    ----------
    state
        What to show.
    width, height
        Cells and rows of the window.
    glyphs
        The signs to draw with.

    Returns
    -------
    Picture
        Exactly ``height`` rows, none wider than ``width``, and the cursor on the selected answer.

    Examples
    --------
    >>> from diagtree.screens.bench.state import AnswerRow
    >>> state = BenchState(complaint="It stays cold", question="Does the lamp come on?",
    ...     answers=(AnswerRow("1", "Yes"), AnswerRow("2", "No")), selected=1)
    >>> picture = compose(state, 44, 12)
    >>> picture.cursor
    (1, 5)
    >>> print(picture.text.splitlines()[5])
     > 2 ( ) No
    """
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return too_small(width, height)
    if width >= TWO_COLUMNS[0] and height >= TWO_COLUMNS[1]:
        return _two_columns(state, width, height, glyphs)
    return _one_column(state, width, height, glyphs)


def too_small(width: int, height: int) -> Picture:
    """Say that the window is too small, and that nothing is lost."""
    rows: list[Line] = []
    for text in (
        f"The window is too small: {width} by {height}.",
        f"Make it {LEAST_WIDTH} by {LEAST_HEIGHT} or more.",
        "Nothing is lost. Ctrl-C saves and leaves.",
    ):
        rows += [line(row, "caution") for row in wrap(text, max(width, 2))]
    rows = [fill(row, width, "") for row in rows][: max(height, 0)]
    rows += [fill((), width, "")] * (height - len(rows))
    return Picture(tuple(rows))


def top_row(state: BenchState, width: int, glyphs: Glyphs) -> Line:
    """Lay the head of the screen out: the machine's label at the left, how far the walk is at the right."""
    name = state.label or state.complaint
    left = line(f" {shorten(name, max(width - cells(state.done) - 4, 8), glyphs.more)}", "top.name")
    return fill(apart(left, line(state.done + " " if state.done else "", "top"), width, "top"), width, "top")


def _foot(state: BenchState, width: int, room: int) -> list[Line]:
    """Lay the last rows out: a message goes before all, what changed only where the keys have room too."""
    said = state.message
    if not said and len(wrap(state.change, width)) < room:
        said = state.change
    return panes.foot(state.hints, said, width, room)


# Two columns ------------------------------------------------------------------------------------------


def _two_columns(state: BenchState, width: int, height: int, glyphs: Glyphs) -> Picture:
    inner = width - 2
    right_wide = min(max(inner * 2 // 5, 28), 48)
    left_wide = inner - right_wide - 3
    below = _foot(state, inner, 2 if height >= 22 else 1)
    room = height - 3 - len(below)
    question = _question(state, left_wide, room, glyphs)
    side = _side(state, right_wide, room, glyphs)
    question_rows = [*question.rows[:room], *[()] * (room - len(question.rows))]
    body = beside(question_rows, side, (left_wide, right_wide), ("rule", f" {glyphs.wall} "))
    wall = left_wide + 2
    rule = glyphs.rule * wall + glyphs.crossing + glyphs.rule * (width - wall - 1)
    under = rule.replace(glyphs.crossing, "┴" if glyphs.crossing == "┬" else glyphs.crossing)
    rows = [
        top_row(state, width, glyphs),
        *[(("", " "), *row) for row in body],
        (("rule", under),),
        *[(("", " "), *row) for row in below],
    ]
    rows.insert(1, (("rule", rule),))
    return _picture(rows, question.cursor, (1, 2), width, height)


def _side(state: BenchState, width: int, room: int, glyphs: Glyphs) -> list[Line]:
    """Set ranking, picture and way under one another: the ranking takes what the other two leave."""
    shown = len(panes.traits(state.picture[:6], width, 12, glyphs))
    picture_room = shown + 2 if state.picture else 0
    way_room = min(max(len(state.way), 1), 6) + 1
    while room - picture_room - way_room < 11 and way_room > 2:
        way_room -= 1
    while room - picture_room - way_room < 11 and picture_room > 3:
        picture_room -= 1
    rows = [panes.heading("What it may be", width, glyphs)]
    rows += panes.ranking(state.ranking, width, room - picture_room - way_room - 2, glyphs)
    rows.append(())
    if picture_room:
        rows.append(panes.heading(f"Picture of the {state.machine}", width, glyphs))
        rows += panes.traits(state.picture, width, picture_room - 2, glyphs)
        rows.append(())
    last = state.way[-max(room - len(rows) - 1, 1) :]
    earlier = len(state.way) - len(last)
    head = f"Way so far ({glyphs.above} {earlier} earlier: j)" if earlier else "Way so far"
    rows.append(panes.heading(head, width, glyphs))
    rows += panes.steps(last, width, room - len(rows), glyphs)
    return rows[:room]


# One column -------------------------------------------------------------------------------------------


def _one_column(state: BenchState, width: int, height: int, glyphs: Glyphs) -> Picture:
    inner = width - 2
    below = _foot(state, inner, 2 if height >= 20 else 1)
    ruled = height >= 16
    room = height - 1 - len(below) - (2 if ruled else 0)
    least_extra = sum((bool(state.ranking), bool(state.picture), True)) + (3 if height >= 18 else 0)
    question = _question(state, inner, room, glyphs, least_extra, height >= 16)
    rows: list[Line] = list(question.rows)
    left = room - len(rows)
    if left >= 5:
        rows.append(())
        left -= 1
    rows += _extras(state, inner, left, glyphs)
    rows += [()] * (room - len(rows))
    rule: Line = (("rule", glyphs.rule * width),)
    body = [(("", " "), *row) for row in rows]
    if ruled:
        body = [rule, *body, rule]
    screen = [top_row(state, width, glyphs), *body, *[(("", " "), *row) for row in below]]
    return _picture(screen, question.cursor, (1, 2 if ruled else 1), width, height)


def _extras(state: BenchState, width: int, room: int, glyphs: Glyphs) -> list[Line]:
    """Fill what the question left: the way and the picture in a row each, the ranking with the rest."""
    if room < 1:
        return []
    tail: list[Line] = [panes.one_line_way(state.way, width, glyphs)]
    if room >= 3 and state.picture:
        tail.insert(0, panes.one_line_picture(state.picture, width, glyphs))
    if room == 2 and not state.ranking and state.picture:
        tail.insert(0, panes.one_line_picture(state.picture, width, glyphs))
    left = room - len(tail)
    if left < 1 or not state.ranking:
        return tail
    if room >= 10 and left >= 6:
        ranked = [
            panes.heading("What it may be", width, glyphs),
            *panes.ranking(state.ranking, width, left - 3, glyphs),
            (),
        ]
    else:
        ranked = panes.ranking(state.ranking, width, left, glyphs)
    return [*ranked, *tail]


# The question -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Question:
    rows: list[Line]
    cursor: tuple[int, int]


def _question(
    state: BenchState, width: int, room: int, glyphs: Glyphs, keep: int = 0, heads: bool = True
) -> _Question:
    """Lay the question out: the answers take their room first, then caution and how-to, then blanks.

    A caution always keeps one row: people can be hurt, and an answer that has no room is counted. ``keep``
    rows are left free for the ranking, the picture and the way as long as no answer suffers. Advice is new and
    the how-to is not, so the how-to makes room for it: ``i`` shows all of it.
    """
    asked = [line(row, "question") for row in wrap(state.question, width)]
    most = max(room - 3, 1)
    if len(asked) > min(4, most):
        asked = [*asked[: min(4, most) - 1], line("(goes on: press i)", "more")]
    full = panes.answers(state.answers, state.selected, width, 10_000, glyphs)
    searching = _search_row(state, width, glyphs)
    free = room - len(asked) - len(full.rows) - len(searching)
    head = _complaint(state, width, free - keep, glyphs) if heads and free > 0 else []
    free -= len(head)
    caution = panes.cautions(state.caution, width)
    how = panes.instructions(state.how, width)
    advice = panes.advice(state.advice, width)
    aside = [line(row, "quiet") for row in wrap(state.aside, width)] if state.aside else []
    free = max(free, 0)
    spare = max(free - keep, 0)
    caution = _some_of(caution, max(1, min(spare, len(caution))), "caution", width)
    free = max(free - len(caution), 0)
    spare = max(free - keep, 0)
    spare = max(spare - min(len(advice) + 1, ADVICE_ROWS), 0) if advice else spare
    how = _some_of(how, max(min(free, 1), min(spare, len(how))), "how", width)
    if state.how and not how and len(asked[-1]) == 1:
        asked[-1] = _with_sign(asked[-1], " (how: i)", width)
    spare = max(spare - len(how), 0)
    if spare >= len(aside):
        spare -= len(aside)
    else:
        aside = []
    between: dict[str, list[Line]] = {}
    for gap, wanted in (("answers", True), ("how", bool(how or caution)), ("head", bool(head))):
        between[gap] = [()] if spare > 0 and wanted else []
        spare -= len(between[gap])
    rows: list[Line] = [*head, *between["head"], *asked, *between["how"], *caution, *how, *aside]
    rows += [*between["answers"], *searching]
    room_for_advice = max(len(advice) + 1 - ADVICE_ROWS, 0) if advice else 0
    loose = spare - room_for_advice >= len(state.answers) - 1
    block = panes.answers(state.answers, state.selected, width, max(room - len(rows), 1), glyphs, loose)
    column, row = block.cursor
    if state.searching is not None:
        cursor = (min(2 + cells(state.searching), width - 1), len(rows) - 1)
    else:
        cursor = (column, row + len(rows))
    rows += block.rows
    left = room - len(rows)
    if advice and left >= 2 and block.whole:
        rows += [(), *_some_of(advice, left - 1, "advice", width, "x")]
    return _Question(rows, cursor)


def _complaint(state: BenchState, width: int, room: int, glyphs: Glyphs) -> list[Line]:
    """Say whose question it is, where the top row names the machine: in two rows if the how-to fits too."""
    if not state.complaint or not state.label:
        return []
    texts = panes.capped(state.complaint, width, 2, glyphs)
    under = len(panes.instructions(state.how, width)) + len(panes.cautions(state.caution, width))
    if len(texts) > 1 and room < under + len(texts):
        texts = [shorten(state.complaint, width, glyphs.more)]
    return [line(text, "complaint") for text in texts]


def _with_sign(row: Line, sign: str, width: int) -> Line:
    """Say at the end of a row that there is more to read, if that fits."""
    text = "".join(part for _, part in row)
    return (*row, ("more", sign)) if cells(text) + cells(sign) <= width else row


def _search_row(state: BenchState, width: int, glyphs: Glyphs) -> list[Line]:
    if state.searching is None:
        return []
    return [(("key", "/ "), ("field", shorten(state.searching, max(width - 4, 1), glyphs.more) + " "))]


def _some_of(rows: list[Line], room: int, style: str, width: int, key: str = "i") -> list[Line]:
    """Show as many rows as there is room for; the last one says that there is more."""
    if len(rows) <= room:
        return rows
    if room < 1:
        return []
    sign = f" (more: {key})"
    text = shorten("".join(part for _, part in rows[room - 1]), width - len(sign), "")
    return [*rows[: room - 1], ((style, text), ("more", sign))]


def _picture(
    rows: list[Line], cursor: tuple[int, int], offset: tuple[int, int], width: int, height: int
) -> Picture:
    """Make all rows exactly as wide as the window."""
    full = [fill(row, width, "") for row in rows[:height]]
    column, row = cursor[0] + offset[0], cursor[1] + offset[1]
    return Picture(tuple(full), (min(column, width - 1), min(row, height - 1)))
