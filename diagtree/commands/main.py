"""The program's door: finds the command, runs it, and turns what went wrong into words and an exit code."""

from __future__ import annotations

import argparse
import contextlib
import errno
import io
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Protocol, cast

from diagtree import __version__
from diagtree.clean import clean
from diagtree.errors import ExpectedError, UnknownNameError

COMMANDS = {
    "diagnose": "Walk from a complaint to a job sheet.",
    "cases": "List the cases on this machine, and save what can be saved of a damaged one.",
    "found": "Enter what was found with the machine open, and see what it changes.",
    "sheet": "Write a paper of a case: job sheet, estimate, torque round or handover.",
    "torque": "Look up how tight a fastener goes, or calculate an estimate for a bolt.",
    "workshop": "Write a commented workshop file, or check one.",
    "practise": "Practise on a machine that is not there: find its hidden fault.",
    "worksheet": 'Write a "find the fault" sheet of machines that are not there, with its key.',
    "page": "Write the whole library as a static site: trees, drawings, search, tables; no network.",
    "binder": "Write the whole library as one PDF to print and bind: every tree, tables, index of causes.",
    "draw": "Draw the tree of a complaint, for the wall or for reading.",
    "new": "Begin a tree, a catalogue or a plugin of your own, from a commented draft that works.",
    "proofread": "Find faults in trees and catalogues, and say what to do about each.",
    "try": "Walk a tree that is being written, faults and all; nothing is kept.",
    "appraise": "Tell how good a tree is: figures for its author, and simulated machines.",
    "compare": "Show what a change does: findings, minutes, worked cases and torques of two versions.",
    "learn": "Learn from finished machines: your own counts, and whether the stated chances have held.",
    "schema": "Print the JSON Schema of trees, catalogues, conditions or the workshop file, for editors.",
}
"""Each command and its line in the help; a command is the module of the same name beside this one."""

EXIT_CODES = """\
exit status:
  0 fine   1 faults found   2 usage or missing answer   3 case unfinished but saved
  4 damaged file   5 case open elsewhere   6 cannot write   70 fault in the program
  129, 130, 143 interrupted\
"""


class Command(Protocol):
    """What a command's module offers."""

    EXAMPLES: str

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Describe the command's arguments."""

    def run(self, options: argparse.Namespace) -> int:
        """Do the work; return the exit status."""


class _Parser(argparse.ArgumentParser):
    """A parser whose complaints are expected errors like all others."""

    def error(self, message: str) -> None:  # type: ignore[override]
        raise ExpectedError(f"{message[0].upper()}{message[1:]}.", f"See: {self.prog} --help")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    argv
        The words after the program's name; ``sys.argv`` if None.

    Returns
    -------
    int
        The exit status; see `EXIT_CODES`.

    Examples
    --------
    >>> main(["--version"])
    diagtree 0.1.0
    0
    """
    words = list(sys.argv[1:] if argv is None else argv)
    # What stands behind "--" is nobody's option.
    options = words[: words.index("--")] if "--" in words else words
    debug = "--debug" in options
    words = [word for word in options if word != "--debug"] + words[len(options) :]
    _ready_streams()
    try:
        status = _dispatch(words)
        sys.stdout.flush()
        return status
    except ExpectedError as error:
        if debug:
            raise
        print(f"diagtree: {clean(str(error), keep_newlines=True)}", file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt:
        if debug:
            raise
        print("\ndiagtree: stopped. What was entered in a case is saved.", file=sys.stderr)
        return 130
    except BrokenPipeError:
        # Whoever read our output has had enough: not an error, and nothing more can be said to them.
        _give_up_output()
        return 0
    except Exception as error:
        if debug:
            raise
        if isinstance(error, OSError) and error.errno in _FULL and error.filename is None:
            _give_up_output()
            print(
                "diagtree: Cannot write the output: the disk is full. Make room, then try again.",
                file=sys.stderr,
            )
            return 6
        print(
            f"diagtree: a fault in the program itself ({type(error).__name__}: {clean(str(error))}). "
            "Nothing that was entered is lost. Run it again with --debug to see where.",
            file=sys.stderr,
        )
        return 70


_FULL = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})
"""What the system says when a disk takes no more."""


def _ready_streams() -> None:
    """See that no letter and no closed stream ends the program: a letter that does not fit comes out by number."""
    for name in ("stdin", "stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:  # whoever started the program closed it
            setattr(sys, name, io.TextIOWrapper(io.BytesIO(), encoding="utf-8"))
        elif isinstance(stream, io.TextIOWrapper) and stream is not sys.stdin:
            stream.reconfigure(errors="backslashreplace")


def _give_up_output() -> None:
    """Send what is left in stdout nowhere, so that its end is no second error."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _dispatch(words: list[str]) -> int:
    if not words or words[0] in {"-h", "--help"} or words == ["help"]:
        print(_help())
        return 0
    if words[0] in {"-V", "--version"}:
        print(f"diagtree {__version__}")
        return 0
    if words[0] == "help":
        words = [*words[1:], "--help"]
    name, *rest = words
    if name not in COMMANDS:
        if name.startswith("-"):
            raise ExpectedError(f"There is no option '{name}' before the command.", "See: diagtree --help")
        raise UnknownNameError("command", name, list(COMMANDS))
    command = load(name)
    parser = _Parser(
        prog=f"diagtree {name}",
        description=COMMANDS[name],
        epilog=f"examples:\n{command.EXAMPLES.rstrip()}\n\n{EXIT_CODES}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    command.add_arguments(parser)
    try:
        options = parser.parse_args(rest)
    except SystemExit as leaving:  # argparse leaves by itself after --help
        return int(leaving.code or 0)
    return command.run(options)


def load(name: str) -> Command:
    """Import the module of a command."""
    return cast("Command", import_module(f"diagtree.commands.{name}"))


def _help() -> str:
    width = max(len(name) for name in COMMANDS) + 2
    lines = "\n".join(f"  {name:<{width}}{text}" for name, text in COMMANDS.items())
    return (
        "usage: diagtree COMMAND ...\n\n"
        "From a complaint to a job sheet.\n\n"
        "examples:\n"
        "  diagtree diagnose                 choose the complaint, then answer the questions\n"
        "  diagtree diagnose --help          what a command can do\n\n"
        f"commands:\n{lines}\n\n"
        "options:\n"
        "  --debug    show where in the program an error arose\n"
        "  --version  show the version\n\n"
        f"{EXIT_CODES}"
    )
