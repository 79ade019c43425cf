# ruff: noqa: N999 - the command is called so, and its module is found by that name
"""Walk a tree that is being written, faults and all; nothing is kept."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.case.walker import Walker
    from diagtree.learning.draft import Draft

EXAMPLES = """\
  diagtree try my-trees/dead.yaml             walk it, however unfinished it is
  diagtree try my-trees/dead.yaml --plain     in plain lines
  diagtree try my-trees/dead.yaml --looks     with the quick looks first
"""

LEAST = 0.005
"""Causes less likely than this are not listed at the end."""

MOST_FAULTS = 8
"""So many faults are listed before the walk."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("file", metavar="FILE", help="the tree's file")
    parser.add_argument("--plain", action="store_true", help="plain lines in place of the full screen")
    parser.add_argument("--looks", action="store_true", help="ask the quick looks first")
    parser.add_argument(
        "--order", choices=("guided", "shortest"), help="the author's order (the default) or the engine's"
    )
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Walk the draft; return the exit status: 0 if the walk came to its end, 3 if it was left."""
    from dataclasses import replace

    from diagtree.case.log import ScratchLog
    from diagtree.case.walker import Walker
    from diagtree.clean import clean
    from diagtree.commands.common import own_folders, plugins_from
    from diagtree.learning.draft import read_draft

    path = Path(options.file)
    draft = read_draft(path, plugins_from(options), own_folders(options.trees))
    for line in faults_in_short(draft, str(path)):
        print(clean(line), file=sys.stderr)
    library = draft.library if options.looks else replace(draft.library, looks={})
    walker = Walker(library, ScratchLog(), options.order, complaints=[draft.symptom])
    status = _walk(walker, options)
    print("\n".join(clean(line) for line in story(walker, draft.symptom)))
    return status


def faults_in_short(draft: Draft, file: str) -> list[str]:
    """List a draft's faults and those of the catalogues beside it, one a line; many are cut short."""
    faults = [*draft.faults, *draft.faults_beside]
    if not faults:
        return []
    many = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
    files = " and beside it" if draft.faults_beside else ""
    lines = [f"{many} in {file}{files}. The walk goes round what it can."]
    for fault in faults[:MOST_FAULTS]:
        place = "" if fault in draft.faults else f"{fault.file}, "
        lines.append(f"  {place}line {fault.line}: {f'{fault.text} {fault.mend}'.rstrip()}")
    if len(faults) > MOST_FAULTS:
        lines.append(f"  {len(faults) - MOST_FAULTS} more: diagtree proofread {file}")
    return lines


def _walk(walker: Walker, options: argparse.Namespace) -> int:
    from diagtree.screens.bench.terminal import fits_terminal

    if not options.plain and fits_terminal(sys.stdin, sys.stdout):
        from diagtree.screens.bench import run_bench

        return run_bench(walker).exit_code
    from diagtree.screens.line import LineMode

    return LineMode(walker).run()


def story(walker: Walker, symptom: str) -> list[str]:
    """Tell a walk in the author's names: which way it went, where it ended, what is likeliest."""
    from diagtree.learning.mending import NOTHING

    tree = walker.library.trees[symptom]
    steps = [
        f"{step.place.name}: {step.answer or 'cannot tell'}" for step in walker.way if not step.place.is_look
    ]
    lines = ["", f"The way: {', '.join(steps) or 'no answer'}"]
    walk = walker.standing.walks[symptom]
    if walk.leaf is not None:
        found = tree.checks[walk.leaf[0]].answers[walk.leaf[1]].found or {}
        written = [f"{name} {count:f}" for name, count in found.items() if NOTHING not in name]
        lines.append(f"Found there: {', '.join(written) or 'nothing is written yet'}")
    elif walk.open is not None:
        lines.append(f"Open: {walk.open}")
    lines.append("Likeliest, in 100:")
    ranking = [(cause, chance) for cause, chance in walker.belief.ranking(symptom) if chance >= LEAST][:5]
    lines += [f"{100 * chance:6.0f}  {walker.library.causes[cause].title}" for cause, chance in ranking]
    return lines
