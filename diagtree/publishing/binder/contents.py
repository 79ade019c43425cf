"""What stands in the binder, in plain values for the typesetter."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from diagtree import __version__
from diagtree.clean import clean
from diagtree.drawing.diagram import Kind, drawing_of, finding_box
from diagtree.drawing.paged import legend_of, legend_of_connector, pages
from diagtree.drawing.printed import Press, Printed, Sheet
from diagtree.library.library import Library
from diagtree.publishing.binder.words import CONNECTOR, KINDS, how_to_use
from diagtree.publishing.entries import (
    RISKS,
    by_family,
    family_title,
    fastener_entry,
    fluid_entry,
    sorted_causes,
    sorted_glossary,
    title_of_fluid,
    trees_by_family,
)
from diagtree.publishing.looks import likelier, sides
from diagtree.sheets.blocks import with_texts
from diagtree.sheets.figures import Sources, first_up, number
from diagtree.sheets.letters import printable, text_width
from diagtree.sheets.typeset import typeset

TEMPLATES = ("strokes.typ", "binder.typ")
DISTANCE = "35cm"
"""A binder is read in the hand."""

Told = Callable[[int, int], None]


def binder_pdf(library: Library, paper: str = "a4", told: Told | None = None) -> bytes:
    """Set the binder of a library.

    Parameters
    ----------
    library
        What it tells; `only_trees` leaves out what is not wanted.
    paper
        ``a4`` or ``letter``.
    told
        Called with how many steps are done, of how many.

    Returns
    -------
    bytes
        A PDF, its font embedded, the same for the same library.

    Raises
    ------
    TypesetError
        If it cannot be set.
    """
    return typeset(TEMPLATES, contents(library, paper, told))


def only_trees(library: Library, symptoms: Sequence[str]) -> Library:
    """Leave out all trees but some; the rest stays.

    Raises
    ------
    UnknownNameError
        If there is no such tree; near names are listed.
    """
    from dataclasses import replace

    wanted = {symptom: library.tree(symptom) for symptom in symptoms}
    causes = {cause for symptom in wanted for cause in library.causes_of[symptom]}
    return replace(
        library,
        trees={symptom: tree for symptom, tree in library.trees.items() if symptom in wanted},
        causes={name: cause for name, cause in library.causes.items() if name in causes},
    )


def contents(library: Library, paper: str, told: Told | None = None) -> dict[str, Any]:
    """Gather what stands in the binder.

    Returns
    -------
    dict
        What the template prints: texts, numbers, lists and tables only; lengths in points.
    """
    total = len(library.trees) + 1
    drawn: dict[str, tuple[Press, Printed]] = {}
    for done, symptom in enumerate(library.trees):
        if told is not None:
            told(done, total)
        press = Press(with_texts(drawing_of(library, symptom), _letters), paper, DISTANCE, text_width)
        drawn[symptom] = press, press.sheets()
    if told is not None:
        told(total - 1, total)
    sources = Sources()
    for tree in library.trees.values():
        sources.mark(tree.basis)
    made: dict[str, Any] = {
        "paper": {"a4": "a4", "a3": "a3", "letter": "us-letter"}[paper],
        "title": f"Fault finding: {library.machine.many}",
        "subtitle": "Symptom trees, fasteners, fluids and causes, to print and bind",
        "counts": _counts(library),
        "about": f"Made by diagtree {__version__}. Library {identity(library)}. It says what is likely and what "
        f"to check. It does not say that a {library.machine.one} is safe.",
        "foot": f"diagtree {__version__} · library {identity(library)}",
        "cautions": list(library.cautions),
        "stops": [
            {"title": tree.title, "symptom": symptom, "cautions": list(tree.caution)}
            for symptom, tree in library.trees.items()
            if tree.caution
        ],
        "use": list(how_to_use(library.machine.many)),
        "legend": _legend(library, drawn),
        "sides": _sides(library, sources),
        "sides_note": f"How has the {library.machine.one} lived? What is seen makes some causes likelier and others "
        "less so. The index of causes says which.",
        "least": next(iter(drawn.values()))[0].least if drawn else 10.0,
        "families": [
            {
                "name": family,
                "title": family_title(library, family),
                "trees": [_tree(symptom, *drawn[symptom]) for symptom in symptoms],
            }
            for family, symptoms in trees_by_family(library)
        ],
        "fasteners": [
            {
                "title": family_title(library, family),
                "rows": [_fields(fastener_entry(library, name), sources) for name in names],
            }
            for family, names in by_family(library, library.fasteners)
        ],
        "fluids": [
            {
                "title": family_title(library, family),
                "rows": [_fields(fluid_entry(library, name), sources) for name in names],
            }
            for family, names in by_family(library, library.fluids)
        ],
        "systems": [
            {
                "title": system.title,
                "takes": first_up("; ".join(title_of_fluid(library, name) for name in system.takes)),
                "read": system.read,
                "mark": sources.mark(system.basis),
            }
            for system in library.systems.values()
        ],
        "glossary": sorted_glossary(library),
        "causes": _causes(library, drawn),
        "index_note": "Each page number leads to a sheet on which a finding names the cause.",
        "bases": sources.lines(),
    }
    return {key: with_texts(value, _letters) for key, value in made.items()}


def identity(library: Library) -> str:
    """Tell the identity of a library: 12 hexadecimal digits that change when one of its trees does."""
    trees = "".join(f"{symptom} {library.identity(symptom)}\n" for symptom in sorted(library.trees))
    return hashlib.sha256(trees.encode()).hexdigest()[:12]


def _letters(text: str) -> str:
    """Show what steers, hides or is not in the font by its number."""
    return printable(clean(text, keep_newlines=True))


def _counts(library: Library) -> list[tuple[str, str]]:
    return [
        (str(len(library.trees)), "complaints, each with its tree"),
        (str(sum(len(tree.checks) for tree in library.trees.values())), "questions"),
        (str(len(library.causes)), "causes"),
        (str(len(library.fasteners)), "fasteners with thread and torque"),
        (str(len(library.fluids)), "fluids, greases and compounds"),
    ]


def _legend(library: Library, drawn: Mapping[str, tuple[Press, Printed]]) -> list[dict[str, Any]]:
    if not library.trees:
        return []
    kinds = {kind for _, printed in drawn.values() for kind in printed.drawing.kinds}
    press = next(iter(drawn.values()))[0]
    samples = [{**legend_of(kind, press), "says": KINDS[kind]} for kind in Kind if kind in kinds]
    if any(printed.connectors for _, printed in drawn.values()):
        samples.append({**legend_of_connector(press), "says": CONNECTOR})
    return samples


def _sides(library: Library, sources: Sources) -> list[dict[str, Any]]:
    return [
        {
            "title": side.title,
            "shares": f"Of 100 {library.machine.many} that come in: "
            f"{', '.join(f'{number(count)} {says}' for says, count in side.states)}.",
            "mark": side.mark,
            "states": [says for says, _ in side.states],
            "looks": [
                {
                    "ask": look.ask,
                    "minutes": look.minutes,
                    "mark": look.mark,
                    "how": list(look.how),
                    "answers": [[says, *map(number, counts)] for says, counts in look.answers],
                }
                for look in side.looks
            ],
        }
        for side in sides(library, sources)
    ]


def _tree(symptom: str, press: Press, printed: Printed) -> dict[str, Any]:
    made = pages(press, printed)
    for sheet, plain in zip(printed.sheets, made["sheets"], strict=True):
        _tie(symptom, printed, sheet, plain)
    drawing = printed.drawing
    wanted = ("heading", "identity", "legend", "margin", "head", "foot", "sheets", "title")
    return {
        **{key: made[key] for key in wanted},
        "symptom": symptom,
        "questions": sum(1 for box in drawing.boxes if box.kind in {Kind.QUESTION, Kind.MEASUREMENT}),
    }


def _tie(symptom: str, printed: Printed, sheet: Sheet, plain: dict[str, Any]) -> None:
    """Make the words of each connector a link to the sheet where it goes on, or comes from."""
    answers: dict[str, int] = {}
    for routed in sheet.laid.arrows:
        if routed.words_at is not None and routed.arrow.rows:
            answers[routed.arrow.tail] = answers.get(routed.arrow.tail, 0) + 1
    place = 0
    for placed in sheet.laid.boxes:
        target = _other_sheet(printed, sheet, placed.box.name, placed.box.kind)
        if target:
            plain["texts"][place]["to"] = f"sheet-{symptom}-{target}"
        # A box's own words come first, then those of its answers.
        place += 1 + answers.get(placed.box.name, 0)


def _other_sheet(printed: Printed, sheet: Sheet, name: str, kind: str) -> int:
    lines = printed.drawing.lines
    if kind.startswith("to-"):
        return printed.where[lines[int(name.removeprefix("to-"))].head]
    if kind.startswith("from-"):
        return min(
            printed.where[line.tail]
            for line in lines
            if line.head == sheet.entry and printed.where[line.tail] != sheet.number
        )
    return 0


def _fields(entry: object, sources: Sources) -> dict[str, Any]:
    names: Iterable[str] = getattr(entry, "__slots__", ())
    made = {name: getattr(entry, name) for name in names}
    return {**made, "mark": sources.mark(made["basis"])}


def _causes(library: Library, drawn: Mapping[str, tuple[Press, Printed]]) -> list[dict[str, Any]]:
    found: dict[str, dict[str, None]] = {}
    for symptom, tree in library.trees.items():
        printed = drawn[symptom][1]
        sheets: dict[str, set[int]] = {}
        for name, check in tree.checks.items():
            for answer_name, answer in check.answers.items():
                for named in answer.found or ():
                    sheets.setdefault(named, set()).add(printed.where[finding_box(name, answer_name)])
        for named, numbers in sheets.items():
            found.setdefault(named, {}).update(
                dict.fromkeys(f"sheet-{symptom}-{number}" for number in sorted(numbers))
            )
    rows = []
    for name, cause in sorted_causes(library):
        part = library.parts.get(cause.part or "")
        lived = "; ".join(text for _, text in likelier(library, cause))
        rows.append(
            {
                "title": cause.title,
                "about": f"{part.title}. {RISKS[cause.risk]}" if part else RISKS[cause.risk],
                "tell": [
                    *([f"Sign: {cause.tell}"] if cause.tell else []),
                    *([f"{first_up(lived)}."] if lived else []),
                ],
                "remedies": [
                    f"{first_up(library.remedies[one].verdict.value)}: {library.remedies[one].title}."
                    for one in cause.remedies
                    if one in library.remedies
                ]
                + ([f"Refer: {cause.refer}"] if cause.refer else []),
                "found": list(found.get(name, {})),
            }
        )
    return rows
