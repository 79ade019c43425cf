"""A case of the kettle with all that a paper can tell, made by hand so that each figure is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

import pytest

from diagtree.library.library import Library
from diagtree.model.family import Hand, Risk, Verdict
from diagtree.model.workshop import Brief, Workshop, Wrench
from diagtree.sheets.facts import Agreed, Asked, CaseFacts, Found, HandedOver, Tightened, Told
from diagtree.sheets.paper import Kind, Paper, paper_for
from diagtree.work.result import (
    Advice,
    AdviceKind,
    AllowanceItem,
    Bill,
    Ceiling,
    Estimate,
    FinalLine,
    FluidLine,
    LeftAlone,
    Option,
    PartLine,
    PartVerdict,
    PlannedJob,
    Stage,
    TorqueLine,
    Work,
)

D = Decimal


@dataclass(frozen=True)
class Guessed:
    """A belief with known figures."""

    picture: Mapping[str, Mapping[str, float]]
    present: Mapping[str, float]
    causes: Mapping[str, Mapping[str, float]]

    def behind(self, symptom: str) -> Mapping[str, float]:
        return self.causes[symptom]


@dataclass(frozen=True)
class Sample:
    """Everything that a paper is made from."""

    library: Library
    facts: CaseFacts
    belief: Guessed
    work: Work
    workshop: Workshop

    def paper(self, kind: Kind | str) -> Paper:
        return paper_for(kind, self.library, self.facts, self.belief, self.work, self.workshop)


BELIEF = Guessed(
    picture={"water": {"soft": 0.21, "hard": 0.79}, "use": {"light": 0.44, "heavy": 0.56}},
    present={"kettle/element-open": 0.71, "kettle/scale": 0.55, "kettle/seal-perished": 0.06},
    causes={
        "no-heat": {
            "kettle/element-open": 0.71,
            "kettle/scale": 0.16,
            "kettle/switch-worn": 0.1,
            "kettle/flex-damaged": 0.02,
            "kettle/fuse-blown": 0.01,
        }
    },
)

OPTION = Option("kettle/new-element", "Fit a new element", Verdict.REPLACE, 0.98, D("22"), D("23.1"), 14.2)

PLAN = (
    PlannedJob(
        1, "kettle/base-off", "Take the base off", Stage.OPEN, (D(1), D(2), D(4)), 2.17,
        ("kettle/new-element",), ("Fit a new element",), tools=("screwdriver",),
        fasteners=("kettle/base-screw",), basis="invented",
    ),
    PlannedJob(
        2, "kettle/swap-element", "Swap the element", Stage.WORK, (D(5), D(8), D(15)), 8.67,
        ("kettle/new-element",), ("Fit a new element",), how=("Undo the nut to the right.", "Lift it out."),
        fasteners=("kettle/element-nut",), caution=("The edge is sharp.",), basis="invented",
    ),
    PlannedJob(
        3, "kettle/base-on", "Put the base back", Stage.CLOSE, (D(1), D(2), D(4)), 2.17,
        ("kettle/new-element",), ("Fit a new element",), fasteners=("kettle/base-screw",), basis="invented",
    ),
)  # fmt: skip

WORK = Work(
    brief=Brief.SERVICE,
    verdicts=(
        PartVerdict(
            "kettle/element", "Heating element", "kettle/element-open", "Element burnt out", 0.71, Risk.DAMAGE,
            Verdict.REPLACE, "kettle/new-element", "Fit a new element",
            "Replace: it holds 98 times in 100, for 22.00 EUR.", (OPTION,), ("no-heat",),
            caution=("Pull the plug first.",), verify=("Fill it and let it boil twice.",), basis="invented",
        ),
        PartVerdict(
            "kettle/switch", "Switch", "kettle/switch-worn", "Switch contacts worn", 0.1, Risk.DAMAGE,
            Verdict.CLEAN, "kettle/clean-contacts", "Clean the contacts", "Cleaning is cheap.", (), ("no-heat",),
            planned=False, refer="A qualified electrician tests it.",
        ),
    ),
    left_alone=(LeftAlone("kettle/flex", "Flex and plug", 0.02, "The fuse and the flex were seen to be sound."),),
    plan=PLAN,
    final_checks=(
        FinalLine("boil", "Boil once", ("Fill it.", "See that it switches off."), D(3), ("kettle/base-screw",)),
    ),
    torque_round=(
        TorqueLine(
            "kettle/element-nut", "Element nut", 1, "M12x1", Hand.LEFT, "anticlockwise (left-hand thread)", "below",
            D(4), D(6), D(5), "35–53 lbf·in", None, "dry and clean", None, None, "common practice",
            touched_by=("Swap the element",), wrench="Small wrench",
            warnings=("No wrench here measures to the left.",),
            ceiling=Ceiling(11.3, "the thread in 6061-T6 strips", "VDI 2230"),
        ),
        TorqueLine(
            "kettle/base-screw", "Base screw", 3, "M4x0.7", Hand.RIGHT, "clockwise", None, D("1.0"), D("1.4"),
            D("1.2"), "8.9–12.4 lbf·in", None, "dry and clean", None, "in turns", "invented", safety=True,
            touched_by=("Put the base back",),
        ),
        TorqueLine(
            "kettle/lid-pin", "Lid pin", 1, "none", Hand.RIGHT, "", None, None, None, None, "",
            "the play is just gone", "a drop of oil", "Light oil", None, "from memory", safety=True, if_fitted=True,
        ),
    ),
    fluids=(
        FluidLine(
            "kettle/vinegar", "Vinegar", "cleaner", "kettle/vessel", "The vessel", ("Vinegar",), "Look inside.",
            D(500), never_with=("Bleach",), attacks=("marble",), used_for=("Soak with vinegar",), basis="invented",
        ),
    ),
    parts=(PartLine("kettle/element", "Heating element", D(1), D("9.50"), D("9.50"), "invented"),),
    tools=("screwdriver",),
    estimate=Estimate(
        "EUR", Bill(D("16.00"), D("9.50"), D("2.00"), D("5.50"), D("0.00"), D("33.00")), D(80), D("39.90"),
        D("6.90"), (AllowanceItem("switch contacts", "kettle/switch-worn", 0.1, "1 in 10", D("5.20")),
        AllowanceItem("the spread of the minutes", None, None, "", D("1.70"))), 16.0, 18.4, 22.0,
        unpriced=("Descaler",), draws=20000, seed=1, basis="invented",
    ),
    advice=(
        Advice(AdviceKind.SAFETY, "kettle/seal-perished", "Seal perished", "Body", 0.06, "1 in 17", Risk.UNSAFE,
               "Look at the seal before it is used: water on live parts kills."),
        Advice(AdviceKind.OFFER, "kettle/scale", "Scale on the element", "Heating element", 0.55, "1 in 2",
               Risk.NUISANCE, "The water here is hard: descale it.", D("10.00")),
    ),
    cautions=("Mains voltage kills. Pull the plug before you open it.", "Pull the plug first."),
    stops=("Do not plug it in again. Tell the owner.",),
    verify=("Fill it and let it boil twice.",),
    next_due=(("Heating element", "in three months"),),
)  # fmt: skip

FACTS = CaseFacts(
    complaints=("no-heat",),
    label="the blue one",
    opened="2026-03-04T09:12:00+00:00",
    updated="2026-03-04T10:30:00+00:00",
    asked=(
        Asked("", "Is there lime around the spout?", "Limed"),
        Asked("The water stays cold", "Does the lamp come on?", "Comes on"),
        Asked("The water stays cold", "Does it hum after a minute?", "", Told.CANNOT_TELL),
        Asked("The water stays cold", "Is the flex hurt anywhere?", "The fuse says it already.", Told.SKIPPED),
    ),
    notes=("Smells burnt.",),
    wishes=("a new lid",),
    found=(Found("kettle/element-open", True, "a black spot"),),
    jobs_done=(("kettle/base-off", "2026-03-04T09:50:00+00:00"), ("kettle/swap-element", "2026-03-04T10:02:00+00:00")),
    torques=(("kettle/element-nut", Tightened(D("5.0"), "by feel to the left")),),
    agreed=Agreed(D("39.90"), D("45.00"), "2026-03-04T09:30:00+00:00"),
    handed_over=HandedOver("A. Mechanic", "2026-03-04T10:30:00+00:00", (("no-heat", "kettle/element-open"),)),
)  # fmt: skip


@pytest.fixture
def sample(kettle: Library) -> Sample:
    workshop = Workshop(wrenches=(Wrench.model_validate({"title": "Small wrench", "from": "2", "to": "24"}),))
    return Sample(kettle, FACTS, BELIEF, WORK, workshop)
