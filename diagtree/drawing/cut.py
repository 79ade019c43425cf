"""Cuts a drawing that is too large into sheets with one entry each, tied together by numbered connectors.

A box dominates another if every way from the start to it leads through it (Lengauer and Tarjan, "A fast
algorithm for finding dominators in a flowgraph", ACM TOPLAS 1(1):121-141, 1979). What one check dominates can
be taken out and put on a sheet of its own: the only way in is that check. Sheets are filled from the leaves
up, the largest branch going first (after Kundu and Misra, "A linear tree partitioning algorithm", SIAM J.
Comput. 6(1):151-154, 1977, who prove that this needs the fewest pieces where sizes add up).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from diagtree.drawing.diagram import Drawing, Kind, Line
from diagtree.errors import ExpectedError

Fits = Callable[[str, frozenset[str]], bool]
"""Tells whether the boxes of a sheet with this entry can be read when they are brought to the paper's size."""

OTHER = "Another answer"
"""What leads to the second half of a check whose answers are shared between two boxes."""


class TooLargeError(ExpectedError):
    """A check with its answers is too large for the paper.

    Parameters
    ----------
    box, title
        The check's box and its question.
    """

    def __init__(self, box: str, title: str) -> None:
        super().__init__(
            f"'{title}' and its answers do not fit on one sheet in letters of that size.",
            "Choose larger paper, a shorter distance, or --poster.",
        )
        self.box = box


@dataclass(frozen=True, slots=True)
class Piece:
    """What one sheet shows: the box by which it is entered, and all its boxes."""

    entry: str
    boxes: frozenset[str]


def dominated(drawing: Drawing) -> Mapping[str, tuple[str, ...]]:
    """For each box, the boxes that it dominates directly, in the drawing's order.

    Boxes that nothing leads to hang on the start.
    """
    import networkx

    start = drawing.boxes[0].name
    graph = networkx.DiGraph()
    graph.add_nodes_from(box.name for box in drawing.boxes)
    graph.add_edges_from((line.tail, line.head) for line in drawing.lines)
    reached = {start, *networkx.descendants(graph, start)}
    lost = [box.name for box in drawing.boxes if box.name not in reached]
    heads = {line.head for line in drawing.lines if line.tail not in reached}
    graph.add_edges_from((start, name) for name in lost if name not in heads)
    above = networkx.immediate_dominators(graph, start)
    children: dict[str, list[str]] = {box.name: [] for box in drawing.boxes}
    for box in drawing.boxes:
        parent = above.get(box.name)
        # Newer versions of networkx leave the start out, older ones let it dominate itself.
        if parent is not None and box.name != start:
            children[parent].append(box.name)
    return {name: tuple(below) for name, below in children.items()}


@dataclass(frozen=True, slots=True)
class _Option:
    """One way to deal with a branch: what stays with its check, and what goes on sheets of its own."""

    kept: frozenset[str]
    pieces: tuple[tuple[str, frozenset[str]], ...] = ()

    @property
    def worth(self) -> tuple[int, int]:
        return len(self.pieces), len(self.kept)


def cut(drawing: Drawing, fits: Fits, told: Callable[[int, int], None] | None = None) -> tuple[Piece, ...]:
    """Cut a drawing into sheets.

    Parameters
    ----------
    drawing
        What to cut.
    fits
        Whether a set of boxes can be read on one sheet.
    told
        Called with how many boxes have been dealt with, of how many.

    Returns
    -------
    tuple of Piece
        The first begins with the start; the others come in the order in which their entries are drawn.
        Every box is on exactly one, and answers lead from sheet to sheet only to an entry.

    Raises
    ------
    TooLargeError
        If a check with its answers alone does not fit.
    """
    start = drawing.boxes[0].name
    whole = frozenset(box.name for box in drawing.boxes)
    if fits(start, whole):
        return (Piece(start, whole),)
    children = dominated(drawing)
    ends = {box.name for box in drawing.boxes if box.kind in {Kind.FINDING, Kind.STOP}}
    # Many ways are followed in a small tree; in a large one only the best, for its layouts take time.
    breadth = max(1, min(6, 300 // len(whole)))
    options: dict[str, list[_Option]] = {}
    order = _leaves_first(children, start)
    for done, name in enumerate(order, 1):
        if name not in ends:
            ways = _combined(name, children[name], ends, options, breadth)
            options[name] = _readable(drawing, name, ways, fits, breadth)
        if told is not None:
            told(done, len(order))
    best = options[start][0]
    pieces = {start: best.kept, **dict(best.pieces)}
    return _in_order(drawing, _merged(drawing, children, pieces, fits))


def _combined(
    name: str,
    below: Sequence[str],
    ends: set[str],
    options: Mapping[str, list[_Option]],
    breadth: int,
) -> list[_Option]:
    """List ways to deal with a check and all that it dominates, fewest sheets first."""
    ways = [_Option(frozenset({name, *(one for one in below if one in ends)}))]
    for branch in below:
        if branch in ends:
            continue
        found = []
        for way in ways:
            for option in options[branch]:
                pieces = way.pieces + option.pieces
                found.append(_Option(way.kept | option.kept, pieces))
                found.append(_Option(way.kept, (*pieces, (branch, option.kept))))
        found.sort(key=lambda option: option.worth)
        # Of ways with as many sheets the one that leaves least behind is best, but it need not be allowed.
        counts: dict[int, int] = {}
        ways = []
        for option in found:
            number = counts.get(len(option.pieces), 0)
            if number < 4 * breadth:
                counts[len(option.pieces)] = number + 1
                ways.append(option)
    return sorted(ways, key=lambda option: (len(option.pieces), -len(option.kept)))


def _readable(
    drawing: Drawing, name: str, ways: Sequence[_Option], fits: Fits, breadth: int
) -> list[_Option]:
    """Choose the ways in which the check's own sheet can be read and is entered only at the check."""
    good: list[_Option] = []
    for way in ways:
        if len(good) >= 2 * breadth:
            break
        if good and len(way.pieces) > len(good[0].pieces) + 1:
            break
        if _one_entry(drawing, name, way) and fits(name, way.kept):
            good.append(way)
    if not good:
        raise TooLargeError(name, next(box.title for box in drawing.boxes if box.name == name))
    return good


def _one_entry(drawing: Drawing, name: str, way: _Option) -> bool:
    inner = way.kept - {name}
    entries = {entry for entry, _ in way.pieces}
    home = {box: entry for entry, boxes in way.pieces for box in boxes}
    for line in drawing.lines:
        tail = home.get(line.tail)
        if tail is not None and (
            line.head in inner or (home.get(line.head, tail) != tail and line.head not in entries)
        ):
            return False
        if line.tail in way.kept and line.head in home and line.head not in entries:
            return False
    return True


def halved(drawing: Drawing, name: str) -> Drawing:
    """Share the answers of a check between two boxes, one leading to the other.

    Parameters
    ----------
    drawing
        What to change.
    name
        The check's box.

    Returns
    -------
    Drawing
        With one box more, marked as the second half of that check.

    Raises
    ------
    TooLargeError
        If the check has fewer than three answers, the way on to a second half counted.
    """
    box = drawing.box(name)
    mine = [line for line in drawing.lines if line.tail == name]
    if len(mine) < 3:
        raise TooLargeError(name, box.title)
    # The way on to the second half is an answer too: of three, one stays.
    stay = mine[: len(mine) // 2]
    known = {one.name for one in drawing.boxes}
    other = next(text for number in range(1, 1000) if (text := f"{name}-more-{number}") not in known)
    lines = [
        replace(line, tail=other) if line in mine and line not in stay else line for line in drawing.lines
    ]
    last = max(place for place, line in enumerate(lines) if line.tail == name)
    lines.insert(last + 1, Line(name, other, OTHER))
    boxes = list(drawing.boxes)
    second = replace(box, name=other, more=True, minutes=None, cautions=())
    boxes.insert(boxes.index(box) + 1, second)
    return replace(drawing, boxes=tuple(boxes), lines=tuple(lines))


def _leaves_first(children: Mapping[str, Sequence[str]], start: str) -> list[str]:
    order, waiting = [], [start]
    while waiting:
        name = waiting.pop()
        order.append(name)
        waiting += children[name]
    return order[::-1]


def _merged(
    drawing: Drawing,
    children: Mapping[str, Sequence[str]],
    pieces: dict[str, frozenset[str]],
    fits: Fits,
) -> dict[str, frozenset[str]]:
    """Put sheets back into the one that leads to them where there is room after all, small ones first."""
    start = drawing.boxes[0].name
    above = {below: name for name, found in children.items() for below in found}
    tails: dict[str, set[str]] = {}
    for line in drawing.lines:
        tails.setdefault(line.head, set()).add(line.tail)
    again = True
    while again:
        again = False
        home = {box: entry for entry, boxes in pieces.items() for box in boxes}
        for entry in sorted(pieces, key=lambda name: (len(pieces[name]), name)):
            if entry == start:
                continue
            parent = home[above[entry]]
            both = pieces[parent] | pieces[entry]
            # A box that other sheets lead to as well must stay an entry.
            if tails.get(entry, set()) <= both and fits(parent, both):
                pieces[parent] = both
                del pieces[entry]
                again = True
                break
    return pieces


def _in_order(drawing: Drawing, pieces: Mapping[str, frozenset[str]]) -> tuple[Piece, ...]:
    return tuple(Piece(box.name, pieces[box.name]) for box in drawing.boxes if box.name in pieces)
