"""Look up how tight a fastener goes, or calculate an estimate for a bolt."""

from __future__ import annotations

import argparse
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.library.library import Library
    from diagtree.mechanics.ceiling import TorqueEstimate
    from diagtree.model.workshop import Workshop
    from diagtree.work.result import TorqueLine

EXAMPLES = """\
  diagtree torque stem-clamp                     look one up
  diagtree torque stem bolts                     by words: all that fit are shown
  diagtree torque stem-clamp --adapter 50 --length 400      with an adapter on the wrench
  diagtree torque --thread M5 --class 8.8 --into 6061-T6 --engaged 8 --lubricated   calculate an estimate
  diagtree torque stem-clamp --json              for another program
"""

SCHEMA = 1
STATES = ("lubricated", "dry", "threadlocker", "anti-seize")
Rows = list[tuple[str, str]]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments, add_workshop_arguments

    parser.add_argument("fastener", metavar="FASTENER", nargs="*", help="its name, or words of its title")
    made = parser.add_argument_group("calculate an estimate")
    made.add_argument("--thread", metavar="M5x0.8", help="the thread: M5, M8x1, '9/16 in x 20 tpi'")
    made.add_argument(
        "--class", metavar="8.8", dest="bolt", help="the bolt's property class: 8.8, 10.9, A2-70"
    )
    made.add_argument("--into", metavar="6061-T6", help="what it is screwed into")
    made.add_argument("--engaged", metavar="MM", help="length of thread engaged (by default 1.5 diameters)")
    state = made.add_mutually_exclusive_group()
    for name in STATES:
        state.add_argument(f"--{name}", dest="state", action="store_const", const=name, help=f"the thread is {name}"
                           if name in {"dry", "lubricated"} else f"{name} on the thread")  # fmt: skip
    wrench = parser.add_argument_group("wrench")
    wrench.add_argument(
        "--adapter", metavar="MM[@ANGLE]", help="an adapter: square to fastener, and its angle to the wrench"
    )
    wrench.add_argument("--length", metavar="MM", help="of the wrench: square to the middle of the grip")
    parser.add_argument("--json", action="store_true", help="print JSON")
    add_workshop_arguments(parser)
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Look up or calculate; return the exit status."""
    from diagtree.errors import ExpectedError

    made = [name for name in ("bolt", "into", "engaged", "state") if getattr(options, name) is not None]
    if options.thread is None and made:
        raise ExpectedError("To calculate, the thread is wanted.", "Add, for example: --thread M5")
    if options.thread is not None and options.fastener:
        raise ExpectedError(
            "A fastener is looked up, a thread is calculated: not both at once.", "Leave one of them out."
        )
    if options.thread is None and not options.fastener:
        raise ExpectedError(
            "Which fastener?", "Name one, for example 'diagtree torque stem bolt', or give --thread."
        )
    if options.length is not None and options.adapter is None:
        raise ExpectedError("--length goes with --adapter.", "Add, for example: --adapter 50")
    return _calculate(options) if options.thread is not None else _look_up(options)


# Looked up ---------------------------------------------------------------------------------------------------


def _look_up(options: argparse.Namespace) -> int:
    from diagtree.commands.common import library_from, workshop_from
    from diagtree.work.lookup import find_fasteners
    from diagtree.work.torque_round import line

    library = library_from(options)
    workshop = workshop_from(options, library)
    names = find_fasteners(library, " ".join(options.fastener))
    rows = [line(library, workshop, name) for name in names]
    settings = [_setting_for(options, workshop, row) for row in rows]
    rows = [_on_the_scale(workshop, row, setting) for row, setting in zip(rows, settings, strict=True)]
    if options.json:
        found = [_as_data(library, row, setting) for row, setting in zip(rows, settings, strict=True)]
        return _print_json({"kind": "torque-lookup", "mark_first": True, "fasteners": found})
    sheets = [
        _sheet(f"{row.title} ({row.fastener})", _rows(row, setting))
        for row, setting in zip(rows, settings, strict=True)
    ]
    return _print([_mark_first(), *sheets])


def _setting_for(options: argparse.Namespace, workshop: Workshop, row: TorqueLine) -> float | None:
    if options.adapter is None or row.target is None:
        return None
    length = next(
        (float(one.length) for one in workshop.wrenches if one.title == row.wrench and one.length), None
    )
    return _setting(options, float(row.target), length)


def _on_the_scale(workshop: Workshop, row: TorqueLine, setting: float | None) -> TorqueLine:
    """Add a warning where an adapter takes the setting off the wrench's scale."""
    from dataclasses import replace

    from diagtree.units import plain

    wrench = next((one for one in workshop.wrenches if one.title == row.wrench), None)
    if setting is None or wrench is None or float(wrench.from_) <= setting <= float(wrench.to):
        return row
    scale = f"{plain(wrench.from_)}-{plain(wrench.to)}"
    warning = f"With this adapter '{wrench.title}' is set to {setting:.1f} N·m, off its scale of {scale} N·m."
    return replace(row, warnings=(*row.warnings, f"{warning} Use another wrench or turn the adapter to 90°."))


def _setting(options: argparse.Namespace, torque: float, known_length: float | None) -> float | None:
    from diagtree.errors import ExpectedError
    from diagtree.mechanics import wrench

    if options.adapter is None:
        return None
    reach, _, angle = str(options.adapter).partition("@")
    length = _millimetres(options.length) if options.length is not None else known_length
    if length is None:
        raise ExpectedError(
            "How long is the wrench?", "Add --length, from the square to the middle of the grip, in mm."
        )
    degrees = float(_value(angle, "°")) if angle else 0.0
    return wrench.setting(torque, length, _millimetres(reach), degrees)


def _rows(row: TorqueLine, setting: float | None) -> Rows:
    side = f", seen from the {row.side}" if row.side else ""
    count = f", {row.count} of them" if row.count > 1 else ""
    rows = [("Thread", f"{row.size}{count}"), ("Tighten", f"{row.turns}{side}")]
    if row.least is not None and row.most is not None and row.target is not None:
        rows.append(
            ("Torque", f"{_range(row.least, row.most)} N·m, set {_plain(row.target)} N·m ({row.imperial})")
        )
    if row.until:
        rows.append(("Until", row.until))
    rows.append(("Basis", row.basis))
    rows.append(("Thread gets", f"{row.preparation} ({row.compound})" if row.compound else row.preparation))
    if row.order:
        rows.append(("Order", row.order))
    if row.wrench and row.target is not None:
        low, high = _within(row.target)
        rows.append(
            (
                "Wrench",
                f"{row.wrench}; set to {_plain(row.target)} it may give {low:.1f} to {high:.1f} N·m (ISO 6789)",
            )
        )
    if setting is not None:
        rows.append(("With adapter", f"set the wrench to {setting:.1f} N·m"))
    rows += [("Mind", text) for text in (*row.warnings, *row.caution)]
    if row.ceiling is not None:
        rows.append(
            ("Estimate", f"at most {row.ceiling.torque:.1f} N·m: {row.ceiling.rules} ({row.ceiling.basis})")
        )
    return rows


def _as_data(library: Library, row: TorqueLine, setting: float | None) -> dict[str, object]:
    return {
        "fastener": row.fastener,
        "title": row.title,
        "count": row.count,
        "thread": row.size,
        "hand": row.hand.value,
        "tighten": row.turns,
        "side": row.side,
        "torque_Nm": None
        if row.least is None
        else {"from": _number(row.least), "to": _number(row.most), "target": _number(row.target)},
        "until": row.until,
        "preparation": row.preparation,
        "compound": row.compound,
        "order": row.order,
        "basis": row.basis,
        "safety": row.safety,
        "wrench": row.wrench,
        "wrench_may_give_Nm": None
        if row.wrench is None or row.target is None
        else [round(value, 3) for value in _within(row.target)],
        "setting_with_adapter_Nm": None if setting is None else round(setting, 3),
        "warnings": list(row.warnings),
        "caution": list(row.caution),
        "estimate": None
        if row.ceiling is None
        else {
            "at_most_Nm": round(row.ceiling.torque, 3),
            "rules": row.ceiling.rules,
            "basis": row.ceiling.basis,
        },
        "machine": library.machine.one,
    }


# Calculated --------------------------------------------------------------------------------------------------


def _calculate(options: argparse.Namespace) -> int:
    from diagtree.errors import ExpectedError
    from diagtree.mechanics import bolts, ceiling, materials, threads

    if options.bolt is None:
        raise ExpectedError(
            "Which bolt is it?",
            f"Add --class: one of {', '.join(materials.BOLT_CLASSES)}. It is on the head.",
        )
    if options.engaged is not None and options.into is None:
        raise ExpectedError("Engaged in what?", "Add --into, for example: --into 6061-T6")
    found = ceiling.estimate(
        threads.parse(options.thread),
        materials.bolt_class(options.bolt),
        bolts.friction(options.state or "dry"),
        materials.material(options.into) if options.into is not None else None,
        _millimetres(options.engaged) if options.engaged is not None else None,
    )
    setting = _setting(options, found.torque, None)
    if options.json:
        return _print_json(_estimate_data(found, setting))
    return _print([_mark_first(), _sheet(_heading(found), _estimate_rows(found, setting))])


def _heading(found: TorqueEstimate) -> str:
    into = f", {found.engaged:g} mm in {found.into.name}" if found.into is not None else ""
    return f"An estimate: {found.thread.written}, class {found.bolt.name}, {found.friction.name}{into}"


def _estimate_rows(found: TorqueEstimate, setting: float | None) -> Rows:
    from diagtree.units import beside

    torque = Decimal(repr(round(found.torque, 1)))
    rows = [
        (
            "At most",
            f"{torque} N·m ({beside(torque)}): {found.rules} {'' if 'strips' in found.rules else 'rules'}",
        )
    ]
    rows.append(
        (
            "Friction",
            (
                f"{found.friction.usual:g}; at {found.friction.low:g} it is {found.least:.1f} N·m, at "
                f"{found.friction.high:g} {found.most:.1f} N·m ({found.friction.basis})"
            ),
        )
    )
    rows.append(
        (
            "Bolt",
            (
                f"{found.bolt_preload / 1000:.1f} kN at {found.bolt_torque:.1f} N·m, 90 % of its proof strength of "
                f"{found.bolt.proof:g} MPa ({found.bolt.basis})"
            ),
        )
    )
    if found.strip_load is not None and found.strip_torque is not None and found.into is not None:
        rows.append(
            (
                "Thread",
                (
                    f"{found.softer} strips at {found.strip_load / 1000:.1f} kN; 90 % of that is {found.strip_torque:.1f} "
                    f"N·m ({found.into.basis})"
                ),
            )
        )
        if found.engaged is not None and found.engaged < found.thread.diameter:
            rows.append(("Mind", ("Less than one diameter of thread is engaged. Practice is 1 in hard metal, 1.5 in "
                         "aluminium.")))  # fmt: skip
    if setting is not None:
        rows.append(("With adapter", f"set the wrench to {setting:.1f} N·m"))
    rows.append(("Basis", found.basis))
    return rows


def _estimate_data(found: TorqueEstimate, setting: float | None) -> dict[str, object]:
    return {
        "kind": "torque-estimate",
        "mark_first": True,
        "thread": {
            "written": found.thread.written,
            "diameter_mm": round(found.thread.diameter, 4),
            "pitch_mm": round(found.thread.pitch, 4),
            "stress_area_mm2": round(found.thread.stress_area, 3),
        },
        "class": {"name": found.bolt.name, "proof_MPa": found.bolt.proof, "basis": found.bolt.basis},
        "into": None
        if found.into is None
        else {"name": found.into.name, "shear_MPa": found.into.shear, "basis": found.into.basis},
        "engaged_mm": found.engaged,
        "friction": {
            "state": found.friction.name,
            "usual": found.friction.usual,
            "low": found.friction.low,
            "high": found.friction.high,
            "basis": found.friction.basis,
        },
        "at_most_Nm": round(found.torque, 3),
        "at_least_friction_Nm": round(found.least, 3),
        "at_most_friction_Nm": round(found.most, 3),
        "rules": found.rules,
        "preload_kN": round(found.preload / 1000, 3),
        "bolt": {"preload_kN": round(found.bolt_preload / 1000, 3), "torque_Nm": round(found.bolt_torque, 3)},
        "strip": None
        if found.strip_load is None or found.strip_torque is None
        else {
            "softer": found.softer,
            "load_kN": round(found.strip_load / 1000, 3),
            "torque_Nm": round(found.strip_torque, 3),
        },
        "setting_with_adapter_Nm": None if setting is None else round(setting, 3),
        "basis": found.basis,
    }


# In common ---------------------------------------------------------------------------------------------------


def _millimetres(text: str) -> float:
    return float(_value(text, "mm"))


def _value(text: str, unit: str) -> Decimal:
    from diagtree.units import parse

    return parse(text, like=unit).to(unit).value


def _within(torque: Decimal) -> tuple[float, float]:
    from diagtree.mechanics.wrench import within

    return within(float(torque))


def _plain(value: Decimal) -> str:
    from diagtree.units import plain

    return plain(value)


def _range(least: Decimal, most: Decimal) -> str:
    return _plain(least) if least == most else f"{_plain(least)}-{_plain(most)}"


def _number(value: Decimal | None) -> float | None:
    return None if value is None else float(value)


def _mark_first() -> str:
    from diagtree.mechanics.ceiling import MARK_FIRST

    return MARK_FIRST


def _sheet(heading: str, rows: Rows) -> str:
    import textwrap

    from diagtree.clean import clean

    lines = [clean(heading)]
    for label, text in rows:
        lines += textwrap.wrap(
            clean(text),
            78,
            initial_indent=f"  {label:<13}",
            subsequent_indent=" " * 15,
            break_on_hyphens=False,
        )
    return "\n".join(lines)


def _print(blocks: list[str]) -> int:
    from diagtree.commands.outgoing import write_out

    write_out("\n\n".join(blocks))
    return 0


def _print_json(data: dict[str, object]) -> int:
    from diagtree.commands.outgoing import write_json

    write_json({"schema": SCHEMA, **data})
    return 0
