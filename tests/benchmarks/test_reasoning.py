"""Belief and gains against pyAgrum in the same run, and how the cost grows.

Times are of this process alone, so that whatever else runs on the machine slows neither side. The plot of the
growth is written to docs/reasoning-growth.svg if DIAGTREE_WRITE_DOCS is set.
"""

from __future__ import annotations

import gc
import itertools
import math
import os
import random
import time
from collections.abc import Iterable
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from statistics import median

import numpy as np
import pytest

from diagtree.library.library import Library, join
from diagtree.library.loading import load_library
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import Belief, BeliefModel
from diagtree.reasoning.choosing import gains
from diagtree.reasoning.evidence import Evidence

_spec = spec_from_file_location("agrum_network", Path(__file__).parents[1] / "reasoning" / "agrum_network.py")
_module = module_from_spec(_spec)
_spec.loader.exec_module(_module)
Network = _module.Network

LEAST_TIMES = 20
MOST_SECONDS = 0.005
MOST_SHARE = 0.1
STATES = (2, 3, 3)
SIZES = (10, 30, 100, 300, 1000, 3000)


def made(causes: int, complaints: int, checks: int, shared: float = 0.0, chained: bool = False) -> Library:
    """Make a library of any size: each tree halves its findings again and again."""
    dice = random.Random(1)
    conditions = {
        f"x{n}": {
            "title": "X",
            "states": {
                f"v{i}": {"says": "v", "out-of-100": 100 - (k - 1) * (100 // k) if i == 0 else 100 // k}
                for i in range(k)
            },
        }
        for n, k in enumerate(STATES)
    }
    looks = {
        f"look{n}": {
            "ask": "?", "minutes": 1, "speaks-of": f"x{n}",
            "answers": {
                f"a{i}": {"says": "a", "shows": {f"v{j}": 60 if i == j else 40 / (k - 1) for j in range(k)}}
                for i in range(k)
            },
        }
        for n, k in enumerate(STATES)
    }  # fmt: skip
    family = {"family": "f", "title": "F", "causes": {}}
    of_tree: list[list[str]] = [[] for _ in range(complaints)]
    for c in range(causes):
        likelier = {
            f"x{n}": {f"v{dice.randrange(k)}": dice.choice([2, 3, 5])}
            for n, k in enumerate(STATES)
            if dice.random() < 0.4
        }
        family["causes"][f"c{c}"] = {
            "title": "C", "out-of-100": dice.choice([1, 3, 8]), "more-likely": likelier, "risk": "nuisance",
            "why": "W.", "remedies": ["m"],
        }  # fmt: skip
        of_tree[c % complaints].append(f"c{c}")
        if dice.random() < shared:
            of_tree[(c + dice.randrange(1, complaints)) % complaints].append(f"c{c}")
    if chained:
        for tree, following in itertools.pairwise(of_tree):
            following.append(tree[0])
    return join(
        [Family.model_validate(family)],
        [Conditions.model_validate({"conditions": conditions, "looks": looks})],
        [Tree.model_validate(tree_of(f"s{s}", names, checks, dice)) for s, names in enumerate(of_tree)],
    )


def tree_of(symptom: str, names: list[str], checks: int, dice: random.Random) -> dict:
    leaves: list[list[str]] = [[] for _ in range(checks + 1)]
    for number in range(max(len(names), len(leaves))):
        leaves[number % len(leaves)].append(names[number % len(names)])
    ahead = iter(leaves)
    made_checks = {}
    for number in range(checks):
        answers = {}
        for says, following in (("no", 2 * number + 1), ("yes", 2 * number + 2)):
            entry: dict = {"says": says, "healthy": says == "yes"}
            if following < checks:
                entry["next"] = f"q{following}"
            else:
                entry["found"] = {name: dice.choice([1, 3, 9]) for name in next(ahead)}
            answers[says] = entry
        made_checks[f"q{number}"] = {
            "ask": "?", "minutes": dice.choice([1, 2, 5]), "answers": answers, "anytime": True,
            "trust": dice.choice(["sure", "fair", "rough"]),
        }  # fmt: skip
    return {"symptom": symptom, "title": "T", "family": "f", "first": "q0", "checks": made_checks}


def told(library: Library, turn: int) -> Evidence:
    """Three answers to the first complaint, one to each other; different each turn."""
    complaints = tuple(library.trees)
    answers = {(symptom, "q0"): "no" for symptom in complaints}
    checks = len(library.trees[complaints[0]].checks)
    for step in (1, 2):
        answers[complaints[0], f"q{1 + (step * (turn + 1)) % (checks - 1)}"] = ("no", "yes")[
            (turn + step) % 2
        ]
    return Evidence(complaints, {"look0": "a0"}, answers)


def ranked(model: BeliefModel, evidence: Evidence) -> Belief:
    """Posterior and all gains."""
    for tree in model.trees.values():
        tree.forget()  # so that each answer is a new one
    belief = model.given(evidence)
    for symptom in model.complaints:
        belief.ranking(symptom)
    gains(belief)
    return belief


def all_ranked(model: BeliefModel, evidence: Evidence) -> Belief:
    """Everything: the rankings, all gains, and for each cause whether it is there at all."""
    belief = ranked(model, evidence)
    belief.ranking_all()
    assert belief.present
    return belief


def theirs(
    network: Network, noise: dict, library: Library, evidence: Evidence, causes: Iterable[str] = ()
) -> None:
    """The same of pyAgrum: its posteriors; the gains by numpy from rows worked out before."""
    inference = network.given(evidence)
    for symptom, tree in library.trees.items():
        chances = inference.posterior(f"behind:{symptom}").toarray()
        for name in tree.checks:
            if (symptom, name) not in evidence.answers:
                answers = inference.posterior(f"check:{symptom}:{name}").toarray()
                -(answers * np.log2(answers)).sum() - (chances * noise[symptom, name]).sum()
    for cause in causes:
        inference.posterior(cause)


def noise_of(network: Network, library: Library) -> dict:
    noise = {}
    for symptom, tree in library.trees.items():
        for name in tree.checks:
            rows = network.net.cpt(f"check:{symptom}:{name}").toarray()
            noise[symptom, name] = -(rows * np.log2(rows)).sum(axis=1)
    return noise


def timed(work, *arguments) -> float:
    began = time.process_time()
    work(*arguments)
    return time.process_time() - began


def ratio_to_pyagrum(library: Library, rounds: int, work, causes=()) -> tuple[float, float]:
    model, network = BeliefModel.of(library, library.trees), Network(library, tuple(library.trees))
    noise = noise_of(network, library)
    work(model, told(library, 0))
    theirs(network, noise, library, told(library, 0), causes)
    gc.collect()
    mine, other = [], []
    # By batches in turn, so that whatever slows the machine down for a while slows both; each batch begins with
    # one that does not count, for the other side has emptied the processor's caches.
    for batch in range(8):
        ours = [timed(work, model, told(library, 40 * batch + turn)) for turn in range(4 * rounds // 8 + 3)]
        agrum = [
            timed(theirs, network, noise, library, told(library, 40 * batch + turn), causes)
            for turn in range(rounds // 8 + 2)
        ]
        mine += ours[1:]
        other += agrum[1:]
    return median(other) / median(mine), median(mine)


def test_twelve_causes_and_ten_checks_are_ranked_twenty_times_as_fast_as_by_pyagrum(benchmark):
    library = made(12, 1, 10)
    ratio, _ = ratio_to_pyagrum(library, 40, ranked)
    model = BeliefModel.of(library, library.trees)
    turns = iter(range(10**9))
    benchmark.pedantic(lambda: ranked(model, told(library, next(turns))), rounds=50)
    benchmark.extra_info["times as fast as pyAgrum"] = round(ratio, 1)
    assert ratio >= LEAST_TIMES


def test_six_complaints_and_two_hundred_causes_are_ranked_twenty_times_as_fast_as_by_pyagrum(benchmark):
    """Each complaint shares a cause with the next: more ties than that are more than pyAgrum can take."""
    library = made(200, 6, 12, chained=True)
    ratio, seconds = ratio_to_pyagrum(library, 4, all_ranked, library.causes)
    model = BeliefModel.of(library, library.trees)
    turns = iter(range(10**9))
    benchmark.pedantic(lambda: all_ranked(model, told(library, next(turns))), rounds=20)
    benchmark.extra_info["times as fast as pyAgrum"] = round(ratio, 1)
    assert ratio >= LEAST_TIMES
    assert seconds <= MOST_SECONDS


def test_six_tightly_tied_complaints_are_ranked_again_within_five_milliseconds(benchmark):
    """Each fourth cause lies behind two complaints."""
    library = made(200, 6, 12, shared=0.25)
    model = BeliefModel.of(library, library.trees)
    all_ranked(model, told(library, 0))
    gc.collect()
    # The quickest of five medians: other work on the machine takes from the caches even of a process's own time.
    seconds = min(
        median(timed(after_an_answer, model, told(library, 9 * batch + turn)) for turn in range(1, 10))
        for batch in range(5)
    )
    turns = iter(range(10**9))
    benchmark.pedantic(lambda: after_an_answer(model, told(library, next(turns))), rounds=20)
    benchmark.extra_info["seconds"] = round(seconds, 5)
    assert seconds <= MOST_SECONDS


def test_one_answer_on_the_largest_bundled_tree_takes_under_a_tenth_of_pyagrums_time(benchmark):
    """Posterior and ranking, nothing else."""
    library = load_library()
    symptom = max(library.trees, key=lambda name: len(library.causes_of[name]))
    first = library.trees[symptom].checks[library.trees[symptom].first]
    evidence = [
        Evidence((symptom,), {}, {(symptom, library.trees[symptom].first): answer})
        for answer in first.answers
    ] * 8
    model, network = BeliefModel.of(library, [symptom]), Network(library, (symptom,))

    def answer(told: Evidence) -> None:
        model.trees[symptom].forget()
        model.given(told).ranking(symptom)

    def answer_of_pyagrum(told: Evidence) -> None:
        network.given(told).posterior(f"behind:{symptom}").toarray()

    for work in (answer, answer_of_pyagrum):
        work(evidence[0])
    gc.collect()
    ratio = median(timed(answer, told) for told in evidence) / median(
        timed(answer_of_pyagrum, told) for told in evidence
    )
    benchmark.pedantic(answer, args=(evidence[0],), rounds=50)
    benchmark.extra_info["share of pyAgrum's time"] = round(ratio, 4)
    assert ratio <= MOST_SHARE


def after_an_answer(model: BeliefModel, evidence: Evidence) -> None:
    """As `all_ranked` after a new answer to one complaint; what was said of the others is known."""
    model.trees[model.complaints[0]].forget()
    belief = model.given(evidence)
    for symptom in model.complaints:
        belief.ranking(symptom)
    belief.ranking_all()
    gains(belief)
    assert belief.present


def growth(causes: bool) -> list[float]:
    """Seconds for each of `SIZES`, of causes at ten checks or of checks at twelve causes."""
    seconds = []
    for size in SIZES:
        library = made(size, 1, 10) if causes else made(12, 1, size)
        model = BeliefModel.of(library, library.trees)
        all_ranked(model, told(library, 0))
        gc.collect()
        seconds.append(median(timed(all_ranked, model, told(library, turn)) for turn in range(1, 8)))
    return seconds


def test_the_cost_grows_no_faster_than_causes_and_checks(benchmark):
    by_causes, by_checks = growth(causes=True), growth(causes=False)
    for seconds in (by_causes, by_checks):
        # From 100 on, where fixed costs no longer hide it: thirty times as many, at most as many times as slow
        # and half as much again. The findings on each check's way add a logarithm for checks.
        exponent = math.log(seconds[-1] / seconds[2]) / math.log(SIZES[-1] / SIZES[2])
        benchmark.extra_info.setdefault("exponents", []).append(round(exponent, 2))
        assert exponent <= 1.15
    benchmark.pedantic(growth, args=(True,), rounds=1)
    if os.environ.get("DIAGTREE_WRITE_DOCS"):
        plot = Path(__file__).parents[2] / "docs" / "reasoning-growth.svg"
        plot.write_text(growth_svg({"causes": by_causes, "checks": by_checks}), encoding="utf-8")


def growth_svg(lines: dict[str, list[float]]) -> str:
    """Draw milliseconds over size, both by powers of ten."""
    width, height, edge = 420, 300, 76
    low, high = -2, 3

    def at(size: float, seconds: float) -> tuple[float, float]:
        x = edge + width * (math.log10(size) - 1) / (math.log10(3000) - 1)
        return x, edge + height * (1 - (math.log10(1000 * seconds) - low) / (high - low))

    parts = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width + 2 * edge} {height + 2 * edge}" '
            'font-family="sans-serif" font-size="13" role="img"><title>Time to rank all again, over size</title>'
        ),
        f'<rect width="{width + 2 * edge}" height="{height + 2 * edge}" fill="#fff"/>',
        f'<text x="{edge}" y="30" font-size="15">Belief, gains and all rankings after one answer</text>',
    ]
    for power in range(low, high + 1):
        _, y = at(10, 10 ** (power - 3))
        label = f"{10.0**power:g} ms"
        parts.append(f'<line x1="{edge}" y1="{y:.1f}" x2="{edge + width}" y2="{y:.1f}" stroke="#ddd"/>')
        parts.append(f'<text x="{edge - 6}" y="{y + 4:.1f}" text-anchor="end">{label}</text>')
    for size in SIZES:
        x, _ = at(size, 1)
        parts.append(f'<text x="{x:.1f}" y="{edge + height + 20}" text-anchor="middle">{size}</text>')
    for (name, seconds), dash, below in zip(lines.items(), ("", "6 4"), (34, -10), strict=True):
        points = " ".join("{:.1f},{:.1f}".format(*at(s, t)) for s, t in zip(SIZES, seconds, strict=True))
        parts.append(
            f'<polyline points="{points}" fill="none" stroke="#000" stroke-width="2" stroke-dasharray="{dash}"/>'
        )
        x, y = at(SIZES[-1], seconds[-1])
        parts.append(f'<text x="{x - 4:.1f}" y="{y + below:.1f}" text-anchor="end">{name}</text>')
    parts.append(
        f'<text x="{edge + width / 2}" y="{edge + height + 42}" text-anchor="middle">how many (of causes at 10 checks; '
        "of checks at 12 causes)</text></svg>"
    )
    return "\n".join(parts) + "\n"


if __name__ == "__main__":
    raise SystemExit(pytest.main([__file__, "--benchmark-only"]))
