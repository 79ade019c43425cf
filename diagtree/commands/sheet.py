"""Write a paper of a case: job sheet, estimate, torque round or handover."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from diagtree.library.offers import SheetWriter

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
    from diagtree.case.folder import cases_folder
    from diagtree.case.journal import read_journal, refuse_damage
    from diagtree.case.keeper import read_case
    from diagtree.case.saving import save
    from diagtree.case.view import Memory, View
    from diagtree.commands.common import library_from, workshop_from
    from diagtree.errors import UnknownNameError
    from diagtree.sheets.from_case import paper_of_case
    from diagtree.sheets.writers import writer_for

    if options.kind not in KINDS:
        raise UnknownNameError("paper", options.kind, list(KINDS))
    target = Path(options.to) if options.to else None
    form = options.form or ("" if target else "text")
    writer = writer_for(target or Path("-"), _writers(options, target, form), form)
    path = find_case(options.case, cases_folder(os.environ))
    contents = read_journal(path)
    refuse_damage(path, contents)
    library = library_from(options)
    view = View(read_case(contents.records), Memory(library))
    paper = paper_of_case(options.kind, view, workshop_from(options, library))
    content = writer.write(paper)
    if target is None:
        sys.stdout.buffer.write(content)
        sys.stdout.flush()
        return 0
    save(target, content, force=options.force)
    print(f"Written: {target}", file=sys.stderr)
    return 0


def _writers(options: argparse.Namespace, target: Path | None, form: str) -> Mapping[str, SheetWriter]:
    """The built-in forms; plugins are only asked where those do not do."""
    from diagtree.clean import clean
    from diagtree.library.offers import SheetWriter as Offered
    from diagtree.library.plugins import load_plugins
    from diagtree.sheets.writers import BUILT_IN, all_writers

    ends = target is not None and target.suffix.lower() in {writer.suffix for writer in BUILT_IN.values()}
    if form in BUILT_IN or (not form and ends):
        return BUILT_IN
    plugins = load_plugins(options.block)
    wants = "sheet writers (diagtree.library.offers.SheetWriter)"
    writers, problems = all_writers(plugins.ask("diagtree_sheet_writers", Offered, wants))
    for problem in (*plugins.problems, *problems):
        print(f"diagtree: left out: {clean(str(problem))}", file=sys.stderr)
    return writers


def find_case(name: str, folder: Path) -> Path:
    """Find a case by its file, or by its name in the folder of cases.

    Raises
    ------
    diagtree.errors.UnknownNameError
        If there is none; near names are listed.
    """
    from diagtree.case.folder import ENDING
    from diagtree.errors import UnknownNameError

    for path in (Path(name), folder / name, folder / f"{name}{ENDING}"):
        if path.is_file():
            return path
    known = [path.stem for path in sorted(folder.glob(f"*{ENDING}"))] if folder.is_dir() else []
    # The day stands first in a case's name; what people remember is the rest.
    same = [stem for stem in known if stem.endswith(f"-{name}") or stem[11:].startswith(name)]
    if len(same) == 1:
        return folder / f"{same[0]}{ENDING}"
    raise UnknownNameError("case", name, known)
