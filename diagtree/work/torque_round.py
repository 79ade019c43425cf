"""The torque round: how each fastener of the plan is tightened, and every safety fastener at the end.

The mark on the part comes first. Then the workshop's own value, then the catalogue's range with its basis. A
calculated ceiling stands beside it as an estimate, never in its place.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from decimal import Decimal

from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.mechanics import bolts, ceiling, materials, threads, wrench
from diagtree.model.family import Fastener, Hand, Torque
from diagtree.model.workshop import Workshop, Wrench
from diagtree.units import beside, plain
from diagtree.work.result import Ceiling, PlannedJob, TorqueLine


def torque_round(
    library: Library,
    workshop: Workshop,
    plan: Iterable[PlannedJob],
    fitted: Collection[str],
    also: Iterable[str] = (),
    absent: Collection[str] = (),
    *,
    handed_over: bool = True,
) -> tuple[TorqueLine, ...]:
    """List the fasteners of a plan in the order of work, then every other safety fastener.

    Parameters
    ----------
    library, workshop
        Values, and the wrenches that must reach them.
    plan
        The jobs: what they touch comes first.
    fitted
        Families that are known to be on the machine. A safety fastener of another family is marked
        ``if_fitted``.
    also
        Fasteners that are checked on every machine, whatever was done.
    absent
        Parts that the machine does not have: their fasteners are left out unless the plan touches them.
    handed_over
        False if the machine goes nowhere after the plan: only what the plan touches is listed then.

    Returns
    -------
    tuple of TorqueLine
        Each fastener once.

    Raises
    ------
    UnknownNameError
        If a job or a final check names a fastener that does not exist.
    """
    touched: dict[str, list[str]] = {}
    for job in plan:
        for name in job.fasteners:
            touched.setdefault(name, []).append(job.title)
    if not handed_over:
        return tuple(line(library, workshop, name, touched_by=jobs) for name, jobs in touched.items())
    rest = dict.fromkeys(
        name for name in also if name not in touched and library.fastener(name).part not in absent
    )
    known = [*touched, *rest]
    safety = [
        name
        for name, fastener in library.fasteners.items()
        if fastener.safety and name not in known and fastener.part not in absent
    ]
    on_it = [name for name in safety if name.partition("/")[0] in fitted]
    unsure = [name for name in safety if name.partition("/")[0] not in fitted]
    return (
        *(line(library, workshop, name, touched_by=jobs) for name, jobs in touched.items()),
        *(line(library, workshop, name) for name in (*rest, *on_it)),
        *(line(library, workshop, name, if_fitted=True) for name in unsure),
    )


def line(
    library: Library,
    workshop: Workshop,
    name: str,
    *,
    touched_by: Iterable[str] = (),
    if_fitted: bool = False,
) -> TorqueLine:
    """Say how one fastener is tightened in this workshop.

    Parameters
    ----------
    library, workshop
        Values, and the wrenches that must reach them.
    name
        The fastener's full name.
    touched_by
        Titles of the jobs that touch it.
    if_fitted
        True if nobody has said that the machine has it.

    Raises
    ------
    UnknownNameError
        If there is no such fastener; near names are listed.
    """
    fastener = library.fastener(name)
    own = workshop.torques.get(name)
    torque: Torque | None = own or fastener.torque
    chosen, warnings = pick_wrench(workshop.wrenches, torque, fastener.hand)
    top = ceiling_of(fastener)
    if top is not None and torque is not None and float(torque.to) > top.torque:
        warnings = (
            *warnings,
            f"By calculation {top.rules} rules at {top.torque:.1f} N·m (an estimate): go by the mark on the part.",
        )
    return TorqueLine(
        fastener=name,
        title=fastener.title,
        count=fastener.count,
        size=fastener.thread,
        hand=fastener.hand,
        turns=turns(fastener.hand),
        side=fastener.side,
        least=torque.from_ if torque else None,
        most=torque.to if torque else None,
        target=torque.aim if torque else None,
        imperial=beside(torque.from_, torque.to) if torque else "",
        until=fastener.until,
        preparation=fastener.preparation,
        compound=_compound(library, fastener.compound),
        order=fastener.order,
        basis=f"workshop's own value; {own.basis}" if own else fastener.basis or "",
        safety=fastener.safety,
        touched_by=tuple(dict.fromkeys(touched_by)),
        if_fitted=if_fitted,
        wrench=chosen.title if chosen else None,
        warnings=warnings,
        ceiling=top,
        caution=fastener.caution,
    )


def _compound(library: Library, name: str | None) -> str | None:
    return None if name is None else library.fluids[name].title if name in library.fluids else name


def turns(hand: Hand) -> str:
    """Say which way a thread turns to tighten, seen from the side that the wrench is on.

    Examples
    --------
    >>> turns(Hand.LEFT)
    'anticlockwise (left-hand thread)'
    """
    return "clockwise" if hand is Hand.RIGHT else "anticlockwise (left-hand thread)"


def pick_wrench(
    wrenches: Iterable[Wrench], torque: Torque | None, hand: Hand
) -> tuple[Wrench | None, tuple[str, ...]]:
    """Choose the wrench for a torque and say what stands in the way.

    The finest wrench that has the whole range on its scale is best; one that has at least the value to aim
    at will do, with a warning. A left-hand thread wants a wrench that measures to the left.

    Parameters
    ----------
    wrenches
        The workshop's; with none at all nothing is said.
    torque
        N·m, or None where no torque rules.
    hand
        Of the thread.

    Returns
    -------
    tuple
        The wrench or None, and warnings.
    """
    owned = list(wrenches)
    if torque is None or not owned:
        return None, ()
    fits = [one for one in owned if one.left] if hand is Hand.LEFT else owned
    if not fits:
        return None, ("None of our wrenches measures to the left: borrow one, or use a beam wrench.",)
    reach = [one for one in fits if one.from_ <= torque.aim <= one.to]
    if not reach:
        side = " to the left" if hand is Hand.LEFT else ""
        scales = ", ".join(f"{plain(one.from_)}-{plain(one.to)}" for one in fits)
        return None, (
            f"None of our wrenches reaches {plain(torque.aim)} N·m{side} (they read {scales} N·m).",
        )
    whole = [one for one in reach if one.from_ <= torque.from_ and torque.to <= one.to]
    best = min(whole or reach, key=lambda one: (one.to - one.from_, one.title))
    if whole:
        return best, ()
    warning = (
        f"'{best.title}' reads {plain(best.from_)}-{plain(best.to)} N·m: not all of "
        f"{plain(torque.from_)}-{plain(torque.to)} N·m. Aim at {plain(torque.aim)} N·m."
    )
    return best, (warning,)


def with_adapter(chosen: Wrench, torque: Decimal, adapter: float, angle: float = 0.0) -> float:
    """Return what to set a wrench to when an adapter is on it, N·m.

    Parameters
    ----------
    chosen
        A wrench with its length.
    torque
        Wanted at the fastener, N·m.
    adapter
        From the centre of the square to the centre of the fastener, mm.
    angle
        Between adapter and wrench, degrees.

    Raises
    ------
    ExpectedError
        If the wrench's length is not known, or the adapter leaves it no leverage.
    """
    if chosen.length is None:
        raise ExpectedError(
            f"The length of '{chosen.title}' is not known.",
            "Measure from the square to the middle of the grip; write it as 'length:' in mm.",
        )
    return wrench.setting(float(torque), float(chosen.length), adapter, angle)


_STATES: Mapping[str, tuple[str, ...]] = {
    "dry stainless or aluminium": ("dry stainless", "dry aluminium"),
    "threadlocker": ("threadlock", "thread lock"),
    "anti-seize": ("anti-seize", "antiseize", "copper"),
    "lubricated": ("grease", "greased", "oil", "lubricat", "paste", "wax"),
}


def friction_of(preparation: str) -> bolts.Friction:
    """Tell the friction of a thread from how it is prepared; what nobody lubricates is dry.

    Examples
    --------
    >>> friction_of("medium threadlocker").name, friction_of("light grease").name, friction_of("clean, dry").name
    ('threadlocker', 'lubricated', 'dry')
    """
    text = preparation.lower()
    for name, words in _STATES.items():
        if any(word in text for word in words):
            return bolts.FRICTIONS[name]
    return bolts.FRICTIONS["dry"]


def ceiling_of(fastener: Fastener) -> Ceiling | None:
    """Calculate what a fastener's joint stands; None where the catalogue says too little about it."""
    if fastener.property_class is None:
        return None
    try:
        found = ceiling.estimate(
            threads.parse(fastener.thread),
            materials.bolt_class(fastener.property_class),
            friction_of(fastener.preparation),
            materials.material(fastener.into) if fastener.into else None,
            float(fastener.engaged) if fastener.engaged else None,
        )
    except ExpectedError:
        # A thread or a material outside the tables: no estimate is better than a wrong one.
        return None
    return Ceiling(found.torque, found.rules, found.basis)
