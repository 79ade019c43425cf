"""Says in plain English what a YAML parser complains about, and what to do."""

from __future__ import annotations

import re
from collections.abc import Iterable

import yaml

_QUOTES = "If it belongs to a text, put the whole text in quotes."

_BLANKS = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"
_NEARLY = re.compile(rf"^ *(?P<indent>[{_BLANKS}])|:(?P<after>[{_BLANKS}])|^[^:]*(?P<colon>\uff1a)[^:]*$")
"""Blanks and a colon that look like the plain ones and mean nothing to YAML; they come with pasted text."""

_KNOWN: tuple[tuple[str, str, str, bool], ...] = (
    # what the parsers say (in C, in Python), what we say, what to do, point at where it began?
    (r"found unexpected end of stream", "A quote is opened here and never closed.", "Close it.", True),
    (
        r"unexpected document separator",
        "A quote is opened here and not closed before '---'.",
        "Close it.",
        True,
    ),
    (
        r"while parsing a flow sequence",
        "A '[' is opened here and never closed as it should.",
        "Close it with ']', with commas between.",
        True,
    ),
    (
        r"while parsing a flow mapping",
        "A '{' is opened here and never closed as it should.",
        "Close it with '}', with commas between.",
        True,
    ),
    (
        r"parsing a (flow|block) node",
        "Something is missing here: a value, or the end of a bracket.",
        f"Write it, or close the bracket. {_QUOTES}",
        False,
    ),
    (
        r"unknown escape character",
        "A backslash in double quotes stands before a letter that it does not go with.",
        "Use single quotes, or write the backslash twice.",
        False,
    ),
    (
        r"escape code|expected escape sequence",
        "An escape in double quotes names no letter.",
        "Write the letter itself.",
        False,
    ),
    (
        r"block sequence entries are not allowed|sequence entries are not allowed",
        "A list item '- ' cannot begin here.",
        f"Put it on a line of its own. {_QUOTES}",
        False,
    ),
    (
        r"scanning an (alias|anchor)|while scanning a tag",
        "A text cannot begin with '*', '&' or '!'.",
        "Put the whole text in quotes.",
        True,
    ),
    (
        r"could not find expected ':'",
        "A key is begun here, but no ':' follows it.",
        f"Write 'key: value', or indent the line like the ones above. {_QUOTES}",
        True,
    ),
    (
        r"while parsing a block collection",
        "This line does not fit into the list above it.",
        "Begin it with '- ' under the other items, or move it to the left.",
        False,
    ),
    (
        r"document start",
        "Here is more than fits: a bracket closed once too often, or a line too far to the left.",
        "Take it out or indent it.",
        False,
    ),
    (
        r"nesting depth",
        "This is nested too deep.",
        "Write it flatter.",
        False,
    ),
    (
        r"while scanning a block scalar|directive",
        "This line is not understood.",
        _QUOTES,
        False,
    ),
)


def plainly(error: yaml.MarkedYAMLError, text: str) -> tuple[int, int, str, str]:
    """Turn a parser's error into line, column (from 1), what is wrong and what to do.

    Parameters
    ----------
    error
        As PyYAML raises it, from its parser in C or in Python.
    text
        The file.

    Examples
    --------
    >>> try:
    ...     list(yaml.parse("ask: Check: tight?"))
    ... except yaml.MarkedYAMLError as error:
    ...     print(*plainly(error, "ask: Check: tight?"))
    1 11 There is a ': ' inside a text. Put it in quotes: ask: "Check: tight?"
    """
    told = f"{error.context or ''} {error.problem or ''}"
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line, mark.column) if mark is not None else (0, 0)
    rows = text.split("\n")
    if line >= len(rows) or (line == len(rows) - 1 and not rows[line]):
        # The end of the file: the last line with something in it is more helpful.
        line = max((number for number, row in enumerate(rows) if row.strip()), default=0)
        column = len(rows[line].rstrip()) if rows else 0
    row = rows[line].rstrip("\r") if rows else ""
    began = error.context_mark.line if error.context_mark else line
    # The parser may stumble one line late.
    pasted = _pasted(rows, (line, began, max(0, line - 1)))
    if pasted is not None:
        return pasted
    if "mapping values are not allowed" in told:
        return (line + 1, column + 1, *_colon(row, column))
    if "cannot start any token" in told:
        letter = row[column : column + 1]
        return line + 1, column + 1, f"A text cannot begin with '{letter}'.", "Put the whole text in quotes."
    if "while parsing a flow mapping" in told and row[column : column + 1] == ":":
        return (line + 1, column + 1, *_colon(row, column))
    for pattern, says, mend, at_its_beginning in _KNOWN:
        if re.search(pattern, told):
            if at_its_beginning and error.context_mark is not None:
                line, column = error.context_mark.line, error.context_mark.column
            return line + 1, column + 1, says, mend
    if "while parsing a block mapping" in told:
        if row[:column].rstrip().endswith(("'", '"')):
            return (
                line + 1,
                column + 1,
                "A text goes on after its closing quote.",
                "Write a quote inside single quotes twice, or use the other kind of quotes.",
            )
        return (
            line + 1,
            column + 1,
            "This line does not fit under the lines above it.",
            f"Indent it exactly like its neighbours, and write 'key: value'. {_QUOTES}",
        )
    return line + 1, column + 1, f"This is not understood: {' '.join(told.split())}.", _QUOTES


def _pasted(rows: list[str], lines: Iterable[int]) -> tuple[int, int, str, str] | None:
    """Find a blank or a colon that only looks like one where it counts: before a line, or behind a key."""
    for line in lines:
        nearly = _NEARLY.search(rows[line]) if line < len(rows) else None
        if nearly is not None and nearly.lastgroup is not None:
            what = "colon" if nearly["colon"] else "blank"
            letter = nearly[nearly.lastgroup]
            told = f"This {what} is not a plain one (U+{ord(letter):04X}), so the line is not understood."
            return line + 1, nearly.start(nearly.lastgroup) + 1, told, f"Type a plain {what} in its place."
    return None


def _colon(row: str, column: int) -> tuple[str, str]:
    key = re.match(r"(?:.*[{,]|\s*(?:- )*)\s*([^\s:\"',{][^:,{]*):\s+(.*)$", row[: column + 1])
    if key is None:
        return (
            "This line is indented under a text, or its ':' is out of place.",
            "Indent it like its neighbours. If it is part of the text above, put the whole text in quotes.",
        )
    rest = row[key.start(2) :].strip().rstrip("}").rstrip()
    if len(rest) > 100:
        return "There is a ': ' inside a text.", "Put it in quotes, the whole text."
    quoted = rest.replace("\\", "\\\\").replace('"', '\\"')
    return "There is a ': ' inside a text.", f'Put it in quotes: {key.group(1)}: "{quoted}"'
