r"""The lines of a journal: how a record becomes a line that cannot lie, and how lines are read back.

A line is one JSON object::

    {"crc":"2f1c9e07","n":3,"event":{"kind":"noted", ...}}

``n`` counts the lines from 1. ``crc`` is the CRC-32 of every byte after it up to the end of the line, as
eight lower-case hexadecimal digits, compared as text. So a bit that flipped anywhere is seen, and so is a
line that is missing, doubled or in another's place. A last line without its line end was never finished.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

_HEAD = b'{"crc":"'
_AFTER = b'",'
_DIGITS = 8
_BODY = len(_HEAD) + _DIGITS + len(_AFTER)


@dataclass(frozen=True, slots=True)
class Damage:
    """Where a journal stops saying what was written into it."""

    line: int
    why: str


@dataclass(frozen=True, slots=True)
class Contents:
    """What a journal's bytes say.

    Parameters
    ----------
    records
        The records of all whole lines before the damage, if there is any.
    size
        How many bytes these lines take.
    torn
        How many bytes of an unfinished last line follow.
    damage
        The first line that is not as it was written, or None.
    """

    records: tuple[Mapping[str, Any], ...]
    size: int
    torn: int = 0
    damage: Damage | None = None


def line_of(number: int, record: Mapping[str, Any]) -> bytes:
    r"""Write a record as a line.

    Examples
    --------
    >>> line_of(1, {"kind": "noted"})
    b'{"crc":"eb33f4c2","n":1,"event":{"kind":"noted"}}\n'
    """
    body = f'"n":{number},"event":{json.dumps(record, separators=(",", ":"))}}}'.encode()
    return b"%s%08x%s%s\n" % (_HEAD, zlib.crc32(body), _AFTER, body)


def read_lines(data: bytes) -> Contents:
    r"""Read a journal's bytes.

    Examples
    --------
    >>> whole = line_of(1, {"kind": "opened"}) + line_of(2, {"kind": "noted"})
    >>> [record["kind"] for record in read_lines(whole).records]
    ['opened', 'noted']
    >>> cut = read_lines(whole[:-4])
    >>> len(cut.records), cut.torn
    (1, 46)
    >>> read_lines(whole.replace(b"opened", b"opeped")).damage
    Damage(line=1, why='its checksum does not fit')
    """
    records: list[Mapping[str, Any]] = []
    size = 0
    while size < len(data):
        end = data.find(b"\n", size)
        if end < 0:
            return Contents(tuple(records), size, torn=len(data) - size)
        record = _record(data[size:end], len(records) + 1)
        if isinstance(record, str):
            return Contents(tuple(records), size, damage=Damage(len(records) + 1, record))
        records.append(record)
        size = end + 1
    return Contents(tuple(records), size)


def _record(line: bytes, number: int) -> Mapping[str, Any] | str:
    """Read one line; a text says what is wrong with it."""
    body = line[_BODY:]
    if line[:_BODY] != b"%s%08x%s" % (_HEAD, zlib.crc32(body), _AFTER):
        if not line.startswith(_HEAD):
            return "it is no line of a case"
        return "its checksum does not fit"
    try:
        whole = json.loads(line)
    except ValueError:
        return "it is no line of a case"
    if whole.get("n") != number:
        return f"it says that it is line {whole.get('n')}"
    record = whole.get("event")
    return record if isinstance(record, dict) else "it is no line of a case"
