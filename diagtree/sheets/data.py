"""The paper in plain values, for programs: what the JSON form holds."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import TypeAlias

from diagtree.case.events import DONE
from diagtree.clean import clean
from diagtree.sheets.ground import Ground

Plain: TypeAlias = "str | int | float | bool | list[Plain] | dict[str, Plain] | None"
"""What JSON knows."""

SCHEMA = 1
"""Changes when a program that reads the data would have to change."""


def plain(value: object) -> Plain:
    """Turn nested frozen data into what JSON knows; money and torques stay exact as texts.

    Examples
    --------
    >>> plain({"price": Decimal("9.50"), "chance": 0.12345678, "tools": ("spanner",)})
    {'price': '9.50', 'chance': 0.123457, 'tools': ['spanner']}
    """
    if isinstance(value, enum.Enum):
        return str(value.value)
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, float):
        return round(value, 6)
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, (tuple, list)):
        return [plain(item) for item in value]
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if value is None or isinstance(value, (str, int)):
        return value
    raise TypeError(f"{type(value).__name__} has no plain form")


def data_of(kind: str, ground: Ground) -> dict[str, Plain]:
    """Gather all that a paper tells.

    Parameters
    ----------
    kind
        The paper's name; the data are the same for all four.
    ground
        What the paper is made from.

    Returns
    -------
    dict
        Texts, numbers, lists and tables only. ``schema`` is `SCHEMA`.
    """
    library, facts, work = ground.library, ground.facts, ground.work
    return {
        "schema": SCHEMA,
        "kind": kind,
        "machine": ground.machine,
        "label": facts.label,
        "opened": facts.opened,
        "updated": facts.updated,
        "finished": facts.finished,
        "workshop": clean(ground.workshop.title),
        "brief": work.brief.value,
        "complaints": [
            {
                "symptom": symptom,
                "title": ground.complaint(symptom),
                "version": clean(library.tree(symptom).version),
                "identity": library.identity(symptom),
                "walked": dict(facts.trees).get(symptom) or library.identity(symptom),
                "causes": [
                    {"cause": name, "title": ground.cause(name), "chance": round(chance, 6)}
                    for name, chance in sorted(
                        ground.belief.behind(symptom).items(), key=lambda item: (-item[1], item[0])
                    )
                ],
            }
            for symptom in facts.complaints
        ],
        "picture": [
            {
                "condition": name,
                "title": clean(library.conditions[name].title),
                "states": [
                    {
                        "state": state,
                        "says": clean(library.conditions[name].states[state].says),
                        "chance": round(chance, 6),
                    }
                    for state, chance in states.items()
                ],
                "moved_by": [reason for condition, reason in facts.moved if condition == name],
            }
            for name, states in ground.belief.picture.items()
            if name in library.conditions
        ],
        "stops": list(work.stops),
        "cautions": list(work.cautions),
        "remedies": plain(work.verdicts),
        "left_alone": plain(work.left_alone),
        "jobs": plain(work.plan),
        "parts": plain(work.parts),
        "tools": list(work.tools),
        "torques": plain(work.torque_round),
        "fluids": plain(work.fluids),
        "final_checks": plain(work.final_checks),
        "verify": list(work.verify),
        "estimate": plain(work.estimate),
        "advice": plain(work.advice),
        "next_due": [{"part": title, "when": when} for title, when in work.next_due],
        "asked": plain(facts.asked),
        "notes": list(facts.notes),
        "wishes": list(facts.wishes),
        "found": plain(facts.found),
        "jobs_done": [{"job": job, "when": when} for job, when in facts.jobs_done],
        "torques_done": [
            {
                "fastener": fastener,
                "value": DONE if done.value is None else f"{done.value:f}",
                "note": done.note,
            }
            for fastener, done in facts.torques
        ],
        "agreed": plain(facts.agreed),
        "handed_over": plain(facts.handed_over),
    }
