"""Write a paper of a case: job sheet, estimate, torque round or handover."""

from __future__ import annotations

import argparse
from pathlib import Path

EXAMPLES = """\
  diagtree sheet blue-one                                   the job sheet, on the screen
  diagtree sheet blue-one --to sheet.pdf                    the job sheet, to print
  diagtree sheet blue-one --kind estimate --to price.html   what the customer is told
  diagtree sheet blue-one --kind torque --form markdown     the torque round, on the screen
"""

KINDS = ("job", "estimate", "torque", "handover")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments, add_workshop_arguments

    parser.add_argument("case", metavar="CASE", help="the case: its name in the folder of cases, or its file")
    parser.add_argument("--kind", metavar="KIND", default="job", help=f"which paper: {', '.join(KINDS)}")
    parser.add_argument(
        "--to", metavar="FILE", help="where to; its end says the form (.txt .md .html .pdf .json)"
    )
    parser.add_argument(
        "--form", metavar="FORM", default="", help="the form: text, markdown, html, pdf, json"
    )
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    add_workshop_arguments(parser)
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Write the paper; return the exit status."""
    from diagtree.case.saving import check_free
    from diagtree.commands.common import library_from, records_of, view_through, workshop_from
    from diagtree.commands.outgoing import put_out, writer_from
    from diagtree.errors import UnknownNameError
    from diagtree.sheets.from_case import paper_of_case

    if options.kind not in KINDS:
        raise UnknownNameError("paper", options.kind, list(KINDS))
    target = Path(options.to) if options.to else None
    writer = writer_from(options, target, options.form)
    if target is not None:
        check_free(target, force=options.force)
    _, records = records_of(options.case)
    library = library_from(options)
    paper = paper_of_case(options.kind, view_through(library, records), workshop_from(options, library))
    put_out(writer.write(paper), target, force=options.force)
    return 0
