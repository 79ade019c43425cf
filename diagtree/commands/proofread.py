"""Find faults in trees and catalogues, and say what to do about each."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.library.offers import Rule
    from diagtree.proofread.manuscript import Manuscript, Shelf
    from diagtree.proofread.watching import Watch

EXAMPLES = """\
  diagtree proofread my-trees/                 every file in a folder
  diagtree proofread my-trees/dead.yaml --fix  mend what can be mended safely
  diagtree proofread my-trees/ --watch         look again after each save; Ctrl-C ends it
  diagtree proofread --explain loop            the page of one rule
  diagtree proofread my-trees/ --sarif         for code review tools
"""

SECONDS_BETWEEN_LOOKS = 0.05


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument(
        "paths", metavar="PATH", nargs="*", help="files or folders; all own folders if none is given"
    )
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the faults as JSON")
    form.add_argument("--sarif", action="store_true", help="print the faults as SARIF, for code review tools")
    form.add_argument("--watch", action="store_true", help="look again after each save")
    form.add_argument("--explain", metavar="RULE", help="print the page of a rule, or 'all' for a list")
    parser.add_argument(
        "--fix", action="store_true", help="mend what is safe: counts, quotes, the order of keys"
    )
    parser.add_argument(
        "--rule", metavar="NAME", action="append", default=[], help="this rule only; may be given again"
    )
    parser.add_argument(
        "--skip", metavar="NAME", action="append", default=[], help="not this rule; may be given again"
    )
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Proofread; return the exit status."""
    from diagtree.clean import clean
    from diagtree.commands.common import own_folders, plugins_from
    from diagtree.errors import ExpectedError
    from diagtree.learning.draft import catalogues_beside
    from diagtree.library.loading import collected
    from diagtree.proofread.manuscript import Shelf
    from diagtree.proofread.rulebook import rulebook
    from diagtree.proofread.watching import Watch

    if options.watch and options.fix:
        raise ExpectedError("--watch only looks.", "Mend first: the same without --watch.")
    plugins = plugins_from(options)
    rules = rulebook(plugins)
    if options.explain:
        return _explain(rules, options.explain)
    rules = _chosen(rules, options.rule, options.skip)
    folders = own_folders(options.trees)
    paths = _there(options.paths) or folders
    # A catalogue in the folder of a file belongs to it, as it does when the file is tried.
    beside = [each for path in paths if path.is_file() for each in catalogues_beside(path)]
    together = collected(plugins, [*folders, *beside, *paths])
    for problem in together.problems:
        print(f"diagtree: {clean(str(problem))}", file=sys.stderr)
    if options.watch:
        if not paths:
            raise ExpectedError("There is nothing to watch.", "Name a file or a folder.")
        return _watch(Watch(together, paths, rules))
    shelf = Shelf(together.put_together())
    chosen = _under(shelf, paths)
    known = len(plugins.problems)
    changed = options.fix and _fix(chosen, rules)
    for problem in plugins.problems[known:]:  # a plugin's rule that cannot mend
        print(f"diagtree: {clean(str(problem))}", file=sys.stderr)
    if changed:
        shelf = Shelf(collected(plugins, [*folders, *beside, *paths]).put_together())
        chosen = _under(shelf, paths)
    _tell_notices(shelf, chosen)
    # A file that could not even be opened is no file without faults.
    unread = any(not problem.where.startswith("plugin ") for problem in together.problems)
    return max(_tell(shelf, rules, chosen, options), int(unread))


def _there(paths: Sequence[str]) -> list[Path]:
    from diagtree.errors import ExpectedError

    for path in paths:
        if not Path(path).exists():
            raise ExpectedError(f"There is no file or folder '{path}'.", "Look at its name again.")
    return [Path(path) for path in paths]


def _under(shelf: Shelf, paths: Sequence[Path]) -> list[Manuscript]:
    from diagtree.library.sources import shown, yaml_files

    names = {shown(file) for path in paths for file in yaml_files(path, [])}
    return [one for one in shelf.manuscripts if one.document.file in names] if paths else shelf.manuscripts


def _chosen(rules: Sequence[Rule], only: Sequence[str], skipped: Sequence[str]) -> list[Rule]:
    from diagtree.errors import UnknownNameError

    known = {rule.name for rule in rules}
    for name in [*only, *skipped]:
        if name not in known:
            raise UnknownNameError("rule", name, sorted(known))
    return [rule for rule in rules if (not only or rule.name in only) and rule.name not in skipped]


def _explain(rules: Sequence[Rule], name: str) -> int:
    from diagtree.errors import UnknownNameError

    if name == "all":
        width = max(len(rule.name) for rule in rules) + 2
        for rule in rules:
            print(f"{rule.name:<{width}}{rule.page.strip().splitlines()[0]}")
        return 0
    pages = {rule.name: rule.page for rule in rules}
    if name not in pages:
        raise UnknownNameError("rule", name, sorted(pages))
    print(f"{name}: {pages[name].strip()}")
    return 0


def _fix(chosen: Sequence[Manuscript], rules: Sequence[Rule]) -> bool:
    from diagtree.case.saving import save
    from diagtree.clean import clean
    from diagtree.library.loading import OWN
    from diagtree.proofread.edits import mended

    any_changed = False
    for manuscript in chosen:
        if manuscript.sheet.source.origin != OWN:
            continue  # an installed plugin's files are not the author's to change
        text, done = mended(manuscript, rules)
        if done:
            file = Path(manuscript.document.file)
            if file.is_symlink():
                file = file.resolve()  # a link stays a link
            save(file, text.encode(manuscript.document.encoding), force=True)
            print(f"mended: {clean(manuscript.document.file)}: {', '.join(done)}", file=sys.stderr)
            any_changed = True
    return any_changed


def _tell(
    shelf: Shelf, rules: Sequence[Rule], chosen: Sequence[Manuscript], options: argparse.Namespace
) -> int:
    from diagtree.proofread.proofreader import proofread
    from diagtree.proofread.report import as_json, as_sarif, as_text, summary

    faults = proofread(shelf, rules, chosen)
    if options.json:
        print(as_json(faults, [one.document.file for one in chosen]))
    elif options.sarif:
        print(as_sarif(faults, rules))
    else:
        if faults:
            print(as_text(faults, chosen), flush=True)
        print(summary(faults, len(chosen)), file=sys.stderr)
    return 1 if faults else 0


def _tell_notices(shelf: Shelf, chosen: Sequence[Manuscript]) -> None:
    """Tell what in these files takes the place of something else: no fault, but seldom a slip that one sees."""
    from diagtree.clean import clean

    names = {one.document.file for one in chosen}
    for notice in shelf.assembly.library.notices:
        if notice.where.rsplit(":", 2)[0] in names:
            print(f"note: {clean(str(notice))}", file=sys.stderr, flush=True)


def _watch(watch: Watch) -> int:
    from diagtree.proofread.report import as_text, summary

    print("Watching. Save a file to see its faults; Ctrl-C ends it.", file=sys.stderr)
    first = True
    try:
        while True:
            if first or watch.changed():
                first = False
                faults = watch.faults()
                _tell_notices(watch.shelf, watch.watched)
                if faults:
                    print(as_text(faults, watch.watched), flush=True)
                print(f"-- {summary(faults, len(watch.watched))}", flush=True)
            time.sleep(SECONDS_BETWEEN_LOOKS)
    except KeyboardInterrupt:
        return 0
