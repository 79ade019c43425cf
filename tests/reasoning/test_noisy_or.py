"""Several faults at once against one fault at a time: the published noisy-or form, by enumeration.

Heckerman, "A tractable inference algorithm for diagnosing multiple diseases", 1989: P(finding absent | faults)
= (1 - leak) * product of (1 - q). Check values recomputed by full enumeration. The engine has no noisy-or of
its own: one complaint has one cause behind it, and what else may be there is summed beside it.
"""

from __future__ import annotations

import itertools
import math

import pytest

from diagtree.library.library import join
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence

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
    """The engine on one complaint, which has one cause behind it: the same evidence gives the first cause 5 in 100."""
    names = ("first", "second", "third")
    alone = [[1 - (1 - LEAK[f]) * (1 - Q[c][f]) for c in range(3)] for f in SEEN]
    checks = {
        f"f{finding}": {
            "ask": "Is it there?",
            "minutes": 1,
            "answers": {
                "yes": {"says": "Yes", **following},
                "no": {"says": "No", "next": f"f{finding + 1}"}
                if finding < 2
                else {"says": "No", "found": {"first": 0}},
            },
            "shows": {
                name: {"yes": round(100 * chance, 9), "no": round(100 - 100 * chance, 9)}
                for name, chance in zip(names, alone[finding], strict=True)
            },
        }
        for finding, following in (
            (0, {"next": "f1"}),
            (1, {"next": "f2"}),
            (2, {"found": dict(zip(names, (10, 20, 5), strict=True))}),
        )
    }
    family = {
        "family": "thing",
        "title": "Thing",
        "causes": {
            name: {"title": name, "out-of-100": 10, "risk": "nuisance", "why": "W.", "remedies": ["mend"]}
            for name in names
        },
    }
    tree = {"symptom": "s", "title": "T", "family": "thing", "first": "f0", "checks": checks}
    library = join([Family.model_validate(family)], [], [Tree.model_validate(tree)])
    answers = {("s", f"f{finding}"): "yes" if there else "no" for finding, there in SEEN.items()}
    behind = BeliefModel.of(library, ["s"]).given(Evidence(("s",), {}, answers)).behind("s")
    assert [behind[f"thing/{name}"] for name in names] == pytest.approx(
        [0.052677, 0.944775, 0.002548], abs=1e-6
    )
