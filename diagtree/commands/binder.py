"""Write the whole library as one PDF to print and bind: every tree, tables, index of causes."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

EXAMPLES = """\
  diagtree binder --to binder.pdf                          everything, on A4
  diagtree binder --to binder.pdf --paper letter           on letter paper
  diagtree binder --to two.pdf --only SYMPTOM SYMPTOM      some trees
"""

PAPERS = ("a4", "letter")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("--to", metavar="FILE", required=True, help="where to: a file that ends in .pdf")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    parser.add_argument("--paper", metavar="SIZE", default="a4", help="a4 or letter")
    parser.add_argument("--only", metavar="SYMPTOM", nargs="+", help="the trees that go in; else all")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Write the binder; return the exit status."""
    from diagtree.case.saving import check_free, save
    from diagtree.commands.common import library_from, refuse_treeless
    from diagtree.commands.progress import Progress
    from diagtree.errors import ExpectedError, UnknownNameError
    from diagtree.publishing.binder.contents import binder_pdf, only_trees

    path = Path(options.to)
    if path.suffix.lower() != ".pdf":
        raise ExpectedError(f"'{options.to}' is no name for a PDF.", "End it in .pdf.")
    if options.paper not in PAPERS:
        raise UnknownNameError("paper", options.paper, list(PAPERS))
    check_free(path, force=options.force)
    library = library_from(options)
    if options.only:
        library = only_trees(library, options.only)
    refuse_treeless(library)
    with Progress("Drawing", len(library.trees) + 1) as progress:
        content = binder_pdf(library, options.paper, lambda done, _: progress(done))
    save(path, content, force=options.force)
    print(f"Written: {path}", file=sys.stderr)
    return 0
