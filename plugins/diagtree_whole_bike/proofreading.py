"""Proofreading rules that know bicycles: threads that go the other way, brakes that must be bedded in."""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.offers import Rule
from diagtree.library.references import mapping
from diagtree.proofread.manuscript import Manuscript, items

_ENGLISH = re.compile(r"1\.37\d?5?\s*(?:in)?\s*x\s*24|1\.375")
_PEDAL = re.compile(r"9/16")
_DRIVE_SIDE = re.compile(r"drive[- ]side|fixed cup|right[- ]hand cup", re.IGNORECASE)
_OTHER_SIDE = re.compile(r"(?:non-drive|other|left)[- ]side|adjustable cup|left[- ]hand cup", re.IGNORECASE)
_LEFT = re.compile(r"\bleft\b", re.IGNORECASE)
_RIGHT = re.compile(r"\bright\b(?![- ]hand thread)", re.IGNORECASE)


def _should_be_left(fastener: dict[str, object]) -> bool | None:
    """Tell whether a fastener's thread should be left-hand; None where its side cannot be told.

    ISO 6696: the drive side of a 1.375 in x 24 shell is left-hand. A left pedal (9/16 in x 20) is left-hand.
    """
    thread = str(fastener.get("thread", ""))
    said = f"{fastener.get('title', '')} {fastener.get('side', '')}"
    if _ENGLISH.search(thread):
        if _OTHER_SIDE.search(said):
            return False
        return True if _DRIVE_SIDE.search(said) else None
    if _PEDAL.search(thread):
        is_left, is_right = bool(_LEFT.search(said)), bool(_RIGHT.search(said))
        return is_left if is_left != is_right else None
    return None


def left_hand_on_the_wrong_side(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the fasteners whose thread goes the wrong way for their side."""
    for _, fastener, path in manuscript.entries("fasteners"):
        should = _should_be_left(fastener)
        is_left = fastener.get("hand") == "left"
        if should is not None and should != is_left:
            word = "left" if should else "right"
            told = f"On this side the thread is {word}-hand, and 'hand:' says otherwise."
            yield manuscript.fault(path, told, f"Write 'hand: {word}', or mend the side.", of_key=True)


def brake_work_without_bedding_in(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the remedies that fit pads or a rotor of a disc brake and never bed them in."""
    if manuscript.home != "disc-brakes":
        return
    for _, remedy, path in manuscript.entries("remedies"):
        parts = remedy.get("parts")
        fitted = list(parts) if isinstance(parts, dict) else [name for name, _ in items(parts, ())]
        if not any(re.search(r"(?:^|[-/])(?:pads?|rotor)$", part) for part in fitted):
            continue
        jobs = [name for name, _ in items(remedy.get("jobs"), ())]
        titles = [
            str(mapping(manuscript.shelf.entry("jobs", manuscript.full(job))).get("title", ""))
            for job in jobs
        ]
        if not any(re.search(r"\bbed", text, re.IGNORECASE) for text in [*jobs, *titles]):
            told = "Pads or a rotor are fitted, and no job beds them in."
            yield manuscript.fault(path, told, "Add the job that beds them in.", of_key=True)


RULES = (
    Rule(
        "left-hand-on-the-wrong-side",
        """A bottom bracket cup or a pedal has a thread of the wrong hand for its side.

A 1.375 in x 24 shell has a left-hand thread on the drive side (ISO 6696), a left pedal has one too. Turned the
wrong way with a long lever, shell or crank is gone.

Wrong::

    family: cranks-and-pedals
    fasteners:
      pedal: {title: Left pedal, thread: 9/16 in x 20 tpi, torque: {from: 35, to: 40}, preparation: grease}

Told::

    3:3: fasteners > pedal: On this side the thread is left-hand, and 'hand:' says otherwise. Write 'hand: left', or mend the side.

Right::

    family: cranks-and-pedals
    fasteners:
      pedal: {title: Left pedal, thread: 9/16 in x 20 tpi, hand: left, torque: {from: 35, to: 40}, preparation: grease}
""",
        left_hand_on_the_wrong_side,
        "torque",
        ("catalogue",),
    ),
    Rule(
        "brake-work-without-bedding-in",
        """A remedy fits pads or a rotor of a disc brake and has no job that beds them in.

New pads and rotors hold a fraction of their power until they have worn into each other. Whoever rides off before
finds that out at the first crossing.

Wrong::

    family: disc-brakes
    remedies:
      new-pads: {title: Fit new pads, verdict: replace, holds: 95, jobs: [swap-pads], parts: [pads]}

Told::

    3:3: remedies > new-pads: Pads or a rotor are fitted, and no job beds them in. Add the job that beds them in.

Right::

    family: disc-brakes
    remedies:
      new-pads: {title: Fit new pads, verdict: replace, holds: 95, jobs: [swap-pads, bed-in], parts: [pads]}
""",
        brake_work_without_bedding_in,
        "safety",
        ("catalogue",),
    ),
)
"""What `diagtree_whole_bike` offers to the proofreader."""
