"""Finds every reference that a file makes: which kind of thing, by which full name, and where it stands.

This works on what was read, not on models, so that a file with one fault still has all its references told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from diagtree.library.document import Plain
from diagtree.library.fault import Path
from diagtree.library.library import full_name


class Reference(NamedTuple):
    """One reference."""

    kind: str
    """What it points at: ``causes``, ``jobs``, ``conditions`` and so on."""
    name: str
    """In full."""
    path: Path
    """Where it stands."""
    of_key: bool = False
    """True if the key itself is the reference."""


SINGULAR = {
    "parts": "part",
    "causes": "cause",
    "remedies": "remedy",
    "jobs": "job",
    "fasteners": "fastener",
    "fluids": "fluid",
    "systems": "system",
    "readings": "reading",
    "conditions": "condition",
    "looks": "quick look",
    "families": "family",
}
"""The kinds of things that can be referred to, and what one of each is called."""

# section: its single references and its lists of references, each key with the kind of thing it points at
_SHAPE: Mapping[str, tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]]] = {
    "causes": ((("part", "parts"),), (("remedies", "remedies"),)),
    "remedies": ((("part", "parts"),), (("jobs", "jobs"),)),
    "jobs": ((), (("needs", "jobs"), ("after", "jobs"), ("uncovers", "parts"), ("fasteners", "fasteners"))),
    "fasteners": ((("part", "parts"), ("compound", "fluids")), ()),
    "fluids": ((), (("systems", "systems"), ("never-with", "fluids"))),
    "systems": ((), (("takes", "fluids"),)),
}


def mapping(value: Plain) -> dict[str, Any]:
    """Return a mapping as it is, and anything else as an empty one."""
    return value if isinstance(value, dict) else {}


def each(value: Plain, path: Path) -> Iterator[tuple[Plain, Path]]:
    """Yield the items of a list with their paths; a thing alone is a list of one."""
    if isinstance(value, list):
        for place, item in enumerate(value):
            yield item, (*path, place)
    elif value is not None:
        yield value, path


def in_family(data: dict[str, Any]) -> Iterator[Reference]:
    """Yield the references of a catalogue."""
    home = data.get("family")
    home = home if isinstance(home, str) else ""
    for section, (singles, lists) in _SHAPE.items():
        for name, entry in mapping(data.get(section)).items():
            if type(entry) is not dict:
                continue
            for key, kind in singles:
                if isinstance(value := entry.get(key), str):
                    yield Reference(kind, full_name(home, value), (section, name, key))
            for key, kind in lists:
                if (value := entry.get(key)) is not None:
                    for item, path in each(value, (section, name, key)):
                        if isinstance(item, str):
                            yield Reference(kind, full_name(home, item), path)
            if "fluids" in entry:
                yield from _uses(home, entry["fluids"], (section, name, "fluids"))
            if section == "remedies" and "parts" in entry:
                yield from _keys_or_items(home, "parts", entry["parts"], (section, name, "parts"))
            if section == "causes" and "more-likely" in entry:
                for condition in mapping(entry["more-likely"]):
                    yield Reference("conditions", condition, (section, name, "more-likely", condition), True)


def _uses(home: str, uses: Plain, path: Path) -> Iterator[Reference]:
    for use, at in each(uses, path):
        if isinstance(use, str):
            yield Reference("fluids", full_name(home, use), at)
        else:
            for key, kind in (("fluid", "fluids"), ("into", "systems")):
                if isinstance(value := mapping(use).get(key), str):
                    yield Reference(kind, full_name(home, value), (*at, key))


def _keys_or_items(home: str, kind: str, value: Plain, path: Path) -> Iterator[Reference]:
    if isinstance(value, dict):
        for name in value:
            yield Reference(kind, full_name(home, name), (*path, name), True)
    else:
        for item, at in each(value, path):
            if isinstance(item, str):
                yield Reference(kind, full_name(home, item), at)


def in_conditions(data: dict[str, Any]) -> Iterator[Reference]:
    """Yield the references of a file with conditions, quick looks and final checks."""
    for name, look in mapping(data.get("looks")).items():
        if isinstance(value := mapping(look).get("speaks-of"), str):
            yield Reference("conditions", value, ("looks", name, "speaks-of"))
        for answer_name, answer in mapping(mapping(look).get("answers")).items():
            here: Path = ("looks", name, "answers", answer_name, "without")
            for item, path in each(mapping(answer).get("without"), here):
                if isinstance(item, str):
                    yield Reference("parts", item, path)
    for name, check in mapping(data.get("final-checks")).items():
        for item, path in each(mapping(check).get("fasteners"), ("final-checks", name, "fasteners")):
            if isinstance(item, str):
                yield Reference("fasteners", item, path)


def in_tree(data: dict[str, Any]) -> Iterator[Reference]:
    """Yield the references that a tree makes to catalogues and quick looks."""
    home = data.get("family")
    if not isinstance(home, str):
        return
    yield Reference("families", home, ("family",))
    for name, check in mapping(data.get("checks")).items():
        if type(check) is not dict:
            continue
        path: Path = ("checks", name)
        if isinstance(value := check.get("reading"), str):
            yield Reference("readings", full_name(home, value), (*path, "reading"))
        for job, at in each(check.get("behind"), (*path, "behind")):
            if isinstance(job, str):
                yield Reference("jobs", full_name(home, job), at)
        for cause in mapping(check.get("shows")):
            yield Reference("causes", full_name(home, cause), (*path, "shows", cause), True)
        for answer_name, answer in mapping(check.get("answers")).items():
            if type(answer) is not dict:
                continue
            for cause in mapping(answer.get("found")):
                at = (*path, "answers", answer_name, "found", cause)
                yield Reference("causes", full_name(home, cause), at, True)
            for part, at in each(answer.get("without"), (*path, "answers", answer_name, "without")):
                if isinstance(part, str):
                    yield Reference("parts", full_name(home, part), at)
    for case, at in each(data.get("cases"), ("cases",)):
        if isinstance(value := mapping(case).get("expect"), str):
            yield Reference("causes", full_name(home, value), (*at, "expect"))
        for look in mapping(mapping(case).get("looks")):
            yield Reference("looks", look, (*at, "looks", look), True)


def in_workshop(data: dict[str, Any]) -> Iterator[Reference]:
    """Yield the references of a workshop file; each is a full name."""
    for key, kind in (("part-prices", "parts"), ("torques", "fasteners")):
        for name in mapping(data.get(key)):
            yield Reference(kind, name, (key, name), True)
