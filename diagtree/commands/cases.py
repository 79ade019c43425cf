"""List the cases on this machine, and save what can be saved of a damaged one."""

from __future__ import annotations

import argparse
import os
import shlex
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagtree.commands.common import add_library_arguments, cases_folder_from, library_from, program
from diagtree.commands.outgoing import write_json
from diagtree.errors import ExpectedError

if TYPE_CHECKING:
    from diagtree.case.folder import Listed
    from diagtree.case.view import Memory

EXAMPLES = """\
  diagtree cases                                   list them, the one touched last first
  diagtree cases --json                            the same for other programs
  diagtree cases recover OLD.case --to NEW.case    save what came before a damaged line
"""

SCHEMA = 1
"""The version of what ``--json`` prints."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    parser.add_argument("action", nargs="?", choices=["recover"], help="save what came before a damaged line")
    parser.add_argument("file", nargs="?", metavar="FILE", help="the damaged case")
    parser.add_argument("--to", metavar="NEW", help="where what can be saved goes")
    parser.add_argument("--cases", metavar="DIR", help="the folder of cases (also: DIAGTREE_CASES)")
    parser.add_argument("--json", action="store_true", help="print JSON")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Do the work; return the exit status."""
    if options.action == "recover":
        return _recover(options)
    from diagtree.case.folder import called, cases_folder, list_cases
    from diagtree.case.view import Memory

    if options.to:
        raise ExpectedError("--to goes with recover.", "diagtree cases recover OLD.case --to NEW.case")
    folder = cases_folder_from(options)
    found = list_cases(folder)
    memory = Memory(library_from(options)) if found else None
    if options.json:
        cases = [_plain(listed, memory) for listed in found]
        write_json({"schema": SCHEMA, "folder": str(folder), "cases": cases})
        return 0
    from diagtree.clean import clean

    if not found:
        print(clean(f"No cases yet in {folder}. Start one: diagtree diagnose"))
        return 0
    for listed in found:
        print("\n".join(clean(line) for line in _lines(listed, memory)))
    whole = [listed for listed in found if not listed.trouble]
    if whole:
        name = shlex.quote(called(whole[0].path, cases_folder(os.environ)))
        print(clean(f"Go on with one: {program()} diagnose --case {name}"), file=sys.stderr)
    return 0


def _recover(options: argparse.Namespace) -> int:
    from diagtree.case.journal import recover

    if not options.file or not options.to:
        raise ExpectedError(
            "Name the damaged case and a new file.", "diagtree cases recover OLD.case --to NEW.case"
        )
    if options.json:
        raise ExpectedError("What recover tells is for people.", "Leave --json out.")
    if Path(options.to).exists():
        # Nothing here takes the place of a file: it may be the damaged one.
        raise ExpectedError(f"{options.to} is there already.", "Choose another name.")
    lines = recover(Path(options.file), Path(options.to))
    print(
        f"{lines} {'line' if lines == 1 else 'lines'} saved in {options.to}. The damaged file is as it was."
    )
    return 0


def _standing(listed: Listed, memory: Memory | None) -> tuple[str, int]:
    """Say where a case stopped, in words, and how many answers it has."""
    from diagtree.case.view import View

    case = listed.case
    answers = len(case.given)
    if case.handed_over is not None:
        return f"handed over by {case.handed_over.by}", answers
    if memory is None:
        return "", answers
    view = View(case, memory)
    if view.finished:
        return "questions finished", answers
    if view.place is None:
        return "no complaint yet", answers
    from diagtree.case.question import question_at

    return f"stopped at: {question_at(view.library, view.place, None).ask}", answers


def _titles(listed: Listed, memory: Memory | None) -> list[str]:
    trees = memory.library.trees if memory is not None else {}
    return [trees[symptom].title if symptom in trees else symptom for symptom in listed.case.complaints]


def _lines(listed: Listed, memory: Memory | None) -> list[str]:
    if listed.trouble:
        return [str(listed.path), f"  {listed.trouble}"]
    where, answers = _standing(listed, memory)
    said = list(filter(None, [listed.case.label, *_titles(listed, memory)])) or ["(no complaint yet)"]
    when = datetime.fromisoformat(listed.case.updated).astimezone().strftime("%Y-%m-%d %H:%M")
    return [
        f"{when}  {said[0]}",
        *(f"  {title}" for title in said[1:]),
        f"  {'1 answer' if answers == 1 else f'{answers} answers'}, {where}",
        f"  {listed.path}",
    ]


def _plain(listed: Listed, memory: Memory | None) -> dict[str, Any]:
    if listed.trouble:
        return {"path": str(listed.path), "trouble": listed.trouble}
    where, answers = _standing(listed, memory)
    return {
        "path": str(listed.path),
        "label": listed.case.label,
        "complaints": list(listed.case.complaints),
        "opened": listed.case.opened,
        "updated": listed.case.updated,
        "answers": answers,
        "finished": where == "questions finished" or listed.case.handed_over is not None,
        "handed_over": listed.case.handed_over is not None,
        "where": where,
    }
