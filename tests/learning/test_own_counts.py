"""Own counts beside a tree: added by the rule, put into the library without touching the tree, told."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import ExpectedError
from diagtree.learning.counts import (
    USUAL_WEIGHT,
    OwnCounts,
    counts_in,
    counts_text,
    outside,
    read_counts,
    shares,
    with_learnt_counts,
)
from diagtree.library.document import read_document
from diagtree.library.fault import FaultyFileError
from diagtree.library.validation import validated
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel


def tree_of(counts):
    answers = {name: {"says": name, "found": {f"f/{name}": count}} for name, count in counts.items()}
    return Tree.model_validate(
        {"symptom": "s", "title": "S", "family": "f", "first": "q",
         "checks": {"q": {"ask": "Which?", "minutes": 1, "answers": answers}}}
    )  # fmt: skip


def own_of(symptom, weighs, **confirmed):
    causes = [
        cause.replace("__", "/").replace("_", "-") for cause, many in confirmed.items() for _ in range(many)
    ]
    return OwnCounts(
        counts_for=symptom, weighs=weighs, machines={f"{n:012x}": cause for n, cause in enumerate(causes)}
    )


def test_a_share_of_8_that_weighs_20_becomes_15_when_3_of_10_had_it():
    """(20 x 0.08 + 3) / (20 + 10) = 0.153333, between 0.061477 and 0.271713 (scipy.stats.beta)."""
    share, _ = shares(tree_of({"a": 8, "b": 92}), own_of("s", 20, f__a=3, f__b=7))
    assert (share.stated, share.confirmed) == (0.08, 3)
    assert share.now == pytest.approx(0.153333, abs=5e-7)
    assert (share.low, share.high) == pytest.approx((0.061477, 0.271713), abs=5e-7)
    assert not share.moved


def test_three_causes_are_counted_together():
    """Dirichlet mean of (4, 3.5, 2.5) + (2, 9, 1), out of 22."""
    found = shares(tree_of({"a": 40, "b": 35, "c": 25}), own_of("s", 10, f__a=2, f__b=9, f__c=1))
    assert [round(share.now, 6) for share in found] == [0.272727, 0.568182, 0.159091]
    assert [share.moved for share in found] == [False, True, False]


def test_what_the_tree_does_not_find_is_told_and_takes_no_share(kettle):
    own = own_of("no-heat", 20, kettle__scale=1, kettle__lid_loose=4)
    assert outside(kettle.trees["no-heat"], own) == {"kettle/lid-loose": 4}
    assert sum(share.confirmed for share in shares(kettle.trees["no-heat"], own)) == 1
    assert sum(share.now for share in shares(kettle.trees["no-heat"], own)) == pytest.approx(1)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(["scale", "fuse-blown", "switch-worn"]), max_size=12), st.integers(1, 500))
def test_a_prior_belief_with_own_counts_is_the_new_share(kettle, causes, weighs):
    """However a cause is spread over findings, belief before any answer is the share that was worked out."""
    own = OwnCounts(
        counts_for="no-heat",
        weighs=weighs,
        machines={f"{n:012x}": f"kettle/{cause}" for n, cause in enumerate(causes)},
    )
    library = with_learnt_counts(kettle, {"no-heat.counts": own})
    behind = BeliefModel.of(library, ("no-heat",)).nothing_told.behind("no-heat")
    for share in shares(kettle.trees["no-heat"], own):
        assert behind[share.cause] == pytest.approx(share.now, abs=2e-6)


def test_a_cause_found_in_several_places_keeps_its_authors_proportions(kettle):
    own = own_of("no-heat", 20, kettle__switch_worn=10)
    checks = with_learnt_counts(kettle, {"x": own}).trees["no-heat"].checks
    at_flex = checks["flex"].answers["sound"].found["kettle/switch-worn"]
    at_hum = checks["hum"].answers["no"].found["kettle/switch-worn"]
    assert float(at_flex / at_hum) == pytest.approx(22 / 3, rel=1e-5)
    counts = [n for c in checks.values() for a in c.answers.values() for n in (a.found or {}).values()]
    assert float(sum(counts)) == pytest.approx(100, abs=1e-4)


def test_the_library_tells_whose_counts_it_uses_and_the_authors_stays_as_it_was(kettle):
    before = kettle.identity("no-heat")
    library = with_learnt_counts(kettle, {"mine/no-heat.counts": own_of("no-heat", 20, kettle__scale=2)})
    assert str(library.notices[-1]) == (
        "mine/no-heat.counts: The tree 'no-heat' counts with 2 confirmed kettles of your own beside its author's."
    )
    assert kettle.identity("no-heat") == before != library.identity("no-heat")
    assert library.trees["leaks"] is kettle.trees["leaks"]


def test_counts_for_a_tree_that_is_not_here_are_left_out_and_told(kettle):
    library = with_learnt_counts(kettle, {"old.counts": own_of("gone", 20)})
    assert str(library.problems[-1]) == "old.counts: These counts are for the tree 'gone', which is not here."


def test_of_two_counts_for_one_tree_the_later_is_used_and_the_other_told(kettle):
    first, second = own_of("no-heat", 20, kettle__scale=2), own_of("no-heat", 20, kettle__fuse_blown=5)
    library = with_learnt_counts(kettle, {"a.counts": first, "b.counts": second})
    assert library.trees["no-heat"] == with_learnt_counts(kettle, {"b.counts": second}).trees["no-heat"]
    assert [str(notice) for notice in library.notices[-2:]] == [
        "a.counts: These counts are not used: those in b.counts take their place.",
        "b.counts: The tree 'no-heat' counts with 5 confirmed kettles of your own beside its author's.",
    ]


def test_the_file_says_what_was_counted_and_is_read_back(tmp_path):
    own = own_of("no-heat", Decimal("12.5"), kettle__scale=2, kettle__fuse_blown=3)
    file = tmp_path / "deep" / "no-heat.counts"
    file.parent.mkdir()
    file.write_text(counts_text(own), encoding="utf-8")
    assert read_counts(file) == own
    assert "# 5 confirmed: kettle/fuse-blown 3, kettle/scale 2\n" in counts_text(own)
    counts, problems = counts_in([tmp_path])
    assert (list(counts.values()), problems) == ([own], [])


def test_a_file_with_a_fault_is_told_with_its_line_and_left_out(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    file = Path("no-heat.counts")
    file.write_text("counts-for: no-heat\nweigs: 20\nmachines: {abc: kettle/scale}\n", encoding="utf-8")
    with pytest.raises(FaultyFileError):
        read_counts(file)
    counts, problems = counts_in([Path()])
    assert counts == {}
    assert (
        str(problems[0]) == "no-heat.counts:2:1: weigs: There is no key 'weigs' here. Did you mean 'weighs'?"
    )
    assert str(problems[1]) == (
        "no-heat.counts:3:12: machines > abc: 'abc' is no case: each has twelve hexadecimal digits, in quotes."
    )


def test_counts_are_looked_for_where_trees_are(tmp_path, monkeypatch):
    """Not in hidden folders, not behind links that lead out; and a folder is no file, whatever it is called."""
    monkeypatch.chdir(tmp_path)
    text = counts_text(own_of("no-heat", 20, kettle__scale=2))
    for place in ("trees/.kept/a.counts", "trees/folder.counts/b.counts", "elsewhere/c.counts"):
        Path(place).parent.mkdir(parents=True)
        Path(place).write_text(text, encoding="utf-8")
    Path("trees/out.counts").symlink_to(tmp_path / "elsewhere" / "c.counts")
    Path("trees/tree.yaml").write_text("symptom: no-heat\n", encoding="utf-8")
    counts, problems = counts_in([Path("trees"), Path("trees/tree.yaml")])
    assert list(counts) == ["trees/folder.counts/b.counts"]
    assert [problem.where for problem in problems] == ["trees/out.counts"]


def test_the_counts_of_one_tree_are_not_taken_for_anothers(tmp_path):
    """They were once put together with those of the tree that the file is called after."""
    file = tmp_path / "no-heat.counts"
    file.write_text(counts_text(own_of("leaks", 20, kettle__lid_loose=2)), encoding="utf-8")
    assert read_counts(file, "leaks").counts_for == "leaks"
    with pytest.raises(ExpectedError, match="holds the counts for 'leaks', not for 'no-heat'"):
        read_counts(file, "no-heat")


def test_the_file_in_the_docs_is_one():
    page = (Path(__file__).parents[2] / "docs" / "learning.md").read_text(encoding="utf-8")
    block = page.partition("```yml\n")[2].partition("```")[0]
    document = read_document(block.encode(), "docs/learning.md")
    own, faults = validated(OwnCounts, document)
    assert faults == []
    assert own.weighs == USUAL_WEIGHT


def test_9_times_in_10_the_true_share_lies_in_the_interval():
    """True shares drawn from the author's counts, machines from the true shares: within four standard errors of 90."""
    random = np.random.default_rng(11)
    tree, weighs, draws = tree_of({"a": 50, "b": 35, "c": 15}), 12, 200
    held = 0
    for _ in range(draws):
        truth = random.dirichlet([weighs * 0.5, weighs * 0.35, weighs * 0.15])
        a, b, c = (int(count) for count in random.multinomial(15, truth))
        found = shares(tree, own_of("s", weighs, f__a=a, f__b=b, f__c=c))
        held += sum(share.low <= true <= share.high for share, true in zip(found, truth, strict=True))
    # The three shares of a draw hang together, so only the draws count as independent.
    assert held / (3 * draws) == pytest.approx(0.9, abs=4 * (0.09 / draws) ** 0.5)
