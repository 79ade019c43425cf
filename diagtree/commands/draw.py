"""Draw the tree of a complaint, for the wall or for reading."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

EXAMPLES = """\
  diagtree draw no-brakes --to no-brakes.svg     a drawing to look at and print
  diagtree draw no-brakes --to no-brakes.png     as a picture
  diagtree draw no-brakes --to no-brakes.dot     in the dot language, for other programs
  diagtree draw no-brakes --to a.svg --remedies  with what puts each cause right
"""

FORMS = ("svg", "png", "dot")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("symptom", metavar="SYMPTOM", help="the complaint whose tree is drawn")
    parser.add_argument(
        "--to", metavar="FILE", required=True, help=f"where to: a file that ends in .{', .'.join(FORMS)}"
    )
    parser.add_argument("--remedies", action="store_true", help="name the remedies under each cause")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    parser.add_argument(
        "--system-dot",
        action="store_true",
        help="lay it out with the system's dot, not the one that comes along",
    )
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Draw; return the exit status."""
    from diagtree.case.saving import save
    from diagtree.commands.common import library_from
    from diagtree.drawing.diagram import Shown, drawing_of
    from diagtree.drawing.dot import to_dot
    from diagtree.drawing.render import render
    from diagtree.errors import ExpectedError

    path = Path(options.to)
    form = path.suffix.lower().removeprefix(".")
    if form not in FORMS:
        raise ExpectedError(
            f"'{options.to}' does not say which form is wanted.", f"End it in .{' or .'.join(FORMS)}."
        )
    library = library_from(options)
    drawing = drawing_of(library, options.symptom, Shown(remedies=options.remedies))
    source = to_dot(drawing).source
    content = source.encode("utf-8") if form == "dot" else render(source, form, system=options.system_dot)
    save(path, content, force=options.force)
    print(f"Drawn: {path}", file=sys.stderr)
    return 0
