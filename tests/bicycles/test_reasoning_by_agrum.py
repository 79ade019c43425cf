"""The belief equals pyAgrum's exact inference on a network built from the same library, within 1e-6.

The network says the joint belief in other words: conditions, looks, a yes-or-no node for each cause, one node for
each complaint over its findings with prior share / (cause's share of all machines), a node that rules out a
finding whose cause is not there, and the checks. It is built from the authors' words, not from the engine's rows.
"""

from __future__ import annotations

import itertools
import math

import pyagrum as gum
import pytest

from diagtree.library.loading import load_library
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts


@pytest.fixture(scope="module")
def bundled():
    library = load_library()
    assert len(library.trees) >= 4
    return library


def leaves_ahead(tree, check, answer):
    entry = tree.checks[check].answers[answer]
    if entry.found is not None:
        return {(check, answer)}
    return set().union(*(leaves_ahead(tree, entry.next, a) for a in tree.checks[entry.next].answers))


def shared(names, favoured, e):
    if not favoured or len(favoured) == len(names):
        return [1 / len(names)] * len(names)
    return [
        (1 - e) / len(favoured) if name in favoured else e / (len(names) - len(favoured)) for name in names
    ]


def row(tree, check, cause, leaf):
    entry = tree.checks[check]
    names, e = list(entry.answers), entry.trust.misleads
    if cause in entry.shows:
        shows = entry.shows[cause]
        if isinstance(shows, str):
            return shared(names, [shows], e)
        rest = max(0.0, 1 - float(sum(shows.values())) / 100)
        silent = [name for name in names if name not in shows]
        chances = [max(0.001, float(shows[n]) / 100 if n in shows else rest / len(silent)) for n in names]
        return [chance / sum(chances) for chance in chances]
    towards = [name for name in names if leaf in leaves_ahead(tree, check, name)]
    return shared(names, towards or list(entry.healthy), e)


class Network:
    def __init__(self, library, complaints):
        self.library = library
        self.net = net = gum.BayesNet()
        self.always = {}
        for name, condition in library.conditions.items():
            net.add(gum.LabelizedVariable(f"x:{name}", "", list(condition.states)))
            net.cpt(f"x:{name}").fillWith([float(s.out_of_100) / 100 for s in condition.states.values()])
        for name, look in library.looks.items():
            net.add(gum.LabelizedVariable(f"look:{name}", "", list(look.answers)))
            net.addArc(f"x:{look.speaks_of}", f"look:{name}")
            for state in library.conditions[look.speaks_of].states:
                seen = [max(0.001, float(a.shows.get(state, 0)) / 100) for a in look.answers.values()]
                net.cpt(f"look:{name}")[{f"x:{look.speaks_of}": state}] = [p / sum(seen) for p in seen]
        self.findings = {s: self._findings(library.trees[s]) for s in complaints}
        for cause in dict.fromkeys(c for f in self.findings.values() for c, *_ in f):
            self._cause(cause)
        for symptom in complaints:
            self._complaint(symptom)

    def _findings(self, tree):
        return [
            (cause, (check, name), float(count))
            for check, entry in tree.checks.items()
            for name, answer in entry.answers.items()
            for cause, count in (answer.found or {}).items()
        ]

    def share(self, cause):
        return max(0.0001, float(self.library.causes[cause].out_of_100) / 100)

    def _cause(self, cause):
        net, library = self.net, self.library
        net.add(gum.LabelizedVariable(cause, "", ["no", "yes"]))
        entry = library.causes[cause]
        conditions = [name for name in entry.more_likely if name in library.conditions]
        states = [list(library.conditions[name].states) for name in conditions]

        def factor(state):
            return math.prod(
                float(entry.more_likely[n].get(s, 1)) for n, s in zip(conditions, state, strict=True)
            )

        mean = sum(
            factor(state)
            * math.prod(
                float(library.conditions[n].states[s].out_of_100) / 100
                for n, s in zip(conditions, state, strict=True)
            )
            for state in itertools.product(*states)
        )
        for name in conditions:
            net.addArc(f"x:{name}", cause)
        for state in itertools.product(*states):
            p = min(0.95, self.share(cause) * factor(state) / mean)
            net.cpt(cause)[{f"x:{n}": s for n, s in zip(conditions, state, strict=True)}] = [1 - p, p]

    def _complaint(self, symptom):
        net, findings = self.net, self.findings[symptom]
        tree = self.library.trees[symptom]
        net.add(gum.RangeVariable(f"behind:{symptom}", "", 0, len(findings) - 1))
        prior = [count / self.share(cause) for cause, _, count in findings]
        net.cpt(f"behind:{symptom}").fillWith([p / sum(prior) for p in prior])
        for cause in dict.fromkeys(cause for cause, *_ in findings):
            fits = f"fits:{symptom}:{cause}"
            net.add(gum.LabelizedVariable(fits, "", ["no", "yes"]))
            net.addArc(f"behind:{symptom}", fits)
            net.addArc(cause, fits)
            for number, (other, *_) in enumerate(findings):
                for there in ("no", "yes"):
                    ruled_out = other == cause and there == "no"
                    net.cpt(fits)[{f"behind:{symptom}": number, cause: there}] = (
                        [1, 0] if ruled_out else [0, 1]
                    )
            self.always[fits] = "yes"
        for name, check in tree.checks.items():
            node = f"check:{symptom}:{name}"
            net.add(gum.LabelizedVariable(node, "", list(check.answers)))
            net.addArc(f"behind:{symptom}", node)
            for number, (cause, leaf, _) in enumerate(findings):
                net.cpt(node)[{f"behind:{symptom}": number}] = row(tree, name, cause, leaf)

    def given(self, evidence):
        inference = gum.LazyPropagation(self.net)
        inference.setEvidence(
            self.always
            | {f"look:{name}": answer for name, answer in evidence.looks.items()}
            | {f"check:{s}:{c}": answer for (s, c), answer in evidence.answers.items()}
            | {c: "yes" if there else "no" for c, there in evidence.found.items()}
        )
        return inference


def assert_agrees(library, network, evidence):
    model = BeliefModel.of(library, evidence.complaints)
    belief, inference = model.given(evidence), network.given(evidence)
    for condition, states in belief.picture.items():
        truth = inference.posterior(f"x:{condition}").tolist()
        assert list(states.values()) == pytest.approx(truth, abs=1e-6)
    for symptom in evidence.complaints:
        truth = inference.posterior(f"behind:{symptom}").tolist()
        assert belief.finding_chances(symptom) == pytest.approx(truth, abs=1e-6)
        for check in library.trees[symptom].checks:
            if (symptom, check) not in evidence.answers:
                predicted = inference.posterior(f"check:{symptom}:{check}").tolist()
                assert list(belief.predict(symptom, check).values()) == pytest.approx(predicted, abs=1e-6)
    before = network.given(Evidence(evidence.complaints)).evidenceProbability()
    ratio = inference.evidenceProbability() / before
    assert belief.log_chance == pytest.approx(math.log(ratio), abs=1e-6)
    if not evidence.answers and not evidence.found:
        for cause in model.asked:
            assert belief.present[cause] == pytest.approx(inference.posterior(cause)[1], abs=1e-6)


def some_answers(library, complaints, which):
    """Answer some checks on the authors' ways and one off them, deterministically."""
    answers = {}
    for symptom in complaints:
        tree, name = library.trees[symptom], library.trees[symptom].first
        for step in range(3):
            names = list(tree.checks[name].answers)
            answer = names[(which + step) % len(names)]
            answers[symptom, name] = answer
            if tree.checks[name].answers[answer].next is None:
                break
            name = tree.checks[name].answers[answer].next
        off = next((n for n in tree.checks if (symptom, n) not in answers), None)
        if off is not None and which:
            answers[symptom, off] = list(tree.checks[off].answers)[-1]
    return answers


KETTLES = [("no-heat",), ("no-heat", "slow-boil"), ("no-heat", "slow-boil", "leaks")]


@pytest.mark.parametrize("complaints", KETTLES, ids="+".join)
def test_a_kettle_agrees_with_pyagrum(kettle, complaints):
    network = Network(kettle, complaints)
    assert_agrees(kettle, network, Evidence(complaints))
    assert_agrees(kettle, network, Evidence(complaints, {"lime": "limed", "handle": "worn"}))
    for which in range(2):
        told = Evidence(complaints, {"lime": "limed"}, some_answers(kettle, complaints, which))
        assert_agrees(kettle, network, spread_facts(kettle, told))
    found = {kettle.causes_of["no-heat"][0]: True, kettle.causes_of["no-heat"][1]: False}
    assert_agrees(kettle, network, Evidence(complaints, {}, {}, found))


def tied(library, most=17):
    """Pairs of trees that share causes, most shared first; of trees that pyAgrum can still take together."""
    causes = {s: set(library.causes_of[s]) for s in library.trees if len(library.causes_of[s]) <= most}
    pairs = [(len(causes[a] & causes[b]), a, b) for a, b in itertools.combinations(causes, 2)]
    return [(a, b) for shared, a, b in sorted(pairs, key=lambda pair: -pair[0]) if shared]


def several(library, count):
    """Two tied trees; a third; or two pairs that are tied within and not to each other."""
    first, *others = tied(library)
    causes = library.causes_of
    if count == 2:
        return first
    met = {cause for symptom in first for cause in causes[symptom]}
    if count == 4:
        apart = (p for p in others if not met & {*causes[p[0]], *causes[p[1]]})
        return (*first, *next(apart))
    rest = [s for s in library.trees if s not in first and len(causes[s]) <= 17]
    return (*first, max(rest, key=lambda s: (len(met & set(causes[s])), -len(causes[s]))))


def test_every_bundled_tree_agrees_with_pyagrum(bundled):
    looks = {name: list(look.answers)[-1] for name, look in list(bundled.looks.items())[:4]}
    for symptom in bundled.trees:
        network = Network(bundled, (symptom,))
        told = Evidence((symptom,), looks, some_answers(bundled, (symptom,), 1))
        assert_agrees(bundled, network, spread_facts(bundled, told))


@pytest.mark.parametrize("count", [2, 3, 4])
def test_several_bundled_complaints_agree_with_pyagrum(bundled, count):
    complaints = several(bundled, count)
    assert len(set(complaints)) == count
    network = Network(bundled, complaints)
    looks = {name: list(look.answers)[-1] for name, look in list(bundled.looks.items())[:3]}
    told = Evidence(complaints, looks, some_answers(bundled, complaints, 1))
    assert_agrees(bundled, network, spread_facts(bundled, told))
    assert_agrees(bundled, network, Evidence(complaints))
