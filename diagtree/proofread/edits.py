"""Edits that mend a fault safely: small replacements in the text, checked by reading the file again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from diagtree.library.document import Document, Plain, read_document, value_at
from diagtree.library.fault import Path
from diagtree.library.offers import Rule
from diagtree.proofread.manuscript import Manuscript


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """Put other letters in the place of some.

    Parameters
    ----------
    start, end
        Places in the text, from 0; ``end`` is the first letter that stays.
    new
        What is put there.
    changes
        The path of the one text that this may change; None if it only moves things.
    """

    start: int
    end: int
    new: str
    changes: Path | None = None


def place(text: str, line: int, column: int) -> int:
    r"""Turn a line and column, from 1, into a place in the text.

    Examples
    --------
    >>> place("a\nbc", 2, 2)
    3
    """
    at = 0
    for _ in range(line - 1):
        at = text.index("\n", at) + 1
    return at + column - 1


def written_at(document: Document, path: Path) -> Edit | None:
    """Return the edit that puts a text in the place of itself, quotes and all; None if it is not written as it reads.

    Examples
    --------
    >>> written_at(read_document(b"found: {scale: '30'}", "a.yaml"), ("found", "scale")).new
    "'30'"
    """
    value, start = value_at(document.data, path), place(document.text, *document.position(path))
    for form in (f"{value}", f'"{value}"', f"'{value}'"):
        if document.text.startswith(form, start):
            return Edit(start, start + len(form), form, path)
    return None


def mended(manuscript: Manuscript, rules: Sequence[Rule]) -> tuple[str, list[str]]:
    """Mend what can be mended safely.

    Parameters
    ----------
    manuscript
        The file.
    rules
        The rules whose faults are to be mended.

    Returns
    -------
    tuple
        The new text, and the names of the rules that changed something. A rule whose edits would change
        anything else than they say changes nothing.
    """
    text, done = manuscript.document.text, []
    for rule in rules:
        if rule.mends is None or manuscript.kind not in rule.kinds:
            continue
        current = _again(manuscript, text)
        edits = sorted(rule.mends(current))
        changed = applied(text, edits)
        if changed != text and _is_safe(current, changed, [edit.changes for edit in edits]):
            text = changed
            done.append(rule.name)
    return text, done


def _again(manuscript: Manuscript, text: str) -> Manuscript:
    """Look at the same file with another text."""
    if text == manuscript.document.text:
        return manuscript
    from dataclasses import replace

    source = replace(manuscript.sheet.source, document=read_document(text.encode(), manuscript.document.file))
    return Manuscript(manuscript.shelf, type(manuscript.sheet)(source, manuscript.sheet.model))


def applied(text: str, edits: Iterable[Edit]) -> str:
    """Apply edits; one that overlaps an earlier one is left for the next time.

    Examples
    --------
    >>> applied("abc", [Edit(0, 1, "x"), Edit(2, 3, "yz"), Edit(0, 2, "-")])
    'xbyz'
    """
    pieces, at = [], 0
    for edit in sorted(edits, key=lambda one: (one.start, one.end)):
        if edit.start >= at:
            pieces += [text[at : edit.start], edit.new]
            at = edit.end
    return "".join([*pieces, text[at:]])


def _is_safe(before: Manuscript, text: str, allowed: Sequence[Path | None]) -> bool:
    after = read_document(text.encode(), before.document.file)
    if after.faults or after.data is None:
        return False
    return set(_differences(before.data, after.data, ())) <= set(allowed)


def _differences(before: Plain, after: Plain, path: Path) -> Iterator[Path]:
    if isinstance(before, dict) and isinstance(after, dict) and set(before) == set(after):
        for key, value in before.items():
            yield from _differences(value, after[key], (*path, key))
    elif isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        for number, value in enumerate(before):
            yield from _differences(value, after[number], (*path, number))
    elif before != after:
        yield path
