"""Begin a tree, a catalogue or a plugin of your own, from a commented draft that works."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.library.library import Library

EXAMPLES = """\
  diagtree new tree                              asks what it needs
  diagtree new tree --title "It hums" --family my-parts --ask "Is it on?"
  diagtree new family --title "My parts"         a catalogue, without Python
  diagtree new plugin --title "My parts" --to my-plugin
"""

MOST_CAUSES = 2
"""So many of a family's likeliest causes are put into a draft where none are named."""


_WHAT_IS_ASKED = {
    "tree": "What does the customer say?",
    "family": "What kind of part is it for?",
    "plugin": "What kind of part is it for?",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import TREES_VARIABLE, add_library_arguments, standard_trees

    parser.add_argument("what", choices=("tree", "family", "plugin"), help="what to begin")
    parser.add_argument("--title", metavar="TEXT", help="what the customer says; for a family, what it is")
    parser.add_argument("--name", metavar="NAME", help="its name; made from the title if not given")
    parser.add_argument("--family", metavar="NAME", help="for a tree: the family that its causes are in")
    parser.add_argument("--ask", metavar="TEXT", help="for a tree: the first question")
    parser.add_argument(
        "--cause", metavar="NAME", action="append", default=[], help="for a tree: a cause; may be given again"
    )
    parser.add_argument(
        "--to", metavar="DIR",
        help=f"the folder to write into; if not given, the first of {TREES_VARIABLE}, else {standard_trees()}",
    )  # fmt: skip
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    parser.add_argument("--no-input", action="store_true", help="never ask; fail if something is missing")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Write the draft; return the exit status."""
    from diagtree.errors import ExpectedError
    from diagtree.library import drafts
    from diagtree.model.words import name_from

    title = _asked(options, "title", _WHAT_IS_ASKED[options.what])
    what = "symptom" if options.what == "tree" else "family"
    name = options.name or name_from(title)
    if not name:
        raise ExpectedError(f"No name can be made of '{title}'.", "Give one with --name, in small letters.")
    name = drafts.checked_name(what, name)
    folder = _folder(options)
    if options.what == "plugin":
        for path, text in drafts.plugin_draft(name, title).items():
            _write(folder / path, text, options.force)
        return 0
    text = drafts.family_draft(name, title) if options.what == "family" else _tree(options, name, title)
    _write(folder / f"{name}.yaml", text, options.force)
    return 0


def _tree(options: argparse.Namespace, name: str, title: str) -> str:
    from diagtree.commands.common import library_from
    from diagtree.errors import ExpectedError, UnknownNameError
    from diagtree.library import drafts
    from diagtree.library.library import full_name

    if options.to and Path(options.to).is_dir() and options.to not in options.trees:
        options.trees.append(options.to)
    library = library_from(options)
    family = _asked(options, "family", f"Which family are its causes in? ({', '.join(library.families)})")
    if family not in library.families:
        raise UnknownNameError("family", family, list(library.families))
    for cause in options.cause:
        library.cause(full_name(family, cause))
    causes = options.cause or _likeliest(library, family)
    if not causes:
        raise ExpectedError(
            f"The family '{family}' has no causes yet.", "Write some into its catalogue first."
        )
    return drafts.tree_draft(name, title, family, _asked(options, "ask", "What is looked at first?"), causes)


def _likeliest(library: Library, family: str) -> list[str]:
    own = {full: cause for full, cause in library.causes.items() if full.partition("/")[0] == family}
    ranked = sorted(own, key=lambda full: -own[full].out_of_100)
    return [full.partition("/")[2] for full in ranked[:MOST_CAUSES]]


def _asked(options: argparse.Namespace, key: str, question: str) -> str:
    from diagtree.errors import ExpectedError

    value = getattr(options, key)
    if not value and not options.no_input and sys.stdin.isatty():
        print(f"{question} ", end="", file=sys.stderr, flush=True)
        value = sys.stdin.readline().strip()
    if not value:
        raise ExpectedError(f"The answer to '{question}' is missing.", f"Give it with --{key}.")
    return str(value)


def _folder(options: argparse.Namespace) -> Path:
    from diagtree.commands.common import named_in_environment, standard_trees
    from diagtree.errors import ExpectedError

    if options.to:
        return Path(options.to)
    if options.what == "plugin":
        raise ExpectedError("A plugin needs a folder of its own.", "Name one with --to.")
    return Path(next(iter(named_in_environment()), standard_trees()))


def _write(path: Path, text: str, force: bool) -> None:
    from diagtree.commands.outgoing import save_with_folder

    save_with_folder(path, text.encode("utf-8"), force=force)
    print(path)
