"""Outside checks of load torque, inertia, emergency stops and disc temperature."""

import math

import pint
import pytest
import scipy.constants
from scipy.integrate import quad

from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.torque import (
    STANDARD_GRAVITY_M_S2,
    StopCase,
    closed_form_stop,
    integrated_stop,
    load_torque_nm,
    reflected_inertia_kgm2,
    stop_case,
    stopping_distance_mm,
)
from widgets.brake.torque.braking import torque_at_gap_nm
from widgets.brake.torque.heat import mean_power_w, temperature_rise_k

SIZES = {size.name: size for size in load_sheet().sizes}

SPEED_350 = 350 * 2 * math.pi / 60
BLOCK = 7200 * math.pi / 4 * 0.2 / 8  # disc of 1 m by 0.2 m, kg·m²: m D² / 8
# A solid disc stopped from 350 rev/min in 1.5 s, nothing pulling on it.
FLYWHEEL = StopCase(BLOCK, 0.0, 3454.36154, SPEED_350, 0.0, 0.0, 1.0)
# 2500 kg lowered at 1.5 m/s on a drum of radius 0.75 m, mass 50 kg, radius of
# gyration 0.7 m, stopped in 0.5 m. The book takes g = 9.81 m/s².
WINCH = StopCase(50 * 0.7**2 + 2500 * 0.75**2, 2500 * 9.81 * 0.75, 22686.0, 2.0, 0.0, 0.0, 0.75)
LOWERING = StopCase(0.05, 20.0, 40.0, 150.0, 0.0, 0.0, 1e-3)
HOISTING = StopCase(0.05, 20.0, 40.0, -150.0, 0.0, 0.0, 1e-3)

# (what, ours, published, tolerance, source)
BOOK_ROWS = [
    (
        "standard gravity, m/s²",
        STANDARD_GRAVITY_M_S2,
        scipy.constants.g,
        0,
        "ISO 80000-3 by scipy.constants.g",
    ),
    (
        "load torque of 1000 kg at 8 m/min and 1450 rev/min, N·m",
        load_torque_nm(1000, 8, 1450),
        8.61118,
        1e-5,
        "definition, worked by hand: 1000 × 9.80665 × 0.1333 / 151.84",
    ),
    (
        "reflected inertia of the same, kg·m²",
        reflected_inertia_kgm2(1000, 8, 1450),
        0.000771053,
        1e-9,
        "definition, worked by hand: 1000 (0.1333 / 151.84)²",
    ),
    (
        "energy to stop the flywheel, J",
        closed_form_stop(FLYWHEEL).energy_j,
        94956.722333,
        0.01,
        "Bhandari Ex. 12.1, result read in FOSSEE companion 764",
    ),
    (
        "time in which 3454.36 N·m stop the flywheel, s",
        closed_form_stop(FLYWHEEL).time_s,
        1.5,
        1e-8,
        "Bhandari Ex. 12.1, FOSSEE companion 764",
    ),
    (
        "energy to stop the winch, J",
        closed_form_stop(WINCH).energy_j,
        15124.0,
        1e-6,
        "Bhandari Ex. 12.3, FOSSEE companion 764",
    ),
    (
        "way in which 22 686 N·m stop the winch, mm",
        closed_form_stop(WINCH).travel_mm,
        500.0,
        1e-6,
        "Bhandari Ex. 12.3, FOSSEE companion 764",
    ),
    (
        "energy to stop the winch, integrated, J",
        integrated_stop(WINCH)[0].energy_j,
        15124.0,
        1e-3,  # relative tolerance 1e-9 of the integration, with a margin
        "Bhandari Ex. 12.3, FOSSEE companion 764",
    ),
    (
        "energy to stop the flywheel, integrated, J",
        integrated_stop(FLYWHEEL)[0].energy_j,
        94956.722333,
        0.01,
        "Bhandari Ex. 12.1, FOSSEE companion 764",
    ),
    (
        "slip time, J 0.05, ω 150, 40 against 20 N·m, lowering, s",
        closed_form_stop(LOWERING).slip_time_s,
        0.375,
        1e-12,
        "VDI 2241 form J ω / (M_B − M_L), by hand",
    ),
    (
        "slip time of the same, hoisting, s",
        closed_form_stop(HOISTING).slip_time_s,
        0.125,
        1e-12,
        "VDI 2241 form J ω / (M_B + M_L), by hand",
    ),
    (
        "friction energy, lowering, J",
        closed_form_stop(LOWERING).energy_j,
        1125.0,
        1e-9,
        "VDI 2241 form, by hand: 562.5 × 40 / 20",
    ),
    (
        "friction energy, hoisting, J",
        closed_form_stop(HOISTING).energy_j,
        375.0,
        1e-9,
        "VDI 2241 form, by hand: 562.5 × 40 / 60",
    ),
    (
        "temperature rise of 0.25 kg of steel by 1 kJ, K",
        temperature_rise_k(1000, 0.25),
        8.333,
        0.001,
        "definition of specific heat, 480 J/(kg·K)",
    ),
    (
        "rise of a 1.20 kg plate by half of 1.13 kJ, K",
        temperature_rise_k(1130, 1.20, share=0.5),
        1.0,
        0.05,
        "DOMAIN B5, independent calculation, printed to 0.1 K",
    ),
    (
        "mean power of 180 stops an hour of 1.13 kJ, W",
        mean_power_w(1130, 180),
        56,
        0.6,
        "DOMAIN B5, independent calculation from 1129 J, printed without decimals",
    ),
]


@pytest.mark.parametrize(("what", "ours", "published", "tolerance", "source"), BOOK_ROWS)
def test_the_hoist_agrees_with_the_books(what, ours, published, tolerance, source):
    """A worked example of a textbook or a definition comes out as printed."""
    assert ours == pytest.approx(published, abs=tolerance), f"{what}: {source}"


def test_units_of_load_torque_and_inertia_agree_with_pint():
    """Kilograms, metres a minute and revolutions a minute give newton metres and kg·m².

    Outside check: the same quantities by the pint units library.
    """
    unit = pint.UnitRegistry()
    load, speed, turning = 2500 * unit.kg, 8 * unit.m / unit.min, 1450 * unit.rpm
    torque = (load * unit.standard_gravity * speed / turning).to("N*m/radian").magnitude
    inertia = (load * (speed / turning) ** 2).to("kg*m**2/radian**2").magnitude

    assert load_torque_nm(2500, 8, 1450) == pytest.approx(torque, rel=1e-12)
    assert reflected_inertia_kgm2(2500, 8, 1450) == pytest.approx(inertia, rel=1e-12)


def test_the_integrated_stop_agrees_with_the_polynomial_of_the_straight_rise():
    """Free run, straight rise and full torque give polynomials that quad adds up.

    Outside check: speed written down by hand for each part, then
    scipy.integrate.quad for way and energy; the ODE is solved to 1e-9.
    """
    inertia, load, brake, start, delay, rise = 0.037, 21.5, 47.0, 151.8, 0.04, 0.03
    at_bite = start + load / inertia * delay
    at_full = at_bite + load / inertia * rise - brake * rise / (2 * inertia)
    slip = at_full * inertia / (brake - load)

    def speed(t):
        if t < delay:
            return start + load / inertia * t
        if t < delay + rise:
            into = t - delay
            return at_bite + load / inertia * into - brake * into**2 / (2 * inertia * rise)
        return at_full - (brake - load) / inertia * (t - delay - rise)

    end = delay + rise + slip
    angle = quad(speed, 0, end, points=[delay, delay + rise], epsabs=1e-12)[0]
    energy = inertia * start**2 / 2 + load * angle
    stop, _ = integrated_stop(StopCase(inertia, load, brake, start, delay, rise, 1e-3))

    assert stop.time_s == pytest.approx(end, rel=1e-7)
    assert stop.travel_mm == pytest.approx(angle, rel=1e-7)
    assert stop.energy_j == pytest.approx(energy, rel=1e-7)
    assert stop.peak_rpm == pytest.approx(
        max(speed(delay + rise * load / brake), speed(delay)) * 30 / math.pi, rel=1e-4
    )


# DOMAIN E3, an independent calculation made before this code. Delays are its
# printed t11, known to half a millisecond, so way, time and speed carry
# d/dt11 × 0.5 ms besides half a printed unit: the tolerances stand in the test.
# size: load torque N·m, reflected inertia kg·m², t11 ms DC and AC; way mm, new
# DC/AC, worn DC/AC; time ms DC/AC; peak rev/min DC/AC; energy J, closed J
TABLE = {
    "Alder-11": (5.43, 0.00049, 21, 201, 24, 95, 35, 126, 291, 645, 1610, 2709, 246, 247),
    "Birch-23": (10.76, 0.00096, 30, 300, 26, 144, 35, 179, 292, 799, 1670, 3304, 512, 512),
    "Cedar-47": (21.53, 0.00193, 37, 364, 29, 176, 40, 223, 316, 919, 1695, 3517, 1129, 1131),
    "Dogwood-85": (38.75, 0.00347, 48, 478, 35, 237, 48, 296, 381, 1171, 1717, 3745, 2467, 2470),
    "Elm-140": (67.81, 0.00759, 55, 559, 56, 372, 83, 495, 486, 1463, 1726, 3796, 5297, 5303),
}


@pytest.mark.parametrize("name", TABLE)
def test_each_hoist_stops_as_the_independent_table_says(name):
    """Way, time, peak speed and energy of the stop from lowering, both ways of switching."""
    size, row = SIZES[name], TABLE[name]
    hoist = size.hoist
    ways, times, peaks = [], [], []
    for gap_mm in (size.gap.setting_mm, size.gap.max_mm):
        for delay_ms in row[2:4]:
            case = stop_case(hoist, torque_at_gap_nm(size, gap_mm), delay_ms)
            stop, _ = integrated_stop(case)
            ways.append(stop.travel_mm)
            times.append(stop.time_s * 1000)
            peaks.append(stop.peak_rpm)
    new = stop_case(hoist, torque_at_gap_nm(size, size.gap.setting_mm), row[2])

    gearing = (hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm)
    assert load_torque_nm(*gearing) == pytest.approx(row[0], abs=0.0051)
    assert reflected_inertia_kgm2(*gearing) == pytest.approx(row[1], abs=0.0000051)
    assert ways[0::2] == pytest.approx([row[4], row[6]], abs=0.7)  # up to 0.4 mm/ms
    assert ways[1::2] == pytest.approx([row[5], row[7]], abs=1.1)  # up to 1.2 mm/ms
    assert times[:2] == pytest.approx(row[8:10], abs=1.6)  # up to 2.2 ms/ms
    assert peaks[:2] == pytest.approx(row[10:12], abs=3.5)  # up to 6 rev/min per ms
    assert integrated_stop(new)[0].energy_j == pytest.approx(row[12], rel=0.005)
    assert closed_form_stop(new).energy_j == pytest.approx(row[13], rel=0.005)


@pytest.mark.parametrize("name", TABLE)
def test_closed_form_and_integrated_way_agree_within_a_fifth_of_a_millimetre(name):
    """DOMAIN B4: they agree within 0.2 mm on all the invented hoists."""
    size, row = SIZES[name], TABLE[name]
    for gap_mm in (size.gap.setting_mm, size.gap.max_mm):
        for delay_ms in row[2:4]:
            torque_nm = torque_at_gap_nm(size, gap_mm)
            case = stop_case(size.hoist, torque_nm, delay_ms)
            closed, (integrated, _) = closed_form_stop(case), integrated_stop(case)

            assert closed.travel_mm == pytest.approx(integrated.travel_mm, abs=0.2)
            assert closed.peak_rpm == pytest.approx(integrated.peak_rpm, abs=1.0)
            assert stopping_distance_mm(size.hoist, torque_nm, delay_ms) == pytest.approx(
                closed.travel_mm
            )


# DOMAIN C3, Q7 and Q8, Cedar-47 at its setting gap. The delay is printed to a
# millisecond, which is within the tolerances given there.
def test_the_worked_hoist_stops_as_in_the_golden_numbers():
    """28.7 mm in 316 ms with 1129 J on the DC side; 175.8 mm and 3517 rev/min on the AC side."""
    cedar = SIZES["Cedar-47"]
    torque_nm = torque_at_gap_nm(cedar, 0.30)
    dc, _ = integrated_stop(stop_case(cedar.hoist, torque_nm, 37))
    ac, _ = integrated_stop(stop_case(cedar.hoist, torque_nm, 364))

    assert dc.travel_mm == pytest.approx(28.7, abs=0.1)
    assert dc.time_s == pytest.approx(0.316, abs=0.001)
    assert dc.energy_j == pytest.approx(1129, abs=3)
    assert ac.travel_mm == pytest.approx(175.8, abs=0.5)
    assert ac.peak_rpm == pytest.approx(3517, abs=5)


def test_an_oiled_brake_lets_the_load_gain_2190_rev_per_min_every_second():
    """DOMAIN B4: Cedar-47 oiled, 229 rad/s²; printed to three digits."""
    cedar = SIZES["Cedar-47"]
    stop, _ = integrated_stop(
        stop_case(cedar.hoist, torque_at_gap_nm(cedar, 0.30, friction=0.10), 37)
    )

    assert not stop.held
    assert stop.runaway_rpm_per_s == pytest.approx(2190, abs=5)
    assert stop.runaway_rpm_per_s * math.pi / 30 == pytest.approx(229, abs=0.5)


def test_a_glazed_and_worn_brake_needs_four_times_the_way():
    """DOMAIN B4: ratios 2.19, 1.77 and 1.23 give 29, 40 and 116 mm, printed without decimals.

    At 1.23 the way follows 1/(ratio − 1), so half a millisecond is 0.3 mm.
    """
    cedar = SIZES["Cedar-47"]
    torques = [
        torque_at_gap_nm(cedar, 0.30),
        torque_at_gap_nm(cedar, 0.80),
        torque_at_gap_nm(cedar, 0.80, friction=0.25),
    ]

    assert stopping_distance_mm(cedar.hoist, torques, 37) == pytest.approx([29, 40, 116], abs=0.8)
