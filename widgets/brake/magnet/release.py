"""What it takes to release, to hold and to let go."""

from collections.abc import Callable
from math import inf
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Coil, Magnet

from .coil import Numbers, coil_ampere_turns, coil_resistance_ohm
from .pull import ampere_turns, flux_density_for_force_t, pull_n

SEARCH_STEPS = 60  # steps in which the first root is looked for


@overload
def release_voltage_v(
    gap_mm: float,
    force_n: float,
    magnet: Magnet,
    coil: Coil,
    temperature_c: float = ...,
    *,
    resistance_factor: float = ...,
    turns_factor: float = ...,
) -> float: ...


@overload
def release_voltage_v(
    gap_mm: ArrayLike,
    force_n: ArrayLike,
    magnet: Magnet,
    coil: Coil,
    temperature_c: ArrayLike = ...,
    *,
    resistance_factor: ArrayLike = ...,
    turns_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...


def release_voltage_v(
    gap_mm: ArrayLike,
    force_n: ArrayLike,
    magnet: Magnet,
    coil: Coil,
    temperature_c: ArrayLike = 20.0,
    *,
    resistance_factor: ArrayLike = 1.0,
    turns_factor: ArrayLike = 1.0,
) -> Numbers:
    """Return the voltage at which the plate starts to pull in.

    Parameters
    ----------
    gap_mm : float or array_like, mm
        Air gap, zero or more.
    force_n : float or array_like, N
        Force of the springs at that gap, zero or more.
    magnet, coil : Magnet, Coil
        As built.
    temperature_c : float or array_like, °C
        Mean temperature of the winding.
    resistance_factor, turns_factor : float or array_like, dimensionless
        Faults: resistance and live turns over those of a sound coil.

    Returns
    -------
    float or ndarray of the broadcast shape, V
        Infinite where saturated iron cannot give the force.

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    drive = ampere_turns(flux_density_for_force_t(force_n, magnet), gap_mm, magnet)
    live_turns = coil.turns * in_range("turns_factor", turns_factor, "", above=0)
    resistance = coil_resistance_ohm(coil, temperature_c, resistance_factor=resistance_factor)
    return drive * (resistance / live_turns)


@overload
def dropout_voltage_v(
    force_n: float,
    magnet: Magnet,
    coil: Coil,
    temperature_c: float = ...,
    *,
    resistance_factor: float = ...,
    turns_factor: float = ...,
) -> float: ...


@overload
def dropout_voltage_v(
    force_n: ArrayLike,
    magnet: Magnet,
    coil: Coil,
    temperature_c: ArrayLike = ...,
    *,
    resistance_factor: ArrayLike = ...,
    turns_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...


def dropout_voltage_v(
    force_n: ArrayLike,
    magnet: Magnet,
    coil: Coil,
    temperature_c: ArrayLike = 20.0,
    *,
    resistance_factor: ArrayLike = 1.0,
    turns_factor: ArrayLike = 1.0,
) -> Numbers:
    """Return the falling voltage at which a plate on the poles lets go.

    Parameters
    ----------
    force_n : float or array_like, N
        Force of the springs with the gap closed, zero or more.
    magnet, coil : Magnet, Coil
        As built.
    temperature_c : float or array_like, °C
        Mean temperature of the winding.
    resistance_factor, turns_factor : float or array_like, dimensionless
        Faults: resistance and live turns over those of a sound coil.

    Returns
    -------
    float or ndarray of the broadcast shape, V

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    return release_voltage_v(
        0.0, force_n, magnet, coil, temperature_c,
        resistance_factor=resistance_factor, turns_factor=turns_factor,
    )  # fmt: skip


@overload
def holding_margin(
    voltage_v: float,
    force_n: float,
    magnet: Magnet,
    coil: Coil,
    temperature_c: float = ...,
    *,
    dirt_mm: float = ...,
    resistance_factor: float = ...,
    turns_factor: float = ...,
) -> float: ...


@overload
def holding_margin(
    voltage_v: ArrayLike,
    force_n: ArrayLike,
    magnet: Magnet,
    coil: Coil,
    temperature_c: ArrayLike = ...,
    *,
    dirt_mm: ArrayLike = ...,
    resistance_factor: ArrayLike = ...,
    turns_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...


def holding_margin(
    voltage_v: ArrayLike,
    force_n: ArrayLike,
    magnet: Magnet,
    coil: Coil,
    temperature_c: ArrayLike = 100.0,
    *,
    dirt_mm: ArrayLike = 0.0,
    resistance_factor: ArrayLike = 1.0,
    turns_factor: ArrayLike = 1.0,
) -> Numbers:
    """Return how many times the spring force the magnet holds the plate with.

    Parameters
    ----------
    voltage_v : float or array_like, V
        Holding (economy) voltage, zero or more.
    force_n : float or array_like, N
        Force of the springs with the gap closed, above zero.
    magnet, coil : Magnet, Coil
        As built.
    temperature_c : float or array_like, °C
        Mean temperature of the winding; hot, 100 °C, if left out.
    dirt_mm : float or array_like, mm
        Fault: what lies between plate and poles, zero or more.
    resistance_factor, turns_factor : float or array_like, dimensionless
        Faults: resistance and live turns over those of a sound coil.

    Returns
    -------
    float or ndarray of the broadcast shape, dimensionless
        Below 1 the plate falls off.

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    in_range("dirt_mm", dirt_mm, "mm", low=0)
    drive = coil_ampere_turns(
        coil, voltage_v, temperature_c,
        resistance_factor=resistance_factor, turns_factor=turns_factor,
    )  # fmt: skip
    return pull_n(dirt_mm, drive, magnet) / in_range("force_n", force_n, "N", above=0)


def largest_releasing_gap_mm(
    force_of_gap_n: Callable[[float], float],
    magnet: Magnet,
    coil: Coil,
    voltage_v: float | None = None,
    temperature_c: float = 100.0,
    *,
    resistance_factor: float = 1.0,
    turns_factor: float = 1.0,
    search_to_mm: float = 3.0,
) -> float:
    """Return the widest gap over which the magnet still pulls the plate in.

    Parameters
    ----------
    force_of_gap_n : callable
        Force of the springs, N, at a gap, mm.
    magnet, coil : Magnet, Coil
        As built.
    voltage_v : float, V
        Across the coil, zero or more; the rated voltage if left out.
    temperature_c : float, °C
        Mean temperature of the winding; hot, 100 °C, if left out.
    resistance_factor, turns_factor : float, dimensionless
        Faults: resistance and live turns over those of a sound coil.
    search_to_mm : float, mm
        Where to stop looking, above zero.

    Returns
    -------
    float, mm
        First gap from zero at which pull and springs are equal; 0 if even a
        plate on the poles is not held, infinite if all gaps searched release.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    Springs that weaken in a straight line let a cold coil at full voltage
    release at any gap; a result beyond 1.5 times the gap limit is outside the
    validity of the model. Source: Brent's method, `scipy.optimize.brentq`.
    """
    from scipy.optimize import brentq  # noqa: PLC0415  pages must open fast

    drive = float(
        coil_ampere_turns(
            coil, voltage_v, temperature_c,
            resistance_factor=resistance_factor, turns_factor=turns_factor,
        )
    )  # fmt: skip
    step_mm = in_range("search_to_mm", search_to_mm, "mm", above=0) / SEARCH_STEPS

    def surplus_n(gap_mm: float) -> float:
        return pull_n(gap_mm, drive, magnet) - force_of_gap_n(gap_mm)

    if surplus_n(0.0) < 0:
        return 0.0
    for step in range(1, SEARCH_STEPS + 1):
        if surplus_n(step * step_mm) < 0:
            return float(brentq(surplus_n, (step - 1) * step_mm, step * step_mm, xtol=1e-9))
    return inf
