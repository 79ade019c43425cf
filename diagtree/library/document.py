"""Reads YAML strictly: every scalar stays text, each key and value keeps its line and column.

A YAML 1.1 loader turns an answer ``no`` into False, the last of two equal keys wins, and an alias can blow a
file up a billionfold. None of that can happen here: the events of the parser are taken as they come, and
what is not plain mappings, lists and texts is a fault. Nothing recurses, so no depth can hurt.
"""

from __future__ import annotations

import codecs
import itertools
import re
from dataclasses import dataclass, field, replace
from typing import Any, TypeAlias

import yaml

from diagtree.library.fault import Fault, Path, in_words
from diagtree.library.grammar import plainly

MOST_BYTES = 1_000_000
MOST_DEPTH = 24
MOST_NODES = 20_000
MOST_LETTERS = 4_000
MOST_SAID = 400
"""A fault is a sentence; what it quotes may be a page."""
MOST_TOLD = 100
"""So many letters that cannot be seen are told one by one; a file full of them is no text."""

Plain: TypeAlias = Any
"""What a file says: mappings, lists and texts; or a parser's own things, which have no types."""

PARSER: type[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The parser in C; without it, reading is several times slower and says the same."""

_HIDDEN = (
    "\x7f-\x9f\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u2028-\u202e\u2060-\u206f"
    "\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\uffff\ud800-\udfff\U000e0000-\U000e0fff"
    "\u0600-\u0605\u06dd\u070f\u0890-\u0891\u08e2\U000110bd\U000110cd\U00013430-\U0001343f"
    "\U0001bca0-\U0001bca3\U0001d173-\U0001d17a"
)
_TAB = "There is a tab."
_REFUSED_RAW = re.compile(f"[\x00-\x08\x0b-\x0c\x0e-\x1f{_HIDDEN}]|\r(?!\n)")
_REFUSED = re.compile(f"[\x00-\x09\x0b-\x1f{_HIDDEN}]")


@dataclass(frozen=True, slots=True)
class Document:
    """One file, read: its data, where each part of it stands, and what is wrong with its writing.

    Parameters
    ----------
    file
        The file's name as shown to its author.
    text
        What the file says.
    data
        Mappings, lists and texts; None if the writing is too broken to tell.
    marks
        For each mapping and list (by its ``id``), where its keys and values stand.
    faults
        What is wrong with the writing.
    encoding
        How the text goes back into bytes: some editors begin a file with a byte order mark, and it stays.
    """

    file: str
    text: str
    data: Any
    marks: dict[int, Any] = field(repr=False)
    faults: tuple[Fault, ...] = ()
    encoding: str = "utf-8"

    def position(self, path: Path, of_key: bool = False) -> tuple[int, int]:
        """Tell the line and column, from 1, of the value at a path, or of its key.

        Parts of the path that are not in the file are passed over, so that a path always leads somewhere.
        """
        here: Any = self.data
        mark: Any = None
        for part in path:
            if isinstance(here, dict) and part in here:
                key_mark, value_mark = self.marks[id(here)][part]
                mark = key_mark if of_key else value_mark
                here = here[part]
            elif isinstance(here, list) and isinstance(part, int) and part < len(here):
                mark = self.marks[id(here)][part]
                here = here[part]
        return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)

    def fault(
        self, path: Path, text: str, mend: str = "", of_key: bool = False, rule: str = "", offset: int = 0
    ) -> Fault:
        """Make a fault at a path of this file; `offset` columns further right."""
        line, column = self.position(path, of_key)
        text = text if len(text) <= MOST_SAID else f"{text[:MOST_SAID]}..."
        return Fault(self.file, line, column + offset, in_words(path), text, mend, rule, path)


def step(data: Plain, part: str | int) -> Plain:
    """Go one step into a mapping or a list; None if there is nothing.

    Examples
    --------
    >>> step(step({"a": ["b"]}, "a"), 0)
    'b'
    """
    if isinstance(data, dict):
        return data.get(part)
    if isinstance(data, list) and isinstance(part, int) and part < len(data):
        return data[part]
    return None


def value_at(data: Plain, path: Path) -> Plain:
    """Return what stands at a path; None if there is nothing."""
    for part in path:
        data = step(data, part)
    return data


def take_out(data: Plain, path: Path) -> bool:
    """Take what stands at a path out of the data; True if there was anything.

    Examples
    --------
    >>> data = {"a": ["b", "c"]}
    >>> take_out(data, ("a", 0)), take_out(data, ("d",)), data
    (True, False, {'a': ['c']})
    """
    *inner, last = path
    holder = value_at(data, tuple(inner))
    if step(holder, last) is None:
        return False
    del holder[last]
    return True


def read_document(raw: bytes, file: str, begins: str = "symptom: name") -> Document:
    r"""Read one file's bytes.

    Parameters
    ----------
    raw
        The bytes.
    file
        The name to show.
    begins
        How a file of this kind begins, for an author who wrote nothing yet.

    Returns
    -------
    Document
        Never raises for anything that the bytes may hold: faults are values.

    Examples
    --------
    >>> read_document(b"no: {says: 'on'}", "a.yaml").data
    {'no': {'says': 'on'}}
    >>> print(read_document(b"ask: one\nask: two", "a.yaml").faults[0])
    a.yaml:2:1: ask: This key is there twice, first in line 1. Take one of them out.
    """
    text, faults = _decoded(raw, file)
    if faults:
        return Document(file, text, None, {}, tuple(faults))
    document = _Reader(file, text, begins).read()
    return replace(document, encoding="utf-8-sig") if raw.startswith(codecs.BOM_UTF8) else document


def _decoded(raw: bytes, file: str) -> tuple[str, list[Fault]]:
    if len(raw) > MOST_BYTES:
        told = f"The file is larger than 1 MB ({len(raw):,} bytes)."
        return "", [Fault(file, 1, 1, "", told, "Split it into several files.")]
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "", [Fault(file, 1, 1, "", "The file is written in UTF-16.", "Save it as UTF-8.")]
    if b"\x00" in raw:
        told = "The file holds bytes of nothing (0x00), so it is no text, or text in UTF-16."
        return "", [Fault(file, 1, 1, "", told, "Save it as UTF-8.")]
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        column = len(before[before.rfind(b"\n") + 1 :].decode("utf-8", "replace")) + 1
        told = f"The file is not UTF-8: byte 0x{raw[error.start]:02x} stands for no letter."
        return "", [Fault(file, line, column, "", told, "Save it as UTF-8.")]
    if "\r" in text and "\n" not in text:
        told = "The lines end as on very old machines, in a carriage return alone."
        return "", [Fault(file, 1, 1, "", told, "Save it with ordinary line ends.")]
    faults = []
    for found in itertools.islice(_REFUSED_RAW.finditer(text), MOST_TOLD):
        line, column = _line_and_column(text, found.start())
        faults.append(Fault(file, line, column, "", _unseen(found.group()), "Take it out."))
    tabs = (place for place, letter in enumerate(text) if letter == "\t") if "\t" in text else ()
    for at in itertools.islice(tabs, MOST_TOLD):
        line, column = _line_and_column(text, at)
        if not any(fault.line == line and fault.text == _TAB for fault in faults[-1:]):
            faults.append(Fault(file, line, column, "", _TAB, "Use spaces."))
    return text, sorted(faults)


def _line_and_column(text: str, at: int) -> tuple[int, int]:
    return text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)


def _unseen(letter: str) -> str:
    return f"There is a letter that cannot be seen or that turns the text: U+{ord(letter):04X}."


class _TooMuchError(Exception):
    """The rest of the file is not worth reading."""


class _Reader:
    """Takes the parser's events one by one and keeps the data, the marks and the faults."""

    def __init__(self, file: str, text: str, begins: str) -> None:
        self.file = file
        self.text = text
        self.begins = f"Begin with '{begins}'."
        self.escapes = "\\" in text
        self.faults: list[Fault] = []
        self.marks: dict[int, Plain] = {}
        self.way: list[tuple[str | int | None, Plain, Plain]] = []
        """For each container that is open: the key that led in, and the container around it with its marks."""
        self.top: Plain = None
        self.container: Plain = None
        self.here: Plain = None  # the marks of the open container
        self.key: Plain = None
        self.key_mark: Plain = None
        self.wants_key = False
        self.documents = self.nodes = 0

    def read(self) -> Document:
        """Read the whole text."""
        loader = PARSER(self.text)
        whole = True
        try:
            self._events(loader)
        except yaml.MarkedYAMLError as error:
            line, column, told, mend = plainly(error, self.text)
            self.faults.append(Fault(self.file, line, column, "", told, mend))
            whole = False
        except _TooMuchError:
            whole = False
        finally:
            loader.dispose()
        if whole and self.top in (None, ""):
            self.faults.append(Fault(self.file, 1, 1, "", "The file is empty.", self.begins))
        elif whole and not isinstance(self.top, dict):
            told = "The file holds no 'key: value' lines."
            self.faults.append(Fault(self.file, 1, 1, "", told, self.begins))
        data = self.top if whole and isinstance(self.top, dict) else None
        return Document(self.file, self.text, data, self.marks, tuple(sorted(self.faults)))

    def _events(self, loader: Plain) -> None:
        get_event = loader.get_event
        text, end, start, stop = (
            yaml.ScalarEvent,
            yaml.CollectionEndEvent,
            yaml.MappingStartEvent,
            yaml.StreamEndEvent,
        )
        while True:
            event = get_event()
            kind = type(event)
            if kind is text:
                value = event.value
                if (
                    event.anchor is not None
                    or event.tag is not None
                    or len(value) > MOST_LETTERS
                    or (self.escapes and event.style == '"')
                    or value == "<<"
                ):
                    self._odd(event)
                self._node(value, event.start_mark)
            elif issubclass(kind, end):
                self.key, self.container, self.here = self.way.pop()
                self.wants_key = isinstance(self.container, dict)
            elif kind is start or kind is yaml.SequenceStartEvent:
                self._open(event, {} if kind is start else [])
            elif kind is stop:
                return
            else:
                self._rare(event)

    def _node(self, value: Plain, mark: Plain) -> None:
        """Put a text, or a container that opens, where it belongs."""
        self.nodes += 1
        if self.nodes > MOST_NODES:
            told = f"The file holds more than {MOST_NODES:,} keys and values."
            self._at(mark, (), told, "Split it into several files.")
            raise _TooMuchError
        container = self.container
        if self.wants_key:
            if value in container:
                told = f"This key is there twice, first in line {self.here[value][0].line + 1}."
                self._at(mark, self._path(value), told, "Take one of them out.")
            self.key, self.key_mark, self.wants_key = value, mark, False
        elif container is None:
            self.top = value
        elif type(container) is dict:
            container[self.key] = value
            self.here[self.key] = (self.key_mark, mark)
            self.wants_key = True
        else:
            self.key = len(container)
            container.append(value)
            self.here.append(mark)

    def _open(self, event: Plain, value: Plain) -> None:
        mark = event.start_mark
        if event.anchor is not None or event.tag is not None:
            self._odd(event)
        if len(self.way) >= MOST_DEPTH:
            self._at(mark, (), f"This is nested more than {MOST_DEPTH} levels deep.", "Write it flatter.")
            raise _TooMuchError
        if self.wants_key:
            self._at(mark, self._path(), "A key must be a plain text.", "Put it in quotes.")
            raise _TooMuchError
        self._node(value, mark)
        self.way.append((self.key, self.container, self.here))
        self.container, self.wants_key = value, isinstance(value, dict)
        self.here = self.marks[id(value)] = {} if self.wants_key else []

    def _rare(self, event: Plain) -> None:
        mark = event.start_mark
        if isinstance(event, yaml.AliasEvent):
            told = f"This repeats another place ('*{event.anchor}'); that is not allowed here."
            self._at(mark, self._path_here(), told, "Write it out. If it is a text, put it in quotes.")
            self._node("", mark)
        elif isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                told = "A second document begins here ('---')."
                self._at(mark, (), told, "Put it into a file of its own.")
                raise _TooMuchError
            if event.version or event.tags:
                self._at(mark, (), "A line with '%' is not allowed here.", "Take it out.")

    def _path(self, *more: str | int) -> Path:
        return (*(key for key, _, _ in self.way[1:] if key is not None), *more)

    def _path_here(self) -> Path:
        if self.wants_key or self.container is None:
            return self._path()
        return self._path(len(self.container) if isinstance(self.container, list) else self.key)

    def _at(self, mark: Plain, path: Path, text: str, mend: str) -> None:
        self.faults.append(
            Fault(self.file, mark.line + 1, mark.column + 1, in_words(path), text, mend, at=path)
        )

    def _odd(self, event: Plain) -> None:
        mark, path, is_key = event.start_mark, self._path_here(), self.wants_key
        if event.anchor is not None:
            told = f"This names a place to be repeated ('&{event.anchor}'); that is not allowed here."
            self._at(mark, path, told, "Write it out. If it is a text, put it in quotes.")
        if event.tag is not None:
            told = f"A text cannot begin with '!' ('{event.tag}'): that is a tag, not allowed here."
            self._at(mark, path, told, "Put the whole text in quotes.")
        if type(event) is not yaml.ScalarEvent:
            return
        if len(event.value) > MOST_LETTERS:
            told = f"This text is longer than {MOST_LETTERS:,} letters ({len(event.value):,})."
            self._at(mark, path, told, "Say it shorter.")
        if is_key and event.value == "<<" and not event.style:
            told = "'<<' copies another mapping in; that is not allowed here."
            self._at(mark, self._path("<<"), told, "Write it out.")
        refused = _REFUSED.search(event.value)
        if refused:
            self._at(mark, path, _unseen(refused.group()), "Take it out.")
