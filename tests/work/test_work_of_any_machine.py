"""Whatever is told, chosen or wished: the work holds together."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.model.family import Risk
from diagtree.model.workshop import Brief, Workshop
from diagtree.reasoning.belief import BeliefModel, ImpossibleEvidenceError
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.work.changes import compare
from diagtree.work.result import AdviceKind, Stage
from diagtree.work.work import work_out


@st.composite
def tellings(draw, library):
    """Any complaints, looks, answers, findings, wishes and overrulings that the kettles' library allows."""
    complaints = tuple(draw(st.lists(st.sampled_from(sorted(library.trees)), unique=True, max_size=3)))
    looks = {
        name: draw(st.sampled_from(sorted(look.answers)))
        for name, look in library.looks.items()
        if draw(st.booleans())
    }
    answers = {
        (symptom, check): draw(st.sampled_from(sorted(entry.answers)))
        for symptom in complaints
        for check, entry in library.trees[symptom].checks.items()
        if draw(st.integers(0, 2)) == 0
    }
    found = draw(st.dictionaries(st.sampled_from(sorted(library.causes)), st.booleans(), max_size=3))
    remedies = sorted(library.remedies)
    wishes = draw(st.lists(st.sampled_from([*remedies, "kettle/swap-fuse"]), max_size=2))
    keys = st.sampled_from([*sorted(library.parts), *sorted(library.causes)])
    overrule = draw(st.dictionaries(keys, st.sampled_from([*remedies, "leave"]), max_size=2))
    return Evidence(complaints, looks, answers, found), wishes, overrule, draw(st.sampled_from(list(Brief)))


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_the_work_holds_together(kettle, data):
    told, wishes, overrule, brief = data.draw(tellings(kettle))
    evidence = spread_facts(kettle, told)
    try:
        belief = BeliefModel.of(kettle, evidence.complaints).given(evidence)
    except ImpossibleEvidenceError:
        return
    work = work_out(
        kettle, belief, evidence, Workshop(), brief=brief, wishes=wishes, overrule=overrule, draws=300
    )
    planned = [row for row in work.verdicts if row.planned]
    # Each planned remedy's jobs are in the plan, each once; each opening is closed behind its last job.
    jobs = [job.job for job in work.plan]
    assert len(jobs) == len(set(jobs))
    for row in planned:
        assert set(kettle.remedies[row.remedy].jobs) <= set(jobs)
    for job in work.plan:
        entry = kettle.jobs[job.job]
        assert all(jobs.index(need) < job.number - 1 for need in entry.needs)
        assert all(jobs.index(closer) > job.number - 1 for closer in entry.after)
        assert (job.stage is Stage.OPEN) == bool(entry.after)
    # Money adds up.
    bill, estimate = work.estimate.planned, work.estimate
    assert bill.labour + bill.parts + bill.consumables + bill.tax + bill.rounding == bill.total
    assert bill.total + estimate.allowance == estimate.price
    assert sum((item.amount for item in estimate.items), Decimal(0)) == estimate.allowance
    assert all(item.amount > 0 for item in estimate.items)
    # Each complaint is answered, or the mechanic has said to leave it.
    answered = {symptom for row in work.verdicts for symptom in row.complaints}
    assert answered == set(evidence.complaints)
    # What was seen and can hurt is planned, unless the mechanic left it; then it is told.
    for cause, there in evidence.found.items():
        if there and kettle.causes[cause].risk is Risk.UNSAFE:
            cured = any(cause == row.cause or cause in dict(row.other_causes) for row in planned) or any(
                row.remedy in kettle.causes[cause].remedies for row in planned
            )
            told_of = any(line.cause == cause and line.kind is AdviceKind.SAFETY for line in work.advice)
            assert cured or told_of
    # Every fastener once, and every safety fastener.
    fasteners = [row.fastener for row in work.torque_round]
    assert len(fasteners) == len(set(fasteners))
    assert {name for name, row in kettle.fasteners.items() if row.safety} <= set(fasteners)
    assert not compare(work, work).stop_and_ask
