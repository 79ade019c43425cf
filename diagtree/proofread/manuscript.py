"""What rules look at: one file as it was read, beside all the others, with its parts laid out ready.

Rules look at what was written, not at models, so that a file with faults is proofread to its end.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from functools import cached_property
from typing import NamedTuple

from diagtree.library.assembly import Assembly
from diagtree.library.document import Document, Plain
from diagtree.library.fault import Fault, Path
from diagtree.library.library import SECTIONS, Library, full_name
from diagtree.library.references import each, mapping
from diagtree.library.sheet import Sheet
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree

SENTENCES = frozenset(
    {"ask", "how", "why", "tell", "caution", "note", "stop", "refer", "verify", "cautions", "read"}
)
"""Keys whose values are whole sentences."""

PHRASES = frozenset(
    {
        "title",
        "says",
        "also-called",
        "next-due",
        "until",
        "preparation",
        "order",
        "clean-with",
        "never-on",
        "attacks",
    }
)
"""Keys whose values are words for the reader, but no whole sentences."""

_READ = SENTENCES | PHRASES

_APART = {code: " " for code in range(128) if not chr(code).isalpha()}

_KINDS = {Tree: "tree", Family: "catalogue", Conditions: "conditions"}


class Entry(NamedTuple):
    """A named part of a file: a check, a cause, a job."""

    name: str
    data: dict[str, Plain]
    path: Path


class AnswerEntry(NamedTuple):
    """An answer and the check that it belongs to."""

    check: str
    name: str
    data: dict[str, Plain]
    path: Path


class Words(NamedTuple):
    """A text that somebody will read."""

    key: str
    text: str
    path: Path


class Manuscript:
    """One file under proofreading.

    Parameters
    ----------
    shelf
        All files.
    sheet
        This one.
    """

    def __init__(self, shelf: Shelf, sheet: Sheet) -> None:
        self.shelf = shelf
        self.sheet = sheet

    @property
    def document(self) -> Document:
        """The file's data with its positions."""
        return self.sheet.source.document

    @property
    def data(self) -> dict[str, Plain]:
        """What the file says."""
        return self.sheet.data

    @property
    def library(self) -> Library:
        """All files, joined."""
        return self.shelf.assembly.library

    @cached_property
    def kind(self) -> str:
        """``tree``, ``catalogue``, ``conditions``, or ``unknown``."""
        return _KINDS.get(self.sheet.source.model, "unknown") if self.sheet.source.model else "unknown"

    @cached_property
    def home(self) -> str:
        """The family that bare names belong to."""
        return str(self.data.get("family", ""))

    def full(self, name: object) -> str:
        """Spell a name in full."""
        return full_name(self.home, str(name))

    @cached_property
    def checks(self) -> list[Entry]:
        """The checks of a tree."""
        return list(self._entries("checks"))

    @cached_property
    def answers(self) -> list[AnswerEntry]:
        """All answers of a tree."""
        return [
            AnswerEntry(check.name, name, mapping(answer), (*check.path, "answers", name))
            for check in self.checks
            for name, answer in mapping(check.data.get("answers")).items()
        ]

    def entries(self, section: str) -> list[Entry]:
        """List the entries of a section of a catalogue or of conditions."""
        return list(self._entries(section))

    def _entries(self, section: str) -> Iterator[Entry]:
        for name, entry in mapping(self.data.get(section)).items():
            if isinstance(entry, dict):
                yield Entry(name, entry, (section, name))

    @cached_property
    def words(self) -> list[Words]:
        """Each text that somebody will read, in the order in which it was written."""
        found: list[Words] = []
        open_: list[tuple[str, Plain, Path]] = [("", self.data, ())]
        while open_:
            key, value, path = open_.pop()
            kind = type(value)
            if kind is str:
                found.append(Words(key, value, path))
            elif kind is dict:
                # Only what can hold words is looked at again: most texts are names and numbers.
                open_ += [
                    (name, one, (*path, name))
                    for name, one in reversed(value.items())
                    if type(one) is not str or name in _READ
                ]
            elif kind is list:
                read = key in _READ
                open_ += [
                    (key, one, (*path, place))
                    for place, one in reversed(list(enumerate(value)))
                    if read or type(one) is not str
                ]
        return found

    @cached_property
    def sentences(self) -> list[Words]:
        """Those texts that are whole sentences."""
        return [words for words in self.words if words.key in SENTENCES]

    @cached_property
    def lowered(self) -> str:
        """The file in small letters."""
        return self.document.text.lower()

    @cached_property
    def written(self) -> list[str]:
        """Every word of the file in small letters, in order."""
        return self.lowered.translate(_APART).split()

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word of the file once: most rules about words can stop after one look here."""
        return frozenset(self.written)

    def matching(
        self, pattern: re.Pattern[str], keys: frozenset[str] | None = None, needs: Collection[str] = ()
    ) -> Iterator[tuple[Words, re.Match[str]]]:
        """Yield each match of a pattern in the texts.

        Parameters
        ----------
        pattern
            What to look for.
        keys
            The keys whose texts are searched; all if None.
        needs
            Words in small letters of which one must be in the file for the pattern to match.
        """
        if needs and self.vocabulary.isdisjoint(needs):
            return
        for words in self.words:
            if keys is None or words.key in keys:
                for match in pattern.finditer(words.text):
                    yield words, match

    def fault(self, path: Path, text: str, mend: str = "", of_key: bool = False) -> Fault:
        """Make a fault at a path of this file."""
        return self.document.fault(path, text, mend, of_key)

    def fault_in(self, words: Words, at: int, text: str, mend: str = "") -> Fault:
        """Make a fault at a letter of a text, or at the text where it goes over several lines."""
        line, column = self.document.position(words.path)
        row = self.rows[line - 1] if line <= len(self.rows) else ""
        offset = at + (row[column - 1 : column] in {"'", '"'})
        sample = words.text[at : at + 8].split("\n")[0]
        if not row.startswith(sample, column - 1 + offset):
            offset = 0
        return self.document.fault(words.path, text, mend, offset=offset)

    @cached_property
    def rows(self) -> list[str]:
        """The lines of the file."""
        return self.document.text.split("\n")


class Shelf:
    """All files of a library, as manuscripts.

    Parameters
    ----------
    assembly
        The files, put together.
    """

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        self.manuscripts = [Manuscript(self, sheet) for sheet in assembly.sheets]

    @cached_property
    def _entries(self) -> dict[str, dict[str, tuple[Manuscript, Entry]]]:
        return {
            section: {
                full_name(manuscript.home, entry.name): (manuscript, entry)
                for manuscript in self.manuscripts
                if manuscript.kind == "catalogue"
                for entry in manuscript.entries(section)
            }
            for section in SECTIONS
        }

    def entries(self, section: str) -> dict[str, tuple[Manuscript, Entry]]:
        """Return the entries of a section in all catalogues by their full names, with where they stand."""
        return self._entries[section]

    def entry(self, section: str, name: str) -> dict[str, Plain]:
        """Return what is written of an entry; an empty mapping if there is none."""
        found = self._entries[section].get(name)
        return found[1].data if found else {}

    @cached_property
    def used(self) -> frozenset[tuple[str, str]]:
        """Each (section, full name) that anything refers to."""
        return frozenset(
            (reference.kind, reference.name)
            for sheet in self.assembly.sheets
            for reference in sheet.references
        )

    @cached_property
    def cause_titles(self) -> dict[str, list[str]]:
        """The full names of the causes that have a title, by the title in small letters."""
        found: dict[str, list[str]] = {}
        for full, (_, cause) in self.entries("causes").items():
            found.setdefault(str(cause.data.get("title", "")).casefold(), []).append(full)
        return found

    @cached_property
    def found_causes(self) -> frozenset[str]:
        """The causes that any tree finds."""
        return frozenset(
            tree.full(cause)
            for tree in self.trees
            for answer in tree.answers
            for cause in mapping(answer.data.get("found"))
        )

    @cached_property
    def tree_titles(self) -> dict[str, list[str]]:
        """The symptoms that are called something, by what they are called in small letters."""
        found: dict[str, list[str]] = {}
        for tree in self.trees:
            for key in ("title", "also-called"):
                for text, _ in items(tree.data.get(key), (key,)):
                    found.setdefault(text.casefold(), []).append(str(tree.data.get("symptom")))
        return found

    @cached_property
    def terms(self) -> list[str]:
        """The terms of the glossary that have more than one part."""
        return [term for term in self.assembly.library.glossary if re.search(r"[\s-]", term)]

    @cached_property
    def trees(self) -> list[Manuscript]:
        """The manuscripts that are trees."""
        return [one for one in self.manuscripts if one.kind == "tree"]


def items(data: Plain, path: Path) -> Iterator[tuple[str, Path]]:
    """Yield the texts of a list, or a text alone, with their paths."""
    for item, at in each(data, path):
        if isinstance(item, str):
            yield item, at
