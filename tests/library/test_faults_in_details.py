"""A fault in a detail or in the bands of a reading: it is told, and costs the detail only."""

import pytest

from diagtree.model.reading import Measured, Reading


def told(library):
    return [str(problem) for problem in library.problems]


BAND_FAULTS = {
    "a gap": (
        "from: 90", "from: 95",
        ("slow-boil.yaml:26:39: checks > heat > answers > full > from: Between 90 and 95 there is no answer: "
        "a gap after 'low'. Begin it where that one ends: from: 90."),
    ),
    "an overlap": (
        "from: 90", "from: 85",
        ("slow-boil.yaml:26:39: checks > heat > answers > full > from: This band overlaps the one of 'low'. "
        "Begin it where that one ends: from: 90."),
    ),
    "no lower end": (
        "below: 90", "from: 10, below: 90",
        ("slow-boil.yaml:25:45: checks > heat > answers > low > from: No answer covers a value under 10. "
        "Take this 'from:' out, or add an answer."),
    ),
    "no upper end": (
        "from: 90", "from: 90, below: 100",
        ("slow-boil.yaml:26:50: checks > heat > answers > full > below: No answer covers a value of 100 or more. "
        "Take this 'below:' out, or add an answer."),
    ),
    "an unknown reading": (
        "water-temperature", "water-temp",
        ("slow-boil.yaml:22:14: checks > heat > reading: There is no reading 'kettle/water-temp'. "
        "Did you mean 'water-temperature'?"),
    ),
    "no band at all": (
        "{says: Well under boiling, below: 90,", "{says: Well under boiling,",
        "slow-boil.yaml:20:3: checks > heat: Each answer to a reading needs 'from:', 'below:' or both.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", BAND_FAULTS)
def test_the_bands_of_a_reading_neither_overlap_nor_leave_a_gap(changed, what):
    old, new, fault = BAND_FAULTS[what]
    library = changed(("slow-boil.yaml", old, new))
    assert told(library) == [fault]
    assert "slow-boil" not in library.trees


def test_a_band_may_begin_where_the_reading_does(changed):
    library = changed(("slow-boil.yaml", "below: 90", "from: 0, below: 90"))
    assert told(library) == []


def test_a_reading_of_a_plugin_is_known(changed):
    reading = Reading("kettle/hotness", "Hotness", "K", "300 K", lambda text: Measured(300, text), "invented")
    library = changed(("slow-boil.yaml", "water-temperature", "hotness"), readings=[reading])
    assert told(library) == []


DETAILS = {
    "a condition that is not there": (
        "catalogue.yaml", "more-likely: {water: {hard: 4}}", "more-likely: {watr: {hard: 4}}",
        ("catalogue.yaml:16:19: causes > scale > more-likely > watr: There is no condition 'watr'. "
        "Did you mean 'water'?"),
    ),
    "a state that is not there": (
        "catalogue.yaml", "more-likely: {water: {hard: 4}}", "more-likely: {water: {hart: 4}}",
        ("catalogue.yaml:16:27: causes > scale > more-likely > water > hart: "
        "There is no state 'hart' of condition 'water'. Did you mean 'hard'?"),
    ),
    "a worked case that cannot be": (
        "no-heat.yaml", "{lamp: yes, hum: no}", "{lamp: yep, hum: no}",
        ("no-heat.yaml:48:40: cases > 2 > answers > lamp: There is no answer 'yep' to that check. "
        "Did you mean 'yes'?"),
    ),
    "a worked case of a check that is not there": (
        "no-heat.yaml", "{lamp: yes, hum: no}", "{lamp: yes, humm: no}",
        ("no-heat.yaml:48:45: cases > 2 > answers > humm: There is no check 'humm' in this tree. "
        "Did you mean 'hum'?"),
    ),
    "a worked case that expects an unknown cause": (
        "no-heat.yaml", "expect: element-open", "expect: element-opn",
        ("no-heat.yaml:48:63: cases > 2 > expect: There is no cause 'kettle/element-opn'. "
        "Did you mean 'element-open'?"),
    ),
    "a worked case with an unknown look": (
        "no-heat.yaml", "hum: no}, expect", "hum: no}, looks: {lim: limed}, expect",
        "no-heat.yaml:48:63: cases > 2 > looks > lim: There is no quick look 'lim'. Did you mean 'lime'?",
    ),
    "a worked case with an unknown answer to a look": (
        "no-heat.yaml", "hum: no}, expect", "hum: no}, looks: {lime: lime}, expect",
        ("no-heat.yaml:48:69: cases > 2 > looks > lime: There is no answer 'lime' to the quick look 'lime'. "
        "Did you mean 'limed'?"),
    ),
    "one fact with two sets of answers": (
        "leaks.yaml", "sound: {says", "whole: {says",
        ("leaks.yaml:16:11: checks > flex-look > fact: The answers to fact 'flex-looks' are not those in "
        "no-heat.yaml:36: hurt, sound. Use the same names, or another fact."),
    ),
    "a state that no condition of the look has": (
        "conditions.yaml", "soft: 90", "sooft: 90",
        ("conditions.yaml:21:36: looks > lime > answers > clean > shows > sooft: "
        "There is no state 'sooft' of condition 'water'. Did you mean 'soft'?"),
    ),
    "a fastener without its family": (
        "conditions.yaml", "kettle/base-screw", "base-screw",
        ("conditions.yaml:31:110: final-checks > boil > fasteners > 1: There is no fastener 'base-screw'. "
        "Did you mean 'kettle/base-screw'?"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", DETAILS)
def test_a_fault_in_a_detail_costs_the_detail_only(changed, what):
    *change, fault = DETAILS[what]
    library = changed(tuple(change))
    assert told(library) == [fault]
    assert (len(library.trees), len(library.causes), len(library.looks)) == (3, 7, 2)


def test_the_detail_with_the_fault_is_gone(changed):
    library = changed(("no-heat.yaml", "{lamp: no, other-socket: no, fuse: no}", "{lamp: maybe}"))
    assert [case.title for case in library.trees["no-heat"].cases] == ["Burnt out"]
    library = changed(("leaks.yaml", "sound: {says", "whole: {says"))
    assert library.trees["leaks"].checks["flex-look"].fact is None
    assert library.trees["no-heat"].checks["flex"].fact == "flex-looks"


def test_states_that_are_not_a_hundred_take_their_quick_look_along(changed):
    library = changed(("conditions.yaml", "soft water, out-of-100: 60", "soft water, out-of-100: 50"))
    assert told(library) == [
        "conditions.yaml:5:3: conditions > water: The states add up to 90, not to 100.",
        "conditions.yaml:19:16: The quick look 'lime' is left out: it needs the condition 'water', which has a fault.",
    ]
    assert list(library.looks) == ["handle"]
    assert library.causes["kettle/scale"].more_likely == {}
    assert len(library.trees) == 3
