"""The quick plane and the hidden truth: equal to the slow way, and to what was laid on."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from quizzes.grading.evidence.plane import findings_of_readings, quick_plane
from quizzes.grading.evidence.truth import true_gap, true_need
from tests import strategies as any_
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.brake.gap.profile import GapField, Plane, fit_plane
from widgets.brake.judgement.rules import Outcome, Reading, conclude, tilt_spread_u_mm
from widgets.brake.judgement.signs import Finding

from .jobs import CEDAR, EIGHT, brake

ANGLES = st.lists(st.integers(0, 35).map(lambda n: 10.0 * n), min_size=3, max_size=12, unique=True)


@given(data=st.data(), angles=ANGLES)
def test_the_quick_plane_is_the_least_squares_plane(data, angles):
    """Outside check: numpy.linalg.lstsq by QR. Equal to 1e-12 mm where the places span the rim."""
    values = [data.draw(st.floats(0.1, 1.5)) for _ in angles]
    design = np.column_stack([np.ones(len(angles)), np.cos(np.radians(angles)),
                              np.sin(np.radians(angles))])  # fmt: skip
    assume(np.linalg.cond(design) < 10)
    found = quick_plane([Reading(a, v, 0.01) for a, v in zip(angles, values, strict=True)])
    slow = np.linalg.lstsq(design, np.array(values), rcond=None)[0]
    left = np.array(values) - design @ slow

    assert [found.mean_mm, found.cos_mm, found.sin_mm] == pytest.approx(slow, abs=1e-12)
    assert found.residual_spread_mm == pytest.approx(left.max() - left.min(), abs=1e-12)


@given(angles=ANGLES)
def test_the_quick_spread_uncertainty_is_that_of_the_rules(angles):
    """Half of the trace of the covariance of both tilt parts, as `rules.tilt_spread_u_mm` has it."""
    design = np.column_stack([np.ones(len(angles)), np.cos(np.radians(angles)),
                              np.sin(np.radians(angles))])  # fmt: skip
    assume(np.linalg.cond(design) < 10)
    fit = fit_plane(angles, [0.5] * len(angles), 0.01)

    assert quick_plane([Reading(a, 0.5, 0.01) for a in angles]).spread_u_mm == pytest.approx(
        tilt_spread_u_mm(fit), rel=1e-9
    )


def test_the_worked_example_of_eight_readings_comes_out():
    """A worked example of the trade's sheet: mean 0.605, tilt 0.088 mm, worked by hand elsewhere."""
    mm = (0.69, 0.68, 0.63, 0.56, 0.52, 0.53, 0.58, 0.65)
    found = quick_plane([Reading(a, v, 0.01) for a, v in zip(EIGHT, mm, strict=True)])

    assert found.mean_mm == pytest.approx(0.60500, abs=1e-9)
    assert (found.cos_mm, found.sin_mm) == pytest.approx((0.0849264, 0.0231066), abs=1e-7)


def test_fewer_than_three_places_make_no_plane():
    """The same place twice is one place."""
    assert quick_plane([Reading(a, 0.5, 0.01) for a in (0.0, 90.0, 360.0)]) is None


@given(
    mean=st.floats(0.2, 1.2),
    tilt=st.floats(0, 0.1),
    warp=st.floats(0, 0.1),
    clamp=st.floats(0, 0.05),
    turn=st.floats(0, 360),
)
def test_the_true_gap_is_what_walking_round_the_rim_finds(mean, tilt, warp, clamp, turn):
    """Outside check: the sum of waves at each degree, one by one."""
    plane = Plane(mean, tilt * math.cos(turn), tilt * math.sin(turn))
    gap = GapField(plane, warp, turn, clamp, ((5, 0.001, turn), (7, 0.0015, 30.0)))
    round_mm = [gap.at_mm(float(angle)) for angle in range(360)]
    found = true_gap(gap)

    assert found.widest_mm == pytest.approx(max(round_mm), abs=1e-12)
    assert found.narrowest_mm == pytest.approx(min(round_mm), abs=1e-12)
    assert found.tilt_spread_mm == pytest.approx(2 * tilt, abs=1e-12)


@given(condition=st.data())
def test_the_true_need_is_what_readings_without_error_say(condition):
    """By the rule of the trade, on 360 readings with next to no uncertainty, unless on a limit."""
    size = condition.draw(any_.SIZES)
    setup = Setup.of(size, condition.draw(any_.conditions(size)), bytes(16))
    state = at_start(setup)
    gap, disc = gap_now(setup, state), state.brake.disc
    found = conclude(
        size,
        [Reading(float(a), gap.at_mm(a), 1e-4) for a in range(360)],
        [Reading(float(a), disc.at_mm(a), 1e-4) for a in range(360)],
    )
    truth = true_gap(gap)
    limits = size.gap
    near = [truth.widest_mm - limits.max_mm, truth.narrowest_mm - limits.min_mm,
            truth.tilt_spread_mm - limits.evenness_mm, truth.left_over_mm - limits.evenness_mm,
            disc.thinnest_mm - size.disc.min_mm]  # fmt: skip
    assume(all(abs(mm) > 0.002 for mm in near))
    # Where the gap closes somewhere, a reading stops at nothing and the plane is not a plane.
    assume(truth.narrowest_mm > 0)

    assert true_need(setup, state) is found.outcome


def readings(mm, u_mm=0.009):
    return [Reading(a, mm, u_mm) for a in EIGHT]


@pytest.mark.parametrize(
    ("gap_mm", "disc_mm", "asked"),
    [
        (0.50, 10.5, set()),
        (0.95, 10.5, {Finding.GAP_LARGE}),
        (0.12, 10.5, {Finding.GAP_SMALL}),
        (0.50, 8.7, {Finding.DISC_WORN}),
        (0.95, 8.7, {Finding.GAP_LARGE, Finding.DISC_WORN}),
    ],
)
def test_readings_ask_for_the_finding_that_they_are(gap_mm, disc_mm, asked):
    """Clear of every limit, or clearly beyond one: Cedar-47 has 0.20 to 0.80 mm and 9.0 mm."""
    found = findings_of_readings(CEDAR, readings(gap_mm), readings(disc_mm, 0.03))

    assert {one for group in found.asked for one in group} == asked


def test_near_a_limit_a_finding_is_allowed_and_not_asked_for():
    """Two careful people may differ within the uncertainty."""
    found = findings_of_readings(CEDAR, readings(0.79), readings(10.5, 0.03))

    assert found.asked == ()
    assert Finding.GAP_LARGE in found.allowed


def test_a_warped_plate_is_to_be_named():
    """Two high and two low places, spread 0.12 mm, evenness 0.08 mm: no screw takes that out."""
    bent = [Reading(a, 0.55 + 0.06 * math.cos(2 * math.radians(a - 20)), 0.009) for a in EIGHT]
    found = findings_of_readings(CEDAR, bent, readings(10.5, 0.03))

    assert frozenset({Finding.WARPED}) in found.asked


def test_a_sound_brake_needs_nothing():
    """The brake that all other tests change."""
    setup = Setup.of(CEDAR, brake(), bytes(16))

    assert true_need(setup, at_start(setup)) is Outcome.FIT
