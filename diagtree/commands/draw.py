"""Draw the tree of a complaint, for the wall or for reading."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from diagtree.drawing.diagram import Drawing, Shown
    from diagtree.library.library import Library

EXAMPLES = """\
  diagtree draw SYMPTOM --to tree.svg                               a drawing to look at
  diagtree draw SYMPTOM --to tree.pdf                               A4 sheets to hold in the hand
  diagtree draw SYMPTOM --to wall.pdf --paper a3 --distance 1m      sheets for the wall
  diagtree draw SYMPTOM --to all.pdf --poster --distance 50cm       A4 sheets to join
  diagtree draw SYMPTOM --to tree.png --remedies --chances          with more on it
  diagtree draw SYMPTOM --to way.svg --case blue-one                with the way of one case
  diagtree draw SYMPTOM --to short.svg --order shortest             in the order that asks least
  diagtree draw SYMPTOM --to task.pdf --blank findings              to fill in; the key goes into task-key.pdf
"""

FORMS = ("svg", "png", "pdf", "dot")

ORDERS = ("guided", "shortest", "both")

PAPER, DISTANCE = "a4", "35cm"
"""What a drawing is printed on, and from where it is read, if nothing is said."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("symptom", metavar="SYMPTOM", nargs="?", help="the complaint whose tree is drawn")
    parser.add_argument("--to", metavar="FILE", help=f"where to: a file that ends in .{', .'.join(FORMS)}")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    shown = parser.add_argument_group("what is shown")
    shown.add_argument("--remedies", action="store_true", help="name the remedies under each cause")
    shown.add_argument(
        "--chances", action="store_true", help="how many of 100 go each way; wider lines where more do"
    )
    shown.add_argument("--case", metavar="CASE", help="mark the way that a case went")
    shown.add_argument(
        "--order", metavar="ORDER", default="guided",
        help="guided: as its author wrote it; "
        "shortest: the order that takes the fewest minutes; both: side by side",
    )  # fmt: skip
    blank = parser.add_argument_group("to fill in")
    blank.add_argument(
        "--blank", metavar="WHAT",
        help="leave blank: answers, findings, or questions (which check comes next?)",
    )  # fmt: skip
    blank.add_argument("--key", metavar="FILE", help="where its key goes (FILE-key beside it)")
    paper = parser.add_argument_group("on paper (.pdf)")
    paper.add_argument("--paper", metavar="SIZE", help="a4 (if you say nothing), a3 or letter")
    paper.add_argument(
        "--distance",
        metavar="FAR",
        help="from where it is read: 35cm in the hand (if you say nothing), 50cm on the bench, 1m on the wall",
    )
    paper.add_argument(
        "--poster", action="store_true", help="in one piece, across sheets that are trimmed and joined"
    )
    parser.add_argument(
        "--system-dot", action="store_true",
        help="lay svg and png out with the system's dot, not the one that comes along",
    )  # fmt: skip
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Draw; return the exit status."""
    from diagtree.case.saving import check_free, save
    from diagtree.commands.common import library_from
    from diagtree.drawing.blanks import with_room
    from diagtree.errors import ExpectedError

    if options.symptom is None:
        raise ExpectedError(
            f"Which complaint is drawn? Name one of these:\n{_complaints(library_from(options))}"
        )
    if options.to is None:
        raise ExpectedError("Where is it drawn to?", "Add, for example: --to tree.pdf")
    path = Path(options.to)
    key = _key(options, path)
    files = [path, key] if key else [path]
    for file in files:
        _check_form(file)
    _check_together(options, {_form(file) for file in files})
    for file in files:
        check_free(file, force=options.force)
    drawing = drawing_from(options, library_from(options))
    if key:
        drawing = with_room(drawing, options.blank)
    save(path, _content(options, drawing, path, options.blank or ""), force=options.force)
    print(f"Drawn: {path}", file=sys.stderr)
    if key:
        save(key, _content(options, drawing, key), force=options.force)
        print(f"Key:   {key}", file=sys.stderr)
    return 0


def _complaints(library: Library) -> str:
    from diagtree.commands.common import refuse_treeless

    refuse_treeless(library)
    width = max(map(len, library.trees)) + 2
    return "\n".join(f"  {symptom:<{width}}{tree.title}" for symptom, tree in library.trees.items())


def _key(options: argparse.Namespace, path: Path) -> Path | None:
    """Tell where the key of a drawing with blanks goes; None for a drawing without."""
    from diagtree.drawing.blanks import check_blank
    from diagtree.errors import ExpectedError

    if not options.blank:
        if options.key:
            raise ExpectedError(
                "A key belongs to a drawing with blanks.", "Say what is blank: --blank findings."
            )
        return None
    check_blank(options.blank)
    key = Path(options.key) if options.key else path.with_name(f"{path.stem}-key{path.suffix}")
    if key.absolute() == path.absolute():
        raise ExpectedError("The key would be written over the drawing.", "Give --key a name of its own.")
    return key


def _check_together(options: argparse.Namespace, forms: set[str]) -> None:
    """Refuse options that would change nothing: whoever gives one expects something of it."""
    from diagtree.drawing.printed import check_sheet
    from diagtree.errors import ExpectedError, UnknownNameError

    if options.order not in ORDERS:
        raise UnknownNameError("order", options.order, list(ORDERS))
    if options.order == "shortest" and options.case:
        raise ExpectedError(
            "The way of a case is drawn in its author's order.", "Leave out --order, or say --order both."
        )
    check_sheet(options.paper or PAPER, options.distance or DISTANCE)
    for name in ("paper", "distance", "poster"):
        if getattr(options, name) and "pdf" not in forms:
            raise ExpectedError(
                f"--{name} is for drawings on paper.", "End the file in .pdf, or leave it out."
            )
    if options.system_dot and not forms & {"svg", "png"}:
        raise ExpectedError("--system-dot is for .svg and .png.", "Leave it out.")


def _check_form(path: Path) -> None:
    from diagtree.errors import ExpectedError

    if _form(path) not in FORMS:
        raise ExpectedError(
            f"'{path}' does not say which form is wanted.", f"End it in .{' or .'.join(FORMS)}."
        )


def _form(path: Path) -> str:
    return path.suffix.lower().removeprefix(".")


def _content(options: argparse.Namespace, drawing: Drawing, path: Path, blank: str = "") -> bytes:
    form = _form(path)
    if form == "pdf":
        return printed_pdf(
            drawing,
            options.paper or PAPER,
            options.distance or DISTANCE,
            poster=options.poster,
            blank=blank,
        )
    from diagtree.drawing.blanks import blanked
    from diagtree.drawing.dot import to_dot
    from diagtree.drawing.render import render

    source = to_dot(blanked(drawing, blank) if blank else drawing).source
    return source.encode("utf-8") if form == "dot" else render(source, form, system=options.system_dot)


def drawing_from(options: argparse.Namespace, library: Library) -> Drawing:
    """Make the drawing that the options ask for."""
    from diagtree.drawing.diagram import drawing_of

    if options.order == "guided":
        return drawing_of(library, options.symptom, _shown(options, library))
    from diagtree.drawing.shortest import beside, shortest_drawing

    engine = shortest_drawing(library, options.symptom, remedies=options.remedies)
    if options.order == "shortest":
        return engine
    return beside(drawing_of(library, options.symptom, _shown(options, library)), engine)


def _shown(options: argparse.Namespace, library: Library) -> Shown:
    from diagtree.drawing.diagram import Shown
    from diagtree.drawing.shares import shares_of

    machines = library.machine.many
    notes = []
    shares: Mapping[tuple[str, str], float] = {}
    if options.chances:
        shares = shares_of(library, options.symptom)
        notes.append(f"Line width: how many of 100 {machines} with this complaint go that way.")
    way: frozenset[tuple[str, str]] = frozenset()
    if options.case:
        way = _way(options, library)
        notes.append("Thick lines: the way of one case.")
    return Shown(remedies=options.remedies, shares=shares, way=way, note=" ".join(notes))


def _way(options: argparse.Namespace, library: Library) -> frozenset[tuple[str, str]]:
    from diagtree.commands.common import records_of, view_through
    from diagtree.errors import ExpectedError

    path, records = records_of(options.case)
    view = view_through(library, records)
    walk = view.standing.walks.get(options.symptom)
    if walk is None:
        raise ExpectedError(
            f"The case {path} is not about '{options.symptom}'.",
            f"Choose one of its complaints: {', '.join(view.complaints) or 'it has none'}.",
        )
    answers = view.standing.answers
    return frozenset(
        (check, answers[options.symptom, check]) for check in walk.path if (options.symptom, check) in answers
    )


def printed_pdf(
    drawing: Drawing, paper: str, distance: str, *, poster: bool = False, blank: str = ""
) -> bytes:
    """Cut a drawing into sheets and set them, with a progress bar where somebody is looking.

    ``blank`` names what is left to be filled in: `diagtree.drawing.blanks.BLANKS`.
    """
    from diagtree.clean import clean
    from diagtree.commands.progress import Progress
    from diagtree.drawing import poster as posters
    from diagtree.drawing.blanks import blank_sheet, blank_sheets
    from diagtree.drawing.paged import TEMPLATES, pages
    from diagtree.drawing.printed import Press
    from diagtree.sheets.blocks import with_texts
    from diagtree.sheets.letters import printable, text_width
    from diagtree.sheets.typeset import typeset

    # What the font lacks is shown by its number, before anything is measured.
    drawing = with_texts(drawing, lambda text: printable(clean(text, keep_newlines=True)))
    press = Press(drawing, paper, distance, text_width)
    if poster:
        changed = (lambda sheet: blank_sheet(sheet, drawing, blank, text_width)) if blank else None
        return typeset(posters.TEMPLATES, posters.poster_pages(press, changed))
    with Progress("Laying out", len(drawing.boxes)) as progress:
        printed = press.sheets(lambda done, _: progress(done))
    if blank:
        printed = blank_sheets(printed, blank, text_width)
    return typeset(TEMPLATES, pages(press, printed))
