"""A network for pyAgrum, built from the authors' words: an oracle that shares no code with the engine.

Conditions, looks, a yes-or-no node for each cause, one node for each complaint over its findings with prior share /
(cause's share of all machines), a node that rules out a finding whose cause is not there, and the checks.
"""

from __future__ import annotations

import itertools
import math
import warnings

with warnings.catch_warnings():
    # Its C++ wrapper warns while it is imported; made an error there, the warning would end the process.
    warnings.simplefilter("ignore", DeprecationWarning)
    import pyagrum as gum


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
