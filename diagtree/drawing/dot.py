"""A drawing in the dot language. Authors' texts enter only through `html.escape`, names are made here."""

from __future__ import annotations

import html
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagtree.drawing.diagram import Box, Drawing, Kind, Line
from diagtree.lines import cells, wrap
from diagtree.units import plain

if TYPE_CHECKING:
    import graphviz

FONT = "Arial"
"""The layout program knows its widths. Liberation Sans, Arimo and Helvetica have the same ones."""

TEXT_WIDTH = 34
"""Cells in a line of a box."""

COMPLAINT_WIDTH = 60
"""The same for the complaint, which stands alone and has much to say."""


@dataclass(frozen=True, slots=True)
class Look:
    """How a kind is drawn; colours only help, shape, weight and word tell."""

    shape: str
    weight: float
    fill: str
    style: str = "filled"
    peripheries: int = 1
    skew: float = 0.0
    symbol: str = ""
    """What the shape stands for in ISO 5807:1985, if anything."""


LOOKS = {
    Kind.START: Look("box", 1.0, "#ffffff", "rounded,filled", symbol="terminator"),
    # The decision of ISO 5807 is a lozenge; its points are kept, its sides drawn flat so that a sentence fits.
    Kind.QUESTION: Look("hexagon", 1.2, "#ffffff", symbol="decision, drawn flat"),
    Kind.MEASUREMENT: Look("polygon", 1.2, "#eaf1f8", "filled,dashed", skew=0.22, symbol="data"),
    Kind.FINDING: Look("box", 2.6, "#eff5ec", symbol="process: the work that follows"),
    Kind.STOP: Look("octagon", 2.0, "#fbeae7", peripheries=2),
}


def to_dot(drawing: Drawing) -> graphviz.Digraph:
    """Put a drawing into the dot language.

    Parameters
    ----------
    drawing
        What to draw.

    Returns
    -------
    graphviz.Digraph
        The graph; its ``source`` is the same for the same drawing, letter for letter.
    """
    import graphviz

    graph = graphviz.Digraph(name="tree", encoding="utf-8")
    graph.attr(
        "graph",
        label=_title(drawing),
        labelloc="t",
        labeljust="l",
        fontname=FONT,
        fontsize="11",
        rankdir="TB",
        ranksep="0.42",
        nodesep="0.28",
        pad="0.25",
        bgcolor="white",
    )
    graph.attr("node", fontname=FONT, fontsize="11", margin="0.06,0.04", color="black", fontcolor="black")
    graph.attr("edge", fontname=FONT, fontsize="10", arrowsize="0.75", color="black", fontcolor="black")
    for box in drawing.boxes:
        graph.node(box.name, **box_attributes(box))
    for number, line in enumerate(drawing.lines):
        graph.edge(line.tail, line.head, **line_attributes(line, number))
    with graph.subgraph(name="cluster_legend") as legend:
        _legend(legend, drawing)
    return graph


def box_attributes(box: Box) -> dict[str, str]:
    """Return the attributes of a box's node."""
    return _shape(box.kind) | {"id": box.name, "label": _box_label(box), "tooltip": " "}


def line_attributes(line: Line, number: int) -> dict[str, str]:
    """Return the attributes of an answer's edge."""
    attributes = {"id": f"answer-{number}", "class": "answer", "tooltip": " ", "labeltooltip": " "}
    if line.says:
        # A space before and after keeps the words off the line.
        rows = [_row(f" {text} ", size=10) for text in wrap(line.says, 22)]
        rows += [
            _row(f" {text} ", bold=True, size=10)
            for caution in line.caution
            for text in wrap(f"Caution: {caution}", 22)
        ]
        if line.share is not None:
            rows.append(_row(f" {line.figure} ", size=9))
        attributes["label"] = _table(rows)
    width = 0.9 if line.share is None else 0.5 + line.share / 25
    if line.marked:
        attributes |= {"style": "bold", "class": "answer marked", "arrowhead": "normalnormal"}
        width = max(width, 3.2)
    attributes["penwidth"] = f"{width:.2f}"
    return attributes


def _shape(kind: Kind) -> dict[str, str]:
    look = LOOKS[kind]
    return {
        "shape": look.shape,
        "penwidth": f"{look.weight}",
        "style": look.style,
        "fillcolor": look.fill,
        "peripheries": str(look.peripheries),
        "skew": f"{look.skew}",
        "class": kind.value,
    }


def _box_label(box: Box) -> str:
    head = box.heading if box.minutes is None else f"{box.heading} · {plain(box.minutes)} min"
    width = COMPLAINT_WIDTH if box.kind is Kind.START else TEXT_WIDTH
    loud = box.kind in {Kind.START, Kind.STOP}
    rows = [_row(head.upper() if box.kind is Kind.STOP else head, small=True, bold=box.kind is Kind.STOP)]
    rows += [_row(line, bold=loud) for line in _lines(box.title, width)]
    rows += [_row(line, small=True) for also in box.also for line in _lines(also, width)]
    rows += [
        _row(line, bold=True) for caution in box.cautions for line in _lines(f"Caution: {caution}", width)
    ]
    for likely in box.likely:
        rows += [_row(line) for line in _hanging(f"{plain(likely.count)} ", likely.title)]
        for remedy in likely.remedies:
            rows += [_row(line, small=True) for line in _hanging("– ", remedy, indent=4)]
    return _table(rows)


def _hanging(head: str, text: str, indent: int = 0) -> list[str]:
    """Break a text behind a head; the lines that follow stand under its first letter."""
    # In the drawing's letters a figure or a dash is as wide as two spaces, a point as wide as one.
    under = " " * (indent + sum(2 if letter.isalnum() or letter == "–" else 1 for letter in head))
    lines = wrap(text, TEXT_WIDTH - len(under) // 2)
    return [f"{' ' * indent}{head}{lines[0]}", *(under + line for line in lines[1:])]


def _lines(text: str, width: int) -> list[str]:
    return wrap(text, width) if text else []


def _row(text: str, *, bold: bool = False, small: bool = False, size: int = 11) -> str:
    if small:
        size = 9
    words = _escape(text) or " "
    if bold:
        words = f"<B>{words}</B>"
    if size != 11:
        words = f'<FONT POINT-SIZE="{size}">{words}</FONT>'
    return f'<TR><TD ALIGN="LEFT"{_width(text, size)}>{words}</TD></TR>'


def _width(text: str, size: int) -> str:
    # The layout program takes a letter outside ASCII for as wide as a space; this makes room for it.
    return "" if text.isascii() else f' WIDTH="{cells(text) * size * 0.56:.0f}"'


def _escape(text: str) -> str:
    # html.escape is not all: "\\G" would become the name of the graph even in an HTML label.
    return html.escape(text, quote=True).replace("\\", "&#92;&#92;")


def _table(rows: list[str]) -> str:
    return f'<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="1">{"".join(rows)}</TABLE>>'


def _title(drawing: Drawing) -> str:
    rows = [
        f'<TR><TD ALIGN="LEFT"><FONT POINT-SIZE="16"><B>{_escape(drawing.title)}</B></FONT></TD></TR>',
        f'<TR><TD ALIGN="LEFT"><FONT POINT-SIZE="9">{_escape(_identity(drawing))}</FONT></TD></TR>',
    ]
    if drawing.note:
        rows.append(f'<TR><TD ALIGN="LEFT"><FONT POINT-SIZE="10">{_escape(drawing.note)}</FONT></TD></TR>')
    return _table(rows)


def _identity(drawing: Drawing) -> str:
    return (
        f"{drawing.family} · tree {drawing.symptom}, version {drawing.version}, "
        f"identity {drawing.identity} · figures: {drawing.basis}"
    )


def _legend(legend: graphviz.Digraph, drawing: Drawing) -> None:
    legend.attr(
        label=_table([_row("How to read it", bold=True, small=True)]),
        labeljust="l",
        color="#808080",
        style="rounded",
        penwidth="0.7",
        margin="10",
    )
    explains = {
        Kind.START: "the complaint; begin here",
        Kind.QUESTION: "look, feel or listen; minutes it takes",
        Kind.MEASUREMENT: "measure; minutes it takes",
        Kind.FINDING: f"causes, with how many of 100 {drawing.machines} {drawing.out_of}",
        Kind.STOP: "stop work and do what it says",
    }
    above = ""
    for kind in drawing.kinds:
        name = f"legend-{kind.value}"
        rows = [_row(kind.word, small=True, bold=True)]
        rows += [_row(text, small=True) for text in wrap(explains[kind], 30)]
        attributes = _shape(kind) | {"class": f"legend {kind.value}", "id": name, "tooltip": " "}
        legend.node(name, label=_table(rows), **attributes)
        if above:
            legend.edge(above, name, style="invis")
        above = name
