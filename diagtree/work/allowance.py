"""What may come on top of the plan: how likely, how dear, drawn over many machines.

For each machine drawn from the belief:

- a complaint whose cause is not cured by a planned remedy gets the remedy of that cause besides;
- a planned remedy that does not hold is followed by the next stronger one, opened up and closed again; after the
  strongest nothing more is charged: the same again is the workshop's come-back;
- a cause that nobody complained of is put right too, if a planned job uncovers its part and the brief covers it;
- minutes are drawn from their beta-PERT distribution; a job that several remedies share is done once.

Each of these extras is done once on a machine, whatever asks for it; extras that do not hold are not followed
further.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagtree.library.library import Library
from diagtree.model.workshop import Brief
from diagtree.work import pert
from diagtree.work.prices import Prices, next_stronger
from diagtree.work.result import PlannedJob
from diagtree.work.verdict import Judged, covers, part_title
from diagtree.work.words import what_with_part

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.draws import Draws
    from diagtree.reasoning.evidence import Evidence


@dataclass(frozen=True, slots=True)
class Extra:
    """A remedy that may come on top of the plan.

    Parameters
    ----------
    remedy
        The remedy.
    again
        True if it follows a remedy that did not hold: everything is opened and closed once more.
    cause, what
        What drives it, for the bill.
    """

    remedy: str
    again: bool
    cause: str
    what: str


@dataclass(frozen=True)
class Asked:
    """What asks for extras, worked out once before any drawing.

    Parameters
    ----------
    extras
        All that may come on top.
    behind
        For each cause behind a complaint: the extra that it asks for if no planned remedy cures it, or None.
    fails
        For each cause: planned remedy's chance to hold, and the extra that follows if it does not.
    met
        For each cause that planned jobs would meet: the extra that it asks for.
    """

    extras: tuple[Extra, ...]
    behind: Mapping[str, int]
    fails: Mapping[str, tuple[str, float, int]]
    met: Mapping[str, int]


def what_may_come(
    prices: Prices,
    belief: Belief,
    evidence: Evidence,
    judged: Judged,
    plan: Iterable[PlannedJob],
    brief: Brief,
) -> Asked:
    """Work out which extras may come on top of a plan, and what asks for each.

    Parameters
    ----------
    prices, belief, evidence, brief
        As for the verdicts.
    judged
        The verdicts.
    plan
        The jobs of the plan: what they uncover may be met.
    """
    library = prices.library
    extras: dict[tuple[str, bool], Extra] = {}
    places: dict[tuple[str, bool], int] = {}

    def ask(remedy: str, again: bool, cause: str, what: str) -> int:
        key = (remedy, again)
        if key not in extras:
            places[key] = len(extras)
            extras[key] = Extra(remedy, again, cause, what)
        return places[key]

    chosen = {row.cause: row.remedy for row in judged.verdicts if row.remedy}
    behind: dict[str, int] = {}
    fails: dict[str, tuple[str, float, int]] = {}
    paid: set[str] = set()
    responsible = dict.fromkeys(
        cause
        for symptom in evidence.complaints
        for cause, chance in sorted(belief.behind(symptom).items(), key=lambda item: -item[1])
        if chance > 0
    )
    for cause in (*responsible, *(cause for cause, there in evidence.found.items() if there)):
        entry = library.cause(cause)
        if cause in judged.let_be or cause in behind or cause in fails or cause in paid:
            continue
        remedy = judged.cure(prices, cause)
        if remedy is not None:
            stronger = next_stronger(entry, remedy)
            if stronger == remedy or prices.remedy(remedy).stop_work:
                # The strongest has been paid for once; doing the same again is the workshop's to bear.
                # After a stop somebody else decides, and asks the customer anew.
                paid.add(cause)
                continue
            what = f"'{prices.remedy(remedy).title}' does not hold"
            fails[cause] = (
                remedy,
                float(prices.remedy(remedy).holds) / 100,
                ask(stronger, True, cause, what),
            )
        elif cause in responsible:
            behind[cause] = ask(
                chosen.get(cause) or prices.choice(entry), False, cause, _named(library, cause)
            )
    uncovered = {part for job in plan for part in library.jobs[job.job].uncovers}
    met: dict[str, int] = {}
    for cause, entry in library.causes.items():
        if (
            entry.part in uncovered
            and entry.part not in judged.absent
            and covers(brief, entry.risk)
            and judged.cure(prices, cause) is None
            and cause not in judged.let_be
            and cause not in evidence.found
            and belief.present.get(cause, 0.0) > 0
        ):
            met[cause] = ask(chosen.get(cause) or prices.choice(entry), False, cause, _named(library, cause))
    return Asked(tuple(extras.values()), behind, fails, met)


def _named(library: Library, cause: str) -> str:
    entry = library.cause(cause)
    return what_with_part(entry.title, part_title(library, entry.part) if entry.part else None)


@dataclass(frozen=True)
class Drawn:
    """What the drawn machines cost and take, before tax.

    Parameters
    ----------
    minutes
        Of each machine, final checks included.
    goods
        Parts and fluids of each machine, before tax.
    happens
        For each extra, on which machines it is done.
    extra_cost
        For each extra, its cost on each machine; shared jobs count for the first that needs them.
    plan_minutes
        Of the plan alone, on each machine.
    """

    minutes: npt.NDArray[np.float64]
    goods: npt.NDArray[np.float64]
    happens: npt.NDArray[np.bool_]
    extra_cost: npt.NDArray[np.float64]
    plan_minutes: npt.NDArray[np.float64]


def draw(
    prices: Prices,
    belief: Belief,
    evidence: Evidence,
    judged: Judged,
    plan: Sequence[PlannedJob],
    asked: Asked,
    fixed_minutes: float,
    *,
    count: int,
    seed: int,
) -> Drawn:
    """Draw machines from the belief and work on each of them.

    Parameters
    ----------
    prices, belief, evidence, judged, plan
        As for `what_may_come`.
    asked
        What it worked out.
    fixed_minutes
        Minutes that do not vary: the final checks.
    count, seed
        How many machines, and where the random numbers start.
    """
    import numpy as np

    from diagtree.reasoning.draws import draw as draw_machines

    machines = draw_machines(belief, count, seed)
    # A stream of its own: the machines' own streams start with the same seed and other keys.
    random = np.random.default_rng([seed, 1000])
    happens = happening(machines, evidence, asked, random)
    plan_minutes = np.full(count, fixed_minutes)
    for job in plan:
        plan_minutes += _minutes(random, job.minutes, count)
    minutes = plan_minutes.copy()
    goods = np.full(count, float(prices.goods(judged.remedies, [job.job for job in plan])))
    extra_cost = np.zeros((len(asked.extras), count))
    done = {job.job for job in plan}
    needing: dict[tuple[str, bool], list[int]] = {}
    for place, extra in enumerate(asked.extras):
        jobs = [job for job in prices.jobs_of([extra.remedy]) if extra.again or job not in done]
        for name in jobs:
            needing.setdefault((name, extra.again), []).append(place)
    goods += _new_goods(prices, judged, asked, happens, extra_cost)
    minute = float(prices.minute)
    for (job_name, _), wanting in needing.items():
        waiting = happens[wanting].any(axis=0)
        where = np.flatnonzero(waiting)
        if not len(where):
            continue
        took = np.zeros(count)
        took[where] = _minutes(random, prices.library.jobs[job_name].minutes, len(where))
        minutes += took
        fluids = float(prices.job_fluids(job_name))
        goods[where] += fluids
        for place in wanting:
            first = happens[place] & waiting
            extra_cost[place, first] += took[first] * minute + fluids
            waiting = waiting & ~first
    return Drawn(minutes, goods, happens, extra_cost, plan_minutes)


def _new_goods(
    prices: Prices,
    judged: Judged,
    asked: Asked,
    happens: npt.NDArray[np.bool_],
    extra_cost: npt.NDArray[np.float64],
) -> npt.NDArray[np.float64]:
    """Add parts and fluids of the extras to their cost; what another has fitted already is not fitted twice.

    Returns
    -------
    numpy.ndarray
        For each machine the sum that comes on top of the plan's goods.
    """
    import numpy as np

    planned = prices.lots(judged.remedies)
    wanted: dict[tuple[tuple[str, str | None], bool], list[tuple[int, float]]] = {}
    for place, extra in enumerate(asked.extras):
        for key, cost in prices.lots([extra.remedy]).items():
            if cost:
                wanted.setdefault((key, extra.again), []).append((place, float(cost)))
    added = np.zeros(happens.shape[1])
    for (key, again), rows in wanted.items():
        paid = np.full(happens.shape[1], 0.0 if again else float(planned.get(key, 0)))
        for place, price in rows:
            more = np.where(happens[place], np.maximum(0.0, price - paid), 0.0)
            extra_cost[place] += more
            added += more
            paid += more
    return added


def happening(
    machines: Draws, evidence: Evidence, asked: Asked, random: np.random.Generator
) -> npt.NDArray[np.bool_]:
    """Tell which extras are done on which machines.

    Returns
    -------
    numpy.ndarray
        One row for each extra, one column for each machine.
    """
    import numpy as np

    happens = np.zeros((len(asked.extras), machines.count), dtype=bool)
    acting: dict[str, npt.NDArray[np.bool_]] = {
        cause: np.ones(machines.count, dtype=bool)
        for cause, there in evidence.found.items()
        if there and cause in asked.fails
    }
    for causes, places in machines.behind.values():
        for number, cause in enumerate(causes):
            here = places == number
            if cause in asked.behind:
                happens[asked.behind[cause]] |= here
            elif cause in asked.fails:
                acting[cause] = acting.get(cause, False) | here
    # A remedy holds or it does not, whatever it was done for: one draw for each remedy on each machine.
    luck = {
        remedy: random.random(machines.count) for remedy in dict.fromkeys(f[0] for f in asked.fails.values())
    }
    for cause, here in acting.items():
        remedy, holds, extra = asked.fails[cause]
        happens[extra] |= here & (luck[remedy] >= holds)
    for cause, extra in asked.met.items():
        happens[extra] |= machines.besides(cause)
    return happens


def _minutes(random: np.random.Generator, minutes: pert.Three, count: int) -> npt.NDArray[np.float64]:
    import numpy as np

    low, high = float(minutes[0]), float(minutes[2])
    if low == high:
        return np.full(count, low)
    return low + (high - low) * random.beta(*pert.shape(minutes), size=count)
