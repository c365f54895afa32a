"""Fill a limits-sheet row up to a whole brake, and say which numbers are estimates.

A maker's chart gives a gap to set, a largest gap and a least disc; a model
needs springs, coil and iron too. What is missing is scaled from the invented
sizes of this suite so that the brake is consistent: it releases hot at low
voltage at its largest gap, and not far beyond. An estimate teaches; it never
decides about a real brake.
"""

import math
from collections.abc import Callable, Mapping
from typing import Any

from widgets.brake.behaviour import HOT_COIL_C
from widgets.brake.magnet import ampere_turns, flux_density_for_force_t
from widgets.brake.magnet.coil import copper_ratio
from widgets.brake.ranges import in_range
from widgets.brake.torque.load import STANDARD_GRAVITY_M_S2

from .design import FIELDS_OF, Design
from .size import (
    DYNAMIC_TEST,
    ISO_COARSE_PITCH_MM,
    STATIC_TEST,
    BrakeSize,
    Coil,
    DiscLimits,
    GapLimits,
    Hoist,
    Lining,
    Magnet,
    Screws,
    Springs,
)

MIDDLE_TORQUE_NM = 47.0  # the middle invented size, from which the others scale
TORQUE_LOSS_TO_MAX_GAP = 0.19  # share of torque lost from setting to largest gap, invented sizes
RELEASE_SHARE_AT_MAX_GAP = 0.81  # of rated voltage, coil at 100 °C, invented sizes
LONGEST_PATH_OF_A_THIN_LAYER_MM = 400.0  # of iron; up to it 0.13 mm keep a plate off; invented
FORCE_PER_POLE_AREA_N_CM2 = 17.8  # spring force at the setting over pole area, invented sizes
LEAST_WEAR_MM = 1.5  # new disc less its least, the smallest invented size
SET_ABOVE_LEAST_MM = 0.05  # a careful hand's own spread round the rim; common practice, no source
STEP_SHARE_OF_EVENNESS = 0.5  # a shim or a notch, of the evenness allowed; a choice of this suite
HOLDING_RATIO = 2.1  # label torque over load torque, invented hoists
HOIST_SPEED_M_PER_MIN, MOTOR_RPM = 8.0, 1450.0  # of most invented hoists
_THREADS = ((15.0, "M8", "M4", 2.8), (30.0, "M10", "M5", 5.5), (60.0, "M10", "M6", 9.5))
_LARGER_THREADS = ((110.0, "M12", "M6", 9.5), (math.inf, "M12", "M8", 23.0))


class _Row:
    """A row that remembers which of its fields had to be worked out."""

    def __init__(self, given: Mapping[str, Any]) -> None:
        self.values = dict(given)
        self.estimated: set[str] = set()

    def fill(self, name: str, estimate: Callable[[], Any]) -> Any:  # noqa: ANN401 (float or str)
        if self.values.get(name) is None:
            self.values[name] = estimate()
            self.estimated.add(name)
        return self.values[name]


def complete(given: Mapping[str, Any], *, invented: bool = False) -> BrakeSize:
    """Return the brake of a sheet row, with everything missing estimated and marked.

    Parameters
    ----------
    given : mapping
        Fields of `sheet.SizeRow` that the sheet gives; at least `name`,
        `gap_max_mm`, `disc_min_mm` and one of `gap_setting_mm`, `gap_min_mm`.
    invented : bool
        Whether the sheet says of itself that it is invented.

    Raises
    ------
    ValueError
        If the numbers cannot belong to one brake.
    """
    row = _Row(given)
    design = Design(row.values.get("design", Design.HOLLOW_SCREWS))
    gap = _gap(row)
    disc = _disc(row, gap)
    torque_nm = row.fill("torque_nm", lambda: _torque_nm(row))
    scale = torque_nm / MIDDLE_TORQUE_NM
    lining = _lining(row, scale)
    springs = _springs(row, torque_nm, lining, gap)
    magnet = _magnet(row, scale, springs)
    return BrakeSize(
        name=row.values["name"],
        torque_nm=torque_nm,
        gap=gap,
        disc=disc,
        lining=lining,
        springs=springs,
        screws=_screws(row, torque_nm, lining, design),
        coil=_coil(row, scale, springs, gap, magnet),
        magnet=magnet,
        hoist=_hoist(row, torque_nm, scale),
        wear_plate_mm=row.fill("wear_plate_mm", lambda: 2.0),
        invented=invented,
        design=design,
        step_mm=_step_mm(row, design, gap),
        estimated=frozenset(row.estimated),
    )


def _step_mm(row: _Row, design: Design, gap: GapLimits) -> float:
    """Return by how much one step of the setting moves the gap, mm; 0 without steps."""
    if not design.steps:
        return 0.0
    (field,) = FIELDS_OF[design]
    step_mm = STEP_SHARE_OF_EVENNESS * gap.evenness_mm
    if design is Design.SHIMS:  # foil is sold in whole hundredths; common practice, no source
        step_mm = max(0.01, math.floor(100 * step_mm + 1e-9) / 100)
    return float(row.fill(field, lambda: round(step_mm, 3)))


def _torque_nm(row: _Row) -> float:
    """Return a usual torque: for the load, if the sheet gives one, or that of the middle size."""
    load_kg = row.values.get("hoist_load_kg")
    if load_kg is None:
        return MIDDLE_TORQUE_NM
    return float(HOLDING_RATIO * load_kg * STANDARD_GRAVITY_M_S2 / _motor_rad_per_m(row))


def _motor_rad_per_m(row: _Row) -> float:
    """Return how far the motor turns for a metre of the hook, rad/m."""
    speed_m_per_min = row.values.get("hoist_speed_m_per_min") or HOIST_SPEED_M_PER_MIN
    motor_rpm = row.values.get("motor_rpm") or MOTOR_RPM
    return float(motor_rpm * 2 * math.pi / speed_m_per_min)


def set_above_mm(least_mm: float) -> float:
    """Return the gap to be set where a chart gives only the least one, mm.

    Nobody sets a gap to the hundredth: set to its least, half of the rim would lie under it.
    """
    return round(in_range("least_mm", least_mm, "mm", above=0) + SET_ABOVE_LEAST_MM, 2)


def usual_evenness_mm(setting_mm: float) -> float:
    """Return the largest difference round the rim where a chart gives none, mm."""
    return max(0.05, round(0.2 * in_range("setting_mm", setting_mm, "mm", above=0), 2))


def _gap(row: _Row) -> GapLimits:
    setting_mm = row.fill("gap_setting_mm", lambda: set_above_mm(row.values["gap_min_mm"]))
    return GapLimits(
        min_mm=row.fill("gap_min_mm", lambda: round(0.65 * setting_mm, 2) or 0.65 * setting_mm),
        setting_mm=setting_mm,
        max_mm=row.values["gap_max_mm"],
        evenness_mm=row.fill("gap_evenness_mm", lambda: usual_evenness_mm(setting_mm)),
    )


def _disc(row: _Row, gap: GapLimits) -> DiscLimits:
    least_mm = row.values["disc_min_mm"]
    growth_mm = gap.max_mm - gap.setting_mm
    new_mm = row.fill(
        "disc_new_mm", lambda: least_mm + max(0.25 * least_mm, 4.5 * growth_mm, LEAST_WEAR_MM)
    )
    carrier_mm = 0.5 * least_mm
    return DiscLimits(
        new_mm=new_mm,
        min_mm=least_mm,
        lining_new_mm=row.fill("lining_new_mm", lambda: (new_mm - carrier_mm) / 2),
        lining_min_mm=row.fill("lining_min_mm", lambda: (least_mm - carrier_mm) / 2),
    )


def _lining(row: _Row, scale: float) -> Lining:
    outer_mm = row.fill("lining_outer_radius_mm", lambda: 74.0 * scale ** (1 / 3))
    return Lining(
        inner_radius_mm=row.fill("lining_inner_radius_mm", lambda: 0.635 * outer_mm),
        outer_radius_mm=outer_mm,
        friction=row.fill("friction", lambda: 0.36),
    )


def _springs(row: _Row, torque_nm: float, lining: Lining, gap: GapLimits) -> Springs:
    count = row.fill("spring_count", lambda: 6 if torque_nm < 30 else 8)
    radius_m = (lining.inner_radius_mm + lining.outer_radius_mm) / 2000
    force_n = row.fill(
        "spring_force_each_n",
        lambda: torque_nm / (lining.faces * lining.friction * radius_m) / count,
    )
    travel_mm = gap.max_mm - gap.setting_mm
    rate = row.fill(
        "spring_rate_each_n_per_mm", lambda: TORQUE_LOSS_TO_MAX_GAP * force_n / travel_mm
    )
    return Springs(count, force_n, rate)


def _screws(row: _Row, torque_nm: float, lining: Lining, design: Design) -> Screws:
    _, thread, retaining, tightening_nm = next(
        entry for entry in (*_THREADS, *_LARGER_THREADS) if torque_nm < entry[0]
    )
    hollow = design is Design.HOLLOW_SCREWS
    thread = row.fill("screw_thread", lambda: thread) if hollow else ""
    circle_mm = row.fill("screw_circle_mm", lambda: 2.3 * lining.outer_radius_mm)
    return Screws(
        thread=thread,
        pitch_mm=(
            row.fill("screw_pitch_mm", lambda: ISO_COARSE_PITCH_MM[thread]) if hollow else 0.0
        ),
        pitch_circle_mm=circle_mm,
        gauging_circle_mm=row.fill("gauging_circle_mm", lambda: 0.89 * circle_mm),
        retaining_torque_nm=row.fill("retaining_torque_nm", lambda: tightening_nm),
        retaining_thread=row.fill("retaining_thread", lambda: retaining),
    )


def _magnet(row: _Row, scale: float, springs: Springs) -> Magnet:
    force_n = springs.count * springs.force_each_n
    iron_path_mm = row.fill("iron_path_mm", lambda: 195.0 * scale ** (1 / 3))
    # The longer the iron, the more magnetism it keeps: a large magnet has a thicker layer.
    longer = max(1.0, float(iron_path_mm) / LONGEST_PATH_OF_A_THIN_LAYER_MM)
    return Magnet(
        pole_area_cm2=row.fill("pole_area_cm2", lambda: force_n / FORCE_PER_POLE_AREA_N_CM2),
        residual_gap_mm=row.fill("residual_gap_mm", lambda: 0.13 * longer),
        iron_path_mm=iron_path_mm,
    )


def _coil(row: _Row, scale: float, springs: Springs, gap: GapLimits, magnet: Magnet) -> Coil:
    voltage_v = row.fill("coil_voltage_v", lambda: 180.0)
    power_w = 52.0 * math.sqrt(scale)
    resistance = row.fill("coil_resistance_20_ohm", lambda: voltage_v**2 / power_w)

    def turns() -> int:
        travel_mm = gap.max_mm - gap.setting_mm
        force_n = springs.count * (springs.force_each_n - springs.rate_each_n_per_mm * travel_mm)
        flux_t = flux_density_for_force_t(force_n, magnet)
        needed = float(ampere_turns(flux_t, gap.max_mm, magnet))
        hot_ohm = float(resistance) * copper_ratio(HOT_COIL_C)
        return round(needed * hot_ohm / (RELEASE_SHARE_AT_MAX_GAP * float(voltage_v)))

    return Coil(voltage_v, resistance, row.fill("coil_turns", turns))


def _hoist(row: _Row, torque_nm: float, scale: float) -> Hoist:
    speed = row.fill("hoist_speed_m_per_min", lambda: HOIST_SPEED_M_PER_MIN)
    motor_rpm = row.fill("motor_rpm", lambda: MOTOR_RPM)
    load_n = torque_nm / HOLDING_RATIO * _motor_rad_per_m(row)
    return Hoist(
        load_kg=row.fill("hoist_load_kg", lambda: load_n / STANDARD_GRAVITY_M_S2),
        speed_m_per_min=speed,
        motor_rpm=motor_rpm,
        motor_inertia_kgm2=row.fill("motor_inertia_kgm2", lambda: 0.035 * scale**1.15),
        torque_rise_ms=row.fill("torque_rise_ms", lambda: 30.0 * scale**0.35),
        test_static=row.fill("test_static", lambda: STATIC_TEST),
        test_dynamic=row.fill("test_dynamic", lambda: DYNAMIC_TEST),
    )
