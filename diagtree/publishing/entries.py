"""What site and binder tell of fasteners, fluids and work: plain values, each figure with its basis."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from diagtree.library.library import Library
from diagtree.model.family import Cause, Fluid, Risk
from diagtree.sheets.figures import first_low, first_up, number, span
from diagtree.units import beside
from diagtree.work.torque_round import turns

RISKS = {
    Risk.UNSAFE: "Unsafe: do not use it before this is put right.",
    Risk.DAMAGE: "Does damage if it is left.",
    Risk.NUISANCE: "A nuisance.",
}
"""What a risk means, for a reader."""


@dataclass(frozen=True, slots=True)
class FastenerEntry:
    """How one fastener is tightened.

    Parameters
    ----------
    name
        In full.
    title, family
        Its own title; its family's name.
    thread
        With how many there are and on which side: ``M5x0.8, 2 of them, left side``.
    turns
        The way it turns to tighten.
    left
        True for a left-hand thread.
    torque
        Range in N·m, or what to stop at.
    aim
        What the wrench is set to, N·m; empty where no torque rules.
    imperial
        The range in other units; may be empty.
    preparation
        What goes on the thread.
    notes
        Order of tightening and cautions.
    safety
        True if it is checked at the end of every job.
    basis
        Where the figures come from.
    """

    name: str
    title: str
    family: str
    thread: str
    turns: str
    left: bool
    torque: str
    aim: str
    imperial: str
    preparation: str
    notes: tuple[str, ...]
    safety: bool
    basis: str


def fastener_entry(library: Library, name: str) -> FastenerEntry:
    """Gather what is told of a fastener.

    Raises
    ------
    UnknownNameError
        If there is no such fastener.
    """
    fastener = library.fastener(name)
    torque = fastener.torque
    thread = [fastener.thread]
    if fastener.count > 1:
        thread.append(f"{fastener.count} of them")
    if fastener.side:
        thread.append(fastener.side)
    preparation = fastener.preparation
    if fastener.compound and fastener.compound in library.fluids:
        compound = title_of_fluid(library, fastener.compound)
        if compound.lower() not in preparation.lower():
            preparation = f"{preparation} ({compound})"
    limit = [f"{span(torque.from_, torque.to)} N·m"] if torque else []
    if fastener.until:
        limit.append(f"until {fastener.until}" if torque else first_up(f"until {fastener.until}"))
    return FastenerEntry(
        name=name,
        title=fastener.title,
        family=name.partition("/")[0],
        thread=", ".join(thread),
        turns=turns(fastener.hand),
        left=fastener.hand.value == "left",
        torque=", ".join(limit),
        aim=f"{number(torque.aim)} N·m" if torque else "",
        imperial=beside(torque.from_, torque.to) if torque else "",
        preparation=preparation,
        notes=(*([f"Tighten {fastener.order}."] if fastener.order else ()), *fastener.caution),
        safety=fastener.safety,
        basis=fastener.basis or "",
    )


@dataclass(frozen=True, slots=True)
class FluidEntry:
    """Where a fluid, grease or compound may go, and where never.

    Parameters
    ----------
    name
        In full.
    title, family, kind
        Its title, its family's name, what sort of thing it is.
    into
        Titles of the systems that it may go into.
    never
        What it must never meet or touch.
    figures
        Boiling points, viscosity, colour.
    clean_with
        What takes it off; may be empty.
    caution
        What can hurt.
    basis
        Where the figures come from.
    """

    name: str
    title: str
    family: str
    kind: str
    into: tuple[str, ...]
    never: tuple[str, ...]
    figures: tuple[str, ...]
    clean_with: str
    caution: tuple[str, ...]
    basis: str


def fluid_entry(library: Library, name: str) -> FluidEntry:
    """Gather what is told of a fluid."""
    fluid = library.fluids[name]
    never = [f"Never with {title_of_fluid(library, other)}." for other in fluid.never_with]
    never += [f"Never on {surface}." for surface in fluid.never_on]
    never += [f"Attacks {surface}." for surface in fluid.attacks]
    systems = dict.fromkeys(
        (*fluid.systems, *(name_of for name_of, system in library.systems.items() if name in system.takes))
    )
    return FluidEntry(
        name=name,
        title=fluid.title,
        family=name.partition("/")[0],
        kind=fluid.kind.value,
        into=tuple(library.systems[one].title if one in library.systems else one for one in systems),
        never=tuple(never),
        figures=_figures(fluid),
        clean_with=fluid.clean_with or "",
        caution=fluid.caution,
        basis=fluid.basis or "",
    )


def _figures(fluid: Fluid) -> tuple[str, ...]:
    figures = []
    if fluid.boils_dry is not None:
        figures.append(f"Boils at {number(fluid.boils_dry)} °C or more when fresh.")
    if fluid.boils_wet is not None:
        figures.append(f"Boils at {number(fluid.boils_wet)} °C or more when wet.")
    if fluid.viscosity_cold is not None:
        figures.append(f"At most {number(fluid.viscosity_cold)} mm²/s at −40 °C.")
    if fluid.colour:
        figures.append(f"Colour: {fluid.colour}.")
    return tuple(figures)


def title_of_fluid(library: Library, name: str) -> str:
    """The fluid's title inside a sentence; its name where nobody has defined it."""
    fluid = library.fluids.get(name)
    if fluid is None:
        return name
    return first_low(fluid.title)


def family_title(library: Library, name: str) -> str:
    """The title of the family that a full name, or a family's own name, belongs to."""
    family = library.families.get(name.partition("/")[0])
    return family.title if family is not None else name.partition("/")[0]


def by_family(library: Library, names: Iterable[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Group full names by their families: families in the library's order, names as they come.

    Returns
    -------
    tuple
        For each family that has any: its name and the full names.
    """
    groups: dict[str, list[str]] = {family: [] for family in library.families}
    for name in names:
        groups.setdefault(name.partition("/")[0], []).append(name)
    return tuple((family, tuple(found)) for family, found in groups.items() if found)


def trees_by_family(library: Library) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Group the symptoms by the families of their trees, families in the library's order."""
    groups: dict[str, list[str]] = {family: [] for family in library.families}
    for symptom, tree in library.trees.items():
        groups.setdefault(tree.family, []).append(symptom)
    return tuple((family, tuple(found)) for family, found in groups.items() if found)


def fasteners_of(library: Library, jobs: Iterable[str]) -> tuple[str, ...]:
    """List the fasteners that jobs touch, each once, in the order of work."""
    return tuple(
        dict.fromkeys(
            fastener
            for job in jobs
            for fastener in library.jobs[job].fasteners
            if fastener in library.fasteners
        )
    )


def minutes_text(minutes: tuple[Decimal, Decimal, Decimal]) -> str:
    """Say low, likely and high minutes.

    Examples
    --------
    >>> minutes_text((Decimal(5), Decimal("7.5"), Decimal(10))), minutes_text((Decimal(3),) * 3)
    ('7.5 min (5 to 10)', '3 min')
    """
    low, likely, high = minutes
    if low == high:
        return f"{number(likely)} min"
    return f"{number(likely)} min ({number(low)} to {number(high)})"


def sorted_glossary(library: Library) -> tuple[tuple[str, str], ...]:
    """All terms with their meanings as a glossary lists them."""
    return tuple(sorted(library.glossary.items(), key=lambda item: (item[0].casefold(), item[0])))


def sorted_causes(library: Library) -> tuple[tuple[str, Cause], ...]:
    """All causes as an index lists them: by title, letters' size aside."""
    return tuple(sorted(library.causes.items(), key=lambda item: (item[1].title.casefold(), item[0])))
