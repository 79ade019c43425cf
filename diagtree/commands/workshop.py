"""Write a commented workshop file, or check one."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

EXAMPLES = """\
  diagtree workshop                          print a workshop file with a comment on each line
  diagtree workshop --to workshop.yaml       write it into a file, to be changed
  diagtree workshop --standard               write it where it is looked for by itself
  diagtree workshop --check workshop.yaml    tell what is wrong with it, line by line
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments, default_workshop

    what = parser.add_mutually_exclusive_group()
    what.add_argument("--to", metavar="FILE", help="write it here")
    what.add_argument("--standard", action="store_true", help=f"write it to {default_workshop()}")
    what.add_argument("--check", metavar="FILE", help="read this one and tell all its faults")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Write or check; return the exit status."""
    from diagtree.case.saving import save
    from diagtree.commands.common import default_workshop, library_from
    from diagtree.commands.outgoing import save_with_folder, write_out
    from diagtree.library.workshop_file import read_workshop, workshop_text

    if options.check:
        workshop = read_workshop(Path(options.check), library_from(options))
        print(
            f"{options.check}: no faults. {workshop.currency} {workshop.rate} an hour, tax {workshop.tax} %, "
            f"{len(workshop.wrenches)} torque wrenches, {len(workshop.part_prices)} prices and "
            f"{len(workshop.torques)} torques of its own."
        )
        return 0
    if not options.to and not options.standard:
        write_out(workshop_text())
        return 0
    path = default_workshop() if options.standard else Path(options.to)
    (save_with_folder if options.standard else save)(path, workshop_text().encode(), force=options.force)
    print(f"Written: {path}. Its figures are invented: put in your own.", file=sys.stderr)
    return 0
