"""Outside checks: the plane through gap readings, against published arithmetic and libraries."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from widgets.brake.gap.levelling import (
    change_for_turn_mm,
    levelling_changes_mm,
    levelling_turns,
    turn_for_change_deg,
)
from widgets.brake.gap.profile import GapField, Plane, fit_plane, fit_planes, plane_of_screws
from widgets.brake.gap.reversal import part_that_turns_with_the_disc

# Worked example, calculated apart from this code: middle invented size, gauging circle 152 mm,
# screw circle 170 mm, M10 screws (1.5 mm, ISO 261), target 0.30 mm. Five places are printed.
ANGLES = np.arange(0, 360, 45.0)
READINGS = np.array([0.69, 0.68, 0.63, 0.56, 0.52, 0.53, 0.58, 0.65])
RATIO = 152 / 170
PLANE = (0.60500, 0.0849264, 0.0231066)
CHANGES_MM = (-0.39998, -0.27989, -0.23513)
TURNS_DEG = (-96.00, -67.17, -56.43)
PRINTED_MM = 1e-5


def design(angles_deg: np.ndarray) -> np.ndarray:
    angles = np.radians(angles_deg)
    return np.column_stack([np.ones_like(angles), np.cos(angles), np.sin(angles)])


def test_the_worked_example_has_its_plane():
    """Mean 0.60500, tilt 0.08801 mm toward 15.22 degrees."""
    plane = fit_plane(ANGLES, READINGS).plane

    assert (plane.mean_mm, plane.cos_mm, plane.sin_mm) == pytest.approx(PLANE, abs=1e-7)
    assert plane.tilt_mm == pytest.approx(0.08801, abs=PRINTED_MM)
    assert plane.widest_deg == pytest.approx(15.22, abs=0.005)


def test_the_worked_example_has_its_residual():
    """Root mean square with n - 3: 0.00169 mm."""
    fit = fit_plane(ANGLES, READINGS)
    rms_mm = math.sqrt(float(np.sum(fit.residuals_mm**2)) / fit.degrees_of_freedom)

    assert rms_mm == pytest.approx(0.00169, abs=PRINTED_MM)


def test_the_worked_example_has_its_three_turns():
    """0.400, 0.280 and 0.235 mm in: 96.00, 67.17 and 56.43 degrees."""
    turns = levelling_turns(Plane(*PLANE), 0.30, RATIO, 1.5)

    assert [turn.change_mm for turn in turns] == pytest.approx(CHANGES_MM, abs=PRINTED_MM)
    assert [turn.turn_deg for turn in turns] == pytest.approx(TURNS_DEG, abs=0.006)
    assert [turn.screw for turn in turns] == [1, 2, 3]
    assert all(" in (" in turn.words for turn in turns)


def test_after_the_three_turns_only_the_residual_is_left():
    """The worked example ends between 0.2981 and 0.3019 mm."""
    plane = fit_plane(ANGLES, READINGS).plane
    moved = plane_of_screws(levelling_changes_mm(plane, 0.30, RATIO), RATIO)
    after = [mm + moved.at_mm(angle) for mm, angle in zip(READINGS, ANGLES, strict=True)]

    assert min(after) == pytest.approx(0.2981, abs=5e-5)
    assert max(after) == pytest.approx(0.3019, abs=5e-5)


@pytest.mark.parametrize(
    "angles", [ANGLES, np.array([0, 50, 130, 200, 310.0]), np.arange(6) * 60.0]
)
def test_the_plane_agrees_with_numpy_and_statsmodels(angles):
    """numpy.linalg.lstsq, and statsmodels OLS with its covariance for a known scatter."""
    sm = pytest.importorskip("statsmodels.api")
    readings = 0.6 + 0.07 * np.cos(np.radians(angles - 40)) + 0.01 * np.sin(7 * angles)
    u_mm = 0.0086
    fit = fit_plane(angles, readings, u_mm)
    solved = np.linalg.lstsq(design(angles), readings, rcond=None)[0]
    ols = sm.OLS(readings, design(angles)).fit()
    ours = [fit.plane.mean_mm, fit.plane.cos_mm, fit.plane.sin_mm]

    assert ours == pytest.approx(solved, abs=1e-12)
    assert ours == pytest.approx(ols.params, abs=1e-12)
    assert fit.residuals_mm == pytest.approx(ols.resid, abs=1e-12)
    assert fit.covariance_mm2 == pytest.approx(ols.normalized_cov_params * u_mm**2, abs=1e-15)


@pytest.mark.parametrize("n", [3, 4, 6, 8, 12])
def test_equal_places_give_the_textbook_uncertainties(n):
    """u(mean) = s/sqrt(n), u(cos) = u(sin) = s sqrt(2/n): harmonic analysis at equal steps."""
    fit = fit_plane(np.arange(n) * 360 / n, np.full(n, 0.5), 0.01)
    found = np.sqrt(np.diag(fit.covariance_mm2))

    assert found == pytest.approx([0.01 / n**0.5, *[0.01 * (2 / n) ** 0.5] * 2], rel=1e-9)


@pytest.mark.parametrize("n", [5, 8, 12])
def test_the_chance_of_residuals_agrees_with_scipy(n):
    """scipy.stats.chi2.sf of the same sum of squares."""
    angles = np.arange(n) * 360 / n
    readings = 0.5 + 0.02 * np.cos(2 * np.radians(angles))
    fit = fit_plane(angles, readings, 0.01)
    chi2 = float(np.sum((readings - 0.5) ** 2)) / 0.01**2

    assert fit.residual_p == pytest.approx(stats.chi2.sf(chi2, n - 3), rel=1e-9)


def test_a_two_lobed_warp_shows_no_tilt_and_is_all_residual():
    """0.55 + 0.06 cos 2(x - 30) mm at 45 degree steps: spread 0.1039 mm of a true 0.12 mm."""
    field = GapField(Plane(0.55), warp_mm=0.06, warp_deg=30)
    fit = fit_plane(ANGLES, [field.at_mm(angle) for angle in ANGLES])

    assert fit.spread_mm == pytest.approx(0.1039, abs=5e-5)
    assert fit.plane.tilt_mm == pytest.approx(0, abs=1e-12)
    assert fit.residual_spread_mm == pytest.approx(fit.spread_mm)
    assert fit.two_lobed_mm == pytest.approx(0.06)


def test_one_screw_off_moves_mean_and_tilt():
    """One screw out by 0.20 mm: mean 0.067 mm more, tilt 0.119 mm, 0.24 mm from widest to narrowest."""
    plane = plane_of_screws((0.20, 0.0, 0.0), RATIO)

    assert plane.mean_mm == pytest.approx(0.067, abs=5e-4)
    assert plane.tilt_mm == pytest.approx(0.119, abs=5e-4)
    assert plane.widest_deg == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("pitch_mm", "flat_mm", "tenth_deg"),
    [(1.25, 0.208, 28.8), (1.5, 0.250, 24.0), (1.75, 0.292, 20.6)],
)
def test_a_flat_of_the_hexagon_is_a_sixth_of_the_pitch(pitch_mm, flat_mm, tenth_deg):
    """ISO 261 pitches of M8, M10, M12; 60 degrees, and the turn for 0.10 mm."""
    assert change_for_turn_mm(60, pitch_mm) == pytest.approx(flat_mm, abs=5e-4)
    assert turn_for_change_deg(0.10, pitch_mm) == pytest.approx(tenth_deg, abs=0.05)


def test_turning_the_shaft_by_half_tells_body_from_disc():
    """Reversal of length metrology: body 0.05 mm at 0, disc 0.03 mm at 90 degrees are got back."""
    body, disc = part_that_turns_with_the_disc(Plane(0.5, 0.05, 0.03), Plane(0.5, 0.05, -0.03))

    assert (body.mean_mm, body.cos_mm, body.sin_mm) == pytest.approx((0.5, 0.05, 0.0))
    assert (disc.mean_mm, disc.cos_mm, disc.sin_mm) == pytest.approx((0.0, 0.0, 0.03))


MM = st.floats(-2, 2)


@given(st.tuples(MM, MM, MM), st.floats(0.2, 3))
def test_the_plane_passes_over_the_three_screws(heights, ratio):
    """Linear algebra: a plane a + bx + cy through three points, solved by numpy, not by our formula."""
    screws = np.radians([0, 120, 240])
    solved = np.linalg.solve(
        np.column_stack([np.ones(3), np.cos(screws), np.sin(screws)]), np.array(heights)
    )
    plane = plane_of_screws(heights, ratio)
    wanted = (solved[0], solved[1] * ratio, solved[2] * ratio)

    assert (plane.mean_mm, plane.cos_mm, plane.sin_mm) == pytest.approx(wanted, abs=1e-9)


def test_many_brakes_at_once_agree_with_statsmodels_one_by_one():
    """fit_planes on a block of brakes against OLS on each."""
    sm = pytest.importorskip("statsmodels.api")
    block = 0.5 + 0.1 * np.random.default_rng(1).random((4, 5, 8))
    found = fit_planes(ANGLES, block)

    assert found.shape == (4, 5, 3)
    for index in np.ndindex(4, 5):
        assert found[index] == pytest.approx(sm.OLS(block[index], design(ANGLES)).fit().params)
