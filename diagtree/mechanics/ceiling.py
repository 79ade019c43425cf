"""How tight at most, by calculation: the bolt's preload or the thread that strips, whichever comes first.

Always an estimate; the mark on the part comes first, then what its maker says.
"""

from __future__ import annotations

from dataclasses import dataclass

from diagtree.errors import ExpectedError
from diagtree.mechanics import bolts, strip
from diagtree.mechanics.materials import BoltClass, Material
from diagtree.mechanics.threads import Thread

STRIP_USED_UP = bolts.USED_UP
"""A thread is loaded to the same share of its strip load as a bolt of its proof strength: our own choice."""

MARK_FIRST = "The mark on the part comes first."

BASIS = "computed: VDI 2230-1 (preload, torque), FED-STD-H28/2B (thread shear)"


@dataclass(frozen=True, slots=True)
class TorqueEstimate:
    """What a joint stands, by calculation.

    Parameters
    ----------
    thread, bolt, into, engaged, friction
        The joint; ``into`` and ``engaged`` (mm) None if only the bolt was reckoned.
    preload
        The force that rules, N.
    torque
        That gives it at the usual friction, N·m: the ceiling.
    least, most
        The same at the friction class's limits, N·m.
    bolt_preload, bolt_torque
        By the bolt alone, N and N·m.
    strip_load
        At which the softer thread strips, N; None if nobody said what it is screwed into.
    strip_torque
        That loads it to `STRIP_USED_UP` of that, N·m.
    softer
        Which thread would strip first, in words, or None.
    rules
        Which limit rules, in words.
    basis
        The formulas' sources.
    """

    thread: Thread
    bolt: BoltClass
    friction: bolts.Friction
    into: Material | None
    engaged: float | None
    preload: float
    torque: float
    least: float
    most: float
    bolt_preload: float
    bolt_torque: float
    strip_load: float | None
    strip_torque: float | None
    softer: str | None
    rules: str
    basis: str = BASIS


def estimate(
    thread: Thread,
    bolt: BoltClass,
    friction: bolts.Friction,
    into: Material | None = None,
    engaged: float | None = None,
) -> TorqueEstimate:
    """Estimate the torque ceiling of a bolted joint.

    Parameters
    ----------
    thread, bolt, friction
        The bolt and the state of its thread.
    into
        What it is screwed into; None for a nut as strong as the bolt.
    engaged
        Length of thread engaged, mm; by default 1.5 diameters where ``into`` is given.

    Raises
    ------
    ExpectedError
        If the engaged length is not above zero.

    Examples
    --------
    >>> from diagtree.mechanics.materials import bolt_class, material
    >>> from diagtree.mechanics.threads import parse
    >>> found = estimate(parse("M5"), bolt_class("12.9"), bolts.friction("lubricated"), material("6061-T6"), 5)
    >>> round(found.bolt_torque, 1), round(found.torque, 1), found.rules
    (10.0, 7.6, 'the thread in 6061-T6 strips')
    """
    at_bolt = bolts.preload(thread, bolt.proof, friction.usual)
    force, rules, softer = at_bolt, "the bolt's preload", None
    load = strip_torque = None
    if into is not None:
        engaged = 1.5 * thread.diameter if engaged is None else engaged
        if engaged <= 0:
            raise ExpectedError(
                f"A thread is not engaged by {engaged:g} mm.", "Give a length above zero, in mm."
            )
        inside = strip.strip_load(strip.internal_area(thread, engaged), into.shear)
        outside = strip.strip_load(strip.external_area(thread, engaged), bolt.shear)
        load = min(inside, outside)
        softer = f"the thread in {into.name}" if inside <= outside else "the bolt's own thread"
        strip_torque = bolts.torque(thread, STRIP_USED_UP * load, friction.usual, friction.usual)
        if STRIP_USED_UP * load < at_bolt:
            force, rules = STRIP_USED_UP * load, f"{softer} strips"
    # The bolt's own preload falls with friction; what strips a thread does not.
    bolt_rules = force == at_bolt
    low, high = (
        bolts.torque(thread, bolts.preload(thread, bolt.proof, mu) if bolt_rules else force, mu, mu)
        for mu in (friction.low, friction.high)
    )
    return TorqueEstimate(
        thread=thread,
        bolt=bolt,
        friction=friction,
        into=into,
        engaged=engaged,
        preload=force,
        torque=bolts.torque(thread, force, friction.usual, friction.usual),
        least=low,
        most=high,
        bolt_preload=at_bolt,
        bolt_torque=bolts.torque(thread, at_bolt, friction.usual, friction.usual),
        strip_load=load,
        strip_torque=strip_torque,
        softer=softer,
        rules=rules,
    )
