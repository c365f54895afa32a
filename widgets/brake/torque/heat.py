"""What the stops do to the temperature of the disc: one stop, a duty cycle, the steady state."""

import math
from dataclasses import dataclass
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

STEEL_SPECIFIC_HEAT_J_PER_KG_K = 480.0  # plain steel near room temperature; textbook value


@overload
def temperature_rise_k(
    energy_j: float, mass_kg: float, *, share: float = ..., specific_heat: float = ...
) -> float: ...
@overload
def temperature_rise_k(
    energy_j: ArrayLike, mass_kg: ArrayLike, *, share: ArrayLike = ..., specific_heat: float = ...
) -> NDArray[np.float64]: ...
def temperature_rise_k(
    energy_j: ArrayLike,
    mass_kg: ArrayLike,
    *,
    share: ArrayLike = 1.0,
    specific_heat: float = STEEL_SPECIFIC_HEAT_J_PER_KG_K,
) -> float | NDArray[np.float64]:
    """Return how much warmer one stop makes a part, before any of the heat has left it.

    Parameters
    ----------
    energy_j : float or array_like
        Friction energy of the stop, J, zero or more.
    mass_kg : float or array_like
        Of the part, kg, above 0.
    share : float or array_like
        Share of the energy that goes into this part, 0 to 1: a half for a plate
        that rubs on one of two faces.
    specific_heat : float
        J/(kg·K), above 0.

    Returns
    -------
    float or ndarray
        Temperature rise, K, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Energy over heat capacity. Source: definition of specific heat.

    Examples
    --------
    >>> round(temperature_rise_k(1000.0, 0.25), 3)
    8.333
    """
    energy = in_range("energy_j", energy_j, "J", low=0)
    part = in_range("share", share, "", low=0, high=1)
    heat = in_range("specific_heat", specific_heat, "J/(kg·K)", above=0)
    return energy * part / (in_range("mass_kg", mass_kg, "kg", above=0) * heat)


@dataclass(frozen=True, slots=True)
class Cooling:
    """A disc as one lump: heat capacity, and what it gives off per kelvin, running and standing."""

    heat_capacity_j_per_k: float
    running_w_per_k: float
    standing_w_per_k: float
    ambient_c: float = 20.0

    def __post_init__(self) -> None:
        in_range("heat_capacity_j_per_k", self.heat_capacity_j_per_k, "J/K", above=0)
        in_range("running_w_per_k", self.running_w_per_k, "W/K", above=0)
        in_range("standing_w_per_k", self.standing_w_per_k, "W/K", above=0)
        in_range("ambient_c", self.ambient_c, "°C", low=-40, high=80)


@dataclass(frozen=True, slots=True)
class DutyCycle:
    """Stops per hour, evenly spread, and the share of the time that the motor runs, percent."""

    stops_per_hour: float
    running_percent: float

    def __post_init__(self) -> None:
        in_range("stops_per_hour", self.stops_per_hour, "1/h", above=0, high=3600)
        in_range("running_percent", self.running_percent, "%", low=0, high=100)

    @property
    def cycle_s(self) -> float:
        """From one stop to the next, s."""
        return 3600 / self.stops_per_hour


def mean_power_w(energy_j: float, stops_per_hour: float) -> float:
    """Return the heat of the stops spread over the hour, W.

    `energy_j` per stop is zero or more, `stops_per_hour` 0 to 3600; anything
    else is refused with a ValueError.

    Examples
    --------
    >>> mean_power_w(1000.0, 180.0)
    50.0
    """
    stops = in_range("stops_per_hour", stops_per_hour, "1/h", low=0, high=3600)
    return in_range("energy_j", energy_j, "J", low=0) * stops / 3600


def left_after_a_cycle(cooling: Cooling, duty: DutyCycle) -> float:
    """Return the share of the excess temperature that is left from one stop to the next.

    Notes
    -----
    The disc stands first and runs then, and each part of the cycle cools it by
    an exponential of its own. Source: Newton's law of cooling.
    """
    running_s = duty.cycle_s * duty.running_percent / 100
    given_off = (
        running_s * cooling.running_w_per_k + (duty.cycle_s - running_s) * cooling.standing_w_per_k
    )
    return math.exp(-given_off / cooling.heat_capacity_j_per_k)


def steady_peak_c(energy_j: float, cooling: Cooling, duty: DutyCycle) -> float:
    """Return the temperature just after a stop once the duty has gone on for long.

    Parameters
    ----------
    energy_j : float
        Heat that each stop brings into the disc, J, zero or more.
    cooling, duty : Cooling, DutyCycle
        The disc and its work.

    Returns
    -------
    float
        Temperature, °C.

    Raises
    ------
    ValueError
        If `energy_j` is negative.

    Notes
    -----
    Each stop adds the same rise and each cycle leaves the same share of the
    excess: a geometric series. One lump, no radiation, no gradient within.
    """
    rise_k = in_range("energy_j", energy_j, "J", low=0) / cooling.heat_capacity_j_per_k
    return cooling.ambient_c + rise_k / (1 - left_after_a_cycle(cooling, duty))


def peak_temperatures_c(
    energies_j: ArrayLike, cooling: Cooling, duty: DutyCycle, *, start_c: float | None = None
) -> NDArray[np.float64]:
    """Return the temperature just after each of a row of stops, stop by stop.

    Parameters
    ----------
    energies_j : array_like of shape (n_stops,)
        Heat that each stop brings into the disc, J, zero or more; they may differ.
    cooling, duty : Cooling, DutyCycle
        The disc and its work.
    start_c : float, optional
        Temperature before the first stop, °C, -40 to 600; ambient, if not given.

    Returns
    -------
    ndarray of shape (n_stops,), °C
        Tends to `steady_peak_c` where all energies are the same.

    Raises
    ------
    ValueError
        If an argument is out of its range or `energies_j` is not a row.
    """
    energies = np.asarray(in_range("energies_j", energies_j, "J", low=0))
    if energies.ndim != 1:
        raise ValueError(f"energies_j must have one dimension, got {energies.ndim}")
    start = cooling.ambient_c if start_c is None else start_c
    excess_k = in_range("start_c", start, "°C", low=-40, high=600) - cooling.ambient_c
    left = left_after_a_cycle(cooling, duty)
    peaks_c = np.empty_like(energies)
    for index, rise_k in enumerate((energies / cooling.heat_capacity_j_per_k).tolist()):
        # Nothing has cooled yet before the first stop.
        excess_k = (excess_k * left if index else excess_k) + rise_k
        peaks_c[index] = cooling.ambient_c + excess_k
    return peaks_c


def integrated_temperature_c(
    energy_j: float, cooling: Cooling, duty: DutyCycle, stops: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the course of the disc temperature over a row of equal stops.

    Parameters
    ----------
    energy_j : float
        Heat that each stop brings into the disc, J, zero or more.
    cooling, duty : Cooling, DutyCycle
        The disc and its work.
    stops : int
        How many, 1 to 10 000.

    Returns
    -------
    time_s, temperature_c : ndarray of shape (n,)
        From the first stop to a cycle after the last; a stop is a jump, so its
        time appears twice.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The heat balance dT/dt = -G (T - ambient) / C, integrated numerically for
    the standing and the running part of each cycle.
    """
    count = int(in_range("stops", stops, "", low=1, high=10_000))
    rise_k = in_range("energy_j", energy_j, "J", low=0) / cooling.heat_capacity_j_per_k
    running_s = duty.cycle_s * duty.running_percent / 100
    parts = (
        (duty.cycle_s - running_s, cooling.standing_w_per_k),
        (running_s, cooling.running_w_per_k),
    )
    now_s, now_c = 0.0, cooling.ambient_c
    times, temperatures = [np.zeros(1)], [np.array([now_c])]
    for _ in range(count):
        now_c += rise_k
        times.append(np.array([now_s]))
        temperatures.append(np.array([now_c]))
        for length_s, give_off_w_per_k in parts:
            if length_s > 0:
                time_s, course_c = _cool(cooling, give_off_w_per_k, now_c, length_s)
                times.append(now_s + time_s[1:])
                temperatures.append(course_c[1:])
                now_s, now_c = now_s + length_s, float(course_c[-1])
    return np.concatenate(times), np.concatenate(temperatures)


def _cool(
    cooling: Cooling, give_off_w_per_k: float, start_c: float, length_s: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    from scipy.integrate import solve_ivp  # noqa: PLC0415 (a page opens faster without SciPy)

    rate = give_off_w_per_k / cooling.heat_capacity_j_per_k
    solved = solve_ivp(
        lambda _time_s, now_c: -rate * (now_c - cooling.ambient_c),
        (0.0, length_s),
        [start_c],
        rtol=1e-8,
        atol=1e-8,
    )
    return solved.t, solved.y[0]
