"""Thread designations and geometry: ISO 724, ISO 261, ISO 6696 and the usual inch threads."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.mechanics.threads import COARSE, Thread, ThreadError, parse

# ISO 724 and ISO 898-1: pitch, stress area mm2.
STRESS_AREAS = {"M4": (0.7, 8.78), "M5": (0.8, 14.18), "M6": (1.0, 20.12), "M8": (1.25, 36.61),
                "M10": (1.5, 57.99), "M12": (1.75, 84.27)}  # fmt: skip


@pytest.mark.parametrize("written", STRESS_AREAS)
def test_stress_areas_are_those_of_iso_898_1(written):
    pitch, area = STRESS_AREAS[written]
    assert parse(written).pitch == pitch
    assert parse(written).stress_area == pytest.approx(area, abs=0.006)


def test_diameters_follow_iso_724():
    m10 = parse("M10")
    assert m10.pitch_diameter == pytest.approx(10 - 0.649519 * 1.5, abs=1e-5)
    assert m10.root_diameter == pytest.approx(10 - 1.226869 * 1.5, abs=1e-5)
    assert m10.minor_diameter == pytest.approx(10 - 1.082532 * 1.5, abs=1e-5)


@pytest.mark.parametrize(
    ("text", "diameter", "pitch"),
    [
        ("M5x0.8", 5, 0.8),
        ("m5 × 0,8", 5, 0.8),
        ("M5", 5, 0.8),
        ("M8x0.75", 8, 0.75),
        ("M6 x 1 mm", 6, 1),
        ("9/16 in x 20 tpi", 14.2875, 1.27),
        ('9/16" x 20', 14.2875, 1.27),
        ("1.375 x 24", 34.925, 25.4 / 24),
        ("1.375 in x 24 tpi", 34.925, 25.4 / 24),
        ("1 in x 24", 25.4, 25.4 / 24),
        ("1 1/8 in x 26 tpi", 28.575, 25.4 / 26),
        ("36 mm x 24 tpi", 36, 25.4 / 24),
    ],
)
def test_designations_are_read_as_they_are_written(text, diameter, pitch):
    thread = parse(text)
    assert (thread.diameter, thread.pitch) == pytest.approx((diameter, pitch), abs=1e-9)
    assert parse(thread.written) == thread


def test_the_pitch_of_a_1_375_by_24_thread_is_that_of_iso_6696():
    assert parse("1.375 x 24").pitch == pytest.approx(1.0583, abs=5e-5)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "'' is not a thread. Write it like 'M5x0.8', '9/16 in x 20 tpi' or '1.375 x 24'."),
        ("5x0.8", "'5x0.8' is not a thread."),
        ("none", "'none' is not a thread."),
        ("9" * 5000 + "/2 in x 20 tpi", f"'{'9' * 60}' is not a thread."),
        ("M5x8", "'M5x8' cannot be: 5 mm with a pitch of 8 mm."),
        ("M9", "M9 has no coarse pitch here. Write it with its pitch: M9x1."),
        ("M0x0", "'M0x0' cannot be: 0 mm with a pitch of 0 mm."),
        ("9/0 in x 20 tpi", "'9/0' divides by nothing."),
        ("9/16 in x 0 tpi", "'9/16 in x 0 tpi' is not a thread."),
    ],
)
def test_what_is_no_thread_is_told_with_what_to_write(text, says):
    with pytest.raises(ThreadError) as caught:
        parse(text)
    assert str(caught.value).startswith(says)


@settings(max_examples=60)
@given(st.sampled_from(sorted(COARSE)), st.sampled_from([0.35, 0.5, 0.75, 1.0, 1.25, 1.5]))
def test_a_metric_thread_is_read_back_from_what_is_written(diameter, pitch):
    if pitch <= diameter / 2:
        thread = parse(f"M{diameter:g}x{pitch:g}")
        assert (thread.diameter, thread.pitch) == (diameter, pitch)
        assert parse(thread.written) == thread


@settings(max_examples=60)
@given(st.floats(3, 30), st.floats(0.3, 1.5), st.floats(1.01, 1.3))
def test_a_thicker_or_finer_thread_is_stronger(diameter, pitch, more):
    thread = Thread(diameter, pitch, "")
    assert Thread(diameter * more, pitch, "").stress_area > thread.stress_area
    assert Thread(diameter, pitch / more, "").stress_area > thread.stress_area
    assert thread.root_diameter < thread.minor_diameter < thread.pitch_diameter < thread.diameter
    assert thread.stress_area < math.pi / 4 * diameter**2


@settings(max_examples=150)
@given(st.text(max_size=30))
def test_any_text_is_a_thread_or_refused(text):
    refused = None
    try:
        parse(text)
    except ThreadError as error:
        refused = error
    assert refused is None or refused.mend
