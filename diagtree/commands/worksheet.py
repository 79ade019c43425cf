"""Write a "find the fault" sheet of machines that are not there, with its key."""

from __future__ import annotations

import argparse
from pathlib import Path

EXAMPLES = """\
  diagtree worksheet                                        one machine, on the screen
  diagtree worksheet SYMPTOM --count 3 --to sheet.pdf       three machines with this complaint, to print
  diagtree worksheet --seed 7 --count 6 --to sheet.pdf --key key.pdf     the key in a file of its own
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("symptom", metavar="SYMPTOM", nargs="*", help="the complaints; none: they are drawn")
    parser.add_argument("--seed", metavar="N", type=int, default=1, help="the same seed, the same sheet (1)")
    parser.add_argument("--count", metavar="K", type=int, default=1, help="how many machines (1)")
    parser.add_argument(
        "--level",
        metavar="LEVEL",
        default="apprentice",
        help="beginner, apprentice or journeyman (apprentice)",
    )
    parser.add_argument(
        "--to", metavar="FILE", help="where to; its end says the form (.txt .md .html .pdf .json)"
    )
    parser.add_argument(
        "--key", metavar="FILE", help="the key in a file of its own; else it is at the end, on new pages"
    )
    parser.add_argument(
        "--form", metavar="FORM", default="", help="the form: text, markdown, html, pdf, json"
    )
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Write the sheet; return the exit status."""
    from diagtree.case.saving import check_free
    from diagtree.commands.common import library_from
    from diagtree.commands.outgoing import put_out, writer_from
    from diagtree.errors import ExpectedError
    from diagtree.practice.levels import level_called
    from diagtree.practice.worksheet import draw_tasks
    from diagtree.sheets.find_fault import key_paper, sheet_paper

    level = level_called(options.level)
    target = Path(options.to) if options.to else None
    key = Path(options.key) if options.key else None
    writer = writer_from(options, target, options.form)
    key_writer = writer_from(options, key, options.form) if key is not None else None
    if key is not None and target is not None and key.absolute() == target.absolute():
        raise ExpectedError("The key would be written over the sheet.", "Give --key a name of its own.")
    for path in filter(None, (target, key)):
        check_free(path, force=options.force)
    library = library_from(options)
    tasks = draw_tasks(library, level, options.seed, options.count, options.symptom)
    content = writer.write(sheet_paper(library, tasks, level, options.seed, with_key=key is None))
    if key is not None and key_writer is not None:
        put_out(key_writer.write(key_paper(library, tasks, level, options.seed)), key, force=options.force)
    put_out(content, target, force=options.force)
    return 0
