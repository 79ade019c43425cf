"""Causes that are there besides: behind no complaint, but on the machine.

Left alone, a cause follows the picture of the machine. An answer that speaks about it all the same moves its
odds by P(answer | cause) / P(answer | sound part). In the tree of a complaint that points at the cause, an
answer that speaks *for* it has done so already, through its chance of being behind the complaint; there only
answers that speak against it count.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class _Says:
    """What one answer says about causes that may be there besides.

    Parameters
    ----------
    against
        (finding, its cause, ratio) for each finding that the answer speaks against.
    strangers
        The ratio of each cause that is not in the tree.
    about
        All causes that the check speaks of.
    """

    against: tuple[tuple[int, str, float], ...]
    strangers: tuple[tuple[str, float], ...]
    about: frozenset[str]


class Speaking:
    """Which answers speak about which cause.

    Parameters
    ----------
    rows
        Each complaint's tree as numbers.
    """

    def __init__(self, rows: Mapping[str, TreeRows]) -> None:
        self._rows = rows
        self._known: dict[tuple[str, str, str], _Says] = {}
        self._wholes = {
            (symptom, cause): sum(tree.findings[number].share for number in numbers)
            for symptom, tree in rows.items()
            for cause, numbers in tree.findings_of.items()
        }

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
            kept: dict[str, dict[int, float]] = {}
            for name, check in tree.checks.items():
                answer = evidence.answers.get((symptom, name))
                if answer is None:
                    continue
                says = self._says(symptom, name, answer)
                skipped: set[str] = set()
                if check.fact is not None:
                    skipped = {cause for cause in says.about if (check.fact, cause) in counted}
                    counted |= {(check.fact, cause) for cause in says.about}
                for finding, cause, ratio in says.against:
                    if cause not in skipped:
                        own = kept.setdefault(cause, {})
                        own[finding] = own.get(finding, 1.0) * ratio
                for cause, ratio in says.strangers:
                    if cause not in skipped:
                        factors[cause] = factors.get(cause, 1.0) * ratio
            for cause, own in kept.items():
                factors[cause] = factors.get(cause, 1.0) * self._mixed(symptom, cause, own)
        return factors

    def _says(self, symptom: str, name: str, answer: str) -> _Says:
        key = (symptom, name, answer)
        if key not in self._known:
            tree = self._rows[symptom]
            check = tree.checks[name]
            place = check.number[answer]
            usual = check.sound[place]
            ratios = [row[place] / usual for row in check.rows]
            about = [tree.findings[finding].cause for finding, _ in check.speaks]
            self._known[key] = _Says(
                tuple(
                    (finding, cause, ratios[row])
                    for (finding, row), cause in zip(check.speaks, about, strict=True)
                    if ratios[row] < 1
                ),
                tuple((cause, row[place] / usual) for cause, row in check.strangers.items()),
                frozenset((*about, *check.strangers)),
            )
        return self._known[key]

    def _mixed(self, symptom: str, cause: str, kept: Mapping[int, float]) -> float:
        tree = self._rows[symptom]
        numbers = tree.findings_of[cause]
        whole = self._wholes[symptom, cause]
        if whole <= 0:
            return sum(kept.get(number, 1.0) for number in numbers) / len(numbers)
        # Added up from what is left, not taken from 1: what is left may be less than a rounding error.
        return sum(tree.findings[number].share * kept.get(number, 1.0) for number in numbers) / whole
