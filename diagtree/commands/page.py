"""Write the whole library as a static site: trees, drawings, search, tables; no network."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

EXAMPLES = """\
  diagtree page --to site                      write the site into a new folder, then open site/index.html
  diagtree page --to site --trees my-trees     with your own trees in it
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument(
        "--to", metavar="DIR", required=True, help="the folder: a new one, an empty one, or an earlier site"
    )
    parser.add_argument("--force", action="store_true", help="write into a folder that holds other things")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Write the site; return the exit status."""
    from diagtree.commands.common import library_from, refuse_treeless
    from diagtree.commands.progress import Progress
    from diagtree.publishing.site.pages import site_pages
    from diagtree.publishing.site.writing import check_folder, write_site

    folder = Path(options.to)
    check_folder(folder, force=options.force)
    library = library_from(options)
    refuse_treeless(library)
    with Progress("Writing pages", len(library.trees)) as progress:
        pages = site_pages(library, lambda done, _: progress(done))
    write_site(folder, pages, force=options.force)
    print(f"Written: {folder / 'index.html'} ({len(pages)} files)", file=sys.stderr)
    return 0
