"""Causes that are there besides: behind no complaint, but on the machine.

Left alone, a cause follows the picture of the machine. An answer that speaks about it all the same moves its
odds by P(answer | cause) / P(answer | sound part). In the tree of a complaint that points at the cause, an
answer that speaks *for* it has done so already, through its chance of being behind the complaint; there only
answers that speak against it count.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.rows import TreeRows


def besides_curve(chances: Sequence[float], factor: float) -> Sequence[float]:
    """Move the odds of each chance by one factor.

    Examples
    --------
    >>> [round(chance, 6) for chance in besides_curve((0.5, 0.2), 3.0)]
    [0.75, 0.428571]
    """
    if factor == 1.0:
        return chances
    return tuple(chance * factor / (1 - chance + chance * factor) for chance in chances)


class Speaking:
    """Which answers speak about which cause.

    Parameters
    ----------
    rows
        Each complaint's tree as numbers.
    """

    def __init__(self, rows: Mapping[str, TreeRows]) -> None:
        self._rows = rows
        self._places: dict[str, list[tuple[str, str]]] = {}
        for symptom, tree in rows.items():
            for name, check in tree.checks.items():
                spoken_of = dict.fromkeys(tree.findings[finding].cause for finding, _ in check.speaks)
                for cause in (*spoken_of, *check.strangers):
                    self._places.setdefault(cause, []).append((symptom, name))

    def factor(self, cause: str, evidence: Evidence) -> float:
        """Return what the answers make of the odds that a cause is there besides.

        Parameters
        ----------
        cause
            The cause.
        evidence
            What was told.

        Returns
        -------
        float
            The factor; 1 if nobody speaks of the cause. A fact that stands in several trees counts once.
        """
        answered: dict[str, list[str]] = {}
        facts: set[str] = set()
        for symptom, name in self._places.get(cause, ()):
            if (symptom, name) not in evidence.answers:
                continue
            fact = self._rows[symptom].checks[name].fact
            if fact is not None:
                if fact in facts:
                    continue
                facts.add(fact)
            answered.setdefault(symptom, []).append(name)
        factor = 1.0
        for symptom, names in answered.items():
            factor *= self._in_tree(cause, symptom, names, evidence)
        return factor

    def _in_tree(self, cause: str, symptom: str, names: Sequence[str], evidence: Evidence) -> float:
        tree = self._rows[symptom]
        numbers = tree.findings_of.get(cause)
        if numbers is None:
            factor = 1.0
            for name in names:
                check = tree.checks[name]
                place = check.number[evidence.answers[symptom, name]]
                factor *= check.strangers[cause][place] / check.sound[place]
            return factor
        whole = sum(tree.findings[number].share for number in numbers)
        total = 0.0
        for number in numbers:
            share = tree.findings[number].share / whole if whole > 0 else 1 / len(numbers)
            for name in names:
                check = tree.checks[name]
                place = check.number[evidence.answers[symptom, name]]
                share *= min(1.0, tree.row(name, number)[place] / check.sound[place])
            total += share
        return total
