"""The shortest order: the next check over all complaints, chosen with a look ahead."""

from __future__ import annotations

from collections.abc import Collection

from diagtree.reasoning.belief import Belief
from diagtree.reasoning.choosing import LEAST_BITS, Place, Worth, gains
from diagtree.reasoning.ideal import LOOKED_AHEAD, IdealTree, State

SETTLED = 0.9
"""A complaint is not asked about any more when one cause is as likely as this."""

FORGOTTEN = 0.15
"""When looking ahead, findings that are together less likely than this are left out."""


def next_check(
    belief: Belief,
    unable: Collection[Place] = (),
    opened: Collection[str] = (),
    ended: Collection[str] = (),
) -> Worth | None:
    """Return the check to do next, over all complaints at once.

    Parameters
    ----------
    belief
        What is believed.
    unable, opened
        As for `diagtree.reasoning.choosing.gains`.
    ended
        Complaints about which nothing more is to be asked.

    Returns
    -------
    Worth or None
        The complaint is that of the check with the greatest gain a minute. Of its best checks the one is taken
        after which a finding takes the fewest minutes if answers do not mislead. A complaint is not
        asked about any more when it is `SETTLED`, when its answers lead to a finding, or when no open check
        would tell as much as `LEAST_BITS`; None if that is so for all of them.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> next_check(belief).symptom == symptom
    True
    >>> next_check(belief, ended=[symptom]) is None
    True
    """
    over = {*ended, *(s for s in belief.model.complaints if max(belief.behind(s).values()) >= SETTLED)}
    worths = [w for w in gains(belief, unable, opened) if w.bits >= LEAST_BITS and w.symptom not in over]
    for symptom in dict.fromkeys(worth.symptom for worth in worths):
        barred = [check for where, check in unable if where == symptom]
        ideal = IdealTree(belief.model.library, symptom, belief.model.rows[symptom], barred)
        state = state_of(belief, ideal, symptom, opened)
        if not ideal.done(state):
            candidates = {worth.check: worth for worth in worths if worth.symptom == symptom}
            shortlist = list(candidates)[:LOOKED_AHEAD]
            return candidates[ideal.look_ahead(state, shortlist) or shortlist[0]]
    return None


def state_of(belief: Belief, ideal: IdealTree, symptom: str, opened: Collection[str] = ()) -> State:
    """Return where the walk through one tree stands, the findings weighed by what is believed.

    The least likely findings, `FORGOTTEN` together, are left out: they are there because answers may mislead.
    """
    chances = belief.finding_chances(symptom)
    weights = [
        (number, sum(chances[finding] for finding in group.findings))
        for number, group in enumerate(ideal.groups)
    ]
    weights.sort(key=lambda each: each[1])
    forgotten = 0.0
    while len(weights) > 1 and forgotten + weights[0][1] <= FORGOTTEN:
        forgotten += weights.pop(0)[1]
    answers = belief.evidence.answers
    done = set(opened)
    for place in answers:
        done |= belief.model.efforts[place].opening.keys()
    given = tuple((check, answer) for (where, check), answer in answers.items() if where == symptom)
    return State(tuple(sorted(weights)), given, frozenset(done))
