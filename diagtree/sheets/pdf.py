"""Sets a paper as PDF: tagged, its text selectable, its font embedded, the same bytes for the same case."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace

from diagtree.clean import clean
from diagtree.sheets.blocks import Block, Warn, with_texts
from diagtree.sheets.letters import printable
from diagtree.sheets.paper import Paper
from diagtree.sheets.typeset import typeset


def write_pdf(paper: Paper) -> bytes:
    """Set a paper as PDF.

    Parameters
    ----------
    paper
        What to set.

    Returns
    -------
    bytes
        A4 pages, PDF/UA-1. Letters that the font lacks are shown by their number.

    Raises
    ------
    TypesetError
        If it cannot be set.
    """
    paper = with_texts(paper, lambda text: printable(clean(text, keep_newlines=True)))
    data = {
        "title": paper.title,
        "subtitle": paper.subtitle,
        "trees": paper.trees,
        "head": _plain_block(paper.head),
        "warnings": [_plain_block(warning) for warning in paper.warnings],
        "sections": [
            {
                "title": section.title,
                "new-page": section.new_page,
                "whole": section.whole,
                "blocks": [_plain_block(block) for block in section.blocks],
            }
            for section in paper.sections
        ],
    }
    return typeset(("paper.typ",), data, paper.date)


def _plain_block(block: Block) -> dict[str, object]:
    if isinstance(block, Warn):
        # Made capital here: of some letters the font has the small one alone.
        block = replace(block, word=printable(block.word.upper()))
    return {"block": type(block).__name__, **_fields(block)}


def _fields(value: object) -> dict[str, object]:
    if not is_dataclass(value) or isinstance(value, type):
        raise TypeError(f"{type(value).__name__} is no block")
    return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}


def _plain(value: object) -> object:
    if isinstance(value, (tuple, list)):
        return [_plain(item) for item in value]
    return _fields(value) if is_dataclass(value) and not isinstance(value, type) else value
