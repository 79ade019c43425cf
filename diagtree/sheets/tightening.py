"""How tight: as a table to fill in, as lines to tick off, as a paragraph for each family."""

from __future__ import annotations

from collections.abc import Iterable

from diagtree.clean import clean
from diagtree.model.family import Hand
from diagtree.sheets.blocks import Column, Items, Table
from diagtree.sheets.facts import Tightened
from diagtree.sheets.figures import first_up, number, span
from diagtree.sheets.ground import Ground
from diagtree.work.result import TorqueLine


def torque_table(ground: Ground, lines: Iterable[TorqueLine]) -> Table:
    """How tight: with a column for the torque as it was done."""
    done = dict(ground.facts.torques)
    rows = []
    for line in lines:
        name = f"{line.title} ×{line.count}" if line.count > 1 else line.title
        about = [name, line.side] if line.side else [name]
        turn = f"{line.size}, {line.turns}" if line.size != "none" else "pressed"
        how = [*_thread_gets(line), *([line.order] if line.order else [])]
        made = done.get(line.fastener)
        recorded = _as_done(line, made) if made else ""
        rows.append(
            (
                "\n".join(about),
                turn,
                _how_tight(ground, line),
                "\n".join(dict.fromkeys(how)),
                recorded,
            )
        )
    return Table(
        (
            Column("Fastener", share=2),
            Column("Thread, turn", share=1.7),
            Column("How tight", share=3),
            Column("Thread gets", share=1.8),
            Column("As done", share=1.1, blank=True),
        ),
        tuple(rows),
    )


def torque_list(ground: Ground, lines: Iterable[TorqueLine]) -> Items:
    """How tight, a line or two with a box for each fastener; what was touched tells what its thread gets as well."""
    done = dict(ground.facts.torques)
    texts, ticked = [], []
    for line in lines:
        text = _in_a_line(ground, line)
        if line.touched_by:
            told = [line.imperial, ", ".join(_thread_gets(line)), line.order or "", _estimated(ground, line)]
            text += f". {first_up('; '.join(part for part in told if part))}."
        made = done.get(line.fastener)
        if made:
            said = f"Done. {made.note}" if made.value is None else f"Done: {_as_done(line, made)}"
            text = f"{text} {said}".rstrip()
        texts.append(text)
        ticked.append(made is not None)
    return Items(tuple(texts), boxes=True, ticked=tuple(ticked))


def _as_done(line: TorqueLine, made: Tightened) -> str:
    """The torque as it was done, and the note; a torque that is out of its range is marked, whoever has said yes to it."""
    if made.value is None:
        return f"done {made.note}".rstrip()
    value = f"{number(made.value)} N·m"
    if line.least is None or line.most is None or line.least <= made.value <= line.most:
        return f"{value} {made.note}".rstrip()
    note = f": {made.note}" if made.note else ""
    return f"{value}, outside {span(line.least, line.most)} N·m{note}"


def _estimated(ground: Ground, line: TorqueLine) -> str:
    """The calculated ceiling: under the mark on the part, and never in place of it."""
    if line.ceiling is None:
        return ""
    mark = ground.sources.mark(f"{line.ceiling.basis}; limit: {line.ceiling.rules}")
    return f"estimate: not above {line.ceiling.torque:.1f} N·m {mark}".rstrip()


def torque_by_family(ground: Ground, lines: Iterable[TorqueLine]) -> Items:
    """How tight, a paragraph for each family: for what the machine may not have."""
    families: dict[str, list[str]] = {}
    for line in lines:
        families.setdefault(line.fastener.partition("/")[0], []).append(_in_a_line(ground, line))
    titles = {name: clean(family.title) for name, family in ground.library.families.items()}
    return Items(tuple(f"{titles.get(name, name)}: {'; '.join(texts)}" for name, texts in families.items()))


def _in_a_line(ground: Ground, line: TorqueLine) -> str:
    name = f"{line.title} ×{line.count}" if line.count > 1 else line.title
    if line.side and line.side.lower() not in name.lower():
        name += f", {line.side}"
    if line.size != "none":
        name += f", {line.size.removeprefix('as marked (').rstrip(')')}"
    if line.touched_by and line.turns:
        name += f", {line.turns}"
    elif line.hand is Hand.LEFT:
        name += ", left-hand thread"
    if line.least is None or line.most is None:
        tight = (line.until or "see the mark").rstrip(".")
    elif line.target is None or line.least == line.most:
        tight = f"{span(line.least, line.most)} N·m"
    else:
        tight = f"{number(line.target)} N·m ({span(line.least, line.most)})"
    if line.until and line.least is not None:
        tight += f", {line.until.rstrip('.')}"
    return f"{name}: {tight} {ground.sources.mark(line.basis)}".rstrip()


def _thread_gets(line: TorqueLine) -> list[str]:
    if line.compound is None:
        return [line.preparation]
    # "grease" and "Assembly grease" say one thing.
    if line.preparation.lower() in line.compound.lower():
        return [line.compound]
    return [line.preparation, line.compound]


def _how_tight(ground: Ground, line: TorqueLine) -> str:
    parts = []
    if line.least is not None and line.most is not None:
        parts.append(f"{span(line.least, line.most)} N·m")
        if line.target is not None and line.least != line.most:
            parts[0] += f", set {number(line.target)}"
        if line.imperial:
            parts.append(line.imperial)
    if line.until:
        parts.append(line.until)
    if not parts:
        parts.append("see the mark")
    if line.ceiling is not None:
        parts.append(_estimated(ground, line))
    parts[0] = f"{parts[0]} {ground.sources.mark(line.basis)}".strip()
    return "\n".join(parts)


def torque_notes(lines: Iterable[TorqueLine]) -> tuple[str, ...]:
    """What stands in the way: wrenches out of reach, cautions."""
    notes: list[str] = []
    for line in lines:
        notes += [f"{line.title}: {warning}" for warning in (*line.warnings, *line.caution)]
    return tuple(dict.fromkeys(notes))
