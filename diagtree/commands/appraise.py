"""Tell how good a tree is: figures for its author, and simulated machines."""

from __future__ import annotations

import argparse
import dataclasses
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagtree.library.library import Library
    from diagtree.reasoning.appraisal import Appraisal
    from diagtree.reasoning.calibration import Calibration

EXAMPLES = """\
  diagtree appraise                              all trees in a table
  diagtree appraise SYMPTOM                      one tree, with what one change would save
  diagtree appraise SYMPTOM --json               the same for programs
  diagtree appraise --machines 10000 --seed 1    are the stated chances right?
  diagtree appraise SYMPTOM --machines 2000 --order shortest --plot calibration.svg
"""

SCHEMA = 2
"""Rises when the JSON form changes."""

WIDTH = 100
"""Lines are folded to so many columns."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("symptoms", metavar="SYMPTOM", nargs="*", help="the complaints; none: all of them")
    parser.add_argument(
        "--machines", *_own_word(), dest="machines", metavar="N", type=_count,
        help="draw so many from the trees, walk them, and hold the stated chances against the truth",
    )  # fmt: skip
    parser.add_argument(
        "--seed", metavar="S", type=int, default=1, help="where the random numbers start (default: 1)"
    )
    parser.add_argument(
        "--order", choices=("guided", "shortest"), default="guided",
        help="with --machines: the author's order or the engine's (default: guided)",
    )  # fmt: skip
    parser.add_argument("--plot", metavar="FILE.svg", help="with --machines: write the calibration plot")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    parser.add_argument("--json", action="store_true", help="print it for programs")
    add_library_arguments(parser)


def _own_word() -> list[str]:
    """The option under the name that the library has for its machines, if that makes an option."""
    import re

    from diagtree.library.loading import load_library

    word = load_library().machine.many
    return [f"--{word}"] if re.fullmatch(r"[a-z][a-z-]*", word) and word != "machines" else []


def _count(text: str) -> int:
    if not text.isdecimal() or not 0 < int(text) <= 10_000_000:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number from 1 to 10000000")
    return int(text)


def run(options: argparse.Namespace) -> int:
    """Appraise; return the exit status."""
    from diagtree.commands.common import library_from, refuse_treeless
    from diagtree.commands.outgoing import plot_from, write_json, write_out
    from diagtree.errors import ExpectedError

    if options.plot and not options.machines:
        raise ExpectedError("A plot needs simulated machines.", "Say how many: --machines 10000.")
    plot_from(options)
    library, symptoms = _with_drafts(library_from(options), options)
    symptoms = symptoms or list(library.trees)
    for symptom in symptoms:
        library.tree(symptom)
    refuse_treeless(library)
    told = (_simulated if options.machines else _appraised)(library, symptoms, options)
    if isinstance(told, str):
        write_out(told)
    else:
        write_json({"schema": SCHEMA, **told})
    return 0


_JOINED = ("families", "causes", "remedies", "jobs", "parts", "conditions", "looks", "plain_readings")
"""What a draft and the catalogues beside it add to the library."""


def _with_drafts(library: Library, options: argparse.Namespace) -> tuple[Library, list[str]]:
    """Put the trees of files that are named into the library, faults and all; return it with the symptoms."""
    import sys
    from pathlib import Path

    from diagtree.clean import clean
    from diagtree.commands.common import own_folders, plugins_from
    from diagtree.learning.draft import read_draft

    symptoms: list[str] = []
    for name in dict.fromkeys(options.symptoms):
        if not name.endswith((".yaml", ".yml")):
            symptoms.append(name)
            continue
        draft = read_draft(Path(name), plugins_from(options), own_folders(options.trees))
        for fault in draft.faults:
            print(f"diagtree: {clean(str(fault))}", file=sys.stderr)
        symptoms.append(draft.symptom)
        both: dict[str, Any] = {
            key: {**getattr(library, key), **getattr(draft.library, key)} for key in _JOINED
        }
        both["trees"] = {**library.trees, draft.symptom: draft.library.trees[draft.symptom]}
        library = dataclasses.replace(library, **both)
    return library, symptoms


def _appraised(
    library: Library, symptoms: Sequence[str], options: argparse.Namespace
) -> str | dict[str, object]:
    from diagtree.commands.progress import Progress
    from diagtree.reasoning.appraisal import appraise

    found = []
    with Progress("appraising", len(symptoms)) as progress:
        for number, symptom in enumerate(symptoms):
            found.append(appraise(library, symptom, options.seed))
            progress(number + 1)
    if options.json:
        return {"trees": [_plain(each) for each in found]}
    if options.symptoms and len(found) == 1:
        return one(library, found[0])
    return table(found)


def _plain(appraisal: Appraisal) -> dict[str, object]:
    plain = dataclasses.asdict(appraisal)
    plain["guided_ratio"] = appraisal.guided_ratio
    plain["shortest_ratio"] = appraisal.shortest_ratio
    return plain


def table(found: Sequence[Appraisal]) -> str:
    """Set all trees in a table."""
    import statistics

    from diagtree.clean import clean

    width = max(len(each.symptom) for each in found)
    heads = (
        f"{'':{width}}                 minutes to a finding   finding   without misleading answers, minutes",
        f"{'complaint':{width}} checks causes  least  mean  most    right  guided shortest   best  bound  ratios",
    )
    lines = list(heads)
    for each in found:
        walked = each.walked
        best = f"{each.best:7.2f}" if each.best is not None else "      -"
        ratios = (
            f"  {each.guided_ratio:.2f} {each.shortest_ratio:.2f}"
            if each.guided_ratio is not None and each.shortest_ratio is not None
            else "     -    -"
        )
        lines.append(
            f"{each.symptom:{width}} {each.checks:6} {each.causes:6} {walked.least:6.1f}{walked.expected:6.1f}"
            f"{walked.most:6.1f}   {100 * each.right:5.0f} %  {each.guided:6.2f} {each.shortest:8.2f}{best}"
            f"{each.bound:7.2f}{ratios}"
        )
    guided = [each.guided_ratio for each in found if each.guided_ratio is not None]
    shortest = [each.shortest_ratio for each in found if each.shortest_ratio is not None]
    if guided and shortest:
        lines += [
            "",
            (
                f"Ratio to the best order: guided {statistics.median(guided):.2f} at the median, {max(guided):.2f} at worst; "
                f"shortest {statistics.median(shortest):.2f} and {max(shortest):.2f}."
            ),
        ]
    return "\n".join(clean(line) for line in lines)


def one(library: Library, appraisal: Appraisal) -> str:
    """Set one tree's figures in words."""
    import textwrap

    from diagtree.clean import clean

    walked, tells = appraisal.walked, appraisal.testability

    def cause(name: str) -> str:
        return library.causes[name].title if name in library.causes else name

    exact = "summed over all ways" if appraisal.right_exact else "from simulated machines"
    lines = [
        f"{appraisal.title} ({appraisal.symptom})",
        f"{appraisal.checks} checks, {appraisal.causes} causes, {appraisal.findings} findings",
        "",
        "To a finding, in the author's order",
        f"  minutes: least {walked.least:g}, expected {walked.expected:.1f}, most {walked.most:g}",
        f"  checks: least {walked.fewest}, expected {walked.checks:.1f}, most {walked.greatest}",
        f"  the finding's likeliest cause is right in {100 * appraisal.right:.0f} of 100 ({exact})",
        "",
        "Expected minutes if answers never misled",
        f"  author's order {appraisal.guided:.2f}, engine's order {appraisal.shortest:.2f}, "
        + _best(appraisal),
        f"  no order can take less than {appraisal.bound:.2f} (entropy)",
    ]
    lines += [
        f"  ask '{saving.check}' before '{saving.before}': {saving.minutes:.1f} minutes less"
        for saving in appraisal.savings[:3]
        if saving.minutes >= 0.05
    ]
    lines += [
        "",
        "How well the checks tell the causes apart",
        f"  {100 * tells.detected:.0f} of 100 show in some check; of those "
        + ", ".join(
            f"{100 * share:.0f} told apart to {'one' if size == 1 else f'{size} or fewer'}"
            for size, share in enumerate(tells.told_apart, start=1)
        ),
        f"  open at the start: {tells.uncertainty:.2f} bits; the checks can remove {tells.removable:.2f}",
    ]
    alike = [
        f"look alike: {'; '.join(map(cause, g))}" for g in tells.groups if len(g) > 1 and g != tells.hidden
    ]
    if tells.hidden:
        alike.append(f"show in no check: {'; '.join(map(cause, tells.hidden))}")
    for told in alike:
        lines += textwrap.wrap(
            told, WIDTH, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False
        )
    if tells.unneeded:
        lines.append(f"  could be left out, one at a time: {', '.join(tells.unneeded)}")
    how = "cheapest checks that tell as much" if tells.exact else "fewer checks that tell as much"
    lines += textwrap.wrap(
        f"{how}: {', '.join(tells.cheapest)} ({tells.cheapest_minutes:g} minutes in all)",
        WIDTH, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False,
    )  # fmt: skip
    lines += ["", "Likely before any answer"]
    lines += [f"  {100 * chance:5.1f}  {cause(name)}" for name, chance in appraisal.likely[:8]]
    return "\n".join(clean(line) for line in lines)


def _best(appraisal: Appraisal) -> str:
    if appraisal.best is None:
        return "best order: the tree is too large to search"
    told = f"best order {appraisal.best:.2f}"
    if (
        appraisal.guided_ratio is None or appraisal.shortest_ratio is None
    ):  # no minutes at all: nothing to divide by
        return told
    return f"{told} (ratios {appraisal.guided_ratio:.2f} and {appraisal.shortest_ratio:.2f})"


def _simulated(
    library: Library, symptoms: Sequence[str], options: argparse.Namespace
) -> str | dict[str, object]:
    from pathlib import Path

    from diagtree.commands.progress import Progress
    from diagtree.reasoning.calibration import calibrate
    from diagtree.reasoning.plots import calibration_svg
    from diagtree.reasoning.simulate import DRAWN_FOR_EACH, simulate

    with Progress("walking", options.machines) as progress:
        machines = simulate(
            library, symptoms, options.machines, options.seed, order=options.order, progress=progress
        )
    calibration = calibrate(machines)
    if options.plot:
        from diagtree.case.saving import save

        title = f"Stated against true: {library.machine.many}, {options.order} order, seed {options.seed}"
        drawn_from = f"simulated, taken evenly from {DRAWN_FOR_EACH * calibration.machines}"
        picture = calibration_svg(calibration, title, drawn_from)
        save(Path(options.plot), picture.encode("utf-8"), force=options.force)
    if options.json:
        plain = dataclasses.asdict(calibration)
        plain |= {"drawn": DRAWN_FOR_EACH * calibration.machines, "within": calibration.within}
        return {"order": options.order, "seed": options.seed, "symptoms": list(symptoms), **plain}
    return simulated(library, calibration, options.order)


def simulated(library: Library, calibration: Calibration, order: str) -> str:
    """Set what the simulated machines showed in words, with a plot in letters."""
    from diagtree.reasoning.plots import calibration_lines
    from diagtree.reasoning.simulate import DRAWN_FOR_EACH

    many, drawn = len(calibration.bins), DRAWN_FOR_EACH * calibration.machines
    rows = "row" if many == 1 else "rows"
    verdict = (
        "The stated chances hold."
        if calibration.within == many
        else f"Draw more {library.machine.many} before you trust a row that is apart."
    )
    lines = [
        (
            f"{calibration.machines} simulated {library.machine.many}, {order} order: the first cause was right in "
            f"{100 * calibration.right:.0f} of 100, after {calibration.minutes:.1f} minutes on average."
        ),
        (
            f"Brier score {calibration.brier:.3f}; with the prior alone {calibration.prior_brier:.3f} "
            "(0 is best, 2 is worst)."
        ),
        "",
        *calibration_lines(calibration),
        "",
        f"{calibration.within} of {many} {rows} within two standard errors. {verdict}",
        f"Taken evenly from {drawn} that were drawn and walked, so that luck moves the rows little.",
    ]
    return "\n".join(lines)
