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
    less = factor - 1
    return [chance * factor / (1 + chance * less) for chance in chances]


class Speaking:
    """Which answers speak about which cause.

    Parameters
    ----------
    rows
        Each complaint's tree as numbers.
    """

    def __init__(self, rows: Mapping[str, TreeRows]) -> None:
        self._rows = rows

    def factors(self, evidence: Evidence) -> Mapping[str, float]:
        """Return what the answers make of the odds that a cause is there besides.

        Parameters
        ----------
        evidence
            What was told.

        Returns
        -------
        Mapping
            The factor of each cause that some answer speaks of. A fact that stands in several trees counts
            once. The findings of one cause are mixed by the author's shares.
        """
        factors: dict[str, float] = {}
        counted: set[tuple[str, str]] = set()
        for symptom, tree in self._rows.items():
            kept: dict[int, float] = {}
            touched: dict[str, None] = {}
            for name, check in tree.checks.items():
                answer = evidence.answers.get((symptom, name))
                if answer is None:
                    continue
                place = check.number[answer]
                usual = check.sound[place]
                spoken = dict.fromkeys(tree.findings[finding].cause for finding, _ in check.speaks)
                skipped = {cause for cause in (*spoken, *check.strangers) if (check.fact, cause) in counted}
                if check.fact is not None:
                    counted |= {(check.fact, cause) for cause in (*spoken, *check.strangers)}
                for finding, row in check.speaks:
                    cause = tree.findings[finding].cause
                    if cause not in skipped:
                        touched[cause] = None
                        kept[finding] = kept.get(finding, 1.0) * min(1.0, check.rows[row][place] / usual)
                for cause, chances in check.strangers.items():
                    if cause not in skipped:
                        factors[cause] = factors.get(cause, 1.0) * chances[place] / usual
            for cause in touched:
                factors[cause] = factors.get(cause, 1.0) * _mixed(tree, cause, kept)
        return factors


def _mixed(tree: TreeRows, cause: str, kept: Mapping[int, float]) -> float:
    numbers = tree.findings_of[cause]
    whole = sum(tree.findings[number].share for number in numbers)
    if whole <= 0:
        return sum(kept.get(number, 1.0) for number in numbers) / len(numbers)
    return sum(tree.findings[number].share * kept.get(number, 1.0) for number in numbers) / whole
