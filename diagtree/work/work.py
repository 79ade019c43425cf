"""From a belief about one machine to everything that is done about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from diagtree.errors import UnknownNameError
from diagtree.library.library import Library
from diagtree.model.workshop import Brief, Workshop
from diagtree.work import estimate as pricing
from diagtree.work.advice import advice
from diagtree.work.cleared import left_alone
from diagtree.work.fitting import fitted_families
from diagtree.work.fluids import fluid_lines
from diagtree.work.kinds import of_the_other_kind
from diagtree.work.plan import plan
from diagtree.work.prices import Prices
from diagtree.work.result import FinalLine, PartVerdict, PlannedJob, Work
from diagtree.work.torque_round import torque_round
from diagtree.work.verdict import Judged, home, judge

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.evidence import Evidence


def work_out(
    library: Library,
    belief: Belief,
    evidence: Evidence,
    workshop: Workshop,
    *,
    brief: Brief | None = None,
    wishes: Iterable[str] = (),
    overrule: Mapping[str, str] | None = None,
    families: Iterable[str] | None = None,
    draws: int = pricing.DRAWS,
    seed: int = pricing.SEED,
) -> Work:
    """Work out verdicts, plan, torque round, fluids, price and advice for one machine.

    Parameters
    ----------
    library
        Everything that is known about this kind of machine.
    belief, evidence
        What is thought, and what was told.
    workshop
        Rates, prices, wrenches.
    brief
        How much the customer wants done; by default what the workshop usually does.
    wishes
        Remedies or jobs that the customer wants besides, by full name.
    overrule
        Part or cause, and the remedy that the mechanic chooses for it, or ``leave``.
    families
        Families that are known to be on the machine besides those that complaints and findings name.
    draws, seed
        For the price; see `diagtree.work.estimate.estimate`.

    Returns
    -------
    Work
        The same for the same input.

    Raises
    ------
    UnknownNameError
        If a wish or an overruling names what does not exist.
    JobsInARingError
        If the jobs' needs go round in a ring.
    FluidsMustNotMeetError
        If the plan would put into a system what must not go in, or fill one that the machine has not.
    """
    brief = workshop.brief if brief is None else brief
    known = {name: place for place, name in enumerate([*library.remedies, *library.jobs])}
    wanted = list(dict.fromkeys(wishes))
    for name in wanted:
        if name not in known:
            raise UnknownNameError("remedy or job", name, list(known))
    # In the library's order: the price must not hang on which wish was named first.
    wanted.sort(key=known.__getitem__)
    prices = Prices(library, workshop)
    judged = judge(prices, belief, evidence, brief, wanted, overrule)
    jobs = plan(prices, judged.remedies, [name for name in wanted if name not in library.remedies])
    parts = {row.part for row in judged.verdicts}
    parts |= {home(library, row.cause) for row in judged.verdicts if row.cause}
    stays = any(_stays_here(library, row) for row in judged.verdicts)
    finals = tuple(
        FinalLine(name, final.title, final.how, final.minutes, final.fasteners, final.caution)
        for name, final in library.final_checks.items()
        if not stays
    )
    fitted = fitted_families(library, belief, evidence) | frozenset(families or ())
    fitted |= {job.job.partition("/")[0] for job in jobs}
    everywhere = {name.partition("/")[0] for final in finals for name in final.fasteners}
    return Work(
        brief=brief,
        verdicts=judged.verdicts,
        left_alone=() if stays else left_alone(prices, belief, parts, judged.absent),
        plan=jobs,
        final_checks=finals,
        torque_round=torque_round(
            library,
            workshop,
            jobs,
            fitted,
            [name for final in finals for name in final.fasteners],
            judged.absent,
            handed_over=not stays,
        ),
        fluids=fluid_lines(prices, judged.remedies, jobs, of_the_other_kind(library, evidence)),
        parts=pricing.part_lines(prices, judged.remedies),
        tools=tuple(sorted({tool for job in jobs for tool in job.tools})),
        estimate=pricing.estimate(
            prices, belief, evidence, judged, jobs, finals, brief, draws=draws, seed=seed
        ),
        advice=advice(prices, belief, evidence, judged, brief, fitted | everywhere),
        cautions=_cautions(library, evidence, judged, jobs),
        stops=_stops(library, evidence, judged),
        verify=tuple(dict.fromkeys(text for row in judged.verdicts if row.planned for text in row.verify)),
        next_due=tuple(
            dict.fromkeys(
                (row.part_title, row.next_due) for row in judged.verdicts if row.planned and row.next_due
            )
        ),
    )


def _cautions(
    library: Library, evidence: Evidence, judged: Judged, jobs: Sequence[PlannedJob]
) -> tuple[str, ...]:
    texts = list(library.cautions)
    for symptom in evidence.complaints:
        texts += library.tree(symptom).caution
    for row in judged.verdicts:
        if row.planned:
            texts += row.caution
    for job in jobs:
        texts += job.caution
        for fastener in job.fasteners:
            texts += library.fastener(fastener).caution
    return tuple(dict.fromkeys(texts))


def _stays_here(library: Library, row: PartVerdict) -> bool:
    """True if what is planned is to stop work and hand the machine to somebody else."""
    return row.planned and library.remedies[row.remedy].stop_work


def _stops(library: Library, evidence: Evidence, judged: Judged) -> tuple[str, ...]:
    """Return what the answers on the way that was walked say to stop for, and what goes to somebody else."""
    said = []
    for (symptom, check), name in evidence.answers.items():
        answer = library.tree(symptom).checks[check].answers.get(name)
        if answer is not None and answer.stop is not None:
            said.append(answer.stop)
    said += [
        f"{row.cause_title}: {row.refer or row.remedy_title} What is done there is not in the price."
        for row in judged.verdicts
        if _stays_here(library, row)
    ]
    return tuple(dict.fromkeys(said))
