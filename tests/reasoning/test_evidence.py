"""What was told, and shared facts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagtree.errors import UnknownNameError
from diagtree.reasoning.belief import BeliefModel, ImpossibleEvidenceError
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.reasoning.rows import TreeFaultError, rows_of


def test_a_shared_fact_is_entered_in_each_tree_where_it_stands(kettle):
    told = Evidence(("no-heat", "leaks"), {}, {("leaks", "flex-look"): "hurt"})
    assert spread_facts(kettle, told).answers == {
        ("leaks", "flex-look"): "hurt",
        ("no-heat", "flex"): "hurt",
    }


def test_a_shared_fact_stays_out_of_trees_that_nobody_complained_of(kettle):
    told = Evidence(("leaks",), {}, {("leaks", "flex-look"): "hurt"})
    assert spread_facts(kettle, told) == told


def test_what_was_told_in_the_place_itself_is_kept(kettle):
    told = Evidence(("no-heat", "leaks"), {}, {("leaks", "flex-look"): "hurt", ("no-heat", "flex"): "sound"})
    assert spread_facts(kettle, told) == told


@pytest.mark.parametrize(
    ("evidence", "words"),
    [
        (
            Evidence(("no-heat",), {}, {("no-heat", "lampp"): "no"}),
            "There is no check in 'no-heat' 'lampp'. Did you mean 'lamp'?",
        ),
        (
            Evidence(("no-heat",), {}, {("no-heat", "lamp"): "maybe"}),
            "There is no answer to 'lamp' 'maybe'. Choose one of: no, yes.",
        ),
        (
            Evidence(("no-heat",), {"limes": "limed"}),
            "There is no quick look 'limes'. Did you mean 'lime'?",
        ),
        (
            Evidence(("no-heat",), {"lime": "lime"}),
            "There is no answer to 'lime' 'lime'. Did you mean 'limed'?",
        ),
        (
            Evidence(("no-heat",), {}, {}, {"kettle/scales": True}),
            "There is no cause 'kettle/scales'. Did you mean 'kettle/scale'?",
        ),
        (
            Evidence(("no-heat",), {}, {("leaks", "where"): "top"}),
            "There is no complaint of this machine 'leaks'. Choose one of: no-heat.",
        ),
    ],
)
def test_a_name_that_nobody_knows_is_told_with_near_ones(kettle, evidence, words):
    with pytest.raises(UnknownNameError) as error:
        BeliefModel.of(kettle, evidence.complaints).given(evidence)
    assert str(error.value) == words


def test_evidence_for_other_complaints_is_a_mistake_in_the_program(kettle):
    with pytest.raises(ValueError, match="this model is for"):
        BeliefModel.of(kettle, ["no-heat"]).given(Evidence(("leaks",)))


def test_when_all_causes_are_ruled_out_it_is_said_in_words(kettle):
    found = dict.fromkeys(kettle.causes_of["slow-boil"], False)
    with pytest.raises(ImpossibleEvidenceError) as error:
        BeliefModel.of(kettle, ["slow-boil"]).given(Evidence(("slow-boil",), {}, {}, found))
    assert str(error.value) == (
        "Nothing can be behind 'It takes for ever to boil' any more: each of its causes was found not to be "
        "there. Take back what is least sure, or add the cause that the tree does not know."
    )


def test_a_tree_without_counts_is_refused_with_a_way_to_mend_it(kettle):
    tree = kettle.trees["leaks"]
    empty = {
        name: check.model_copy(
            update={
                "answers": {
                    a: x.model_copy(update={"found": dict.fromkeys(x.found, 0) if x.found else None})
                    for a, x in check.answers.items()
                }
            }
        )
        for name, check in tree.checks.items()
    }
    with pytest.raises(TreeFaultError) as error:
        rows_of(tree.model_copy(update={"checks": empty}))
    assert str(error.value) == (
        "The tree 'leaks' has no counts, so nothing can be said about its causes. "
        "Write under 'found:' how many of 100 machines with this complaint have each cause."
    )


def test_a_loop_is_refused_by_name(kettle):
    tree = kettle.trees["leaks"]
    look = tree.checks["flex-look"]
    back = look.answers["sound"].model_copy(update={"found": None, "next": "where"})
    looped = tree.model_copy(
        update={
            "checks": tree.checks
            | {"flex-look": look.model_copy(update={"answers": look.answers | {"sound": back}})}
        }
    )
    with pytest.raises(TreeFaultError, match=r"The tree 'leaks' leads in a loop: check 'where' comes back"):
        rows_of(looped)


def test_a_long_way_of_hundreds_of_answers_neither_underflows_nor_overflows(kettle):
    """Twelve hundred answers multiply to far less than the smallest float."""
    tree = kettle.trees["no-heat"]
    lamp = tree.checks["lamp"]
    on = lamp.answers["yes"]
    checks = {f"lamp{n}": lamp.model_copy(update={"answers": lamp.answers | {
        "no": lamp.answers["no"], "yes": on.model_copy(update={"next": f"lamp{n + 1}" if n < 1199 else "hum"})}})
        for n in range(1200)}  # fmt: skip
    long = replace(kettle, trees={"no-heat": tree.model_copy(update={"checks": tree.checks | checks})})
    told = Evidence(("no-heat",), {}, {("no-heat", name): "no" for name in checks})
    belief = BeliefModel.of(long, ["no-heat"]).given(told)
    assert sum(belief.behind("no-heat").values()) == pytest.approx(1)
    assert belief.log_chance < -700
    told = Evidence(("no-heat",), {}, {("no-heat", name): "yes" for name in checks})
    belief = BeliefModel.of(long, ["no-heat"]).given(told)
    assert sum(belief.behind("no-heat").values()) == pytest.approx(1)


def test_the_order_in_which_things_were_told_changes_no_bit(kettle):
    answers = {("no-heat", "lamp"): "no", ("no-heat", "fuse"): "yes", ("no-heat", "flex"): "sound"}
    model = BeliefModel.of(kettle, ["no-heat"])
    forward = model.given(Evidence(("no-heat",), {}, answers)).behind("no-heat")
    backward = BeliefModel.of(kettle, ["no-heat"]).given(
        Evidence(("no-heat",), {}, dict(reversed(answers.items())))
    )
    assert forward == backward.behind("no-heat")


def test_numpy_and_networkx_are_not_needed_for_the_first_question():
    """A belief, its ranking and the next check, over three complaints of the bundled library."""
    import subprocess
    import sys

    code = """
import sys
from diagtree.library.loading import load_library
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.shortest import next_check
library = load_library()
complaints = tuple(library.trees)[:3]
belief = BeliefModel.of(library, complaints).given(Evidence(complaints))
assert belief.ranking_all() and belief.present and next_check(belief) is not None
print([name for name in ('numpy', 'networkx') if name in sys.modules])
"""
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"
