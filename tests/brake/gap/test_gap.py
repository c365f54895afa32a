"""The gap round the rim: laws of the plane, of levelling and of what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.gap.levelling import (
    ScrewTurn,
    best_setting,
    change_for_turn_mm,
    levelling_changes_mm,
    turn_for_change_deg,
)
from widgets.brake.gap.profile import (
    GapField,
    Plane,
    fit_plane,
    fit_planes,
    plane_of_screws,
    screws_of_plane_mm,
)
from widgets.brake.sizes.design import Design

EIGHT = [45.0 * place for place in range(8)]
MM = st.floats(-3, 3)
PLANES = st.builds(Plane, st.floats(0, 3), MM, MM)
RATIOS = st.floats(0.05, 5)


@pytest.mark.parametrize("part", ["mean_mm", "cos_mm", "sin_mm"])
@pytest.mark.parametrize("wrong", [math.nan, math.inf])
def test_a_plane_is_made_of_numbers(part, wrong):
    """A part that is not a finite number is refused under its own name."""
    with pytest.raises(ValueError, match=part):
        Plane(**({"mean_mm": 0.5, "cos_mm": 0.0, "sin_mm": 0.0} | {part: wrong}))


@given(plane=PLANES, turn_deg=st.floats(0, 360))
def test_turning_the_brake_turns_the_tilt_with_it(plane, turn_deg):
    """Gauged from another zero, mean and tilt stay and the widest place moves along."""
    plane = Plane(plane.mean_mm + 6, plane.cos_mm, plane.sin_mm)
    here = fit_plane(EIGHT, [plane.at_mm(angle) for angle in EIGHT]).plane
    there = fit_plane([angle + turn_deg for angle in EIGHT], here_readings(here)).plane

    assert there.mean_mm == pytest.approx(here.mean_mm, abs=1e-9)
    assert there.tilt_mm == pytest.approx(here.tilt_mm, abs=1e-9)
    assert there.at_mm(turn_deg) == pytest.approx(here.at_mm(0.0), abs=1e-9)


def here_readings(plane: Plane) -> list[float]:
    return [plane.at_mm(angle) for angle in EIGHT]


@given(plane=PLANES, order=st.permutations([0, 1, 2]), ratio=RATIOS)
def test_the_order_of_the_screws_makes_no_difference(plane, order, ratio):
    """Three turns level the gap, whichever is made first."""
    heights = list(screws_of_plane_mm(plane, ratio))
    changes = levelling_changes_mm(plane, 0.3, ratio)
    for screw in order:
        heights[screw] += changes[screw]

    assert near(Plane(0.3)) == parts(plane_of_screws(tuple(heights), ratio))


def near(plane: Plane) -> object:
    return pytest.approx((plane.mean_mm, plane.cos_mm, plane.sin_mm), abs=1e-11)


def parts(plane: Plane) -> tuple[float, float, float]:
    return plane.mean_mm, plane.cos_mm, plane.sin_mm


@given(st.tuples(MM, MM, MM), RATIOS)
def test_screws_to_plane_and_back_is_the_same(heights, ratio):
    """For any radius of gauging."""
    there_and_back = screws_of_plane_mm(plane_of_screws(heights, ratio), ratio)
    assert there_and_back == pytest.approx(heights, abs=1e-11)


@given(PLANES, st.floats(0, 2), RATIOS)
def test_levelling_leaves_the_target_all_the_way_round(plane, target_mm, ratio):
    """The changes, made, take tilt and offset away at every angle."""
    moved = plane_of_screws(levelling_changes_mm(plane, target_mm, ratio), ratio)

    for angle in range(0, 360, 10):
        assert plane.at_mm(angle) + moved.at_mm(angle) == pytest.approx(target_mm, abs=1e-10)


@given(MM, st.floats(0.1, 3))
def test_equal_changes_leave_the_tilt_alone(change_mm, ratio):
    """Three alike move the mean by just as much."""
    plane = plane_of_screws((change_mm, change_mm, change_mm), ratio)

    assert plane.mean_mm == pytest.approx(change_mm)
    assert plane.tilt_mm == pytest.approx(0, abs=1e-12)


@given(PLANES)
def test_the_gap_is_widest_where_the_plane_says(plane):
    """No angle has more, and the opposite one has the least."""
    widest_mm = plane.mean_mm + plane.tilt_mm
    assert plane.at_mm(plane.widest_deg) == pytest.approx(widest_mm, abs=1e-9)
    assert plane.at_mm(plane.widest_deg + 180) == pytest.approx(
        plane.mean_mm - plane.tilt_mm, abs=1e-9
    )
    assert 0 <= plane.widest_deg <= 360


@given(st.floats(-5, 5), st.floats(0.1, 3))
def test_turn_and_change_are_each_others_inverse(change_mm, pitch_mm):
    """A turn for a change makes that change."""
    turn_deg = turn_for_change_deg(change_mm, pitch_mm)
    assert change_for_turn_mm(turn_deg, pitch_mm) == pytest.approx(change_mm, abs=1e-12)


@given(st.builds(Plane, st.floats(1, 3), st.floats(-0.4, 0.4), st.floats(-0.4, 0.4)))
def test_a_plane_gauged_exactly_is_found_again(plane):
    """No scatter, no residual, and a chance of 1 for what is left."""
    fit = fit_plane(EIGHT, [plane.at_mm(angle) for angle in EIGHT])

    assert parts(fit.plane) == near(plane)
    assert fit.residual_spread_mm == pytest.approx(0, abs=1e-12)
    assert fit.residual_p == pytest.approx(1)


@given(st.lists(st.floats(0, 2), min_size=8, max_size=8), st.floats(0, 360))
def test_the_residual_does_not_depend_on_where_zero_is(readings, turn_deg):
    """Turning all angles turns the tilt and leaves mean and residuals."""
    first = fit_plane(EIGHT, readings)
    turned = fit_plane([angle + turn_deg for angle in EIGHT], readings)

    assert turned.residuals_mm == pytest.approx(first.residuals_mm, abs=1e-9)
    assert turned.plane.tilt_mm == pytest.approx(first.plane.tilt_mm, abs=1e-9)


@given(st.lists(st.floats(0, 2), min_size=8, max_size=8))
def test_many_at_once_agree_with_one_by_one(readings):
    """The block form is the single form."""
    fitted = fit_plane(EIGHT, readings).plane
    assert fit_planes(EIGHT, [readings])[0] == pytest.approx(parts(fitted), abs=1e-9)


def test_four_places_do_not_see_a_warp_with_its_crest_between_them():
    """By hand: cos 2(x - 45) is zero at 0, 90, 180 and 270 degrees; eight places see 0.06 mm."""
    field = GapField(Plane(0.5), warp_mm=0.06, warp_deg=45)
    four = [0.0, 90.0, 180.0, 270.0]

    assert fit_plane(four, [field.at_mm(a) for a in four]).spread_mm == pytest.approx(0, abs=1e-9)
    assert fit_plane(EIGHT, [field.at_mm(a) for a in EIGHT]).two_lobed_mm == pytest.approx(0.06)


def test_a_clamp_wave_has_three_lobes_on_the_screws():
    """Crests at 0, 120, 240 degrees, hollows between."""
    field = GapField(Plane(0.5), clamp_wave_mm=0.02)

    assert [field.at_mm(angle) for angle in (0, 120, 240)] == pytest.approx([0.52] * 3)
    assert [field.at_mm(angle) for angle in (60, 180, 300)] == pytest.approx([0.48] * 3)


def test_a_wave_of_the_faces_repeats_with_its_lobes():
    """Five lobes: every 72 degrees the same, half way the opposite."""
    field = GapField(Plane(0.5), texture_mm=((5, 0.01, 0.0),))

    assert field.at_mm(72) == pytest.approx(0.51)
    assert field.at_mm(36) == pytest.approx(0.49)


@given(PLANES, st.floats(0, 720))
def test_metal_does_not_overlap(plane, angle):
    """A gap is never below nothing."""
    assert GapField(plane, warp_mm=0.5).at_mm(angle) >= 0


def test_a_turn_is_said_in_degrees_and_flats():
    """By hand: 67.2 degrees in is 1.1 flats of 60; less than half a degree is left alone."""
    assert ScrewTurn(2, -0.28, -67.2).words == "screw 2: 67° in (1.1 flats)"
    assert ScrewTurn(1, 0.5, 120.0).words == "screw 1: 120° out (2.0 flats)"
    assert "leave" in ScrewTurn(3, 0.0, 0.4).words


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: fit_plane([0, 120], [0.5, 0.5]), "3 different places"),
        (lambda: fit_plane([0, 0, 360, 120], [0.5] * 4), "3 different places or more, got 2"),
        (lambda: fit_plane([0, 120, 240], [0.5, 0.5]), "one length"),
        (lambda: fit_plane([0, 120, 240], [0.5, math.nan, 0.5]), r"readings_mm\[1\]"),
        (lambda: fit_plane([0, 120, math.inf], [0.5] * 3), r"angles_deg\[2\]"),
        (lambda: fit_plane([0, 120, 240], [0.5, 0.5, -0.1]), r"readings_mm\[2\] must be >= 0 mm"),
        (lambda: fit_plane([0, 120, 240], [0.5] * 3, 0.0), "reading_u_mm must be > 0 mm"),
        (lambda: fit_planes([0, 120], [[0.5, 0.5]]), "3 different places"),
        (lambda: fit_planes([0, 120, 240], [[0.5, 0.5]]), "axis of 3 places"),
        (lambda: plane_of_screws((0, 0, 0), 0.0), "radius_ratio must be > 0"),
        (lambda: screws_of_plane_mm(Plane(0.5), -1.0), "radius_ratio must be > 0"),
        (lambda: levelling_changes_mm(Plane(0.5), -0.1, 0.9), "target_mm must be >= 0 mm"),
        (lambda: turn_for_change_deg(0.1, 0.0), "pitch_mm must be > 0 mm"),
        (lambda: turn_for_change_deg(math.nan, 1.5), "change_mm"),
        (lambda: change_for_turn_mm(math.inf, 1.5), "turn_deg"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """Argument, range and the first bad index."""
    with pytest.raises(ValueError, match=words):
        call()


def test_angles_and_readings_are_not_changed():
    """The caller's arrays are left as they are."""
    angles, readings = np.array(EIGHT), np.full(8, 0.5)
    fit_plane(angles, readings)

    assert angles.tolist() == EIGHT
    assert readings.tolist() == [0.5] * 8


# ---- what each design can do about a gap ----


@given(
    found=st.builds(Plane, st.floats(0.3, 1.5), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)),
    ratio=st.floats(0.8, 1.1),
    step_mm=st.floats(0.02, 0.1),
)
def test_only_what_stands_on_three_places_levels_a_tilt(found, ratio, step_mm):
    """Screws take it out; shims to within a step; a ring keeps it; where nothing sets, all stays.

    Geometry: three heights each off by half a step at most tilt the rim by 4/3 of a step at most,
    times gauging radius over screw radius; their mean is off by half a step at most.
    """

    def left(design):
        return best_setting(design, found, 0.3, ratio, step_mm)

    screws, shims, ring = map(left, (Design.HOLLOW_SCREWS, Design.SHIMS, Design.ADJUSTING_RING))

    assert screws.mean_mm == pytest.approx(0.3)
    assert screws.tilt_mm == pytest.approx(0, abs=1e-9)
    assert 2 * shims.tilt_mm <= 4 / 3 * ratio * step_mm + 1e-9
    assert abs(shims.mean_mm - 0.3) <= step_mm / 2 + 1e-9
    assert (ring.cos_mm, ring.sin_mm) == (found.cos_mm, found.sin_mm)
    assert abs(ring.mean_mm - 0.3) <= step_mm / 2 + 1e-9
    assert left(Design.FIXED) == found
