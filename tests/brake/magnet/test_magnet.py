"""Facts about the magnet: pull, release, drop-out, holding, sticking."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from widgets.brake.magnet import (
    ampere_turns,
    dropout_voltage_v,
    flux_density_for_force_t,
    flux_density_t,
    holding_margin,
    inductance_h,
    largest_releasing_gap_mm,
    pull_n,
    release_voltage_v,
    residual_flux_density_t,
    sticking_residual_gap_mm,
    sticks,
    tilt_pull_factor,
)
from widgets.brake.magnet.coil import coil_ampere_turns, coil_power_w, release_voltage_at_v
from widgets.brake.sizes.sheet import INVENTED, load_sheet
from widgets.brake.sizes.size import Magnet

SIZES = {size.name: size for size in load_sheet(INVENTED).sizes}
CEDAR = SIZES["Cedar-47"]


def springs_n(size):
    """Force of all springs of a size as a function of the gap, straight from DOMAIN B2."""
    springs, setting_mm = size.springs, size.gap.setting_mm
    return lambda gap_mm: (
        springs.count * (springs.force_each_n - springs.rate_each_n_per_mm * (gap_mm - setting_mm))
    )


def release_share(size, gap_mm, temperature_c=20.0):
    force_n = springs_n(size)(gap_mm)
    volts = release_voltage_v(gap_mm, force_n, size.magnet, size.coil, temperature_c)
    return volts / size.coil.voltage_v


sizes = st.sampled_from(sorted(SIZES)).map(SIZES.get)
gaps_mm = st.floats(min_value=0.0, max_value=1.6)
drives_a = st.floats(min_value=1.0, max_value=4000.0)
temperatures_c = st.floats(min_value=-20.0, max_value=150.0)

# Table E2 of DOMAIN.md, from an independent calculation of its section B (regression values):
# % of U_N to release at g_n 20 °C, g_max 20 °C, g_max 100 °C; drop-out %; closed flux density T;
# holding margin at half voltage; L at g_n H; residual gap to stick mm; then the largest releasing
# gap at 0.90, 0.85, 0.80 U_N 100 °C, 0.90 U_N 120 °C and 1.00 U_N 100 °C.
E2 = {
    "Alder-11": (
        *(38.0, 61.6, 81.0, 17.5, 1.35, 3.3, 2.3, 0.025),
        (0.73, 0.65, 0.59, 0.65, 0.89),
    ),
    "Birch-23": (
        *(37.8, 61.5, 80.8, 16.4, 1.35, 3.5, 46.2, 0.031),
        (0.84, 0.76, 0.69, 0.76, 1.02),
    ),
    "Cedar-47": (
        *(35.6, 61.7, 81.1, 16.7, 1.34, 3.3, 133.3, 0.037),
        (0.96, 0.87, 0.78, 0.87, 1.17),
    ),
    "Dogwood-85": (
        *(37.5, 61.7, 81.1, 16.2, 1.35, 3.3, 162.6, 0.043),
        (1.14, 1.03, 0.93, 1.03, 1.39),
    ),
    "Elm-140": (
        *(34.7, 61.7, 81.1, 15.9, 1.35, 3.4, 114.8, 0.052),
        (1.32, 1.19, 1.07, 1.19, 1.61),
    ),
}


@pytest.mark.parametrize("name", SIZES)
def test_each_size_releases_holds_and_lets_go_as_calculated(name):
    """The invented sizes are consistent as DOMAIN E2 says, to the digits printed there."""
    size = SIZES[name]
    magnet, coil, closed_n = size.magnet, size.coil, springs_n(size)(0.0)
    at_setting, at_max, at_max_hot, drop, closed_t, margin, henry, sticking_mm, _ = E2[name]

    assert 100 * release_share(size, size.gap.setting_mm) == pytest.approx(at_setting, abs=0.06)
    assert 100 * release_share(size, size.gap.max_mm) == pytest.approx(at_max, abs=0.06)
    assert 100 * release_share(size, size.gap.max_mm, 100.0) == pytest.approx(at_max_hot, abs=0.06)
    drop_v = dropout_voltage_v(closed_n, magnet, coil)
    assert 100 * drop_v / coil.voltage_v == pytest.approx(drop, abs=0.06)
    # 0.01 T: Cedar is printed 1.34 where 1.345 rounds either way.
    assert flux_density_t(0.0, coil_ampere_turns(coil), magnet) == pytest.approx(closed_t, abs=0.01)
    half_v = coil.voltage_v / 2
    assert holding_margin(half_v, closed_n, magnet, coil) == pytest.approx(margin, abs=0.06)
    assert inductance_h(size.gap.setting_mm, magnet, coil) == pytest.approx(henry, abs=0.06)
    assert sticking_residual_gap_mm(closed_n, magnet) == pytest.approx(sticking_mm, abs=0.0006)


@pytest.mark.parametrize("name", SIZES)
def test_each_size_gives_up_at_the_gap_calculated(name):
    """Largest releasing gap at five combinations of supply and coil (DOMAIN E2, C3 Q4)."""
    size = SIZES[name]
    corners = [(0.90, 100), (0.85, 100), (0.80, 100), (0.90, 120), (1.00, 100)]

    found = [
        largest_releasing_gap_mm(
            springs_n(size), size.magnet, size.coil, share * size.coil.voltage_v, at_c
        )
        for share, at_c in corners
    ]

    assert found == pytest.approx(E2[name][-1], abs=0.006)
    assert found[0] > 1.15 * size.gap.max_mm  # margin at the limit ...
    assert found[2] < size.gap.max_mm  # ... and none left at 0.80


def test_golden_release_shares_of_cedar():
    """0.356, 0.617 and 0.811 of U_N; drop-out 0.167 (DOMAIN C3 Q3, Q5)."""
    assert release_share(CEDAR, 0.30) == pytest.approx(0.356, abs=0.002)
    assert release_share(CEDAR, 0.80) == pytest.approx(0.617, abs=0.002)
    assert release_share(CEDAR, 0.80, 100.0) == pytest.approx(0.811, abs=0.002)
    assert dropout_voltage_v(1202.4, CEDAR.magnet, CEDAR.coil) / 180 == pytest.approx(
        0.167, abs=0.002
    )


@given(size=sizes, gap_mm=gaps_mm, wider_mm=gaps_mm, drive_a=drives_a)
def test_pull_falls_as_the_gap_opens(size, gap_mm, wider_mm, drive_a):
    """A wider gap never pulls harder (DOMAIN C3 Q14)."""
    assume(wider_mm > gap_mm + 1e-6)

    assert pull_n(wider_mm, drive_a, size.magnet) < pull_n(gap_mm, drive_a, size.magnet)


@given(size=sizes, gap_mm=gaps_mm, drive_a=drives_a, more=st.floats(1.001, 2.0))
def test_pull_grows_with_current_but_never_past_saturation(size, gap_mm, drive_a, more):
    """More current pulls harder, and the leaking iron caps the flux at B_sat/λ."""
    magnet = size.magnet
    cap_t = magnet.saturation_t / magnet.leakage_factor

    weak, strong = (flux_density_t(gap_mm, a, magnet) for a in (drive_a, more * drive_a))

    assert weak < strong < cap_t


@given(size=sizes, low=st.floats(0.0, 1.49), step=st.floats(1e-4, 0.5), at_c=temperatures_c)
def test_release_voltage_rises_with_the_gap_up_to_half_past_the_limit(size, low, step, at_c):
    """Within 1.5 times the gap limit the wider gap needs more volts, weaker springs or not."""
    high = min(low + step, 1.5)

    narrow, wide = (release_share(size, share * size.gap.max_mm, at_c) for share in (low, high))

    assert narrow < wide


@given(size=sizes, gap_mm=gaps_mm, at_c=temperatures_c, test_c=temperatures_c)
def test_release_voltage_goes_as_the_resistance(size, gap_mm, at_c, test_c):
    """A test at one coil temperature is carried to another by Ohm's law alone."""
    measured = release_share(size, gap_mm, test_c)

    assert release_share(size, gap_mm, at_c) == pytest.approx(
        release_voltage_at_v(measured, test_c, at_c), rel=1e-12
    )


@given(size=sizes, gap_mm=gaps_mm, at_c=temperatures_c)
def test_at_the_release_voltage_pull_equals_springs(size, gap_mm, at_c):
    """The definition: on the point of lifting, the two forces are equal."""
    force_n = springs_n(size)(gap_mm)
    volts = release_voltage_v(gap_mm, force_n, size.magnet, size.coil, at_c)

    drive_a = coil_ampere_turns(size.coil, volts, at_c)

    assert pull_n(gap_mm, drive_a, size.magnet) == pytest.approx(force_n, rel=1e-10)


@given(size=sizes, share=st.floats(0.05, 1.5))
def test_a_plate_that_starts_snaps_shut(size, share):
    """With the current that lifts it the pull beats the springs all the way home."""
    start_mm = share * size.gap.max_mm
    force_of_gap_n = springs_n(size)
    drive_a = ampere_turns(
        flux_density_for_force_t(force_of_gap_n(start_mm), size.magnet), start_mm, size.magnet
    )
    way_mm = np.linspace(0.0, start_mm, 200, endpoint=False)

    assert np.all(pull_n(way_mm, drive_a, size.magnet) > force_of_gap_n(way_mm))


@given(size=sizes, gap_mm=gaps_mm, share=st.floats(0.1, 1.0))
def test_shorted_turns_hide_from_the_release_test_and_show_in_the_heat(size, gap_mm, share):
    """Turns and resistance fall alike: same release voltage, more watts (0.8 gives 1.25)."""
    force_n, faults = springs_n(size)(gap_mm), {"resistance_factor": share, "turns_factor": share}

    sound = release_voltage_v(gap_mm, force_n, size.magnet, size.coil)
    shorted = release_voltage_v(gap_mm, force_n, size.magnet, size.coil, **faults)
    hotter = coil_power_w(size.coil, resistance_factor=share) / coil_power_w(size.coil)

    assert shorted == pytest.approx(sound, rel=1e-12)
    assert hotter == pytest.approx(1 / share, rel=1e-12)


@given(size=sizes, gap_mm=gaps_mm, drive_a=drives_a)
def test_flux_density_and_ampere_turns_are_inverse(size, gap_mm, drive_a):
    """There and back through the magnet is where one began."""
    density_t = flux_density_t(gap_mm, drive_a, size.magnet)

    assert ampere_turns(density_t, gap_mm, size.magnet) == pytest.approx(drive_a, rel=1e-9)


@given(
    gap_mm=gaps_mm,
    drive_a=drives_a,
    magnet=st.builds(
        Magnet,
        pole_area_cm2=st.floats(5, 300),
        residual_gap_mm=st.floats(0.005, 0.5),
        iron_path_mm=st.floats(20, 600),
        relative_permeability=st.floats(50, 20000),
        saturation_t=st.floats(0.5, 2.4),
        leakage_factor=st.floats(1.0, 2.0),
    ),
)
def test_the_closed_form_solves_the_law_of_magnetomotive_force(gap_mm, drive_a, magnet):
    """Outside check: scipy's brentq on the law as written, sharing no code with the quadratic."""
    mu_0 = 4e-7 * math.pi  # differs from CODATA 2022 by 1.3e-10, far below the tolerance

    def left_over_a(density_t):
        in_iron_t = magnet.leakage_factor * density_t
        field = in_iron_t / (
            mu_0 * magnet.relative_permeability * (1 - in_iron_t / magnet.saturation_t)
        )
        air_m = 2 * (gap_mm + magnet.residual_gap_mm) / 1000
        return density_t / mu_0 * air_m + field * magnet.iron_path_mm / 1000 - drive_a

    top_t = magnet.saturation_t / magnet.leakage_factor * (1 - 1e-12)
    expected_t = brentq(left_over_a, 0.0, top_t, xtol=1e-14)

    assert flux_density_t(gap_mm, drive_a, magnet) == pytest.approx(expected_t, rel=1e-7)


def test_dirt_on_the_poles_eats_the_holding_margin():
    """Cedar-47 at half voltage, 100 °C: 3.3, with 0.1 mm of dirt 2.2, with 0.2 mm 1.5 (DOMAIN B3)."""
    margins = holding_margin(90.0, 1202.4, CEDAR.magnet, CEDAR.coil, dirt_mm=[0.0, 0.1, 0.2])

    assert margins == pytest.approx([3.3, 2.2, 1.5], abs=0.05)


def test_half_the_direct_voltage_releases_a_narrow_gap_only():
    """Fault 23 of DOMAIN D: 90 V instead of 180 releases to 0.56 mm cold, 0.34 mm hot."""
    force_of_gap_n = springs_n(CEDAR)

    cold, hot = (
        largest_releasing_gap_mm(force_of_gap_n, CEDAR.magnet, CEDAR.coil, 90.0, at_c)
        for at_c in (20.0, 100.0)
    )

    assert (cold, hot) == pytest.approx((0.56, 0.34), abs=0.006)


def test_a_missing_wear_plate_needs_more_volts_than_there_are_when_hot():
    """Fault 19 of DOMAIN D: at 2.3 mm the springs push 264 N and it takes 83 % cold, 109 % hot."""
    assert springs_n(CEDAR)(2.3) == pytest.approx(264, abs=0.5)
    assert release_share(CEDAR, 2.3) == pytest.approx(0.83, abs=0.005)
    assert release_share(CEDAR, 2.3, 100.0) == pytest.approx(1.09, abs=0.005)


def test_a_worn_anti_stick_layer_holds_the_plate():
    """Fault 29 of DOMAIN D: 0.02 mm left gives 0.92 T and 4.0 kN against 1.2 kN of springs."""
    worn = replace(CEDAR.magnet, residual_gap_mm=0.02)

    left_t = residual_flux_density_t(worn)

    assert left_t == pytest.approx(0.92, abs=0.005)
    assert left_t**2 * 60e-4 / (4e-7 * math.pi) == pytest.approx(4000, rel=0.02)  # two digits given
    assert sticks(1202.4, worn)
    assert not sticks(1202.4, CEDAR.magnet)


def test_sticking_begins_at_the_residual_gap_named():
    """A hair below that gap it sticks, a hair above it does not."""
    limit_mm = sticking_residual_gap_mm(1202.4, CEDAR.magnet)

    assert sticks(1202.4, replace(CEDAR.magnet, residual_gap_mm=limit_mm * 0.999))
    assert not sticks(1202.4, replace(CEDAR.magnet, residual_gap_mm=limit_mm * 1.001))


def test_the_first_root_is_found_where_weak_springs_make_a_second():
    """At full voltage hot, Cedar fails from 1.17 mm and would pull again far out: 1.17 counts."""
    force_of_gap_n = springs_n(CEDAR)
    drive_a = coil_ampere_turns(CEDAR.coil, 180.0, 100.0)

    first_mm = largest_releasing_gap_mm(force_of_gap_n, CEDAR.magnet, CEDAR.coil)

    assert first_mm == pytest.approx(1.17, abs=0.01)
    assert pull_n(first_mm + 0.1, drive_a, CEDAR.magnet) < force_of_gap_n(first_mm + 0.1)
    assert pull_n(2.9, drive_a, CEDAR.magnet) > force_of_gap_n(2.9)


def test_the_ends_of_the_search_say_what_they_mean():
    """No gap releases at 5 % of the voltage, any gap at full voltage and a cold coil."""
    force_of_gap_n = springs_n(CEDAR)

    assert largest_releasing_gap_mm(force_of_gap_n, CEDAR.magnet, CEDAR.coil, 9.0, 20.0) == 0.0
    assert largest_releasing_gap_mm(force_of_gap_n, CEDAR.magnet, CEDAR.coil, 180.0, 20.0) == (
        math.inf
    )


def test_no_voltage_lifts_more_than_saturated_iron_can():
    """Cedar's poles give 13 kN at 1.65 T; 20 kN is never released."""
    assert release_voltage_v(0.3, 20_000.0, CEDAR.magnet, CEDAR.coil) == math.inf
    some = release_voltage_v(0.3, np.array([1000.0, 20_000.0]), CEDAR.magnet, CEDAR.coil)
    assert np.isfinite(some).tolist() == [True, False]


@given(share=st.floats(0.0, 0.98), gap_mm=st.floats(0.01, 1.5))
def test_tilt_adds_what_averaging_round_the_rim_adds(share, gap_mm):
    """Outside check: scipy's quad over the rim of 1/(g + δ + a cos φ)²."""
    mean_mm = gap_mm + CEDAR.magnet.residual_gap_mm
    tilt_mm = share * gap_mm
    total, _ = quad(lambda at: (mean_mm + tilt_mm * math.cos(at)) ** -2, 0.0, math.pi, limit=200)

    assert tilt_pull_factor(tilt_mm, gap_mm, CEDAR.magnet) == pytest.approx(
        total / math.pi * mean_mm**2, rel=1e-7
    )


@given(size=sizes, drive_a=drives_a)
def test_arrays_give_what_scalars_give(size, drive_a):
    """A thousand gaps at once are a thousand single gaps, in the broadcast shape."""
    gaps = np.linspace(0.0, 1.5, 6)[:, np.newaxis]
    drives = np.array([drive_a, 2 * drive_a])

    pulls = pull_n(gaps, drives, size.magnet)

    assert pulls.shape == (6, 2)
    for (row, column), newtons in np.ndenumerate(pulls):
        single = pull_n(float(gaps[row, 0]), float(drives[column]), size.magnet)
        assert isinstance(single, float)
        assert newtons == pytest.approx(single, rel=1e-13)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda m, c: pull_n(-0.1, 100.0, m), r"gap_mm must be >= 0 mm, got -0\.1"),
        (lambda m, c: pull_n([0.1, math.nan], 100.0, m), r"gap_mm\[1\]"),
        (lambda m, c: flux_density_t(0.1, -1.0, m), "ampere_turns"),
        (lambda m, c: flux_density_for_force_t(-1.0, m), "force_n"),
        (lambda m, c: ampere_turns(-0.1, 0.1, m), "flux_density_t"),
        (lambda m, c: ampere_turns(0.1, [[0.1], [-0.1]], m), r"gap_mm\[1, 0\]"),
        (lambda m, c: release_voltage_v(0.3, 1000.0, m, c, 500.0), "temperature_c"),
        (lambda m, c: release_voltage_v(0.3, 1000.0, m, c, turns_factor=0.0), "turns_factor"),
        (lambda m, c: dropout_voltage_v(-1.0, m, c), "force_n"),
        (lambda m, c: holding_margin(90.0, 0.0, m, c), "force_n must be > 0 N"),
        (lambda m, c: holding_margin(90.0, 1000.0, m, c, dirt_mm=-0.1), "dirt_mm"),
        (lambda m, c: largest_releasing_gap_mm(lambda _: 1.0, m, c, search_to_mm=0.0), "search_to"),
        (lambda m, c: inductance_h(-1.0, m, c), "gap_mm"),
        (lambda m, c: tilt_pull_factor(0.4, 0.3, m), "tilt_mm"),
        (lambda m, c: residual_flux_density_t(m, -1.0), "coercivity_a_per_m"),
        (lambda m, c: sticking_residual_gap_mm(0.0, m), "force_n"),
    ],
)
def test_an_impossible_magnet_is_refused_by_name(call, says):
    """The message names the argument, and the first bad place in an array."""
    with pytest.raises(ValueError, match=says):
        call(CEDAR.magnet, CEDAR.coil)
