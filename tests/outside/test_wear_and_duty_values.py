"""Outside checks of wear, duty groups, inspection dates and disc temperature over a duty."""

import datetime as dt
import math
from itertools import pairwise

import numpy as np
import pint
import pytest
import scipy.stats
from scipy.integrate import quad
from uncertainties import ufloat

from widgets.brake.judgement.standards import Mark
from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.torque import closed_form_stop, stop_case
from widgets.brake.torque.braking import face_area_mm2, torque_at_gap_nm
from widgets.brake.torque.heat import Cooling, DutyCycle, steady_peak_c
from widgets.brake.wear.duty import (
    DUTY_GROUPS,
    ESTIMATE_FACTOR,
    HOUR_COUNTER_FACTOR,
    LOAD_SPECTRA,
    full_load_hours_used,
    next_inspection,
    rule_of_thumb_days,
    stops_with_confidence,
)
from widgets.brake.wear.growth import (
    adjustments_left,
    energy_per_mm_mj,
    gap_growth_per_stop_mm,
    stops_until,
)

SIZES = {size.name: size for size in load_sheet().sizes}

# DOMAIN E2 and E3, an independent calculation made before this code.
# Tolerances: half a unit of the last digit printed; the delay (ms, DC side) is
# itself printed to a millisecond, which is worth 0.4 % of the energy at most.
# size: t11 ms, growth nm per stop, thousand stops, MJ/mm, adjustments, run mm
WEAR = {
    "Alder-11": (21, 5.59, 63, 44, 4.3, 0.35),
    "Birch-23": (30, 7.56, 53, 68, 4.2, 0.40),
    "Cedar-47": (37, 11.00, 45, 103, 4.0, 0.50),
    "Dogwood-85": (48, 16.19, 34, 152, 4.4, 0.55),
    "Elm-140": (55, 25.50, 27, 208, 4.0, 0.70),
}


@pytest.mark.parametrize("name", WEAR)
def test_each_size_wears_as_the_independent_table_says(name):
    """Growth per stop, stops to the limit, energy per millimetre and adjustments per disc."""
    size, row = SIZES[name], WEAR[name]
    torque_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    energy_j = closed_form_stop(stop_case(size.hoist, torque_nm, row[0])).energy_j
    area = face_area_mm2(size.lining)
    growth = gap_growth_per_stop_mm(energy_j, area)
    run = size.gap.max_mm - size.gap.setting_mm

    assert growth * 1e6 == pytest.approx(row[1], rel=0.005)
    assert stops_until(size.gap.setting_mm, size.gap.max_mm, growth) == pytest.approx(
        1000 * row[2], abs=500 + 0.005 * 1000 * row[2]
    )
    assert energy_per_mm_mj(area) == pytest.approx(row[3], abs=0.51)
    assert adjustments_left(
        size.disc.new_mm, size.disc.min_mm, size.gap.setting_mm, size.gap.max_mm
    ) == pytest.approx(row[4], abs=0.051)
    assert run == pytest.approx(row[5], abs=1e-9)


def test_the_worked_size_has_its_golden_growth_and_stops():
    """Golden Q12: 11.00 nm a stop and 45 400 stops, to 0.5 %."""
    growth = gap_growth_per_stop_mm(1129.0, face_area_mm2(SIZES["Cedar-47"].lining))

    assert growth == pytest.approx(11.00e-6, rel=0.005)
    assert stops_until(0.30, 0.80, growth) == pytest.approx(45_400, rel=0.005)


def test_units_of_wear_agree_with_pint():
    """Joules, square millimetres and mm³ per megajoule give millimetres.

    Outside check: the same quantities by the pint units library.
    """
    unit = pint.UnitRegistry()
    worn = 1129 * unit.J * (100 * unit.mm**3 / unit.MJ) / (102.6 * unit.cm**2)

    assert gap_growth_per_stop_mm(1129.0, 10_260.0) == pytest.approx(
        worn.to("mm").magnitude, rel=1e-12
    )


# DOMAIN B5: Cedar-47 at 0.62 mm, 240 stops a day of 11.00 nm, half of what is
# left. (expanded uncertainty mm, days). The two printed figures were rounded
# in different ways (30.9 up, 27.8 down), hence one day of tolerance.
RULE_ROWS = [(0.017, 31), (0.033, 27)]


@pytest.mark.parametrize(("uncertainty_mm", "days"), RULE_ROWS)
def test_the_rule_of_the_trade_gives_the_printed_days(uncertainty_mm, days):
    """A month with good leaves, less with coarse ones."""
    stops = stops_until(0.62 + uncertainty_mm, 0.80, 11.00e-6)

    assert rule_of_thumb_days(stops, 240) == pytest.approx(days, abs=1.0)


# FEM 9.683 starts per hour and duty %, ISO name (ISO 4301-1). The middle four
# are confirmed in secondary copies; the others are from memory.
GROUP_ROWS = [
    ("1Dm", "M1", 90, 15, Mark.FROM_MEMORY),
    ("1Cm", "M2", 120, 20, Mark.FROM_MEMORY),
    ("1Bm", "M3", 150, 25, Mark.CONFIRMED),
    ("1Am", "M4", 180, 30, Mark.CONFIRMED),
    ("2m", "M5", 240, 40, Mark.CONFIRMED),
    ("3m", "M6", 300, 50, Mark.CONFIRMED),
    ("4m", "M7", 360, 60, Mark.FROM_MEMORY),
]


@pytest.mark.parametrize(("name", "iso", "starts", "duty", "mark"), GROUP_ROWS)
def test_duty_groups_have_their_starts_and_duty(name, iso, starts, duty, mark):
    """Starts per hour and percentage of duty of each group, with how well they are known."""
    group = DUTY_GROUPS[name]

    assert (group.iso_name, group.starts_per_hour, group.duty_percent) == (iso, starts, duty)
    assert group.rates_mark is mark


# FEM 9.755, full-load life in hours: 3m confirmed in a secondary copy, the
# others from memory.
LIFE_ROWS = [("1Bm", 400), ("1Am", 800), ("2m", 1600), ("3m", 3200), ("4m", 6300)]


@pytest.mark.parametrize(("name", "life_h"), LIFE_ROWS)
def test_duty_groups_have_their_full_load_life(name, life_h):
    """Hours at full load, and only one of them marked as confirmed."""
    group = DUTY_GROUPS[name]

    assert group.full_load_life_h == life_h
    assert (group.life_mark is Mark.CONFIRMED) == (name == "3m")


# ISO 4301-1 / FEM 9.511 (from memory): cubic mean load and its printed cube.
# Preferred numbers are rounded, so 0.80³ = 0.512 is printed as 0.5.
SPECTRUM_ROWS = [
    ("light", 0.50, 0.125, 1e-9),
    ("medium", 0.63, 0.250, 1e-3),
    ("heavy", 0.80, 0.512, 0.0121),
    ("very heavy", 1.00, 1.0, 1e-9),
]


@pytest.mark.parametrize(("name", "mean", "cube", "tolerance"), SPECTRUM_ROWS)
def test_the_spectrum_factor_is_the_cube_of_the_mean_load(name, mean, cube, tolerance):
    """Both numbers of a spectrum belong together."""
    spectrum = LOAD_SPECTRA[name]

    assert spectrum.mean_load == mean
    assert spectrum.factor == pytest.approx(cube, abs=tolerance)


def test_hours_are_recorded_with_the_factors_of_the_code():
    """1.1 with an hour counter and 1.2 by estimate (FEM 9.755, from memory, medium).

    By hand: 0.25 × 1000 h × 1.1 = 275 h.
    """
    assert (HOUR_COUNTER_FACTOR, ESTIMATE_FACTOR) == (1.1, 1.2)
    assert full_load_hours_used(
        LOAD_SPECTRA["medium"], 1000.0, recording_factor=HOUR_COUNTER_FACTOR
    ) == pytest.approx(275.0)


LOGNORMAL_ROWS = [(0.10, 0.90), (0.30, 0.95), (0.50, 0.95), (1.00, 0.99)]


@pytest.mark.parametrize(("cv", "confidence"), LOGNORMAL_ROWS)
def test_stops_by_a_known_gap_are_a_lognormal_quantile(cv, confidence):
    """With a gap known exactly, the stops are the room over a quantile of the growth.

    Outside check: scipy.stats.lognorm, with the mean and the coefficient of
    variation asked for; agreement to rounding.
    """
    sigma = math.sqrt(math.log(1 + cv**2))
    growth = scipy.stats.lognorm(sigma, scale=11e-6 * math.exp(-(sigma**2) / 2))
    ours = stops_with_confidence(0.18, 11e-6, cv, confidence=confidence)

    assert growth.mean() == pytest.approx(11e-6)
    assert growth.std() == pytest.approx(cv * 11e-6)
    assert ours == pytest.approx(0.18 / growth.ppf(confidence), rel=1e-9)


FOLDED_ROWS = [(0.5, 0.0086, 0.95), (0.3, 0.09, 0.95), (2.0, 0.05, 0.90), (0.05, 0.02, 0.99)]


@pytest.mark.parametrize(("cv", "u_mm", "confidence"), FOLDED_ROWS)
def test_stops_by_an_uncertain_gap_keep_their_stated_confidence(cv, u_mm, confidence):
    """The chance of being within the limit after those stops is the one stated.

    Outside check: scipy.integrate.quad over the growth of a normal chance, the
    other way round than the code folds them; both are good to 1e-6.
    """
    sigma = math.sqrt(math.log(1 + cv**2))
    growth = scipy.stats.lognorm(sigma, scale=11e-6 * math.exp(-(sigma**2) / 2))
    stops = stops_with_confidence(0.18, 11e-6, cv, gap_u_mm=u_mm, confidence=confidence)
    edges = growth.ppf([1e-9, 0.05, 0.5, 0.95, 1 - 1e-9])
    within = sum(
        quad(lambda d: growth.pdf(d) * scipy.stats.norm.cdf((0.18 - stops * d) / u_mm), low, high)[
            0
        ]
        for low, high in pairwise(edges)
    )

    assert within == pytest.approx(confidence, abs=1e-6)


def test_small_uncertainties_add_up_as_in_the_linear_law_of_propagation():
    """For small spread the stops are the mean less 1.645 standard uncertainties.

    Outside check: the uncertainties package and scipy's normal quantile. The
    linear law leaves out terms of second order, here 0.05 %.
    """
    stops = ufloat(0.18, 0.001) / (11e-6 * ufloat(1, 0.01))
    linear = stops.nominal_value - scipy.stats.norm.ppf(0.95) * stops.std_dev

    assert stops_with_confidence(0.18, 11e-6, 0.01, gap_u_mm=0.001) == pytest.approx(
        linear, rel=5e-4
    )


def test_simulated_brakes_outlast_their_stops_as_often_as_stated():
    """Of 400 000 brakes drawn at random, 95 % are still within the limit.

    Outside check: Monte Carlo (JCGM 101), seed 20; three standard deviations
    of that share are 0.0010.
    """
    draw = np.random.default_rng(20)
    sigma = math.sqrt(math.log(1 + 0.4**2))
    growth = 11e-6 * np.exp(sigma * draw.standard_normal(400_000) - sigma**2 / 2)
    gap = 0.62 + 0.0086 * draw.standard_normal(400_000)
    stops = stops_with_confidence(0.18, 11e-6, 0.4, gap_u_mm=0.0086)

    assert np.mean(gap + stops * growth <= 0.80) == pytest.approx(0.95, abs=0.0010)


def test_the_code_interval_ends_on_the_same_day_of_the_next_year():
    """365 days after 1 March 2026 is 1 March 2027 (calendar)."""
    late = next_inspection(5000.0, dt.date(2026, 3, 1), confidence=0.95)

    assert late.on == dt.date(2027, 3, 1)
    assert not late.by_wear


def test_many_small_stops_warm_the_disc_like_their_mean_power():
    """With very frequent stops the disc tends to ambient plus mean power over conductance.

    Outside check: Newton's law of cooling at steady state, by hand: 50 W over
    2 W/K at 20 °C is 45 °C; half a stop's rise of 0.03 K stays above it.
    """
    cooling = Cooling(500.0, running_w_per_k=2.0, standing_w_per_k=2.0, ambient_c=20.0)
    peak_c = steady_peak_c(50.0, cooling, DutyCycle(3600, 40))

    assert peak_c == pytest.approx(45.0 + 0.05, abs=0.001)
