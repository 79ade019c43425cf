"""Fluids, greases and compounds of the plan: what goes in and on, and what must never meet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations, product

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.library import Library
from diagtree.model.family import Fluid, Use
from diagtree.units import NotAQuantityError, convert
from diagtree.work.kinds import OtherKind, are_rivals, never_together
from diagtree.work.prices import Prices
from diagtree.work.result import FluidLine, PlannedJob


class FluidsMustNotMeetError(ExpectedError):
    """A plan that would put into a system what must not go in, or two fluids that must never meet."""


@dataclass(frozen=True, slots=True)
class _Filling:
    use: Use
    where: str
    """Title of the remedy, job or fastener that asks for it."""


def fluid_lines(
    prices: Prices,
    remedies: Sequence[str],
    jobs: Iterable[PlannedJob],
    other_kinds: Mapping[str, OtherKind] | None = None,
) -> tuple[FluidLine, ...]:
    """Gather all that the plan puts in and on, checked for what must never meet.

    Parameters
    ----------
    prices
        Library and remedies.
    remedies
        Planned remedies.
    jobs
        The plan.
    other_kinds
        Systems that the machine has not, each with the answer that says so.

    Returns
    -------
    tuple of FluidLine
        Closed systems first, then what goes on threads and surfaces, by title.

    Raises
    ------
    FluidsMustNotMeetError
        If a system would get a fluid that it does not take, or two that must never meet; if the plan fills
        two kinds of system with fluids that must never meet; or one that the machine has not.
    UnknownNameError
        If a fluid or a system does not exist.
    """
    library = prices.library
    fillings = [_Filling(use, prices.remedy(remedy).title) for use, remedy in prices.uses(remedies).values()]
    for planned in jobs:
        job = library.jobs[planned.job]
        fillings += [_Filling(use, job.title) for use in job.fluids]
        for name in job.fasteners:
            fastener = library.fastener(name)
            if fastener.compound is not None:
                fillings.append(_Filling(Use(fluid=fastener.compound), fastener.title))
    refuse_what_must_not_meet(library, fillings)
    _refuse_the_other_kind(library, fillings, other_kinds or {})
    grouped: dict[tuple[str | None, str], list[_Filling]] = {}
    for filling in fillings:
        grouped.setdefault((filling.use.into, filling.use.fluid), []).append(filling)
    lines = [_line(library, system, fluid, rows) for (system, fluid), rows in grouped.items()]
    return tuple(
        sorted(lines, key=lambda line: (line.system is None, line.system or "", line.title, line.fluid))
    )


def refuse_what_must_not_meet(library: Library, fillings: Iterable[_Filling]) -> None:
    """Refuse a plan that would ruin a closed system.

    Raises
    ------
    FluidsMustNotMeetError
        With both fluids, the system, and where each is asked for.
    """
    inside: dict[str, list[_Filling]] = {}
    for filling in fillings:
        fluid = _fluid(library, filling.use.fluid)
        if filling.use.into is None:
            continue
        if filling.use.into not in library.systems:
            raise UnknownNameError("system", filling.use.into, list(library.systems))
        system = library.systems[filling.use.into]
        if filling.use.fluid not in system.takes:
            takes = ", ".join(_fluid(library, name).title for name in system.takes)
            raise FluidsMustNotMeetError(
                f"'{filling.where}' would put {fluid.title} into {system.title}, which takes only: {takes}.",
                f"{system.read}",
            )
        for earlier in inside.setdefault(filling.use.into, []):
            if never_together(library, earlier.use.fluid, filling.use.fluid):
                raise FluidsMustNotMeetError(
                    f"{_fluid(library, earlier.use.fluid).title} ('{earlier.where}') and {fluid.title} "
                    f"('{filling.where}') would meet in {system.title}; they must never meet.",
                    f"{system.read}",
                )
        inside[filling.use.into].append(filling)
    _refuse_two_of_a_kind(library, inside)


def _refuse_two_of_a_kind(library: Library, inside: Mapping[str, Sequence[_Filling]]) -> None:
    """Refuse a plan that fills two kinds of one system: a machine has the one or the other, and somebody guessed.

    Systems of one family whose fluids must never meet are such kinds. Where a machine really has both, a slip with
    bottle or syringe ruins the seals: one of them at a time, on a sheet of its own.
    """
    for one, other in combinations(inside, 2):
        if not are_rivals(library, one, other):
            continue
        for first, second in product(inside[one], inside[other]):
            if never_together(library, first.use.fluid, second.use.fluid):
                raise FluidsMustNotMeetError(
                    f"{_fluid(library, first.use.fluid).title} ('{first.where}') and "
                    f"{_fluid(library, second.use.fluid).title} ('{second.where}') must never meet, and this plan "
                    "wants both.",
                    f"{library.systems[one].read} If the {library.machine.one} has both kinds, make a sheet for each.",
                )


def _refuse_the_other_kind(
    library: Library, fillings: Iterable[_Filling], other_kinds: Mapping[str, OtherKind]
) -> None:
    """Refuse a plan that fills a system of the kind that the machine has not, whoever wished or chose it."""
    for filling in fillings:
        said = other_kinds.get(filling.use.into or "")
        if said is not None:
            system = library.systems[filling.use.into or ""]
            raise FluidsMustNotMeetError(
                f"'{filling.where}' would put {_fluid(library, filling.use.fluid).title} into {system.title}. "
                f"But '{said.ask}' was answered: {said.says}.",
                f"{system.read} Take this work off the plan, or that answer back. "
                f"If the {library.machine.one} has both kinds, make a sheet for each.",
            )


def never_with(library: Library, name: str) -> tuple[str, ...]:
    """Return the titles of all that a fluid must never meet, whichever of the two says so."""
    return tuple(
        sorted(
            fluid.title
            for other, fluid in library.fluids.items()
            if other != name and never_together(library, name, other)
        )
    )


def _fluid(library: Library, name: str) -> Fluid:
    try:
        return library.fluids[name]
    except KeyError:
        raise UnknownNameError("fluid", name, list(library.fluids)) from None


def _line(library: Library, system: str | None, name: str, rows: list[_Filling]) -> FluidLine:
    fluid = library.fluids[name]
    closed = library.systems[system] if system is not None else None
    amount, unit = _sum([row.use for row in rows], fluid.unit)
    return FluidLine(
        fluid=name,
        title=fluid.title,
        kind=fluid.kind.value,
        system=system,
        system_title=closed.title if closed else None,
        takes=tuple(library.fluids[other].title for other in closed.takes if other in library.fluids)
        if closed
        else (),
        read=closed.read if closed else None,
        amount=amount,
        unit=unit,
        boils_dry=fluid.boils_dry,
        boils_wet=fluid.boils_wet,
        viscosity_cold=fluid.viscosity_cold,
        colour=fluid.colour,
        never_with=never_with(library, name),
        never_on=fluid.never_on,
        attacks=fluid.attacks,
        clean_with=fluid.clean_with,
        used_for=tuple(dict.fromkeys(row.where for row in rows)),
        caution=fluid.caution,
        basis=fluid.basis or "",
    )


def _sum(uses: list[Use], unit: str) -> tuple[Decimal | None, str]:
    """Add up amounts; None if nobody gave one. Amounts in two units that do not convert are not added."""
    given = [use for use in uses if use.amount is not None]
    if not given:
        return None, unit
    if len({use.unit for use in given}) == 1:
        unit = given[0].unit
    total = Decimal(0)
    for use in given:
        assert use.amount is not None
        try:
            total += use.amount if use.unit == unit else convert(use.amount, use.unit, unit)
        except NotAQuantityError:
            return None, unit
    return total, unit
