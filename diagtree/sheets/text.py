"""Sets a paper as plain text, 80 columns wide, for a terminal or a plain printer."""

from __future__ import annotations

from collections.abc import Sequence
from functools import singledispatch

from diagtree.clean import clean
from diagtree.lines import cells, pad, wrap
from diagtree.sheets.blocks import (
    Blanks,
    Block,
    Chances,
    Column,
    Facts,
    Items,
    Steps,
    Table,
    Warn,
    Words,
    with_texts,
)
from diagtree.sheets.paper import Paper

WIDTH = 80
GAP = 2
"""Spaces between the columns of a table."""


def to_text(paper: Paper) -> str:
    """Set a paper as plain text.

    Parameters
    ----------
    paper
        What to set.

    Returns
    -------
    str
        Lines of at most `WIDTH` cells. No letter in it steers a terminal.
    """
    paper = with_texts(paper, lambda text: clean(text, keep_newlines=True))
    lines = [paper.title.upper(), *wrap(paper.subtitle, WIDTH), "=" * WIDTH, ""]
    for warning in paper.warnings:
        lines += [*_set(warning), ""]
    lines += [*_set(paper.head), ""]
    for section in paper.sections:
        if section.new_page:
            lines.append("\f")  # a printer goes on at the head of the next page
        lines += [*wrap(section.title.upper(), WIDTH), "-" * WIDTH]
        for block in section.blocks:
            lines += [*_set(block), ""]
    lines += ["-" * WIDTH, *wrap(paper.trees, WIDTH)]
    return "\n".join(line.rstrip(" ") for line in lines) + "\n"


def write_text(paper: Paper) -> bytes:
    """Return the text form as UTF-8."""
    return to_text(paper).encode("utf-8")


@singledispatch
def _set(block: Block) -> list[str]:
    raise TypeError(f"a {type(block).__name__} is no block")


@_set.register
def _warn(block: Warn) -> list[str]:
    inner = WIDTH - 6
    body = [line for text in block.texts for line in _hang("! ", wrap(text, inner - 2))]
    head = f" {block.word.upper()} "
    return [
        f"+-{head}{'-' * (WIDTH - 3 - cells(head))}+",
        *(f"|  {pad(line, inner)}  |" for line in body),
        f"+{'-' * (WIDTH - 2)}+",
    ]


@_set.register
def _words(block: Words) -> list[str]:
    return wrap(block.text, WIDTH)


@_set.register
def _facts(block: Facts) -> list[str]:
    width = min(28, max((cells(word) for word, _ in block.pairs), default=0) + 1)
    return [
        line
        for word, text in block.pairs
        for line in _hang(pad(f"{word}:", width + 1), wrap(text, WIDTH - width - 1))
    ]


@_set.register
def _items(block: Items) -> list[str]:
    lines = []
    for place, text in enumerate(block.texts):
        ticked = place < len(block.ticked) and block.ticked[place]
        head = ("[x] " if ticked else "[ ] ") if block.boxes else "- "
        lines += _hang(head, wrap(text, WIDTH - len(head)))
    return lines


@_set.register
def _chances(block: Chances) -> list[str]:
    bar, figure = 20, 11
    room = WIDTH - bar - figure - 4
    lines = wrap(block.title, WIDTH)
    for line in block.lines:
        first, *rest = wrap(line.title, room)
        full = round(line.chance * bar)
        lines.append(
            f"  {pad(first, room)} {pad(line.note, figure, right=True)} {'#' * full}{'.' * (bar - full)}"
        )
        lines += [f"  {more}" for more in rest]
    return lines


@_set.register
def _steps(block: Steps) -> list[str]:
    lines: list[str] = []
    for step in block.steps:
        box = "[x]" if step.done else "[ ]"
        head = f"{box} {step.number}. "
        under = " " * len(head)
        said = f"{step.aside} · done {step.done}" if step.done else step.aside
        short = f"{step.title} · {said}"
        if "\n" not in short and cells(head + short) <= WIDTH:
            # Both on one line where there is room: the plan is a line shorter for each job.
            lines.append(head + short)
        else:
            lines += _hang(head, wrap(step.title, WIDTH - len(head)))
            lines += [under + line for line in wrap(said, WIDTH - len(under))]
        for text in step.warnings:
            lines += _hang(f"{under}! ", wrap(text, WIDTH - len(under) - 2))
        for text in step.lines:
            lines += _hang(f"{under}- ", wrap(text, WIDTH - len(under) - 2))
    return lines


@_set.register
def _blanks(block: Blanks) -> list[str]:
    width = max(cells(word) for word, _ in block.pairs) + 2
    return [f"{pad(word + ':', width)}{text or '_' * (WIDTH - 20 - width)}" for word, text in block.pairs]


@_set.register
def _table(block: Table) -> list[str]:
    widths = column_widths(block, WIDTH)
    lines = []
    if any(column.title for column in block.columns):
        lines += _row([column.title for column in block.columns], widths, block.columns)
        lines.append(" ".join("-" * width + " " * (GAP - 1) for width in widths).rstrip())
    tall = False
    for place, row in enumerate(block.rows):
        if place == len(block.rows) - block.sums:
            lines.append("-" * (sum(widths) + GAP * (len(widths) - 1)))
        cell_lines = _row(list(row), widths, block.columns)
        # Rows of several lines run into one another without an empty line between them.
        if place and (tall or len(cell_lines) > 1) and not block.sums:
            lines.append("")
        tall = len(cell_lines) > 1
        lines += cell_lines
    return lines


def column_widths(table: Table, width: int) -> list[int]:
    """Divide a width among the columns of a table: what fits stays whole, the widest give way first.

    Examples
    --------
    >>> column_widths(Table((Column("A"), Column("B")), (("x" * 10, "word " * 20),)), 40)
    [10, 28]
    """
    natural, least = [], []
    for place, column in enumerate(table.columns):
        texts = [column.title, *(row[place] for row in table.rows)]
        natural.append(max([*(cells(line) for text in texts for line in text.split("\n")), 1]))
        least.append(min(14, max([*(cells(word) for text in texts for word in text.split()), 1])))
        if column.blank:
            natural[-1], least[-1] = max(natural[-1], 9), max(least[-1], 9)
    room = width - GAP * (len(natural) - 1)
    while sum(natural) > room:
        loose = [place for place, wide in enumerate(natural) if wide > least[place]]
        if not loose:
            loose = [place for place, wide in enumerate(natural) if wide > 2]
        widest = max(loose, key=lambda place: natural[place] / table.columns[place].share)
        natural[widest] -= 1
    return natural


def _row(texts: Sequence[str], widths: Sequence[int], columns: Sequence[Column]) -> list[str]:
    wrapped = [wrap(text, width) for text, width in zip(texts, widths, strict=True)]
    height = max(len(lines) for lines in wrapped)
    return [
        (" " * GAP).join(
            pad(lines[place] if place < len(lines) else "", width, right=column.right)
            for lines, width, column in zip(wrapped, widths, columns, strict=True)
        )
        for place in range(height)
    ]


def _hang(head: str, lines: Sequence[str]) -> list[str]:
    return [head + lines[0], *(" " * cells(head) + line for line in lines[1:])]
