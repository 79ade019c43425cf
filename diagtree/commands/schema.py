"""Print the JSON Schema of trees, catalogues, conditions or the workshop file, for editors."""

from __future__ import annotations

import argparse

EXAMPLES = """\
  diagtree schema tree > tree.schema.json
  Put this line at the top of a tree, and editors complete and check while you type:
      # yaml-language-server: $schema=tree.schema.json
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    parser.add_argument("what", metavar="WHAT", help="tree, catalogue, conditions or workshop")


def run(options: argparse.Namespace) -> int:
    """Print; return the exit status."""
    from diagtree.commands.outgoing import write_out
    from diagtree.library.schema import schema_text

    write_out(schema_text(options.what))
    return 0
