"""How results leave the commands: papers and plots into files or onto the screen, data onto stdout."""

from __future__ import annotations

import argparse
import errno
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TextIO

    from diagtree.library.offers import SheetWriter


def plot_from(options: argparse.Namespace) -> Path | None:
    """Tell where a plot goes, before the work that it shows; None if none is wanted.

    Raises
    ------
    diagtree.errors.ExpectedError
        If it is no name for an SVG, or it is taken.
    """
    from diagtree.case.saving import check_free
    from diagtree.errors import ExpectedError

    if not options.plot:
        return None
    path = Path(options.plot)
    if path.suffix.lower() != ".svg":
        raise ExpectedError(f"'{path}' is no name for an SVG.", "End it in .svg.")
    check_free(path, force=options.force)
    return path


def writer_from(options: argparse.Namespace, target: Path | None, form: str = "") -> SheetWriter:
    """Choose the writer of a paper; plugins are only asked where the built-in forms do not do.

    Parameters
    ----------
    options
        What `add_library_arguments` describes.
    target
        Where the paper goes; None for the screen, in plain text if no form is named.
    form
        The name of a form, or empty: the file's end says it.

    Raises
    ------
    diagtree.errors.ExpectedError
        If there is no such form, or the file's end says nothing.
    """
    from diagtree.clean import clean
    from diagtree.commands.common import plugins_from
    from diagtree.library.offers import SheetWriter as Offered
    from diagtree.sheets.writers import BUILT_IN, all_writers, writer_for

    form = form or ("" if target else "text")
    file = target or Path("-")
    if form in BUILT_IN or (not form and file.suffix.lower() in {one.suffix for one in BUILT_IN.values()}):
        return writer_for(file, BUILT_IN, form)
    plugins = plugins_from(options)
    wants = "sheet writers (diagtree.library.offers.SheetWriter)"
    writers, problems = all_writers(plugins.ask("diagtree_sheet_writers", Offered, wants))
    for problem in (*plugins.problems, *problems):
        print(f"diagtree: left out: {clean(str(problem))}", file=sys.stderr)
    return writer_for(file, writers, form)


def put_out(content: bytes, target: Path | None, *, force: bool = False) -> None:
    """Write a paper into its file and say so; without one, print it.

    Raises
    ------
    diagtree.errors.ExpectedError
        If it cannot be written, or a terminal could not show it.
    """
    from diagtree.case.saving import save
    from diagtree.errors import ExpectedError

    if target is not None:
        save(target, content, force=force)
        print(f"Written: {target}", file=sys.stderr)
        return
    if sys.stdout.isatty() and b"\0" in content:
        raise ExpectedError("A terminal cannot show that form.", "Name a file with --to.")
    sys.stdout.flush()
    sys.stdout.buffer.write(content)
    sys.stdout.flush()


def save_with_folder(path: Path, data: bytes, *, force: bool = False) -> None:
    """Save a file; its folder is made where it is not there yet.

    Raises
    ------
    diagtree.errors.ExpectedError
        If there is such a file and ``force`` is not set, or it cannot be written.
    """
    from diagtree.case.disk import cannot_write
    from diagtree.case.saving import save

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except FileExistsError as error:
        raise cannot_write(path, NotADirectoryError(errno.ENOTDIR, ""), "") from error
    except OSError as error:
        raise cannot_write(path, error, "") from error
    save(path, data, force=force)


def write_out(text: str) -> None:
    """Print a result: data goes to stdout, and nothing else does."""
    sys.stdout.write(text if text.endswith("\n") else f"{text}\n")
    sys.stdout.flush()


def takes_any_letter(stream: TextIO) -> bool:
    """Tell whether each letter arrives on a stream as it is: only where it speaks UTF-8."""
    return (stream.encoding or "ascii").lower().replace("-", "") == "utf8"


def write_json(data: object) -> None:
    """Print a result for programs. Where the output does not take each letter, letters are given by number."""
    import json

    write_out(json.dumps(data, indent=2, ensure_ascii=not takes_any_letter(sys.stdout)))
