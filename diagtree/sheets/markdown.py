"""Sets a paper as Markdown (CommonMark with tables); no text in it can act as markup."""

from __future__ import annotations

import re
from functools import singledispatch

from diagtree.clean import clean
from diagtree.sheets.blocks import Blanks, Block, Chances, Facts, Items, Steps, Table, Warn, Words, with_texts
from diagtree.sheets.paper import Paper

_ACTS = re.compile(r"([\\`*_{}\[\]<>&|~$@^=!]|:(?=//)|(?<=www)\.)", re.IGNORECASE)
_ACTS_AT_THE_START = re.compile(r"^(\s*)([#+\-:]|\d+(?=[.)](?:\s|$)))")


def escape(text: str) -> str:
    r"""Make a text stand for itself in Markdown; a line end becomes a space.

    Examples
    --------
    >>> print(escape("*not bold* <b> [link](x) 5 | 6"))
    \*not bold\* \<b\> \[link\](x) 5 \| 6
    >>> print(escape("1. no list"), escape("# no heading"))
    1\. no list \# no heading
    """
    text = _ACTS.sub(r"\\\1", clean(text))
    match = _ACTS_AT_THE_START.match(text)
    if match is None:
        return text.strip()
    head = match[2]
    marked = f"{head}\\{text[match.end()]}" if head[0].isdigit() else f"\\{head}"
    return marked + text[match.end() + (1 if head[0].isdigit() else 0) :].rstrip()


def _cell(text: str) -> str:
    return "<br>".join(escape(line) for line in text.split("\n"))


def to_markdown(paper: Paper) -> str:
    """Set a paper as Markdown.

    Parameters
    ----------
    paper
        What to set.

    Returns
    -------
    str
        Texts come out as written, or with what steers made visible.
    """
    paper = with_texts(paper, lambda text: clean(text, keep_newlines=True))
    parts = [f"# {escape(paper.title)}", escape(paper.subtitle)]
    parts += [_set(warning) for warning in paper.warnings]
    parts.append(_set(paper.head))
    for section in paper.sections:
        if section.new_page:
            parts.append("---")
        parts.append(f"## {escape(section.title)}")
        parts += [_set(block) for block in section.blocks]
    parts += ["---", escape(paper.trees)]
    return "\n\n".join(part for part in parts if part) + "\n"


def write_markdown(paper: Paper) -> bytes:
    """Return the Markdown form as UTF-8."""
    return to_markdown(paper).encode("utf-8")


@singledispatch
def _set(block: Block) -> str:
    raise TypeError(f"a {type(block).__name__} is no block")


@_set.register
def _warn(block: Warn) -> str:
    return "\n".join([f"> **{escape(block.word)}**", ">", *(f"> - {escape(text)}" for text in block.texts)])


@_set.register
def _words(block: Words) -> str:
    text = escape(block.text)
    return f"**{text}**" if block.strong and text else text


@_set.register
def _facts(block: Facts) -> str:
    return "\n".join(f"- {escape(word)}: {_cell(text)}" for word, text in block.pairs)


@_set.register
def _items(block: Items) -> str:
    lines = []
    for place, text in enumerate(block.texts):
        ticked = place < len(block.ticked) and block.ticked[place]
        box = ("[x] " if ticked else "[ ] ") if block.boxes else ""
        lines.append(f"- {box}{escape(text)}")
    return "\n".join(lines)


@_set.register
def _chances(block: Chances) -> str:
    rows = "\n".join(f"| {_cell(line.title)} | {escape(line.note)} |" for line in block.lines)
    return f"| {_cell(block.title)} | Chance |\n| --- | ---: |\n{rows}"


@_set.register
def _table(block: Table) -> str:
    head = " | ".join(_cell(column.title) for column in block.columns)
    rule = " | ".join("---:" if column.right else "---" for column in block.columns)
    lines = [f"| {head} |", f"| {rule} |"]
    for place, row in enumerate(block.rows):
        strong = place >= len(block.rows) - block.sums
        texts = [_cell(text) for text in row]
        if strong:
            texts = [f"**{text}**" if text else "" for text in texts]
        lines.append(f"| {' | '.join(texts)} |")
    return "\n".join(lines)


@_set.register
def _steps(block: Steps) -> str:
    lines: list[str] = []
    for step in block.steps:
        lines.append(f"- [{'x' if step.done else ' '}] **{step.number}. {escape(step.title)}**")
        aside = f"{step.aside} · done {step.done}" if step.done else step.aside
        lines.append(f"  <br>{escape(aside)}")
        lines += [f"  - **Caution: {escape(text)}**" for text in step.warnings]
        lines += [f"  - {escape(text)}" for text in step.lines]
    return "\n".join(lines)


@_set.register
def _blanks(block: Blanks) -> str:
    return "\n".join(
        f"- {escape(word)}: {escape(text)} \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_" for word, text in block.pairs
    )
