"""The proofreader: every rule over every file that is asked for, all faults at once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from diagtree.library.fault import Fault
from diagtree.library.offers import Rule
from diagtree.proofread.manuscript import Manuscript, Shelf

READING = "reading"
"""The rule named for faults that keep a file from being read as it is meant."""


def proofread(shelf: Shelf, rules: Sequence[Rule], only: Iterable[Manuscript] | None = None) -> list[Fault]:
    """Proofread files.

    Parameters
    ----------
    shelf
        All files: some rules hold one against the others.
    rules
        The rules to apply.
    only
        The files to proofread; all of them if None.

    Returns
    -------
    list of Fault
        By file, line and column; each names its rule.
    """
    found: list[Fault] = []
    for manuscript in shelf.manuscripts if only is None else only:
        found += faults_in(manuscript, rules)
    return found


def faults_in(manuscript: Manuscript, rules: Sequence[Rule]) -> list[Fault]:
    """Return the faults of one file, those of reading among them."""
    found: set[Fault] = set()
    proofreads = [rule for rule in rules if manuscript.kind in rule.kinds] if manuscript.data else []
    if manuscript.sheet.faults:
        names = {rule.name for rule in proofreads}
        found |= {
            fault if fault.rule else replace(fault, rule=READING)
            for fault in manuscript.sheet.faults
            if not fault.rule or fault.rule not in names
        }
    for rule in proofreads:
        for fault in rule.finds(manuscript):
            found.add(fault if fault.rule == rule.name else replace(fault, rule=rule.name))
    return sorted(found)
