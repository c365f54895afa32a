"""What a brake in a condition does: force, torque, release, delay, stop, and what a meter finds.

Everything here follows from the inputs in `Condition`; nothing is written down for a fault.
`gap_mm` is the mean air gap with the plate on the disc, as `condition.gap_field` gives it.
"""

import math
from dataclasses import replace

from .condition import Condition
from .gap.clearance import plate_is_drawn_in
from .magnet import (
    dropout_voltage_v,
    flux_density_for_force_t,
    flux_density_t,
    holding_margin,
    largest_releasing_gap_mm,
    release_voltage_v,
    sticks,
)
from .magnet.coil import coil_power_w, coil_resistance_ohm
from .magnet.transient import VARISTOR_RATIO, Switching, flux_time_s
from .ranges import in_range
from .sizes.size import BrakeSize, Magnet
from .torque import load_torque_nm, stopping_distance_mm
from .torque.braking import braking_torque_nm, holding_ratio, static_torque_nm
from .torque.clamping import clamping_force_n
from .torque.friction import friction_coefficient

LOW_SUPPLY = 0.9  # of rated voltage, low mains; band of DIN VDE 0580, from memory
HOT_COIL_C = 100.0  # °C, winding in steady duty with its fan; worst case of the invented sizes
NO_FAN_K = 25.0  # K, what a lost fan adds: 20 to 30; common practice, no source
OPEN_DIODE_SHARE = 0.5  # a bridge with one diode open gives every other half wave
# Play at which worn teeth ride over each other and no longer drive, degrees of the shaft.
# Common practice, no source: refer from 1 to 2 degrees on; ten times that has no flank left.
STRIPPED_SPLINE_DEG = 15.0


def friction_now(condition: Condition) -> float:
    """Return the coefficient of friction as it is now, dimensionless."""
    return friction_coefficient(
        condition.friction, surface=condition.surface, temperature_c=condition.face_c
    )


def plate_force_n(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    """Return the force with which the plate is pushed from the magnet, N.

    This is what the magnet must overcome; the lining may get less of it, see
    `lining_force_n`. A lever that did not return holds the plate and leaves none.
    """
    if not condition.release_lever_returns:
        in_range("gap_mm", gap_mm, "mm", low=0)
        return 0.0
    return _springs_and_lever_n(size, condition, gap_mm)


def lining_force_n(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    """Return the force that presses the linings, N: none while the plate lies on the magnet."""
    force_n = plate_force_n(size, condition, gap_mm)
    return 0.0 if plate_is_drawn_in(condition) else force_n * (1.0 - condition.hub_share)


def torque_nm(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    """Return the torque while the disc slips, N·m; none once the spline is stripped."""
    lining = size.lining
    radius_mm = (lining.inner_radius_mm + lining.outer_radius_mm) / 2 * condition.radius_factor
    force_n = lining_force_n(size, condition, gap_mm)
    grips = condition.spline_play_deg < STRIPPED_SPLINE_DEG
    friction = friction_now(condition)
    return braking_torque_nm(force_n, friction, radius_mm, faces=lining.faces) if grips else 0.0


def break_away_torque_nm(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    """Return the torque at which the standing disc begins to slip, N·m."""
    return static_torque_nm(torque_nm(size, condition, gap_mm), condition.static_over_dynamic)


def load_ratio(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    """Return braking torque over the torque of the rated load, dimensionless."""
    hoist = size.hoist
    load_nm = load_torque_nm(hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm)
    return holding_ratio(torque_nm(size, condition, gap_mm), load_nm)


def runaway_rad_s2(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    """Return what the shaft gains with the rated load on a brake that slips, rad/s²; 0 if held.

    Source: Newton's second law for the shaft, inertia of motor and load.
    """
    hoist = size.hoist
    load_nm = load_torque_nm(hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm)
    lever_m = hoist.speed_m_per_min / 60 / hoist.motor_speed_rad_s
    inertia_kgm2 = hoist.motor_inertia_kgm2 + hoist.load_kg * lever_m**2
    return max(0.0, load_nm - torque_nm(size, condition, gap_mm)) / inertia_kgm2


def magnet_now(size: BrakeSize, condition: Condition) -> Magnet:
    """Return the magnet with its anti-stick layer and the dust on its poles as they are."""
    if condition.residual_gap_factor == 1.0 and condition.pole_dust_mm == 0.0:
        return size.magnet
    layer_mm = size.magnet.residual_gap_mm * condition.residual_gap_factor
    return replace(size.magnet, residual_gap_mm=layer_mm + condition.pole_dust_mm)


def hot_coil_c(condition: Condition) -> float:
    """Return the winding temperature in steady duty, °C: hotter without its fan."""
    return HOT_COIL_C + (0.0 if condition.fan_ok else NO_FAN_K)


def supply_share(condition: Condition) -> float:
    """Return the direct voltage at the coil over the rated one, dimensionless."""
    share = OPEN_DIODE_SHARE if condition.rectifier_diode_open else 1.0
    return condition.supply_factor * share


def release_share(
    size: BrakeSize, condition: Condition, gap_mm: float, coil_c: float | None = None
) -> float:
    """Return the voltage that pulls the plate in over the rated one, dimensionless.

    Parameters
    ----------
    size, condition : BrakeSize, Condition
        The brake.
    gap_mm : float
        Mean air gap, mm, zero or more.
    coil_c : float, optional
        Temperature of the winding, °C; as it is now, if not given.

    Returns
    -------
    float
        Infinite for a broken coil, or where saturated iron cannot give the force.

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    needed_v = release_voltage_v(
        gap_mm,
        plate_force_n(size, condition, gap_mm),
        magnet_now(size, condition),
        size.coil,
        condition.coil_c if coil_c is None else coil_c,
        resistance_factor=condition.resistance_factor,
        turns_factor=condition.turns_factor,
    )
    return math.inf if condition.coil_open else needed_v / size.coil.voltage_v


def releases(
    size: BrakeSize, condition: Condition, gap_mm: float, coil_c: float | None = None
) -> bool:
    """Return whether the supply as it is pulls the plate in. Arguments: `release_share`."""
    return release_share(size, condition, gap_mm, coil_c) <= supply_share(condition)


def largest_gap_mm(size: BrakeSize, condition: Condition, coil_c: float | None = None) -> float:
    """Return the widest gap over which the plate is still drawn in, mm; infinite if any is.

    Beyond 1.5 times the largest gap of the sheet this is outside the model's validity.
    """
    if condition.coil_open:
        return 0.0
    return largest_releasing_gap_mm(
        lambda gap_mm: plate_force_n(size, condition, gap_mm),
        magnet_now(size, condition),
        size.coil,
        supply_share(condition) * size.coil.voltage_v,
        condition.coil_c if coil_c is None else coil_c,
        resistance_factor=condition.resistance_factor,
        turns_factor=condition.turns_factor,
    )


def hold_margin(
    size: BrakeSize, condition: Condition, share: float = 0.5, coil_c: float | None = None
) -> float:
    """Return pull over spring force with the plate drawn in, at a share of the rated voltage.

    Source of one half as economy voltage: common practice, no source.
    """
    if condition.coil_open:
        return 0.0
    return holding_margin(
        in_range("share", share, "", low=0, high=1.5) * size.coil.voltage_v,
        _springs_and_lever_n(size, condition, 0.0),
        magnet_now(size, condition),
        size.coil,
        hot_coil_c(condition) if coil_c is None else coil_c,
        resistance_factor=condition.resistance_factor,
        turns_factor=condition.turns_factor,
    )


def dropout_share(size: BrakeSize, condition: Condition) -> float:
    """Return the falling voltage at which the plate lets go over the rated one; 0 if it sticks."""
    force_n = _springs_and_lever_n(size, condition, 0.0)
    magnet = magnet_now(size, condition)
    if sticks(force_n, magnet):
        return 0.0
    let_go_v = dropout_voltage_v(
        force_n,
        magnet,
        size.coil,
        condition.coil_c,
        resistance_factor=condition.resistance_factor,
        turns_factor=condition.turns_factor,
    )
    return let_go_v / size.coil.voltage_v


def application_delay_ms(
    size: BrakeSize, condition: Condition, switching: Switching | None = None
) -> float:
    """Return the time from power-off until the plate lets go, ms.

    Parameters
    ----------
    size, condition : BrakeSize, Condition
        The brake, drawn in by the supply as it is.
    switching : Switching, optional
        Where the circuit is opened; as it is wired, if not given.

    Returns
    -------
    float
        Infinite if the plate sticks; 0 if the supply does not hold it at all.

    Notes
    -----
    Decay of the flux from its steady value to that at which springs and pull
    are equal, plate still. Source: Faraday's law, `transient.flux_time_s`.
    """
    magnet, coil = magnet_now(size, condition), size.coil
    force_n = _springs_and_lever_n(size, condition, 0.0)
    if sticks(force_n, magnet):
        return math.inf
    turns = coil.turns * condition.turns_factor
    resistance_ohm = _winding_ohm(size, condition)
    voltage_v = 0.0 if condition.coil_open else supply_share(condition) * coil.voltage_v
    held_t = flux_density_t(0.0, voltage_v / resistance_ohm * turns, magnet)
    let_go_t = flux_density_for_force_t(force_n, magnet)
    if held_t <= let_go_t:
        return 0.0
    dc_side = (switching or condition.switching) is Switching.DC_SIDE
    drive_v = -VARISTOR_RATIO * coil.voltage_v if dc_side else 0.0
    circuit = {"resistance_ohm": resistance_ohm, "turns": turns}
    return 1000 * float(flux_time_s(held_t, let_go_t, 0.0, drive_v, magnet, **circuit))


def stopping_travel_mm(
    size: BrakeSize, condition: Condition, gap_mm: float, switching: Switching | None = None
) -> float:
    """Return the hook travel of an emergency stop while lowering the rated load, mm.

    Infinite where the brake does not hold, or never lets go of its magnet.
    """
    delay_ms = application_delay_ms(size, condition, switching)
    if math.isinf(delay_ms):
        return math.inf
    return stopping_distance_mm(size.hoist, torque_nm(size, condition, gap_mm), delay_ms)


def coil_at_terminals_ohm(size: BrakeSize, condition: Condition) -> float:
    """Return what an ohmmeter without error shows across the coil now, ohm; infinite if broken."""
    return math.inf if condition.coil_open else _winding_ohm(size, condition)


def coil_heat_w(size: BrakeSize, condition: Condition) -> float:
    """Return the heat that the coil makes with the supply as it is, W."""
    if condition.coil_open:
        return 0.0
    voltage_v = supply_share(condition) * size.coil.voltage_v
    factor = condition.resistance_factor
    return coil_power_w(size.coil, voltage_v, condition.coil_c, resistance_factor=factor)


def _springs_and_lever_n(size: BrakeSize, condition: Condition, gap_mm: float) -> float:
    return clamping_force_n(
        gap_mm,
        size.springs,
        size.gap.setting_mm,
        intact=condition.springs_intact,
        force_factor=condition.spring_force_factor,
        release_lever_play_mm=condition.release_lever_play_mm,
    )


def _winding_ohm(size: BrakeSize, condition: Condition) -> float:
    factor = condition.resistance_factor
    return coil_resistance_ohm(size.coil, condition.coil_c, resistance_factor=factor)
