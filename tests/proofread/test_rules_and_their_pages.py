"""Each rule's page is true: its wrong sample is told in just those words, its right one is not."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.library.assembly import assemble
from diagtree.library.sources import read_source
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.proofreader import faults_in
from diagtree.proofread.rulebook import built_in, page_of
from diagtree.testing import faults_of

KETTLE = Path(__file__).parent.parent / "kettle"
RULES = {rule.name: rule for rule in built_in()}
CHAPTERS = {
    "structure",
    "counts",
    "wording",
    "measures",
    "safety",
    "torque",
    "fluids",
    "jobs",
    "shared",
    "cases",
    "form",
}


@pytest.fixture(scope="module")
def beside():
    """What the samples stand beside: the kettle, and a glossary with a term of two parts."""
    names = ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "slow-boil.yaml", "leaks.yaml")
    sources = [read_source((KETTLE / name).read_bytes(), name, "kettle") for name in names]
    return [
        *sources,
        read_source(b"glossary: {pull-out: What can be pulled out.}", "glossary.yaml", "kettle"),
    ]


def told(rule, text, beside):
    shelf = Shelf(assemble([*beside, read_source(text.encode(), "sample.yaml", "own")]))
    faults = [fault for fault in faults_in(shelf.manuscripts[-1], [rule]) if fault.rule == rule.name]
    return [f"{fault.line}:{fault.column}: {fault.message}" for fault in faults]


@pytest.mark.parametrize("name", RULES)
def test_the_wrong_sample_is_told_in_the_words_of_the_page(name, beside):
    page = page_of(RULES[name])
    assert told(RULES[name], page.wrong, beside) == list(page.told)
    assert page.told


@pytest.mark.parametrize("name", RULES)
def test_the_right_sample_is_not_told(name, beside):
    assert told(RULES[name], page_of(RULES[name]).right, beside) == []


@pytest.mark.parametrize("name", RULES)
def test_each_fault_says_what_to_do(name):
    """A fault names what is wrong, and ends with what to do."""
    assert all(
        line.rstrip().endswith((".", "?")) and line.count(". ") >= 1 for line in page_of(RULES[name]).told
    )


def test_there_are_rules_for_every_chapter():
    assert len(RULES) >= 40
    assert {rule.group for rule in RULES.values()} == CHAPTERS


@pytest.mark.parametrize("name", RULES)
def test_no_rule_stumbles_over_anything(name, beside):
    """Rules look at what was written, which may be anything."""
    odd = (
        "checks: [a, b]\n", "checks: {a: b}\n", "checks: {a: {answers: [x]}}\n", "checks: {a: {answers: {b: c}}}\n",
        "checks: {a: {answers: {b: {found: [x], next: {y: z}}}}}\ncases: {a: b}\n",
        "checks: {a: {ask: [b, {c: d}], how: {e: f}, minutes: x, shows: y}}\ncases: [a, {answers: b, expect: [c]}]\n",
        "family: [x]\ncauses: {a: {title: [b], remedies: {c: d}, risk: unsafe, out-of-100: x}}\n",
        "family: x\ncauses: [a]\nremedies: {a: b, c: {parts: {d: [e]}, jobs: {f: g}, holds: [h]}}\n",
        "family: x\njobs: {a: {minutes: {b: c}, after: {d: e}, fluids: [[f], g, {fluid: [h]}]}}\nfluids: {a: {never-with: {b: c}}}\n",
        "family: x\nfasteners: {a: {torque: 5, thread: [x], hand: {y: z}, caution: {a: b}}}\nreadings: {a: {unit: [b]}}\n",
        "looks: {a: {answers: {b: c}, speaks-of: [d]}}\nglossary: [a]\n",
        "first: a\nchecks: {a: {answers: {b: {next: a}}}}\ncases: [{answers: {a: [b], c: {d: e}}, looks: {a: [b]}}]\n",
        "checks: {a: {minutes: 1e999999999, answers: {b: {found: {x: 1e999999999, y: 1e-999999999}}}}}\n",
        "family: x\njobs: {a: {minutes: [1e-999999999, 1, 1e999999999]}}\nreadings: {a: {least: 1e999999999}}\n",
        "looks: {a: {speaks-of: b, answers: {c: {shows: {d: 1e999999999}}}}}\n",
    )  # fmt: skip
    for text in odd:
        told(RULES[name], text, beside)


KEYS = [
    "checks", "answers", "found", "next", "ask", "how", "says", "minutes", "healthy", "shows", "fact", "first", "cases", "expect",
    "looks", "lamp", "scale", "causes", "remedies", "jobs", "fasteners", "fluids", "systems", "readings", "parts", "torque", "from",
    "to", "below", "thread", "hand", "risk", "verdict", "holds", "after", "needs", "uncovers", "title", "family", "symptom", "unit",
]  # fmt: skip

PIECES = st.recursive(
    st.sampled_from(["", "yes", "no", "1", "100", "-3", "1e999", "scale", "kettle/scale", "lamp", "Is it? Is it?", "a; b", "x" * 300]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=5),
    max_leaves=25,
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS), PIECES, min_size=1, max_size=6))
def test_no_rule_stumbles_over_any_shape_at_all(data):
    text = json.dumps(data)  # JSON is YAML
    shelf = Shelf(assemble([read_source(text.encode(), "sample.yaml", "own")]))
    for fault in faults_in(shelf.manuscripts[-1], list(RULES.values())):
        assert fault.line == 1
        assert fault.text


def test_an_expected_cause_that_nobody_knows_is_told_once():
    catalogue = (KETTLE / "catalogue.yaml").read_text(encoding="utf-8")
    tree = (KETTLE / "no-heat.yaml").read_text(encoding="utf-8")
    for cause, rule in (("scael", "[reading]"), ("lid-loose", "[case-expects-the-unfound]")):
        text = f"{tree}  - {{title: More, answers: {{}}, expect: {cause}}}\n"
        faults = [
            one
            for one in faults_of(text, {"catalogue.yaml": catalogue})
            if f"'{cause}'" in one or f"/{cause}'" in one
        ]
        assert [one[one.index(" [") + 1 :] for one in faults] == [rule]
