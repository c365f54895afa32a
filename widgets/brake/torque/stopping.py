"""A stop from full speed, in closed form: what is known at power-off, and how it ends."""

import math
from dataclasses import dataclass
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Hoist

from .load import load_torque_nm, metres_per_radian, reflected_inertia_kgm2

_RPM = 30 / math.pi  # rev/min in a rad/s


@dataclass(frozen=True, slots=True)
class Stop:
    """How an emergency stop from full speed ends; the hook's way counts down as plus.

    `drift_mm` is the way before the brake has half its torque, `travel_mm` the
    whole way to rest: of a hoisting stop both are negative when the hook still
    rose. A brake that cannot hold gives `held` False, infinite time, travel
    and energy, and the speed that it gains each second in `runaway_rpm_per_s`.
    """

    held: bool
    time_s: float
    slip_time_s: float
    travel_mm: float
    drift_mm: float
    peak_rpm: float
    energy_j: float
    runaway_rpm_per_s: float = 0.0

    @property
    def sentence(self) -> str:
        """What happened, in words."""
        if not self.held:
            gain = self.runaway_rpm_per_s
            return (
                "The brake does not hold the load: it runs away and gains "
                f"{gain:.0f} rev/min every second."
            )
        way = "lower" if self.travel_mm >= 0 else "higher"
        return (
            f"The load stops after {self.time_s * 1000:.0f} ms, {abs(self.travel_mm):.0f} mm "
            f"{way} than at power-off; the motor reached {self.peak_rpm:.0f} rev/min."
        )


@dataclass(frozen=True, slots=True)
class StopCase:
    """One stop to work out: shaft inertia, torques, speed at power-off (down is plus), times."""

    inertia_kgm2: float
    load_torque_nm: float
    braking_torque_nm: float
    speed_rad_s: float
    delay_s: float
    rise_s: float
    metres_per_radian: float

    def __post_init__(self) -> None:
        in_range("inertia_kgm2", self.inertia_kgm2, "kg·m²", above=0)
        in_range("load_torque_nm", self.load_torque_nm, "N·m", low=0)
        in_range("braking_torque_nm", self.braking_torque_nm, "N·m", low=0)
        in_range("speed_rad_s", self.speed_rad_s, "rad/s", low=-2000, high=2000)
        in_range("delay_s", self.delay_s, "s", low=0, high=10)
        in_range("rise_s", self.rise_s, "s", low=0, high=10)
        in_range("metres_per_radian", self.metres_per_radian, "m/rad", above=0)

    @property
    def holds(self) -> bool:
        """Whether the brake, once applied, brings the load to rest."""
        return self.braking_torque_nm > self.load_torque_nm

    @property
    def gain_rad_s2(self) -> float:
        """What the load gains while nothing brakes it, rad/s²."""
        return self.load_torque_nm / self.inertia_kgm2

    @property
    def free_s(self) -> float:
        """From power-off to half the brake torque, s."""
        return self.delay_s + self.rise_s / 2

    def braking_at_nm(self, time_s: float) -> float:
        """Return the brake torque at a time after power-off, N·m: none, a straight rise, all."""
        if time_s <= self.delay_s:
            return 0.0
        if time_s >= self.delay_s + self.rise_s:
            return self.braking_torque_nm
        return self.braking_torque_nm * (time_s - self.delay_s) / self.rise_s


def stop_case(
    hoist: Hoist,
    braking_torque_nm: float,
    delay_ms: float,
    *,
    hoisting: bool = False,
    load_kg: float | None = None,
    efficiency: float = 1.0,
) -> StopCase:
    """Return the emergency stop of a hoist at full speed.

    Parameters
    ----------
    hoist : Hoist
        Load, speeds, motor-side inertia and torque rise time.
    braking_torque_nm : float
        Torque of the applied brake while slipping, N·m, zero or more.
    delay_ms : float
        From power-off to the first torque, ms, 0 to 10 000: short if the coil
        is switched on its DC side, several times longer on the AC side.
    hoisting : bool
        Stopped while the load goes up; else while it goes down.
    load_kg : float, optional
        Load on the hook, kg; the rated one, if not given.
    efficiency : float
        Of the gear, above 0 to 1; the gear's losses then help in lowering and
        are left out (as if 1) in hoisting, where the load may yet reverse.

    Returns
    -------
    StopCase
        For `closed_form_stop` and `integrated_stop`.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    load = hoist.load_kg if load_kg is None else load_kg
    eta = in_range("efficiency", efficiency, "", above=0, high=1)
    gearing = (load, hoist.speed_m_per_min, hoist.motor_rpm)
    return StopCase(
        inertia_kgm2=hoist.motor_inertia_kgm2 + reflected_inertia_kgm2(*gearing),
        load_torque_nm=load_torque_nm(*gearing, efficiency=1.0 if hoisting else eta),
        braking_torque_nm=braking_torque_nm,
        speed_rad_s=-hoist.motor_speed_rad_s if hoisting else hoist.motor_speed_rad_s,
        delay_s=in_range("delay_ms", delay_ms, "ms", low=0, high=10_000) / 1000,
        rise_s=hoist.torque_rise_ms / 1000,
        metres_per_radian=metres_per_radian(hoist),
    )


def closed_form_stop(case: StopCase) -> Stop:
    """Return how a stop ends, with the torque rise taken as a step half-way through it.

    Parameters
    ----------
    case : StopCase
        The stop, lowering or hoisting.

    Returns
    -------
    Stop
        `held` is False where the brake torque is not above the load torque.

    Notes
    -----
    Free run for the delay and half the rise, then constant slowing down. A
    load going up is slowed by its weight; if it has turned before the brake
    bites, the brake catches it on its way down. Source: VDI 2241 forms of slip
    time and friction energy; elementary mechanics.
    """
    free_s, start, gain = case.free_s, case.speed_rad_s, case.gain_rad_s2
    bite = start + gain * free_s  # rad/s when the torque is taken to step up
    drift_mm = 1000 * case.metres_per_radian * (start * free_s + gain * free_s**2 / 2)
    if not case.holds:
        return _runaway(case, drift_mm, max(abs(start), abs(bite)))
    # The load gains until the rising brake torque equals its own.
    crest = start + gain * (
        case.delay_s + case.rise_s * case.load_torque_nm / case.braking_torque_nm / 2
    )
    help_nm = -case.load_torque_nm if bite > 0 else case.load_torque_nm
    net_nm = case.braking_torque_nm + help_nm
    slip_s = case.inertia_kgm2 * abs(bite) / net_nm
    energy_j = case.inertia_kgm2 * bite**2 / 2 * case.braking_torque_nm / net_nm
    return Stop(
        held=True,
        time_s=free_s + slip_s,
        slip_time_s=slip_s,
        travel_mm=drift_mm + 1000 * case.metres_per_radian * bite * slip_s / 2,
        drift_mm=drift_mm,
        peak_rpm=max(abs(start), crest) * _RPM,
        energy_j=energy_j,
    )


def _runaway(case: StopCase, drift_mm: float, peak_rad_s: float) -> Stop:
    gain = (case.load_torque_nm - case.braking_torque_nm) / case.inertia_kgm2
    return Stop(
        held=False,
        time_s=math.inf,
        slip_time_s=math.inf,
        travel_mm=math.inf,
        drift_mm=drift_mm,
        peak_rpm=math.inf if gain > 0 else peak_rad_s * _RPM,
        energy_j=math.inf,
        runaway_rpm_per_s=gain * _RPM,
    )


@overload
def stopping_distance_mm(hoist: Hoist, braking_torque_nm: float, delay_ms: float) -> float: ...


@overload
def stopping_distance_mm(
    hoist: Hoist, braking_torque_nm: ArrayLike, delay_ms: ArrayLike
) -> NDArray[np.float64]: ...


def stopping_distance_mm(
    hoist: Hoist, braking_torque_nm: ArrayLike, delay_ms: ArrayLike
) -> float | NDArray[np.float64]:
    """Return the hook travel of emergency stops from lowering, for many brakes at once.

    Parameters
    ----------
    hoist : Hoist
        The hoist at its rated load.
    braking_torque_nm, delay_ms : float or array_like
        As for `stop_case`.

    Returns
    -------
    float or ndarray
        Travel from power-off to rest, mm, in the broadcast shape; infinite
        where the brake does not hold.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    torque = in_range("braking_torque_nm", braking_torque_nm, "N·m", low=0)
    delay = in_range("delay_ms", delay_ms, "ms", low=0, high=10_000)
    case = stop_case(hoist, 0.0, 0.0)
    free_s = (delay + hoist.torque_rise_ms / 2) / 1000
    bite = case.speed_rad_s + case.gain_rad_s2 * free_s
    net_nm = np.asarray(torque - case.load_torque_nm)
    with np.errstate(divide="ignore"):
        slip_rad = np.where(
            net_nm > 0, case.inertia_kgm2 * np.square(bite) / 2 / np.abs(net_nm), math.inf
        )
    drift_rad = (case.speed_rad_s + bite) / 2 * free_s
    travel_mm = 1000 * case.metres_per_radian * (drift_rad + slip_rad)
    both_scalar = isinstance(torque, float) and isinstance(delay, float)
    return float(travel_mm) if both_scalar else travel_mm
