"""Outside checks of clamping force, effective radius, torque and holding ratio."""

import math

import numpy as np
import pint
import pytest
from scipy.integrate import quad

from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.sizes.size import Lining, Springs
from widgets.brake.torque import load_torque_nm
from widgets.brake.torque.braking import (
    braking_torque_nm,
    face_area_mm2,
    gap_at_torque_mm,
    holding_ratio,
    lining_pressure_n_per_mm2,
    peak_pressure_n_per_mm2,
    torque_at_gap_nm,
)
from widgets.brake.torque.clamping import clamping_force_n, free_gap_mm
from widgets.brake.torque.friction import (
    DRY_FRICTION_RANGE,
    OILED_FRICTION_RANGE,
    SURFACES,
    uniform_pressure_radius_mm,
    uniform_wear_radius_mm,
)

SIZES = {size.name: size for size in load_sheet().sizes}
RINGS_MM = [(30, 48), (38, 60), (47, 74), (57, 90), (68, 106), (0.5, 100), (99, 100)]

# (what, ours, published, tolerance, source)
BOOK_ROWS = [
    (
        "pressure at the inner edge of a worn-in 100/200 mm face under 15 707.963 N, N/mm²",
        peak_pressure_n_per_mm2(15707.963268, Lining(50, 100, 0.2)),
        1.0,
        1e-9,  # the printed force has eleven digits
        "Bhandari, Design of Machine Elements, Ex. 11.1, result read in FOSSEE companion 764",
    ),
    (
        "torque of that face, uniform wear, N·mm",
        1000 * braking_torque_nm(15707.963268, 0.2, uniform_wear_radius_mm(50, 100), faces=1),
        235619.449019,
        1e-4,  # as printed
        "Bhandari Ex. 11.1, FOSSEE companion 764",
    ),
    (
        "mean pressure of that face, N/mm², when the force is that of the next row",
        lining_pressure_n_per_mm2(23561.944902, Lining(50, 100, 0.2)),
        1.0,
        1e-9,
        "Bhandari Ex. 11.2, 1 MPa given, FOSSEE companion 764",
    ),
    (
        "torque of that face, uniform pressure, N·mm",
        1000 * braking_torque_nm(23561.944902, 0.2, uniform_pressure_radius_mm(50, 100), faces=1),
        366519.142919,
        1e-4,
        "Bhandari Ex. 11.2, FOSSEE companion 764",
    ),
    (
        "power of the first face at 750 rev/min, kW",
        braking_torque_nm(15707.963268, 0.2, 75.0, faces=1) * 750 * 2 * math.pi / 60 / 1000,
        18.505508,
        1e-6,
        "Bhandari Ex. 11.1, FOSSEE companion 764",
    ),
    (
        "power of the second face at 750 rev/min, kW",
        braking_torque_nm(23561.944902, 0.2, uniform_pressure_radius_mm(50, 100), faces=1)
        * 750
        * 2
        * math.pi
        / 60
        / 1000,
        28.786346,
        1e-6,
        "Bhandari Ex. 11.2, FOSSEE companion 764",
    ),
    (
        "force that the nine springs still have at the slip of the next row, N",
        clamping_force_n(0.5 + 2.665733, Springs(9, 800, 160), 0.5),
        250_000 / (2 * 0.35 * (175 + 250) / 4),
        1e-3,  # 1e-6 mm of printed wear at 1440 N/mm
        "Bhandari Ex. 11.6: 250 N·m, 0.35, 175/250 mm; inputs read in FOSSEE companion 764",
    ),
    (
        "travel to the free length of those springs, mm",
        free_gap_mm(Springs(9, 800, 160), 0.5) - 0.5,
        5.0,
        1e-12,
        "Bhandari Ex. 11.6: 800 N at 5 mm of compression, FOSSEE companion 764",
    ),
    (
        "largest pressure of a 175/250 mm face under 4 kN, uniform wear, kPa",
        1000 * peak_pressure_n_per_mm2(4000, Lining(87.5, 125, 0.30)),
        194,
        0.5,  # printed without decimals
        "Shigley, ch. 16, clutch problem (from memory, medium)",
    ),
    (
        "torque of that clutch, uniform wear, N·m",
        braking_torque_nm(4000, 0.30, uniform_wear_radius_mm(87.5, 125), faces=1),
        127.5,
        0.05,
        "Shigley, ch. 16, clutch problem (from memory, medium)",
    ),
    (
        "torque of that clutch, uniform pressure, N·m",
        braking_torque_nm(4000, 0.30, uniform_pressure_radius_mm(87.5, 125), faces=1),
        4000 * 0.30 / 3 * (0.250**3 - 0.175**3) / (0.250**2 - 0.175**2),
        1e-9,
        "Shigley, ch. 16, form in diameters F f (D³ − d³) / 3 (D² − d²) (from memory)",
    ),
    (
        "force ratio uniform pressure over uniform wear at equal torque, 250/50 mm",
        uniform_wear_radius_mm(25, 125) / uniform_pressure_radius_mm(25, 125),
        0.871,
        0.0005,
        "GATE ME examination item, answer read on a public page",
    ),
    (
        "effective radius ratio of a 47/74 mm ring",
        uniform_pressure_radius_mm(47, 74) / uniform_wear_radius_mm(47, 74),
        1.016597,
        1e-6,
        "identity, worked by hand from the two textbook forms",
    ),
    (
        "uniform pressure radius of a full disc over its mean radius",
        uniform_pressure_radius_mm(0, 90) / uniform_wear_radius_mm(0, 90),
        4 / 3,
        1e-12,
        "identity: 2/3 r over 1/2 r",
    ),
    (
        "oil-wetted coefficient",
        SURFACES["oiled"].friction,
        sum(OILED_FRICTION_RANGE) / 2,
        1e-12,
        "public engineering table of friction materials, 0.08 to 0.12, confirmed",
    ),
]


@pytest.mark.parametrize(("what", "ours", "published", "tolerance", "source"), BOOK_ROWS)
def test_torque_agrees_with_the_books(what, ours, published, tolerance, source):
    """A worked example of a textbook comes out as printed."""
    assert ours == pytest.approx(published, abs=tolerance), f"{what}: {source}"


def test_the_clutch_of_the_book_slips_after_its_printed_wear():
    """Nine springs, 800 N at 5 mm, hold 250 N·m until 2.665 733 mm have worn off.

    Outside check: Bhandari Ex. 11.6, inputs and result read in FOSSEE companion
    764. The tolerance is one unit of the last digit printed.
    """
    from dataclasses import replace

    clutch = replace(
        SIZES["Cedar-47"],
        lining=Lining(87.5, 125, 0.35),
        springs=Springs(9, 800, 160),
    )

    assert gap_at_torque_mm(clutch, 250.0) - clutch.gap.setting_mm == pytest.approx(
        2.665733, abs=1e-6
    )


def test_friction_that_grows_with_the_radius_adds_up_ring_by_ring():
    """18.85 N·m at 0.5 N/mm² between 20 and 40 mm when the coefficient is r/100 mm.

    Outside check: GATE ME examination item, answer 0.5 MPa read on a public
    page. Thin rings replace the integral, so 2000 of them leave 1e-6; the item
    rounds the torque to four digits.
    """
    edges_mm = np.linspace(20, 40, 2001)
    middle_mm = (edges_mm[1:] + edges_mm[:-1]) / 2
    force_n = 0.5 * math.pi * (edges_mm[1:] ** 2 - edges_mm[:-1] ** 2)
    rings_nm = braking_torque_nm(force_n, 0.01 * middle_mm, middle_mm, faces=1)

    assert rings_nm.sum() == pytest.approx(18.85, abs=0.005)


@pytest.mark.parametrize(("inner_mm", "outer_mm"), RINGS_MM)
def test_both_radii_are_integrals_of_their_pressure(inner_mm, outer_mm):
    """The closed forms come out of integrating the pressure over the ring.

    Outside check: scipy.integrate.quad of p = const and of p·r = const
    (Shigley, ch. 16), sharing no code; quad is good to about 1e-13.
    """
    for radius, pressure in (
        (uniform_wear_radius_mm, lambda r: 1 / r),
        (uniform_pressure_radius_mm, lambda r: 1.0),
    ):
        force, _ = quad(lambda r, p=pressure: p(r) * 2 * math.pi * r, inner_mm, outer_mm)
        moment, _ = quad(lambda r, p=pressure: p(r) * 2 * math.pi * r * r, inner_mm, outer_mm)

        assert radius(inner_mm, outer_mm) == pytest.approx(moment / force, rel=1e-11)


def test_the_peak_pressure_integrates_back_to_the_force():
    """Pressure falling as 1/r from its peak at the inner edge carries the whole force.

    Outside check: scipy.integrate.quad over the ring; agreement to rounding.
    """
    lining = Lining(47, 74, 0.36)
    peak = peak_pressure_n_per_mm2(1080.0, lining)
    force, _ = quad(lambda r: peak * 47 / r * 2 * math.pi * r, 47, 74)

    assert force == pytest.approx(1080.0, rel=1e-12)


def test_units_of_force_torque_and_pressure_agree_with_pint():
    """Newtons and millimetres give newton metres and newtons per square millimetre.

    Outside check: the same quantities by the pint units library.
    """
    unit = pint.UnitRegistry()
    force = 8 * (135 * unit.N - 51 * unit.N / unit.mm * (0.8 - 0.3) * unit.mm)
    torque = (2 * 0.36 * force * 60.5 * unit.mm).to("N*m").magnitude
    area = math.pi * ((7.4 * unit.cm) ** 2 - (4.7 * unit.cm) ** 2)

    assert clamping_force_n(0.8, Springs(8, 135, 51), 0.3) == pytest.approx(force.to("N").magnitude)
    assert torque_at_gap_nm(SIZES["Cedar-47"], 0.8) == pytest.approx(torque)
    assert face_area_mm2(Lining(47, 74, 0.36)) == pytest.approx(area.to("mm**2").magnitude)
    assert lining_pressure_n_per_mm2(876.0, Lining(47, 74, 0.36)) == pytest.approx(
        (force / area).to("MPa").magnitude
    )


# DOMAIN E2 and E3: an independent calculation of the invented sizes, made before
# this code. Tolerance: half a unit of the last digit that the table prints.
# size: force at setting and max gap N, pressure N/mm², torque at both N·m,
# torque loss %, loss per 0.1 mm %
TABLE = {
    "Alder-11": (393, 322, 0.089, 11.04, 9.03, 18.2, 5.2),
    "Birch-23": (651, 541, 0.096, 22.97, 19.07, 17.0, 4.2),
    "Cedar-47": (1080, 876, 0.105, 47.04, 38.16, 18.9, 3.8),
    "Dogwood-85": (1608, 1318, 0.106, 85.10, 69.73, 18.1, 3.3),
    "Elm-140": (2236, 1789, 0.108, 140.09, 112.08, 20.0, 2.9),
}


@pytest.mark.parametrize("name", TABLE)
def test_the_invented_sizes_have_the_forces_and_torques_of_the_independent_table(name):
    """Force, pressure, torque and torque loss agree with the table as far as it is printed."""
    size, row = SIZES[name], TABLE[name]
    setting, largest = size.gap.setting_mm, size.gap.max_mm
    force = clamping_force_n(np.array([setting, largest]), size.springs, setting)
    torque = torque_at_gap_nm(size, np.array([setting, setting + 0.1, largest]))

    assert force == pytest.approx(row[0:2], abs=0.51)
    assert lining_pressure_n_per_mm2(force[0], size.lining) == pytest.approx(row[2], abs=0.0005)
    assert torque[[0, 2]] == pytest.approx(row[3:5], abs=0.0051)
    assert 100 * (1 - torque[2] / torque[0]) == pytest.approx(row[5], abs=0.051)
    assert 100 * (1 - torque[1] / torque[0]) == pytest.approx(row[6], abs=0.051)


# DOMAIN C3, Q1 and Q2, Cedar-47: gap mm, force N (tolerance 0.1), torque N·m (0.02).
GOLDEN = [(0.0, 1202.4, None), (0.30, 1080.0, 47.045), (0.80, 876.0, 38.16), (0.95, None, 35.49)]


@pytest.mark.parametrize(("gap_mm", "force_n", "torque_nm"), GOLDEN)
def test_the_worked_size_has_its_golden_force_and_torque(gap_mm, force_n, torque_nm):
    """Cedar-47 at four gaps, from the independent calculation of DOMAIN C3."""
    cedar = SIZES["Cedar-47"]

    if force_n is not None:
        ours = clamping_force_n(gap_mm, cedar.springs, cedar.gap.setting_mm)
        assert ours == pytest.approx(force_n, abs=0.1)
    if torque_nm is not None:
        assert torque_at_gap_nm(cedar, gap_mm) == pytest.approx(torque_nm, abs=0.02)


# DOMAIN E3, ratio of brake torque to load torque; tolerance half a unit of the
# last digit printed. size: setting, max gap, oiled, one spring broken, glazed
# at setting and at max gap; then the gaps in mm where the ratio is 1.25 and 1.50
RATIOS = {
    "Alder-11": (2.03, 1.66, 0.57, 1.70, 1.41, 1.16, 0.99, 0.76),
    "Birch-23": (2.13, 1.77, 0.59, 1.78, 1.48, 1.23, 1.28, 1.00),
    "Cedar-47": (2.19, 1.77, 0.61, 1.91, 1.52, 1.23, 1.43, 1.13),
    "Dogwood-85": (2.20, 1.80, 0.61, 1.92, 1.52, 1.25, 1.71, 1.37),
    "Elm-140": (2.07, 1.65, 0.57, 1.84, 1.43, 1.15, 1.78, 1.36),
}


@pytest.mark.parametrize("name", RATIOS)
def test_each_size_holds_its_load_as_often_as_the_independent_table_says(name):
    """New, worn, oiled, with a broken spring and glazed (golden Q9 among them)."""
    size = SIZES[name]
    hoist, setting, largest = size.hoist, size.gap.setting_mm, size.gap.max_mm
    load_nm = load_torque_nm(hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm)
    torques = [
        torque_at_gap_nm(size, setting),
        torque_at_gap_nm(size, largest),
        torque_at_gap_nm(size, setting, friction=0.10),
        torque_at_gap_nm(size, setting, intact=size.springs.count - 1),
        torque_at_gap_nm(size, setting, friction=0.25),
        torque_at_gap_nm(size, largest, friction=0.25),
    ]

    assert holding_ratio(np.array(torques), load_nm) == pytest.approx(RATIOS[name][:6], abs=0.0051)
    gaps = gap_at_torque_mm(size, np.array([1.25, 1.50]) * load_nm)
    assert gaps == pytest.approx(RATIOS[name][6:], abs=0.0051)


def test_weak_springs_take_their_share_of_the_torque():
    """Springs 15 % weak: ratio 1.86 new and 1.51 at the largest gap (DOMAIN D, row 15)."""
    cedar = SIZES["Cedar-47"]
    torque = torque_at_gap_nm(cedar, np.array([0.30, 0.80]), force_factor=0.85)

    assert holding_ratio(torque, load_torque_nm(2500, 8, 1450)) == pytest.approx(
        [1.86, 1.51], abs=0.0051
    )


def test_a_tight_hand_release_costs_a_third_of_the_force():
    """0.1 mm of over-travel at 3 kN/mm takes 300 N (DOMAIN D, row 26; common practice, no source).

    At a gap of 0.70 mm the springs give 916.8 N by hand: 8 (135 − 51 × 0.4).
    """
    cedar = SIZES["Cedar-47"]
    held = clamping_force_n(0.70, cedar.springs, 0.30, release_lever_play_mm=0.30)

    assert held == pytest.approx(916.8 - 300.0, abs=1e-9)
    assert 1 - held / 916.8 == pytest.approx(0.33, abs=0.005)


def test_the_invented_linings_lie_in_the_published_range_of_friction():
    """Nominal coefficients lie between 0.20 and 0.50 (public engineering table, confirmed)."""
    low, high = DRY_FRICTION_RANGE

    assert (low, high) == (0.20, 0.50)
    assert all(low <= size.lining.friction <= high for size in SIZES.values())
