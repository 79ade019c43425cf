"""Several faults at once against one fault at a time: the published noisy-or form, by enumeration.

Heckerman, "A tractable inference algorithm for diagnosing multiple diseases", 1989: P(finding absent | faults)
= (1 - leak) * product of (1 - q). Check values recomputed by full enumeration. The engine has no noisy-or of
its own; this holds down why it sums over what else may be there: one fault at a time hides the first cause.
"""

from __future__ import annotations

import itertools
import math

import pytest

PRIOR = (0.10, 0.20, 0.05)
LEAK = (0.01, 0.05, 0.02, 0.10)
Q = ((0.8, 0, 0.3, 0), (0.4, 0.6, 0, 0.1), (0, 0.9, 0.7, 0.5))
SEEN = {0: True, 1: True, 2: False}


def fits(faults):
    chance = 1.0
    for finding, there in SEEN.items():
        absent = (1 - LEAK[finding]) * math.prod(1 - Q[c][finding] for c, yes in enumerate(faults) if yes)
        chance *= 1 - absent if there else absent
    return chance


def weight(faults):
    return math.prod(p if yes else 1 - p for p, yes in zip(PRIOR, faults, strict=True)) * fits(faults)


def test_any_number_of_faults_gives_the_published_posterior():
    cases = list(itertools.product((False, True), repeat=3))
    total = sum(map(weight, cases))
    assert total == pytest.approx(0.0536312840, abs=1e-10)
    present = [sum(weight(case) for case in cases if case[c]) / total for c in range(3)]
    assert present == pytest.approx([0.18615343, 0.94184205, 0.03544918], abs=1e-8)


def test_one_fault_at_a_time_hides_the_first_cause():
    """The causes in proportion to their priors, one at a time."""
    single = [p * fits([c == n for n in range(3)]) for c, p in enumerate(PRIOR)]
    shares = [value / sum(single) for value in single]
    assert shares == pytest.approx([0.052677, 0.944775, 0.002548], abs=1e-6)
