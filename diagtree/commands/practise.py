"""Practise on a machine that is not there: find its hidden fault."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import Any

    from diagtree.case.journal import Journal
    from diagtree.library.library import Library
    from diagtree.practice.debrief import Debrief
    from diagtree.practice.history import History
    from diagtree.practice.play import Play

EXAMPLES = """\
  diagtree practise                                    a complaint is drawn; a machine that was left goes on
  diagtree practise SYMPTOM --level beginner           on one complaint, with what is likely shown
  diagtree practise --level journeyman --seed 7        the same seed, the same machine and the same answers
  diagtree practise --learner sam --history            what Sam has practised, with a plot
  diagtree practise --learner sam --plot sam.svg       the plot as a picture
  diagtree practise --learners                         all learners
"""

LEARNER_VARIABLE = "DIAGTREE_LEARNER"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("symptom", metavar="SYMPTOM", nargs="*", help="the complaints; none: they are drawn")
    machine = parser.add_argument_group("machine")
    machine.add_argument(
        "--level", metavar="LEVEL", default="",
        help="beginner: common causes, nothing misleads, what is likely is shown; apprentice (the default): "
        "as in life; journeyman: rare causes, two complaints",
    )  # fmt: skip
    machine.add_argument("--seed", metavar="N", type=int, help="the same seed gives the same machine")
    machine.add_argument("--new", action="store_true", help="leave an unfinished machine and begin a new one")
    learner = parser.add_argument_group("learner")
    learner.add_argument(
        "--learner", metavar="NAME", default="",
        help=f"who practises (also: {LEARNER_VARIABLE}; else your login name)",
    )  # fmt: skip
    learner.add_argument("--history", action="store_true", help="show what was practised, with a plot")
    learner.add_argument("--plot", metavar="FILE", help="write the plot of progress as SVG")
    learner.add_argument("--force", action="store_true", help="write over a file that is there")
    learner.add_argument("--learners", action="store_true", help="list all learners")
    face = parser.add_argument_group("face")
    face.add_argument("--plain", action="store_true", help="plain lines in place of the full screen")
    face.add_argument("--json", action="store_true", help="print the result as JSON; the talk goes to stderr")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Practise, or show what was practised; return the exit status."""
    from diagtree.practice.history import practice_folder

    folder = practice_folder(os.environ)
    if options.learners:
        return _list_learners(folder, options)
    learner = options.learner or os.environ.get(LEARNER_VARIABLE) or _login_name()
    if options.history or options.plot:
        return _show_history(folder, learner, options)
    return _practise(folder, learner, options)


def _login_name() -> str:
    import getpass

    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "learner"


def _practise(folder: Path, learner: str, options: argparse.Namespace) -> int:
    from diagtree.case.keeper import now
    from diagtree.commands.common import library_from
    from diagtree.commands.outgoing import write_json
    from diagtree.practice.debrief import debrief
    from diagtree.practice.history import finish, open_history
    from diagtree.practice.levels import level_called
    from diagtree.practice.result import result_of

    level = level_called(options.level or "apprentice")
    library = library_from(options)
    for symptom in options.symptom:
        library.tree(symptom)
    with open_history(folder, learner, now()) as journal:
        for notice in journal.notices:
            print(f"diagtree: {notice}", file=sys.stderr)
        play = _taken_up(journal, library, options) or _begun(journal, library, options, level.name)
        ends: list[Debrief] = []

        def at_end() -> Debrief:
            end = debrief(play)
            finish(journal, play.machine, end, now())
            ends.append(end)
            return end

        status = _face(play, learner, at_end, ends, options)
    if ends and not options.json:
        print("Kept. Your progress: diagtree practise --history", file=sys.stderr)
    if options.json:
        write_json(result_of(play, ends[0] if ends else None, learner))
    return status


def _taken_up(journal: Journal, library: Library, options: argparse.Namespace) -> Play | None:
    """Go on with the machine that was left, unless another one is asked for."""
    from diagtree.practice.history import read_history
    from diagtree.practice.levels import LEVELS
    from diagtree.practice.machine import draw_machine
    from diagtree.practice.play import Play

    left = read_history(journal.records).left
    asked = options.new or options.symptom or options.level or options.seed is not None
    if left is None or asked or left.level not in LEVELS:
        return None
    if not left.fits(library):
        print("diagtree: the trees have changed, so the machine that was left is gone.", file=sys.stderr)
        return None
    play = Play(library, draw_machine(library, left.complaints, LEVELS[left.level], left.seed), journal)
    if not play.take_up(list(left.moves)):
        print("diagtree: the machine that was left answers otherwise now; a new one begins.", file=sys.stderr)
        return None
    return play


def _begun(journal: Journal, library: Library, options: argparse.Namespace, level_name: str) -> Play:
    import secrets

    from diagtree.case.keeper import now
    from diagtree.practice.history import begin
    from diagtree.practice.levels import level_called
    from diagtree.practice.machine import draw_complaints, draw_machine
    from diagtree.practice.play import Play

    level = level_called(level_name)
    seed = secrets.randbelow(1_000_000) if options.seed is None else options.seed
    complaints = draw_complaints(library, level, seed, options.symptom)
    machine = draw_machine(library, complaints, level, seed)
    begin(journal, library, machine, bool(options.symptom), now())
    return Play(library, machine, journal)


def _face(
    play: Play,
    learner: str,
    at_end: Callable[[], Debrief],
    ends: Sequence[Debrief],
    options: argparse.Namespace,
) -> int:
    from diagtree.practice.telling import points
    from diagtree.screens.bench.terminal import fits_terminal

    if not options.plain and fits_terminal(sys.stdin, sys.stdout) and not options.json:
        from diagtree.screens.practice.application import run_practice

        status = run_practice(play, learner, at_end)
        if ends:
            print(points(ends[0]), file=sys.stderr)
        else:
            print("Left. What was done is kept. To go on: diagtree practise", file=sys.stderr)
        return status
    from diagtree.screens.practice.line import PracticeLines

    return PracticeLines(play, learner, at_end, sink=sys.stderr if options.json else sys.stdout).run()


def _list_learners(folder: Path, options: argparse.Namespace) -> int:
    from diagtree.clean import clean
    from diagtree.commands.outgoing import write_json, write_out
    from diagtree.practice.history import learners

    found = learners(folder)
    if options.json:
        write_json({"schema": 1, "learners": [_learner(name, history) for name, history in found]})
        return 0
    if not found:
        write_out("Nobody has practised yet.")
        return 0
    for name, history in found:
        facts = _learner(name, history)
        if isinstance(history, str):
            write_out(f"{clean(name)}: cannot be read: {clean(history)}")
            continue
        count = facts["finished"]
        mean = (
            ""
            if facts["mean_of_last_five"] is None
            else f", mean of the last five {facts['mean_of_last_five']:.0f}"
        )
        write_out(f"{clean(name)}: {count} {'machine' if count == 1 else 'machines'}{mean}")
    return 0


def _learner(name: str, history: History | str) -> dict[str, Any]:
    from diagtree.practice.progress import running_mean

    if isinstance(history, str):
        return {"learner": name, "trouble": history}
    points = [game.points or 0 for game in history.finished]
    mean = round(running_mean(points)[-1], 6) if points else None
    return {"learner": name, "finished": len(points), "mean_of_last_five": mean}


def _show_history(folder: Path, learner: str, options: argparse.Namespace) -> int:
    from diagtree.case.saving import save
    from diagtree.commands.common import library_from
    from diagtree.commands.outgoing import plot_from, takes_any_letter, write_json, write_out
    from diagtree.practice.history import look_up
    from diagtree.practice.progress import plot_svg
    from diagtree.practice.result import history_result
    from diagtree.practice.telling import tell_history

    plot = plot_from(options)
    history = look_up(folder, learner)
    if plot is not None:
        marks = [f"{game.began[:10]}, {game.level}, {game.points} points" for game in history.finished]
        points = [game.points or 0 for game in history.finished]
        svg = plot_svg(points, f"Practice: {history.learner}", marks)
        save(plot, svg.encode("utf-8"), force=options.force)
        print(f"Written: {plot}", file=sys.stderr)
    if options.json:
        write_json(history_result(history))
    elif options.history:
        for line in tell_history(history, library_from(options), takes_any_letter(sys.stdout)):
            write_out(line)
    return 0
