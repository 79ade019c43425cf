"""Bridges over what a draft lacks: the smallest changes with which the rest can be walked.

Nothing is written back. Where a bridge stands, the answer that leads to it says what is missing.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path as FilePath
from typing import Any, NamedTuple

from diagtree.library.document import Document, Plain, take_out
from diagtree.library.fault import Fault, FaultyFileError, Path
from diagtree.library.library import Library, full_name
from diagtree.library.references import mapping
from diagtree.library.rings import rings
from diagtree.library.structure import number
from diagtree.model.words import NAME_PATTERN, REFERENCE_PATTERN, name_from

MOST_LETTERS = 3_000
"""A note stays under what the model allows."""

NOTHING = "nothing-yet-"
"""How the bare name of a cause begins that stands where nothing is written yet."""

_GO_BACK = "Mend that and try again, or go back one question and take another way."


def mended(
    document: Document,
    faults: Sequence[Fault],
    library: Library,
    faulty_causes: Mapping[str, str] | None = None,
) -> Mended:
    """Bridge what a draft lacks.

    Parameters
    ----------
    document
        The draft as it was read.
    faults
        What is wrong with it; their words are told where the walk comes to them.
    library
        Where its causes, jobs and readings are looked up.
    faulty_causes
        By full name: causes that a catalogue has, but with a fault; and what that is.

    Raises
    ------
    FaultyFileError
        If it has no check at all.
    """
    draft = Mended(document, faults, library, faulty_causes or {})
    draft.fill()
    return draft


class _WayOn(NamedTuple):
    """A way on from a check: by an answer, or, with none, when nobody can tell."""

    to: str
    answer: str


class Mended:
    """A draft's data with bridges in it.

    Parameters
    ----------
    document, faults, library, faulty_causes
        See `mended`.

    Attributes
    ----------
    data
        The data, changed where it had to be.
    stand_ins
        Title by full name of each cause that stands in for one that is missing.
    """

    def __init__(
        self, document: Document, faults: Sequence[Fault], library: Library, faulty_causes: Mapping[str, str]
    ) -> None:
        self._written = mapping(document.data)
        self._faults = tuple(faults)
        self._library = library
        self._faulty_causes = faulty_causes
        self._file = document.file
        self.data: dict[str, Plain] = copy.deepcopy(self._written)
        self.stand_ins: dict[str, str] = {}

    @property
    def home(self) -> str:
        """The family that bare names belong to."""
        return str(self.data["family"])

    def take_out(self, path: Path) -> bool:
        """Take a value out; True if there was one."""
        return take_out(self.data, path)

    def fill(self) -> None:
        """Put in what a tree cannot do without."""
        self._head()
        checks = self.data["checks"]
        for fault in self._faults:
            if fault.rule == "unequal-fact":
                self.take_out(fault.at)
        for name in list(checks):
            if not isinstance(checks[name], dict):
                del checks[name]
        if not checks:
            raise FaultyFileError(self._faults or [self._no_checks()])
        if not self._is_check(self.data.get("first")):
            self.data["first"] = next(iter(checks))
        for name, check in checks.items():
            self._check(name, check)
        self._cut_loops()
        self._counts()

    def _no_checks(self) -> Fault:
        return Fault(self._file, 1, 1, "", "There is no check in it.", "Write one under 'checks:'.")

    def _head(self) -> None:
        data = self.data
        stem = name_from(FilePath(self._file).stem)
        fallback = stem if re.fullmatch(NAME_PATTERN, stem) else "draft"
        if not isinstance(data.get("symptom"), str) or not re.fullmatch(NAME_PATTERN, data["symptom"]):
            data["symptom"] = fallback
        if not isinstance(data.get("title"), str) or not data["title"].strip():
            data["title"] = data["symptom"]
        if not isinstance(data.get("family"), str) or not re.fullmatch(NAME_PATTERN, data["family"]):
            data["family"] = "draft"
        data["checks"] = dict(mapping(data.get("checks")))
        data.pop("cases", None)

    def _check(self, name: str, check: dict[str, Any]) -> None:
        path: Path = ("checks", name)
        if not isinstance(check.get("ask"), str) or not check["ask"].strip():
            check["ask"] = f"(no question is written yet for '{name}')"
        if number(check.get("minutes")) is None:
            check["minutes"] = "1"
        answers = check["answers"] = dict(mapping(check.get("answers")))
        for key in list(answers):
            answers[key] = self._answer((*path, "answers", key), answers[key])
        # Two answers are the least that a question can have.
        for filler in ("not-written-yet", "nor-this"):
            if len(answers) < 2 and filler not in answers:
                missing = "This check has too few answers." if answers else "This check has no answers yet."
                answers[filler] = self._bridge(
                    path, "(not written yet)", missing, "Write them under 'answers:'."
                )
        banded = [mapping(one).keys() & {"from", "below"} for one in answers.values()]
        reading = check.get("reading")
        if reading is not None and (not self._known("readings", reading) or not all(banded)):
            del check["reading"]
            reading = None
        if reading is None:
            for one in answers.values():
                one.pop("from", None)
                one.pop("below", None)
        self._references(check)

    def _references(self, check: dict[str, Any]) -> None:
        if not self._is_check(check.get("cannot-tell")):
            check.pop("cannot-tell", None)
        behind = check.get("behind")
        jobs = behind if isinstance(behind, list) else [] if behind is None else [behind]
        check["behind"] = [job for job in jobs if self._known("jobs", job)]
        check["shows"] = {
            cause: row
            for cause, row in mapping(check.get("shows")).items()
            if self._known("causes", cause)
            and all(
                answer in check["answers"] for answer in ([row] if isinstance(row, str) else mapping(row))
            )
        }

    def _is_check(self, name: object) -> bool:
        return isinstance(name, str) and name in self.data["checks"]

    def _known(self, kind: str, name: object) -> bool:
        if not isinstance(name, str):
            return False
        full = full_name(self.home, name)
        if kind == "readings":
            return full in self._library.readings or full in self._library.plain_readings
        return full in getattr(self._library, kind)

    def _answer(self, path: Path, answer: Plain) -> dict[str, Any]:
        key = str(path[-1])
        if not isinstance(answer, dict):
            return self._bridge(path, key, "This answer leads nowhere yet.", "Give it 'next:' or 'found:'.")
        if not isinstance(answer.get("says"), str) or not answer["says"].strip():
            answer["says"] = key
        found = answer.get("found")
        if isinstance(found, dict) and found:
            answer.pop("next", None)
            answer["found"] = self._found(path, answer, found)
            return answer
        answer.pop("stop", None)
        after = answer.get("next")
        if self._is_check(after):
            answer.pop("found", None)
            return answer
        answer.pop("next", None)
        if isinstance(after, str):
            missing, mend = f"There is no check '{after}' in this tree.", "Add it."
        else:
            missing, mend = "This answer leads nowhere yet.", "Give it 'next:' or 'found:'."
        return {**answer, **self._bridge(path, answer["says"], missing, mend, answer.get("note"))}

    def _found(self, path: Path, answer: dict[str, Any], found: dict[str, Plain]) -> dict[str, Plain]:
        counts: dict[str, Plain] = {}
        missing: list[str] = []
        for cause, count in found.items():
            written = number(count)
            counts[cause] = str(count) if written is not None and 0 <= written <= 100 else "1"
            full = full_name(self.home, cause)
            if full in self._library.causes or full in self.stand_ins:
                continue
            if not re.fullmatch(REFERENCE_PATTERN, cause):
                del counts[cause]
                continue
            if full in self._faulty_causes:
                self.stand_ins[full] = f"{cause} (has a fault in its catalogue)"
                missing.append(self._faulty_causes[full])
                continue
            self.stand_ins[full] = f"{cause} (not in a catalogue yet)"
            missing.append(self._told((*path, "found", cause), f"There is no cause '{cause}'.", "Add it."))
        if not counts:
            counts = self._nowhere(path)
        if missing:
            answer["note"] = _joined(answer.get("note"), *missing)
        return counts

    def _bridge(self, path: Path, says: str, missing: str, mend: str, note: object = None) -> dict[str, Any]:
        """Make an answer that ends the walk and tells why."""
        told = f"The draft goes no further here. {self._told(path, missing, mend)} {_GO_BACK}"
        return {"says": says, "found": self._nowhere(path), "note": _joined(note, told)}

    def _nowhere(self, path: Path) -> dict[str, Plain]:
        where = f"after {path[1]}: {path[3]}" if len(path) > 3 else f"at {path[1]}"
        name = f"{self.home}/{NOTHING}{len(self.stand_ins) + 1}"
        self.stand_ins[name] = f"(not written yet, {where})"
        return {name: "1"}

    def _told(self, path: Path, otherwise: str, mend: str) -> str:
        """Say what is wrong at a path in the words of its faults, with the line."""
        told = [fault for fault in self._faults if fault.at[: len(path)] == path]
        if not told:
            return f"{otherwise} {mend}"
        return " ".join(f"Line {fault.line}: {fault.text} {fault.mend}".rstrip() for fault in told)

    def _cut_loops(self) -> None:
        """Let an answer that leads back to a check on its own way end the walk."""
        on = {name: self._ways_on(name) for name in self.data["checks"]}
        for way, ring in list(rings(on)):
            self._cut(ring[-2], way)

    def _ways_on(self, name: str) -> list[_WayOn]:
        check = self.data["checks"][name]
        on = [
            _WayOn(one["next"], key) for key, one in check["answers"].items() if one.get("next") is not None
        ]
        return [*on, _WayOn(check["cannot-tell"], "")] if "cannot-tell" in check else on

    def _cut(self, name: str, way: _WayOn) -> None:
        check = self.data["checks"][name]
        if not way.answer:
            del check["cannot-tell"]
            return
        answer = check["answers"][way.answer]
        del answer["next"]
        path: Path = ("checks", name, "answers", way.answer)
        missing = f"This leads back to '{way.to}'."
        answer |= self._bridge(path, answer["says"], missing, "Lead it on.", answer.get("note"))

    def _counts(self) -> None:
        """Give each bridge its share of what the author has not counted out yet."""
        bridges: list[tuple[dict[str, Plain], str]] = []
        total = Decimal(0)
        for check in self.data["checks"].values():
            for answer in check["answers"].values():
                for cause, count in mapping(answer.get("found")).items():
                    if cause.partition("/")[2].startswith(NOTHING):
                        bridges.append((answer["found"], cause))
                    else:
                        total += number(count) or 0
        share = max(Decimal(1), (100 - total) / len(bridges)) if bridges else Decimal(0)
        for found, cause in bridges:
            found[cause] = f"{share:.3f}"
        if not bridges and total == 0:
            for check in self.data["checks"].values():
                for answer in check["answers"].values():
                    for cause in mapping(answer.get("found")):
                        answer["found"][cause] = "1"


def _joined(*notes: object) -> str:
    return " ".join(str(note) for note in notes if note)[:MOST_LETTERS]
