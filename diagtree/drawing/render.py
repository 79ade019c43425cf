"""Lays a drawing out through the binary that comes with the package; a system's own only when asked for."""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from pathlib import Path

from diagtree.errors import ExpectedError

BINARY = "graphviz-pure"


class LayoutError(ExpectedError):
    """The drawing could not be laid out."""


def find_binary(system: bool = False) -> Path:
    """Find the program that lays graphs out.

    Parameters
    ----------
    system
        True to use the ``dot`` of the system instead of the one that comes with this package.

    Returns
    -------
    Path
        The program.

    Raises
    ------
    LayoutError
        If it is not there; it says what to install.
    """
    if system:
        found = shutil.which("dot")
        if found is None:
            raise LayoutError(
                "There is no program 'dot' on this system.",
                "Leave the option out to use the one that comes with diagtree, or install Graphviz.",
            )
        return Path(found)
    name = f"{BINARY}.exe" if os.name == "nt" else BINARY
    for place in _places(name):
        if place.is_file():
            return place
    raise LayoutError(
        f"The program '{BINARY}' that lays drawings out is missing.",
        f"Install it again: {Path(sys.executable).name} -m pip install --force-reinstall {BINARY}.",
    )


def _places(name: str) -> Iterator[Path]:
    from importlib import metadata

    yield Path(sysconfig.get_path("scripts")) / name
    yield Path(sys.executable).parent / name
    yield Path(sys.prefix) / "bin" / name
    with contextlib.suppress(metadata.PackageNotFoundError):
        for file in metadata.files(BINARY) or ():
            if file.name == name:
                yield Path(str(file.locate()))
    on_path = shutil.which(name)
    if on_path:
        yield Path(on_path)


def render(source: str, form: str, *, system: bool = False) -> bytes:
    """Lay a graph out and draw it.

    Parameters
    ----------
    source
        The graph, in the dot language.
    form
        ``svg``, ``png`` or ``json``.
    system
        True to use the system's ``dot``.

    Returns
    -------
    bytes
        The drawing; the same for the same source and program.

    Raises
    ------
    LayoutError
        If the program is missing, cannot be run or refuses the graph.

    Examples
    --------
    >>> render("digraph { a -> b }", "svg").startswith(b"<?xml")
    True
    """
    import graphviz

    binary = find_binary(system)
    try:
        with _use(binary):
            # Given bytes, the package does not leave its pipes open when the program dies early.
            drawn: bytes = graphviz.pipe("dot", form, source.encode("utf-8"), quiet=True)
    except (subprocess.CalledProcessError, BrokenPipeError, OSError, graphviz.ExecutableNotFound) as fault:
        said = getattr(fault, "stderr", None)
        words = said.decode("utf-8", "replace").strip() if isinstance(said, bytes) else str(fault)
        raise LayoutError(
            f"The program '{binary.name}' could not draw this: {' '.join(words.split())[:200]}.",
            "Try --to with a .dot file, and send that file with a report.",
        ) from fault
    return drawn


@contextlib.contextmanager
def _use(binary: Path) -> Iterator[None]:
    """Point the graphviz package at a program while a graph is drawn: it keeps the name in a module."""
    from graphviz.backend import dot_command

    before = dot_command.DOT_BINARY
    dot_command.DOT_BINARY = binary
    try:
        yield
    finally:
        dot_command.DOT_BINARY = before
