"""The model of a drawing: what a symptom tree looks like on paper, before anything is laid out."""

from __future__ import annotations

import enum
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from diagtree.clean import clean
from diagtree.library.library import Library
from diagtree.model.tree import Answer, Check, Tree


class Kind(enum.Enum):
    """What a box is. Each kind has a shape, a line weight and a word of its own."""

    START = "start"
    QUESTION = "question"
    MEASUREMENT = "measurement"
    FINDING = "finding"
    STOP = "stop"

    @property
    def word(self) -> str:
        """The word that is printed in the box."""
        return {"start": "Complaint", "stop": "Stop"}.get(self.value, self.value.capitalize())


@dataclass(frozen=True, slots=True)
class Likely:
    """A cause in a finding: how many of 100 machines with this complaint, its title and what puts it right."""

    cause: str
    count: Decimal
    title: str
    remedies: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """One box of a drawing.

    Parameters
    ----------
    name
        Safe as an identifier everywhere: ``check-lamp``, ``finding-lamp-no``.
    kind
        What it is.
    number
        Questions and measurements are numbered together, findings and stops together; 0 for the start.
    title
        The question, the complaint, or what to stop for. Empty for a plain finding.
    minutes
        What the check takes, None for what is not a check.
    cautions
        What can hurt.
    likely
        The causes of a finding, likeliest first.
    also
        Further lines, for example what the complaint is also called.
    more
        True for the second half of a check that had too many answers for one sheet.
    """

    name: str
    kind: Kind
    number: int
    title: str
    minutes: Decimal | None = None
    cautions: tuple[str, ...] = ()
    likely: tuple[Likely, ...] = ()
    also: tuple[str, ...] = ()
    more: bool = False

    @property
    def heading(self) -> str:
        """The word of the kind with the number: ``Question 3``."""
        text = f"{self.kind.word} {self.number}" if self.number else self.kind.word
        return f"{text}, more answers" if self.more else text


@dataclass(frozen=True, slots=True)
class Line:
    """An answer: from a check to what follows."""

    tail: str
    head: str
    says: str
    caution: tuple[str, ...] = ()
    share: float | None = None
    """How many of 100 machines with this complaint go this way."""
    marked: bool = False
    """True if a case went this way."""
    room: float = 0.0
    """Least width of its words on paper, points in letters of 10 points: room to write in."""

    @property
    def figure(self) -> str:
        """Its share in words; a way that is possible is never called 0 of 100, and without a share nothing is said."""
        if self.share is None:
            return ""
        return "under 1 of 100" if self.share and not round(self.share) else f"{self.share:.0f} of 100"


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing of one tree."""

    symptom: str
    title: str
    family: str
    version: str
    identity: str
    machines: str
    basis: str
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    note: str = ""
    """What a variant shows, in a sentence."""
    out_of: str = "that come in with the complaint"
    """Of which 100 machines a finding's figures tell."""

    def box(self, name: str) -> Box:
        """Return the box of that name."""
        return next(box for box in self.boxes if box.name == name)

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """The kinds of box that are on it, in the order of `Kind`: what its legend explains."""
        present = {box.kind for box in self.boxes}
        return tuple(kind for kind in Kind if kind in present)


@dataclass(frozen=True, slots=True)
class Shown:
    """What a drawing shows beside the plain tree.

    Parameters
    ----------
    remedies
        True to name the remedies under each cause.
    shares
        For each (check, answer): how many of 100 machines with this complaint go that way; line widths
        follow. Empty for a plain drawing.
    way
        The (check, answer) pairs of one case, to be marked.
    note
        A sentence that says what is shown, for the drawing's foot.
    """

    remedies: bool = False
    shares: Mapping[tuple[str, str], float] = field(default_factory=dict)
    way: frozenset[tuple[str, str]] = frozenset()
    note: str = ""


PLAIN = Shown()


def drawing_of(library: Library, symptom: str, shown: Shown = PLAIN) -> Drawing:
    """Make the drawing of a symptom's tree.

    Parameters
    ----------
    library
        Everything that is known.
    symptom
        The complaint.
    shown
        What to show beside the plain tree.

    Returns
    -------
    Drawing
        Each check, answer and finding of the tree is on it exactly once.

    Raises
    ------
    UnknownNameError
        If there is no such symptom.

    Examples
    --------
    >>> from diagtree.library.library import join
    >>> from diagtree.model.tree import Tree
    >>> tree = Tree.model_validate({"symptom": "dead", "title": "It is dead", "family": "kettle",
    ...     "first": "lamp", "checks": {"lamp": {"ask": "Is the lamp on?", "minutes": 1, "answers": {
    ...         "no": {"says": "No", "found": {"fuse": 60}},
    ...         "yes": {"says": "Yes", "found": {"element": 40}}}}}})
    >>> drawing = drawing_of(join(trees=[tree]), "dead")
    >>> [box.heading for box in drawing.boxes]
    ['Complaint', 'Question 1', 'Finding 1', 'Finding 2']
    """
    tree = library.tree(symptom)
    boxes = [
        Box(
            "start",
            Kind.START,
            0,
            _text(tree.title),
            cautions=_texts(tree.caution),
            also=(f"Also called: {', '.join(map(_text, tree.also_called))}.",) if tree.also_called else (),
        )
    ]
    lines = [Line("start", check_box(tree.first), "")]
    findings = 0
    for number, (name, check) in enumerate(_in_order(tree), 1):
        boxes.append(box_of_check(check_box(name), check, number))
        for answer_name, answer in check.answers.items():
            key = (name, answer_name)
            if answer.next is not None:
                head = check_box(answer.next)
            else:
                findings += 1
                head = finding_box(name, answer_name)
                boxes.append(_of_finding(library, head, answer, findings, shown.remedies))
            lines.append(
                Line(
                    check_box(name),
                    head,
                    says_of(library, check, answer),
                    _texts(answer.caution),
                    shown.shares.get(key) if shown.shares else None,
                    key in shown.way,
                )
            )
    return Drawing(
        symptom=symptom,
        title=_text(tree.title),
        family=_text(library.families[tree.family].title) if tree.family in library.families else tree.family,
        version=_text(tree.version),
        identity=library.identity(symptom),
        machines=_text(library.machine.many),
        basis=_text(tree.basis),
        boxes=tuple(boxes),
        lines=tuple(lines),
        note=shown.note,
    )


def check_box(check: str) -> str:
    """The name of a check's box."""
    return f"check-{check}"


def finding_box(check: str, answer: str) -> str:
    """The name of the box that an answer's finding is in."""
    return f"finding-{check}-{answer}"


def _text(text: str) -> str:
    return clean(text, keep_newlines=True)


def says_of(library: Library, check: Check, answer: Answer) -> str:
    """The answer, with the band of values that it covers where something is measured."""
    reading = library.readings.get(check.reading or "") or library.plain_readings.get(check.reading or "")
    unit = f" {_text(reading.unit)}" if reading is not None else ""
    if answer.from_ is not None and answer.below is not None:
        band = f" ({answer.from_} to under {answer.below}{unit})"
    elif answer.below is not None:
        band = f" (under {answer.below}{unit})"
    elif answer.from_ is not None:
        band = f" ({answer.from_}{unit} or more)"
    else:
        band = ""
    says = _text(answer.says)
    return says if _tells(says, answer, unit.strip()) else says + band


def _tells(says: str, answer: Answer, unit: str) -> bool:
    """True if an answer's own words name the limits of its band already: "20 mm or more, too slack"."""
    limits = [limit for limit in (answer.from_, answer.below) if limit is not None]
    named = all(re.search(rf"(?<![\d.,]){re.escape(str(limit))}(?!\d|[.,]\d)", says) for limit in limits)
    return bool(limits) and named and unit in says


def _texts(texts: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(_text(text) for text in texts)


def _in_order(tree: Tree) -> Iterator[tuple[str, Check]]:
    """Give the checks as somebody reads the drawing: level by level, unreachable ones last."""
    seen: dict[str, None] = {}
    level = [tree.first]
    while level:
        level = [name for name in dict.fromkeys(level) if name in tree.checks and name not in seen]
        seen |= dict.fromkeys(level)
        level = [a.next for name in level for a in tree.checks[name].answers.values() if a.next is not None]
    for name in [*seen, *(name for name in tree.checks if name not in seen)]:
        yield name, tree.checks[name]


def box_of_check(box: str, check: Check, number: int) -> Box:
    """Make the box of a check."""
    return Box(
        box,
        Kind.QUESTION if check.reading is None else Kind.MEASUREMENT,
        number,
        _text(check.ask),
        minutes=check.minutes,
        cautions=_texts(check.caution),
    )


def _of_finding(library: Library, box: str, answer: Answer, number: int, remedies: bool) -> Box:
    likely = sorted((answer.found or {}).items(), key=lambda item: -item[1])
    return Box(
        box,
        Kind.FINDING if answer.stop is None else Kind.STOP,
        number,
        _text(answer.stop or ""),
        likely=tuple(Likely(cause, count, *titles_of(library, cause, remedies)) for cause, count in likely),
    )


def titles_of(library: Library, name: str, remedies: bool) -> tuple[str, tuple[str, ...]]:
    """Tell the title of a cause, and those of its remedies if they are wanted."""
    cause = library.causes.get(name)
    if cause is None:
        return _text(name), ()
    wanted = cause.remedies if remedies else ()
    return _text(cause.title), tuple(
        _text(library.remedies[remedy].title) for remedy in wanted if remedy in library.remedies
    )
