"""Two kinds of one system: an answer tells which one the machine has, and no plan fills the other."""

from dataclasses import replace

import pytest

from diagtree.model.tree import Check, Trust
from diagtree.model.workshop import Workshop
from diagtree.reasoning.evidence import Evidence
from diagtree.work.fluids import FluidsMustNotMeetError
from diagtree.work.kinds import are_rivals, of_the_other_kind
from diagtree.work.work import work_out


@pytest.fixture
def circuit(mill):
    """A weak mill whose circuit holds amber fluid or green oil; a check tells which."""
    library = mill(
        {"weak": {"air-amber": "4", "air-green": "4", "worn": "2"}},
        causes={
            "air-amber": {"remedies": ["fill-amber"]},
            "air-green": {"remedies": ["fill-green"]},
            "worn": {"remedies": ["new-stone"]},
        },
        remedies={
            "fill-amber": {"fluids": [{"fluid": "amber", "into": "amber-circuit", "amount": "20"}]},
            "fill-green": {"jobs": ["fill-green"]},
            "new-stone": {},
        },
        jobs={"fill-green": {"fluids": [{"fluid": "green", "into": "green-circuit", "amount": "20"}]}},
        fluids={
            "amber": {"title": "Amber fluid", "kind": "fluid"},
            "green": {"title": "Green oil", "kind": "oil", "never-with": ["amber"]},
        },
        systems={
            "amber-circuit": {"title": "Amber circuit", "takes": ["amber"], "read": "Read the cap."},
            "green-circuit": {"title": "Green circuit", "takes": ["green"], "read": "Read the cap."},
        },
    )
    tree = library.trees["weak"]
    check = Check.model_validate(
        {
            "ask": "What does the cap say?",
            "minutes": "1",
            "trust": "sure",
            "shows": {"mill/air-amber": "amber", "mill/air-green": "green"},
            "answers": {
                "amber": {"says": "Amber fluid", "next": "look"},
                "green": {"says": "Green oil", "next": "look"},
                "none": {"says": "It has no circuit", "next": "look"},
            },
        }
    )
    tree = tree.model_copy(update={"first": "cap", "checks": {"cap": check, **tree.checks}})
    return replace(library, trees={"weak": tree})


def said(library, answer):
    return Evidence(("weak",), {}, {("weak", "cap"): answer})


def test_the_answer_for_one_kind_rules_the_other_out(circuit):
    assert list(of_the_other_kind(circuit, said(circuit, "green"))) == ["mill/amber-circuit"]
    assert list(of_the_other_kind(circuit, said(circuit, "amber"))) == ["mill/green-circuit"]
    assert of_the_other_kind(circuit, said(circuit, "green"))["mill/amber-circuit"].says == "Green oil"


def test_nothing_is_ruled_out_by_what_speaks_for_neither_or_is_not_told(circuit):
    assert not of_the_other_kind(circuit, said(circuit, "none"))
    assert not of_the_other_kind(circuit, Evidence(("weak",)))


def test_an_answer_that_may_mislead_rules_nothing_out(circuit):
    tree = circuit.trees["weak"]
    check = tree.checks["cap"].model_copy(update={"trust": Trust.FAIR})
    tree = tree.model_copy(update={"checks": {**tree.checks, "cap": check}})
    assert not of_the_other_kind(replace(circuit, trees={"weak": tree}), said(circuit, "green"))


def test_systems_are_rivals_only_if_their_fluids_must_never_meet(circuit):
    assert are_rivals(circuit, "mill/amber-circuit", "mill/green-circuit")
    assert not are_rivals(circuit, "mill/amber-circuit", "mill/amber-circuit")
    friendly = {name: fluid.model_copy(update={"never_with": ()}) for name, fluid in circuit.fluids.items()}
    assert not are_rivals(replace(circuit, fluids=friendly), "mill/amber-circuit", "mill/green-circuit")


@pytest.mark.parametrize("overrule", [False, True])
def test_a_wish_or_a_choice_for_the_kind_that_the_machine_has_not_is_refused(circuit, believed, overrule):
    belief, evidence = believed(circuit, ["weak"], answers={("weak", "cap"): "green"})
    chosen = (
        {"overrule": {"mill/air-green": "mill/fill-amber"}} if overrule else {"wishes": ["mill/fill-amber"]}
    )
    plain = work_out(circuit, belief, evidence, Workshop(), overrule={"mill/air-green": "leave"}, draws=100)
    assert not plain.fluids
    leave = {"mill/air-green": "leave", "mill/worn": "leave"}
    with pytest.raises(FluidsMustNotMeetError) as caught:
        work_out(circuit, belief, evidence, Workshop(), draws=100, **{"overrule": leave, **chosen})
    assert str(caught.value) == (
        "'Fill amber' would put Amber fluid into Amber circuit. But 'What does the cap say?' was answered: Green oil. "
        "Read the cap. Take this work off the plan, or that answer back. "
        "If the machine has both kinds, make a sheet for each."
    )


def test_the_same_wish_is_planned_where_nobody_could_tell(circuit, believed):
    belief, evidence = believed(circuit, ["weak"])
    work = work_out(
        circuit, belief, evidence, Workshop(), wishes=["mill/fill-amber"],
        overrule={"mill/air-green": "leave", "mill/worn": "leave"}, draws=100,
    )  # fmt: skip
    assert [line.title for line in work.fluids] == ["Amber fluid"]
