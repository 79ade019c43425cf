"""One complaint: how well each of its findings fits the answers given to its checks."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from diagtree.reasoning.rows import TreeRows

_SMALL, _LARGE = 1e-100, 1e100
_KEPT = 256


@dataclass(frozen=True, slots=True)
class Terms:
    """What the answers to one complaint's checks say.

    Parameters
    ----------
    weights
        A_s(c) for each cause: the sum over its findings of share times the chance of the answers, divided by
        the cause's share of all machines; all divided by exp(log_scale).
    parts
        For each finding, its part of its cause's weight.
    log_scale
        Natural logarithm of what the weights were divided by, so that nothing underflows.
    """

    weights: Mapping[str, float]
    parts: Sequence[float]
    log_scale: float


class Complaint:
    """A tree's rows, ready to be weighed by answers.

    Parameters
    ----------
    rows
        The tree as numbers.
    shares
        Each cause's share of all machines.
    """

    def __init__(self, rows: TreeRows, shares: Mapping[str, float]) -> None:
        self.rows = rows
        self._causes = [finding.cause for finding in rows.findings]
        self._start = [finding.share / shares[finding.cause] for finding in rows.findings]
        self._kept: dict[tuple[frozenset[tuple[str, str]], frozenset[str]], Terms] = {}

    def terms(self, answers: Mapping[str, str], absent: frozenset[str]) -> Terms:
        """Weigh the findings by the answers.

        Parameters
        ----------
        answers
            Check and answer.
        absent
            Causes that were found not to be there.

        Returns
        -------
        Terms
            Kept for the next call: an answer to one complaint leaves the others as they were.
        """
        key = (frozenset(answers.items()), absent)
        if key not in self._kept:
            if len(self._kept) >= _KEPT:
                self._kept.clear()
            self._kept[key] = self._weigh(answers, absent)
        return self._kept[key]

    def forget(self) -> None:
        """Forget the weights that were kept."""
        self._kept.clear()

    def _weigh(self, answers: Mapping[str, str], absent: frozenset[str]) -> Terms:
        rows = self.rows
        weights = [
            0.0 if cause in absent else start for cause, start in zip(self._causes, self._start, strict=True)
        ]
        log_scale = 0.0
        # In the tree's order, so that the same answers give the same bits whatever order they came in.
        for name, check in rows.checks.items():
            if name not in answers:
                continue
            place = check.number[answers[name]]
            # What a sound part shows goes into the scale: only the findings that the check speaks of change.
            usual = check.sound[place]
            log_scale += math.log(usual)
            ratios = [row[place] / usual for row in check.rows]
            for finding, row in check.speaks:
                weights[finding] *= ratios[row]
            most = max(weights)
            if most > _LARGE or 0 < most < _SMALL:
                weights = [weight / most for weight in weights]
                log_scale += math.log(most)
        causes = dict.fromkeys(rows.findings_of, 0.0)
        for cause, weight in zip(self._causes, weights, strict=True):
            causes[cause] += weight
        parts = [
            weight / causes[cause] if weight > 0 else 0.0
            for cause, weight in zip(self._causes, weights, strict=True)
        ]
        return Terms(causes, parts, log_scale)
