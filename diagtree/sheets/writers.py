"""The forms in which papers can be written: the built-in ones and those of plugins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from importlib import import_module
from pathlib import PurePath
from typing import cast

from diagtree.errors import ExpectedError, UnknownNameError, in_words
from diagtree.library.library import Problem
from diagtree.library.offers import SheetWriter
from diagtree.sheets.paper import Paper


def _built_in(name: str, title: str, suffix: str, module: str, function: str) -> SheetWriter:
    def write(paper: Paper) -> bytes:
        # Typst and jinja2 take their time to load: only the form that is wanted pays for it.
        return cast("bytes", getattr(import_module(f"diagtree.sheets.{module}"), function)(paper))

    return SheetWriter(name, title, suffix, write)


BUILT_IN: Mapping[str, SheetWriter] = {
    writer.name: writer
    for writer in (
        _built_in("text", "plain text, 80 columns", ".txt", "text", "write_text"),
        _built_in("markdown", "Markdown", ".md", "markdown", "write_markdown"),
        _built_in("html", "a page that needs nothing else", ".html", "html", "write_html"),
        _built_in("pdf", "PDF, A4", ".pdf", "pdf", "write_pdf"),
        _built_in("json", "plain values for programs", ".json", "jsonform", "write_json"),
    )
}


def all_writers(
    offered: Iterable[tuple[str, SheetWriter]] = (),
) -> tuple[Mapping[str, SheetWriter], tuple[Problem, ...]]:
    """Return the built-in writers and those that plugins offer, by name; and what was left out.

    Parameters
    ----------
    offered
        Plugins' names with their writers.

    Returns
    -------
    writers, problems
        A writer whose name or suffix another one has already is left out, and told.
    """
    writers = dict(BUILT_IN)
    problems = []
    for plugin, writer in offered:
        taken = next(
            (one for one in writers.values() if writer.name == one.name or writer.suffix == one.suffix), None
        )
        if taken is None:
            writers[writer.name] = _held(plugin, writer)
        else:
            what = f"its sheet writer '{writer.name}' ({writer.suffix}) clashes with '{taken.name}' ({taken.suffix})"
            problems.append(Problem(plugin, f"{what}. Give it another name and suffix."))
    return writers, tuple(problems)


def _held(plugin: str, writer: SheetWriter) -> SheetWriter:
    """Hold a plugin's writer to what it promises; where it fails, the plugin is named."""

    def write(paper: Paper) -> bytes:
        try:
            content: object = writer.write(paper)
            told = f"it returns {type(content).__name__}, not bytes"
        except Exception as error:  # a plugin may raise anything
            content, told = None, in_words(error)
        if isinstance(content, bytes):
            return content
        wrong = f"The sheet writer '{writer.name}' of plugin '{plugin}' failed: {told}."
        raise ExpectedError(wrong, "Choose another form, or mend the plugin.")

    return replace(writer, write=write)


def writer_for(file: PurePath, writers: Mapping[str, SheetWriter], form: str = "") -> SheetWriter:
    """Choose the writer by a form's name, or else by how the file ends.

    Raises
    ------
    UnknownNameError
        If there is no such form.
    ExpectedError
        If the file's end says nothing.

    Examples
    --------
    >>> writer_for(PurePath("sheet.pdf"), BUILT_IN).name
    'pdf'
    """
    if form:
        if form not in writers:
            raise UnknownNameError("form", form, list(writers))
        return writers[form]
    for writer in writers.values():
        if file.name.lower().endswith(writer.suffix):
            return writer
    ends = ", ".join(writer.suffix for writer in writers.values())
    raise ExpectedError(f"'{file}' does not say which form is wanted.", f"End it in one of: {ends}.")
