"""What is entered while the work is done: findings, ticks, torques, what was agreed, the hand-over."""

from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.errors import UnknownNameError
from diagtree.model.family import Torque
from diagtree.reasoning.belief import ImpossibleEvidenceError


def test_what_was_found_with_the_machine_open_counts_and_a_contradiction_is_refused(kettle):
    log = MemoryLog()
    walked = Walker(kettle, log, complaints=["slow-boil"])
    walked.found_out("kettle/scale", False)
    assert walked.belief.behind("slow-boil")["kettle/scale"] == 0
    for cause in ("kettle/lid-loose", "kettle/switch-worn"):
        walked.found_out(cause, False)
    before = len(log.records)
    with pytest.raises(ImpossibleEvidenceError):
        walked.found_out("kettle/element-open", False)
    assert len(log.records) == before
    walked.found_out("kettle/scale", None)
    assert walked.belief.behind("slow-boil")["kettle/scale"] > 0


def test_work_is_ticked_off_and_torques_are_entered(kettle):
    walked = Walker(kettle, MemoryLog(), complaints=["no-heat"])
    walked.tick("kettle/swap-fuse")
    walked.tick("kettle/base-off")
    walked.tick("kettle/base-off", done=False)
    assert list(walked.case.jobs_done) == ["kettle/swap-fuse"]
    assert walked.outside_range("kettle/base-screw", Decimal("1.2")) is None
    assert (
        walked.outside_range("kettle/base-screw", Decimal("2"))
        == "2 N·m is over the range, 1.0 to 1.4 N·m. Is that right?"
    )
    walked.tighten("kettle/base-screw", Decimal("1.2"))
    assert walked.case.torques["kettle/base-screw"].value == "1.2"
    with pytest.raises(UnknownNameError):
        walked.tick("kettle/swap-fuze")
    walked.overrule("kettle/element", "kettle/descale", "customer wants it so")
    assert walked.case.overruled["kettle/element"].reason == "customer wants it so"
    walked.overrule("kettle/element", "")
    assert not walked.case.overruled
    walked.hand_over("Kim", {"no-heat": "kettle/fuse-blown"})
    assert walked.case.handed_over.confirmed == {"no-heat": "kettle/fuse-blown"}


def test_the_workshop_s_own_range_comes_before_the_catalogue_s(kettle):
    walked = Walker(kettle, MemoryLog(), complaints=["no-heat"])
    own = Torque(from_=Decimal(8), to=Decimal(10))
    assert walked.outside_range("kettle/element-nut", Decimal(9), own) is None
    assert (
        walked.outside_range("kettle/element-nut", Decimal("4.9713"), own)
        == "4.97 N·m is under the range, 8 to 10 N·m. Is that right?"
    )


def test_a_finding_that_the_library_knows_no_more_is_taken_back_and_no_other_is_entered(kettle):
    log = MemoryLog()
    Walker(kettle, log, complaints=["leaks"]).found_out("kettle/scale", True)
    causes = {name: cause for name, cause in kettle.causes.items() if name != "kettle/scale"}
    walked = Walker(replace(kettle, causes=causes), log)
    with pytest.raises(UnknownNameError):
        walked.found_out("kettle/scale", False)
    walked.found_out("kettle/scale", None)
    assert not walked.case.found
    with pytest.raises(UnknownNameError):
        walked.found_out("kettle/scale", None)
