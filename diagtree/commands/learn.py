"""Learn from finished machines: your own counts, and whether the stated chances have held."""

from __future__ import annotations

import argparse
import dataclasses
import sys
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from diagtree.learning.confirmed import Gathered
    from diagtree.learning.counts import OwnCounts
    from diagtree.library.library import Library
    from diagtree.reasoning.calibration import Calibration

EXAMPLES = """\
  diagtree learn                          add what was confirmed at the handover to your own counts
  diagtree learn --show                   the same, but write nothing
  diagtree learn --weight 50              trust the authors' counts as if they had seen 50 machines
  diagtree learn SYMPTOM --weight SYMPTOM=10 --to DIR
  diagtree learn --show --plot held.svg   draw the stated chances against what it was
"""

SCHEMA = 1
"""Rises when the JSON form changes."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments
    from diagtree.learning.counts import USUAL_WEIGHT

    parser.add_argument("symptoms", metavar="SYMPTOM", nargs="*", help="these trees only; none: all of them")
    parser.add_argument("--cases", metavar="DIR", help="the folder of cases (default: where cases are kept)")
    parser.add_argument(
        "--weight", metavar="N", action="append", default=[], type=_weight,
        help="the author's counts weigh as much as N confirmed machines; SYMPTOM=N for one tree; may be given "
        f"again (default: as before, at first {USUAL_WEIGHT})",
    )  # fmt: skip
    parser.add_argument(
        "--to", metavar="DIR",
        help="write the counts here (default: beside a tree of your own, else your own folder of trees)",
    )  # fmt: skip
    parser.add_argument("--show", action="store_true", help="show what would be learnt; write no counts")
    parser.add_argument("--plot", metavar="FILE.svg", help="draw the stated chances against what it was")
    parser.add_argument("--force", action="store_true", help="write the plot over a file that is there")
    parser.add_argument("--json", action="store_true", help="print it for programs")
    add_library_arguments(parser)


def _weight(text: str) -> tuple[str, Decimal]:
    symptom, _, number = text.rpartition("=")
    if not number.isdecimal() or not 0 < int(number) <= 1_000_000:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number from 1 to 1000000, or SYMPTOM=NUMBER")
    return symptom, Decimal(number)


def run(options: argparse.Namespace) -> int:
    """Learn; return the exit status."""
    from diagtree.commands.common import authors_library_from, cases_folder_from
    from diagtree.commands.outgoing import plot_from, write_json, write_out
    from diagtree.learning.confirmed import forecasts, gather
    from diagtree.reasoning.calibration import calibrate

    plot = plot_from(options)
    library = authors_library_from(options)
    for symptom in [*options.symptoms, *(name for name, _ in options.weight if name)]:
        library.tree(symptom)
    folder = cases_folder_from(options)
    gathered = gather(folder)
    for path, why in gathered.unreadable:
        _tell(f"passed over: {path.name}: {why}")
    learnt = [_learnt(symptom, gathered, options) for symptom in _asked(library, options, gathered)]
    stated = forecasts(library, gathered.confirmed)
    machines = [one for one in stated.machines if not options.symptoms or one.symptom in options.symptoms]
    held = calibrate(machines) if machines else None
    if not options.show:
        for one in learnt:
            one.write()
    if plot is not None:
        _plot(held, plot, options.force, library)
    if options.json:
        write_json(_plain(library, gathered, learnt, held, stated.passed_over))
    else:
        write_out("\n".join(_text(library, folder, gathered, learnt, held, stated.passed_over, options.show)))
    return 0


def _tell(text: str) -> None:
    from diagtree.clean import clean

    print(f"diagtree: {clean(text)}", file=sys.stderr)


def _asked(library: Library, options: argparse.Namespace, gathered: Gathered) -> list[str]:
    """The trees about which there is something to learn, or whose weight is set."""
    confirmed = {symptom for one in gathered.confirmed for symptom in one.causes}
    for symptom in sorted(confirmed - set(library.trees)):
        _tell(f"passed over: what was confirmed for '{symptom}': that tree is not here.")
    confirmed |= {symptom for symptom, _ in options.weight}
    return [
        name for name in library.trees if name in confirmed and name in (options.symptoms or library.trees)
    ]


@dataclasses.dataclass(frozen=True)
class _Learnt:
    """What is learnt about one tree."""

    symptom: str
    file: Path
    before: OwnCounts
    now: OwnCounts

    @property
    def fresh(self) -> int:
        """How many machines were not counted before."""
        return len(self.now.machines.keys() - self.before.machines.keys())

    def write(self) -> None:
        """Write the counts, unless the file says the same already."""
        from diagtree.commands.outgoing import save_with_folder
        from diagtree.learning.counts import counts_text

        text = counts_text(self.now).encode("utf-8")
        if self.file.is_file() and self.file.read_bytes() == text:
            return
        save_with_folder(self.file, text, force=True)


def _learnt(symptom: str, gathered: Gathered, options: argparse.Namespace) -> _Learnt:
    from diagtree.learning.counts import ENDING, OwnCounts, read_counts

    file = _home(symptom, options) / f"{symptom}{ENDING}"
    before = read_counts(file, symptom) if file.is_file() else OwnCounts(counts_for=symptom)
    # A handover that was put right later counts as it was put right.
    kept = {case: cause for case, cause in before.machines.items() if case not in gathered.handed_over}
    machines = {one.id: one.causes[symptom] for one in gathered.confirmed if symptom in one.causes}
    weighs = before.weighs
    for name, weight in options.weight:
        if name in {"", symptom}:
            weighs = weight
    now = OwnCounts(counts_for=symptom, weighs=weighs, machines={**kept, **machines})
    return _Learnt(symptom, file, before, now)


def _home(symptom: str, options: argparse.Namespace) -> Path:
    """Where a tree's own counts go: beside it if it is the user's own."""
    from diagtree.commands.common import own_folders, standard_trees
    from diagtree.library.sources import read_files, yaml_files

    if options.to:
        return Path(options.to)
    home = standard_trees()
    for folder in own_folders(options.trees):
        for source in read_files([(file, "own") for file in yaml_files(folder, [])], []):
            data = source.document.data
            if isinstance(data, dict) and data.get("symptom") == symptom:
                home = Path(source.document.file).parent
    return home


def _plot(held: Calibration | None, path: Path, force: bool, library: Library) -> None:
    from diagtree.case.saving import save
    from diagtree.errors import ExpectedError
    from diagtree.reasoning.plots import calibration_svg

    if held is None:
        raise ExpectedError(
            "There is nothing to draw yet.", "Confirm at the handover what it was; then learn again."
        )
    picture = calibration_svg(held, f"Stated against true: confirmed {library.machine.many}", "confirmed")
    save(path, picture.encode("utf-8"), force=force)


def _plain(
    library: Library,
    gathered: Gathered,
    learnt: Sequence[_Learnt],
    held: Calibration | None,
    passed_over: int,
) -> Mapping[str, object]:
    from diagtree.learning.counts import outside, shares

    trees = [
        {
            "symptom": one.symptom,
            "file": str(one.file),
            "weighs": float(one.now.weighs),
            "confirmed": len(one.now.machines),
            "new": one.fresh,
            "shares": [
                {**dataclasses.asdict(share), "moved": share.moved}
                for share in shares(library.trees[one.symptom], one.now)
            ],
            "outside": dict(outside(library.trees[one.symptom], one.now)),
        }
        for one in learnt
    ]
    return {
        "schema": SCHEMA,
        "cases": {
            "confirmed": len(gathered.confirmed),
            "silent": gathered.silent,
            "waiting": gathered.waiting,
            "unreadable": len(gathered.unreadable),
            "passed_over": passed_over,
        },
        "trees": trees,
        "held": dataclasses.asdict(held) if held else None,
    }


def _text(
    library: Library,
    folder: Path,
    gathered: Gathered,
    learnt: Sequence[_Learnt],
    held: Calibration | None,
    passed_over: int,
    show: bool,
) -> list[str]:
    from diagtree.clean import clean

    lines = []
    lines.append(
        f"Cases in {folder}: {len(gathered.confirmed)} confirmed at the handover, {gathered.silent} handed over "
        f"without a word of what it was, {gathered.waiting} not handed over yet."
    )
    for one in learnt:
        lines += ["", *_tree_lines(library, one, show)]
    if not learnt and gathered.confirmed:
        lines += ["", "Nothing to learn: what was confirmed is about other trees."]
    elif not learnt:
        lines += ["", "Nothing to learn yet. Say at the handover what it was."]
    if held is not None:
        lines += ["", *_held_lines(held, passed_over)]
    return [clean(line) for line in lines]


def _tree_lines(library: Library, one: _Learnt, show: bool) -> list[str]:
    from diagtree.learning.counts import outside, shares

    tree = library.trees[one.symptom]
    aside = outside(tree, one.now)
    many = len(one.now.machines) - sum(aside.values())
    machines = library.machine.one if many == 1 else library.machine.many
    heading = (
        f"{tree.title} ({one.symptom}): {many} confirmed {machines}, {one.fresh} of them new; "
        f"the author's counts weigh as much as {one.now.weighs:f}."
    )
    lines = [heading, "  author  confirmed    now  between, 9 times in 10"]
    for share in sorted(shares(tree, one.now), key=lambda each: (-each.now, each.cause)):
        moved = "" if not share.moved else "  moved up" if share.now > share.stated else "  moved down"
        between = f"{100 * share.low:.1f} to {100 * share.high:.1f}"
        lines.append(
            f"  {100 * share.stated:6.1f}  {share.confirmed:9}  {100 * share.now:5.1f}  {between:<14}  "
            f"{library.causes[share.cause].title}{moved}"
        )
    lines += [
        f"  {count} confirmed as {library.causes[cause].title if cause in library.causes else cause}, which this "
        "tree does not find: a way to it is missing."
        for cause, count in aside.items()
    ]
    lines += [f"  {told}" for told in _cases_that_change(library, one)]
    lines.append(f"  {'Would be written to' if show else 'Counts in'} {one.file}")
    return lines


def _cases_that_change(library: Library, one: _Learnt) -> Iterator[str]:
    """Tell the worked cases of a tree that hold by its author's counts and fail with these."""
    from diagtree.learning.counts import with_learnt_counts
    from diagtree.proofread.cases import outcomes

    learnt = with_learnt_counts(library, {str(one.file): one.now})
    for was, now in zip(outcomes(library, one.symptom), outcomes(learnt, one.symptom), strict=True):
        if was.holds and not now.holds:
            name = was.case.title or f"case {was.place + 1}"
            yield f"The worked case '{name}' comes out otherwise with these counts: {now.told}"


def _held_lines(held: Calibration, passed_over: int) -> list[str]:
    from diagtree.reasoning.plots import calibration_lines, luck_lines

    better = (
        "so looks and answers helped"
        if held.brier < held.prior_brier
        else "so looks and answers did not help"
    )
    many = "1 confirmed complaint" if held.machines == 1 else f"{held.machines} confirmed complaints"
    aside = "" if not passed_over else f" {passed_over} could not be weighed: their trees have changed."
    return [
        "Have the stated chances held? From looks and answers, by the counts of the trees' authors:",
        f"  {many}; the first cause was right in {100 * held.right:.0f} of 100.{aside}",
        f"  Brier score {held.brier:.3f}; with the prior alone {held.prior_brier:.3f} (0 is best, 2 is worst), {better}.",
        "",
        *calibration_lines(held),
        "",
        *luck_lines(held),
    ]
