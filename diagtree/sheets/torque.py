"""The torque round: every fastener that was touched, then every one that is checked at the end."""

from __future__ import annotations

from diagtree.sheets import sections
from diagtree.sheets.blocks import Blanks, Block, Items, Section, Warn, Words
from diagtree.sheets.figures import number
from diagtree.sheets.ground import Ground
from diagtree.sheets.job import torque_round


def torque_paper(ground: Ground) -> tuple[str, list[Warn], list[Section]]:
    """Make title, warnings and sections of the torque round."""
    return (
        "Torque round",
        sections.cautions(ground),
        [
            torque_round(ground, in_full=True),
            # Signed where the last torque stands, as the job sheet is.
            Section("Done", (Blanks((("Tightened by", ""), ("Date", "")), beside=True),)),
            _wrenches(ground),
            sections.bases(ground),
        ],
    )


def _wrenches(ground: Ground) -> Section:
    blocks: list[Block] = []
    known = [
        f"{wrench.title}: {number(wrench.from_)} to {number(wrench.to)} N·m"
        + (", measures to the left too" if wrench.left else ", measures to the right only")
        for wrench in ground.workshop.wrenches
    ]
    if known:
        by_wrench: dict[str, list[str]] = {}
        for line in ground.work.torque_round:
            if line.wrench:
                by_wrench.setdefault(line.wrench, []).append(line.title)
        known += [f"Use {wrench} for: {', '.join(titles)}." for wrench, titles in by_wrench.items()]
        blocks.append(Items(tuple(known)))
    else:
        blocks.append(Words("The workshop file names no torque wrench."))
    return Section("Wrenches", tuple(blocks))
