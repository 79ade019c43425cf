"""Faults on their way out: as text with the line and a caret, as JSON, or as SARIF for code review."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from urllib.parse import quote

from diagtree import __version__
from diagtree.clean import clean
from diagtree.library.fault import Fault
from diagtree.library.offers import Rule
from diagtree.lines import cells
from diagtree.proofread.manuscript import Manuscript
from diagtree.proofread.rulebook import page_of

WIDTH = 110
"""A source line is shown up to this many letters around the fault."""


def as_text(faults: Sequence[Fault], manuscripts: Iterable[Manuscript]) -> str:
    """Write faults for a reader: place, words, rule, the line itself with a caret under the place.

    Parameters
    ----------
    faults
        What was found.
    manuscripts
        The files, for their lines.
    """
    rows: Mapping[str, list[str]] = {one.document.file: one.rows for one in manuscripts}
    told: list[str] = []
    for fault in faults:
        told.append(f"{clean(str(fault))} [{fault.rule}]")
        lines = rows.get(fault.file, [])
        if fault.line <= len(lines):
            line = lines[fault.line - 1].rstrip("\r")
            cut = max(0, fault.column - WIDTH + 20)
            shown = clean(line[cut : cut + WIDTH])
            before = clean(line[cut : fault.column - 1])
            told += [f"    {shown}", f"    {' ' * cells(before)}^"]
    return "\n".join(told)


def summary(faults: Sequence[Fault], files: int) -> str:
    """Say in a line how much was found.

    Examples
    --------
    >>> summary([], 3)
    'No faults in 3 files.'
    """
    what = "1 file" if files == 1 else f"{files} files"
    if not faults:
        return f"No faults in {what}."
    bad = len({fault.file for fault in faults})
    count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
    return f"{count} in {bad} of {what}." if files != 1 else f"{count} in {what}."


def as_json(faults: Sequence[Fault], files: Sequence[str]) -> str:
    """Write faults as JSON; ``schema`` counts up when its form changes."""
    told = [
        {
            "file": fault.file,
            "line": fault.line,
            "column": fault.column,
            "rule": fault.rule,
            "path": list(fault.at),
            "text": fault.text,
            "mend": fault.mend,
        }
        for fault in faults
    ]
    return json.dumps({"schema": 1, "files": list(files), "faults": told}, indent=2)


def as_sarif(faults: Sequence[Fault], rules: Sequence[Rule]) -> str:
    """Write faults as SARIF 2.1.0 (OASIS), which code review tools show beside the lines."""
    used = sorted({fault.rule for fault in faults})
    pages = {rule.name: rule for rule in rules}
    listed = [
        {
            "id": name,
            "shortDescription": {"text": _title(pages.get(name))},
            "help": {"text": _why(pages.get(name))},
        }
        for name in used
    ]
    results = [
        {
            "ruleId": fault.rule,
            "ruleIndex": used.index(fault.rule),
            "level": "error" if fault.rule == "reading" else "warning",
            "message": {"text": clean(fault.message)},
            "locations": [
                {
                    "physicalLocation": {
                        "artifactLocation": {"uri": quote(fault.file.replace("\\", "/"))},
                        "region": {"startLine": fault.line, "startColumn": fault.column},
                    }
                }
            ],
        }
        for fault in faults
    ]
    driver = {"name": "diagtree proofread", "version": __version__, "rules": listed}
    report = {
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}],
    }
    return json.dumps(report, indent=2)


def _title(rule: Rule | None) -> str:
    return rule.page.strip().split("\n")[0] if rule else "The file cannot be read as it is meant."


def _why(rule: Rule | None) -> str:
    if rule is None:
        return "What is told must be put right before anything else is looked at."
    try:
        return page_of(rule).why
    except ValueError:  # a plugin's rule may have a page of its own form
        return rule.page.strip()
