"""A crowd of machines with one complaint: drawn from the model, answering with its noise, walked all at once.

Forwards only: conditions and cause, then what the looks show, then what the checks show. How likely each cause
is once looks and answers are known is summed from the same figures here, without the sums of
`diagtree.reasoning.joint`, so that the one can be held against the other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.draws import Draws, draw
from diagtree.reasoning.evidence import Evidence

if TYPE_CHECKING:
    import numpy as np

    from diagtree.reasoning.draws import Real, Whole

Following = Callable[[Mapping[str, str]], str | None]
"""The check that comes next after some answers, in the order in which they were given; None at the end."""


@dataclass(frozen=True)
class Way:
    """The answers of one walk.

    Parameters
    ----------
    answers
        Check and answer, in the order in which they were asked.
    fits
        For each finding of the tree the chance of these answers.
    """

    answers: Mapping[str, str]
    fits: Real


@dataclass(frozen=True)
class Crowd:
    """Machines with one complaint at the end of their walks.

    Parameters
    ----------
    symptom
        The complaint.
    causes
        The tree's causes.
    cause
        For each machine the number of the cause behind it.
    looks
        For each quick look the names of its answers, and for each machine the number of what was seen.
    ways
        The walks that were met.
    way
        For each machine the number of its walk.
    chances
        For each machine (row) and cause (column) the chance that such looks and answers have that cause.
    """

    symptom: str
    causes: tuple[str, ...]
    cause: Whole
    looks: Mapping[str, tuple[tuple[str, ...], Whole]]
    ways: Sequence[Way]
    way: Whole
    chances: Real

    def evidence(self, number: int) -> Evidence:
        """Return what one machine's looks and answers told."""
        return Evidence(
            (self.symptom,),
            {name: answers[seen[number]] for name, (answers, seen) in self.looks.items()},
            {(self.symptom, check): a for check, a in self.ways[self.way[number]].answers.items()},
        )

    def evenly(self, every: int, start: int) -> list[int]:
        """Take one machine of so many, so that those taken are like the crowd.

        Machines whose likeliest cause is the one are put in line by that cause's chance, then the others
        likewise, and each so-manieth is taken: a systematic sample of an ordered list.

        Parameters
        ----------
        every
            One of how many is taken.
        start
            Where to begin, from 0 to every - 1. Drawn with equal chances it gives each machine the same
            chance to be taken.

        Returns
        -------
        list of int
            Numbers of machines, lowest first.

        References
        ----------
        Madow and Madow, "On the theory of systematic sampling", Annals of Mathematical Statistics 15:1-24, 1944.
        """
        import numpy as np

        wrong = self.chances.argmax(axis=1) != self.cause
        line = np.lexsort((self.chances.max(axis=1), wrong))
        return sorted(int(number) for number in line[start::every])


def draw_crowd(
    model: BeliefModel,
    symptom: str,
    count: int,
    seed: Sequence[int],
    following: Following,
    looks: Sequence[str],
) -> Crowd:
    """Draw machines and walk them.

    Parameters
    ----------
    model
        The compiled tree; its only complaint is this one.
    symptom
        The complaint.
    count
        How many machines.
    seed
        Where the random numbers start: the same seed, the same machines.
    following
        Which check comes next.
    looks
        The quick looks that are taken.

    Returns
    -------
    Crowd
        Each machine drawn apart from the others.

    Examples
    --------
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> model = BeliefModel.of(library, [symptom])
    >>> crowd = draw_crowd(model, symptom, 100, [1], lambda answers: None, [])
    >>> len(crowd.cause), [dict(way.answers) for way in crowd.ways]
    (100, [{}])
    >>> crowd.evenly(25, 0) == crowd.evenly(25, 0), len(crowd.evenly(25, 3))
    (True, 4)
    """
    import numpy as np

    random = np.random.default_rng([*seed, 7])
    drawn = draw(model.nothing_told, count, int(np.random.SeedSequence(list(seed)).generate_state(1)[0]))
    causes, cause = drawn.behind[symptom]
    seen = {name: _seen(model, drawn, name, random) for name in looks}
    ways, way = _walk(model, symptom, _findings(model, symptom, causes, cause, random), following, random)
    return Crowd(
        symptom=symptom,
        causes=causes,
        cause=cause,
        looks={name: (tuple(model.library.looks[name].answers), place) for name, place in seen.items()},
        ways=ways,
        way=way,
        chances=_chances(model, symptom, causes, seen, np.array([one.fits for one in ways])[way]),
    )


def _chosen(edges: Real, uniform: Real) -> Whole:
    """For each row of summed-up chances the number of the place that a random number falls into."""
    import numpy as np

    places = (uniform[:, None] * edges[:, -1:] >= edges).sum(axis=1)
    chosen: Whole = np.minimum(places, edges.shape[1] - 1)
    return chosen


def _findings(
    model: BeliefModel, symptom: str, causes: Sequence[str], cause: Whole, random: np.random.Generator
) -> Whole:
    """Draw for each machine at which finding of its cause it is."""
    import numpy as np

    rows = model.rows[symptom]
    shares = np.zeros((len(causes), len(rows.findings)))
    for place, name in enumerate(causes):
        for finding in rows.findings_of[name]:
            shares[place, finding] = rows.findings[finding].share
    return _chosen(np.cumsum(shares, axis=1)[cause], random.random(len(cause)))


def _seen(model: BeliefModel, drawn: Draws, look: str, random: np.random.Generator) -> Whole:
    """Draw for each machine what a quick look shows."""
    import numpy as np

    entry = model.library.looks[look]
    shown = np.array([model.circumstances.look_chances(look, answer) for answer in entry.answers])
    return _chosen(np.cumsum(shown, axis=0).T[drawn.states[entry.speaks_of]], random.random(drawn.count))


def _walk(
    model: BeliefModel, symptom: str, finding: Whole, following: Following, random: np.random.Generator
) -> tuple[list[Way], Whole]:
    """Let all machines answer check after check; those that answered alike go on together."""
    import numpy as np

    rows = model.rows[symptom]
    tables: dict[str, Real] = {}
    ways: list[Way] = []
    way = np.zeros(len(finding), dtype=np.intp)
    ahead = [(Way({}, np.ones(len(rows.findings))), np.arange(len(finding)))]
    while ahead:
        so_far, members = ahead.pop()
        check = following(so_far.answers)
        if check is None:
            way[members] = len(ways)
            ways.append(so_far)
            continue
        if check not in tables:
            tables[check] = np.array([rows.row(check, number) for number in range(len(rows.findings))])
        edges = np.cumsum(tables[check], axis=1)
        places = _chosen(edges[finding[members]], random.random(len(members)))
        for place, answer in enumerate(rows.checks[check].answers):
            those = members[places == place]
            if len(those):
                further = Way({**so_far.answers, check: answer}, so_far.fits * tables[check][:, place])
                ahead.append((further, those))
    return ways, way


def _chances(
    model: BeliefModel, symptom: str, causes: Sequence[str], seen: Mapping[str, Whole], fits: Real
) -> Real:
    """Sum over findings and conditions: how likely is each cause for what each machine showed?"""
    import numpy as np

    rows, circumstances = model.rows[symptom], model.circumstances
    space = circumstances.space({name for cause in causes for name in circumstances.factors(cause)})
    weights = np.tile(np.array(space.product(circumstances.shares)), (len(fits), 1))
    states = np.array(space.states, dtype=np.intp).reshape(len(space), len(space.names))
    for look, places in seen.items():
        entry = model.library.looks[look]
        if entry.speaks_of in space.names:
            shown = np.array([circumstances.look_chances(look, answer) for answer in entry.answers])
            weights *= shown[places][:, states[:, space.names.index(entry.speaks_of)]]
    chances = np.zeros((len(fits), len(causes)))
    for place, cause in enumerate(causes):
        share = circumstances.share(cause)
        likelier = np.array(space.chances(share, circumstances.factors(cause))) / share
        numbers = list(rows.findings_of[cause])
        shares = np.array([rows.findings[number].share for number in numbers])
        chances[:, place] = (fits[:, numbers] @ shares) * (weights @ likelier)
    whole: Real = chances / chances.sum(axis=1, keepdims=True)
    return whole
