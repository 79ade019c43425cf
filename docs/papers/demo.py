"""Walks a case of an invented bike and writes its papers beside this file.

Run it after trees, catalogues or the papers' layout have changed: ``python docs/papers/demo.py``. A test
fails while what is written here is not what the program writes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path

from diagtree.case.log import MemoryLog
from diagtree.case.view import View
from diagtree.case.walker import Walker
from diagtree.library.library import Library
from diagtree.library.loading import load_library
from diagtree.library.workshop_file import default_workshop
from diagtree.model.tree import Check
from diagtree.sheets.from_case import paper_of_case, work_of
from diagtree.sheets.writers import BUILT_IN

HERE = Path(__file__).parent

COMPLAINTS = ("no-brakes", "notchy-cranks", "tight-steering", "seized-chain")

ANSWERS = {
    "where-kept": "outdoors",
    "how-much-ridden": "hardly",
    "last-work": "at-home",
    "bolt-rust": "some",
    "chain-surface": "rusty",
    "tyre-wear": "like-new",
    "cable-ends": "frayed",
    "bolt-heads": "clean",
    "lever-paint": "sound",
    "disc-or-rim": "disc",
}
"""What is answered where nothing else is said: a touring bike that stood outdoors for two winters."""

CANNOT_TELL = {"rotor-rag"}

FILES: Mapping[str, tuple[str, ...]] = {
    "job": ("text", "markdown", "html", "pdf", "json"),
    "estimate": ("text", "pdf"),
    "torque": ("text", "pdf"),
    "handover": ("text", "pdf"),
}


def _clock() -> Iterator[str]:
    for minute in range(24 * 60):
        yield f"2026-03-04T{8 + minute // 60:02}:{minute % 60:02}:00+00:00"


def _answer(check: Check | None, name: str, names: tuple[str, ...]) -> str | None:
    if name in CANNOT_TELL:
        return None
    if ANSWERS.get(name) in names:
        return ANSWERS[name]
    if check is None:
        return names[0]
    # Whatever does not end in the middle of the tree: the first answer that is a finding, else a sound part's.
    found = [answer for answer in names if check.answers[answer].found and not check.answers[answer].stop]
    return next(iter(found or check.healthy or names))


def walk(library: Library) -> View:
    """Walk the case to its end, do its work, and hand it over."""
    clock = _clock()
    walker = Walker(
        library, MemoryLog(), complaints=COMPLAINTS, label="green tourer, stand 3", clock=lambda: next(clock)
    )
    while (question := walker.question) is not None:
        check = None if question.place.is_look else library.trees[question.symptom].checks[question.name]
        answer = _answer(check, question.name, tuple(choice.name for choice in question.answers))
        if answer is None:
            walker.cannot_tell()
        else:
            walker.answer(answer)
    walker.note("The owner wants it for the summer.")
    workshop = default_workshop()
    work = work_of(walker.view, workshop)
    walker.agree(work.estimate.price, work.estimate.price + Decimal(20), "by telephone")
    for job in work.plan:
        walker.tick(job.job)
    for line in work.torque_round:
        if line.touched_by and line.target is not None:
            walker.tighten(line.fastener, line.target)
    confirmed = {symptom: walker.view.ranking(symptom)[0][0] for symptom in COMPLAINTS}
    walker.hand_over("M. Example", confirmed, "Ride it gently for the first ten kilometres.")
    return walker.view


def papers() -> Iterator[tuple[str, bytes]]:
    """Give each file's name and what belongs in it."""
    view, workshop = walk(load_library()), default_workshop()
    work = work_of(view, workshop)
    for kind, forms in FILES.items():
        paper = paper_of_case(kind, view, workshop, work)
        for form in forms:
            writer = BUILT_IN[form]
            yield f"{kind}{writer.suffix}", writer.write(paper)


if __name__ == "__main__":
    for name, content in papers():
        (HERE / name).write_bytes(content)
