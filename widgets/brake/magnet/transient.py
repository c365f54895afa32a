"""What happens in the tenths of a second after the coil is switched on or off."""

from math import inf

from widgets.brake.ranges import in_range

from . import (
    flux_density_for_force_t,
    flux_density_t,
    inductance_h,
    release_voltage_v,
)
from .actuator import (
    STEEL_KG_PER_M3,
    VARISTOR_RATIO,
    Actuator,
    Array,
    EnergyBalance,
    Switching,
    Transient,
    estimated_plate_mass_kg,
)
from .flux_time import flux_time_s
from .motion import (
    ABSOLUTE_TOLERANCES,
    MOST_PHASES,
    OVERSHOOT_MM,
    RELATIVE_TOLERANCE,
    _flux_time_s,
    _Run,
)

__all__ = [
    "ABSOLUTE_TOLERANCES",
    "MOST_PHASES",
    "OVERSHOOT_MM",
    "RELATIVE_TOLERANCE",
    "SAMPLES_PER_PHASE",
    "STEEL_KG_PER_M3",
    "VARISTOR_RATIO",
    "Actuator",
    "Array",
    "EnergyBalance",
    "Switching",
    "Transient",
    "application_transient",
    "estimated_plate_mass_kg",
    "flux_time_s",
    "release_transient",
]

SAMPLES_PER_PHASE = 60


def release_transient(
    actuator: Actuator,
    voltage_v: float | None = None,
    *,
    rated_force_n: float | None = None,
    duration_s: float | None = None,
) -> Transient:
    """Return what happens from switching the coil on.

    Parameters
    ----------
    actuator : Actuator
        Magnet, coil, springs and plate.
    voltage_v : float, V
        Direct voltage, above zero; the rated voltage if left out.
    rated_force_n : float, N
        Clamping force at rated torque, of which 90 % and 10 % are taken; the
        force at this gap if left out.
    duration_s : float, s
        When to stop, above zero; twice the time to lift-off if left out.

    Returns
    -------
    Transient
        Times are infinite where the plate does not lift off.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    N A λ dB/dt = U - R i; m dv/dt = springs - pull. Source: Faraday, Newton.
    """
    rated = actuator.coil.voltage_v if voltage_v is None else voltage_v
    drive_v = in_range("voltage_v", rated, "V", above=0)
    if duration_s is None:
        duration_s = _release_end_s(actuator, drive_v)
    run = _Run(actuator, drive_v, [0.0, actuator.gap_mm, *[0.0] * 5], SAMPLES_PER_PHASE)
    run.until(in_range("duration_s", duration_s, "s", above=0))
    # Up to lift-off the plate is still, so the fall of torque is a matter of flux alone.
    to_90_s = _fall_s(actuator, drive_v, _pull_at_share_n(actuator, 0.9, rated_force_n))
    to_10_s = _fall_s(actuator, drive_v, _pull_at_share_n(actuator, 0.1, rated_force_n))
    change_s = to_10_s - to_90_s if to_10_s < inf else inf
    return run.result(landing_mm=0.0, delay_s=to_90_s, change_s=change_s)


def application_transient(
    actuator: Actuator,
    switching: Switching = Switching.DC_SIDE,
    voltage_v: float | None = None,
    *,
    varistor_ratio: float = VARISTOR_RATIO,
    diode_drop_v: float = 0.0,
    rated_force_n: float | None = None,
    duration_s: float | None = None,
) -> Transient:
    """Return what happens from switching the coil off, the plate lying on the poles.

    Parameters
    ----------
    actuator : Actuator
        Magnet, coil, springs and plate.
    switching : Switching
        On the AC side the coil freewheels through its rectifier; on the DC
        side a varistor holds its voltage until the current has died.
    voltage_v : float, V
        Direct voltage until then, enough to hold; the rated voltage if left out.
    varistor_ratio : float, dimensionless
        Clamp voltage over rated voltage, DC side, above zero.
    diode_drop_v : float, V
        Forward voltage of the freewheeling diodes, AC side, zero or more.
    rated_force_n : float, N
        Clamping force at rated torque, of which 90 % is taken; the force at
        this gap if left out.
    duration_s : float, s
        When to stop, above zero; when torque is nearly full if left out.

    Returns
    -------
    Transient
        Times are infinite where they are not reached.

    Raises
    ------
    ValueError
        If an argument is out of range or the voltage does not hold the plate.

    Notes
    -----
    N A λ dB/dt = -(U_clamp + R i); m dv/dt = springs - pull. Source: Faraday,
    Newton.
    """
    start_t = _holding_density_t(actuator, voltage_v)
    ratio = in_range("varistor_ratio", varistor_ratio, "", above=0)
    drop_v = in_range("diode_drop_v", diode_drop_v, "V", low=0)
    dc_side = switching is Switching.DC_SIDE
    drive_v = -ratio * actuator.coil.voltage_v if dc_side else -drop_v
    if duration_s is None:
        duration_s = _application_end_s(actuator, start_t, drive_v)
    run = _Run(actuator, drive_v, [start_t, *[0.0] * 6], SAMPLES_PER_PHASE)
    run.until(in_range("duration_s", duration_s, "s", above=0))
    landing_s = run.landed_s(actuator.gap_mm)
    # From the landing on the plate is still, so the rise is a matter of flux alone.
    rise_s = run.rise_s(_pull_at_share_n(actuator, 0.9, rated_force_n))
    return run.result(landing_mm=actuator.gap_mm, delay_s=landing_s, change_s=rise_s)


def _pull_at_share_n(actuator: Actuator, share: float, rated_force_n: float | None) -> float:
    """Return the pull that leaves a share of the rated force on the disc; negative if none can."""
    full_n = actuator.force_of_gap_n(actuator.gap_mm)
    rated_n = full_n if rated_force_n is None else rated_force_n
    return full_n - share * in_range("rated_force_n", rated_n, "N", above=0)


def _fall_s(actuator: Actuator, drive_v: float, pull_n: float) -> float:
    """Return the time from switching on until the pull on the plate, not yet moved, is so much."""
    return _flux_time_s(actuator, 0.0, max(pull_n, 0.0), drive_v, actuator.gap_mm)


def _release_end_s(actuator: Actuator, drive_v: float) -> float:
    """Return twice the time to lift-off, or five time constants if there is none."""
    lift_s = _fall_s(actuator, drive_v, actuator.force_of_gap_n(actuator.gap_mm))
    if lift_s < inf:
        return 2 * lift_s + 0.03
    henry = inductance_h(
        actuator.gap_mm, actuator.magnet, actuator.coil, turns_factor=actuator.turns_factor
    )
    return 5 * float(henry) / actuator.resistance_ohm


def _application_end_s(actuator: Actuator, start_t: float, drive_v: float) -> float:
    """Return the time to drop-out, then to 2 % of that pull at the open gap, and a little more."""
    force_n = actuator.force_of_gap_n(0.0)
    drop_t = flux_density_for_force_t(force_n, actuator.magnet)
    to_drop_s = _flux_time_s(actuator, start_t, force_n, drive_v, 0.0)
    to_end_s = _flux_time_s(actuator, drop_t, 0.02 * force_n, drive_v, actuator.gap_mm)
    return to_drop_s + to_end_s + 0.02


def _holding_density_t(actuator: Actuator, voltage_v: float | None) -> float:
    """Return the steady flux density with the plate on the poles, if that holds it."""
    magnet, coil = actuator.magnet, actuator.coil
    least_v = release_voltage_v(
        0.0,
        actuator.force_of_gap_n(0.0),
        magnet,
        coil,
        actuator.temperature_c,
        resistance_factor=actuator.resistance_factor,
        turns_factor=actuator.turns_factor,
    )
    rated_v = coil.voltage_v if voltage_v is None else voltage_v
    held_v = in_range("voltage_v", rated_v, "V", above=least_v)
    return flux_density_t(0.0, held_v / actuator.resistance_ohm * actuator.turns, magnet)
