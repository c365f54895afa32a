"""How hard the magnet pulls, what it takes to release, to hold and to let go.

Two equal working gaps in series with an iron path that saturates. No fringing, no eddy
currents, leakage a fixed share of the flux: trust it to about 1.5 times the largest gap.
"""

from collections.abc import Callable
from math import inf
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .coil import Numbers, coil_ampere_turns, coil_resistance_ohm
from .ranges import in_range
from .size import Coil, Magnet

MU_0 = 1.25663706127e-6  # N/A², CODATA 2022
COERCIVITY_A_PER_M = 150.0  # A/m, mild magnet iron; common practice, no source
SEARCH_STEPS = 60  # steps in which the first root is looked for


def reluctance_terms(gap_mm: Numbers, magnet: Magnet) -> tuple[Numbers, float, float]:
    """Return (gap, iron, bend) so that ampere-turns = gap·B + iron·B/(1 - bend·B).

    `gap` and `iron` are in A/T, `bend` in 1/T; nothing is checked here.
    """
    gap = 2e-3 * (gap_mm + magnet.residual_gap_mm) / MU_0
    iron = (
        magnet.leakage_factor * magnet.iron_path_mm * 1e-3 / (MU_0 * magnet.relative_permeability)
    )
    return gap, iron, magnet.leakage_factor / magnet.saturation_t


def flux_density_unchecked_t(gap_mm: Numbers, ampere_turns: Numbers, magnet: Magnet) -> Numbers:
    """Return `flux_density_t` for arguments that have been checked already."""
    gap, iron, bend = reluctance_terms(gap_mm, magnet)
    bent = bend * ampere_turns
    # (gap + iron + bent)² - 4·gap·bent, written so that nothing cancels.
    root = ((gap - bent) ** 2 + iron * (iron + 2 * (gap + bent))) ** 0.5
    return 2 * ampere_turns / (gap + iron + bent + root)


@overload
def flux_density_t(gap_mm: float, ampere_turns: float, magnet: Magnet) -> float: ...
@overload
def flux_density_t(
    gap_mm: ArrayLike, ampere_turns: ArrayLike, magnet: Magnet
) -> NDArray[np.float64]: ...
def flux_density_t(gap_mm: ArrayLike, ampere_turns: ArrayLike, magnet: Magnet) -> Numbers:
    """Return the flux density in the working gaps.

    Parameters
    ----------
    gap_mm : float or array_like, mm
        Air gap, zero or more.
    ampere_turns : float or array_like, A
        Current times turns, zero or more.
    magnet : Magnet
        Poles and iron.

    Returns
    -------
    float or ndarray of the broadcast shape, T

    Raises
    ------
    ValueError
        If a gap or the ampere-turns are negative or not numbers.

    Notes
    -----
    The law of magnetomotive force with Fröhlich's curve for the iron is a
    quadratic in B; this is its smaller root. Source: Ampère's law; Fröhlich's
    form H = B/(μ0 μr (1 - B/Bsat)) as in textbooks on electrical machines.
    """
    gap = in_range("gap_mm", gap_mm, "mm", low=0)
    drive = in_range("ampere_turns", ampere_turns, "A", low=0)
    return flux_density_unchecked_t(gap, drive, magnet)


@overload
def pull_n(gap_mm: float, ampere_turns: float, magnet: Magnet) -> float: ...
@overload
def pull_n(gap_mm: ArrayLike, ampere_turns: ArrayLike, magnet: Magnet) -> NDArray[np.float64]: ...
def pull_n(gap_mm: ArrayLike, ampere_turns: ArrayLike, magnet: Magnet) -> Numbers:
    """Return the force with which the magnet draws the pressure plate.

    Parameters
    ----------
    gap_mm : float or array_like, mm
        Air gap, zero or more.
    ampere_turns : float or array_like, A
        Current times turns, zero or more.
    magnet : Magnet
        Poles and iron.

    Returns
    -------
    float or ndarray of the broadcast shape, N

    Raises
    ------
    ValueError
        If a gap or the ampere-turns are negative or not numbers.

    Notes
    -----
    Maxwell's stress B²/2μ0 on both poles. Source: Maxwell stress, any
    textbook of electromagnetism.
    """
    density = flux_density_t(gap_mm, ampere_turns, magnet)
    return density * density * (magnet.pole_area_cm2 * 1e-4 / MU_0)


@overload
def flux_density_for_force_t(force_n: float, magnet: Magnet) -> float: ...
@overload
def flux_density_for_force_t(force_n: ArrayLike, magnet: Magnet) -> NDArray[np.float64]: ...
def flux_density_for_force_t(force_n: ArrayLike, magnet: Magnet) -> Numbers:
    """Return the flux density at which the pull equals a force.

    Parameters
    ----------
    force_n : float or array_like, N
        Force of all springs together, zero or more.
    magnet : Magnet
        Poles and iron.

    Returns
    -------
    float or ndarray of the same shape, T

    Raises
    ------
    ValueError
        If a force is negative or not a number.
    """
    force = in_range("force_n", force_n, "N", low=0)
    return (force * (MU_0 / (magnet.pole_area_cm2 * 1e-4))) ** 0.5


@overload
def ampere_turns(flux_density_t: float, gap_mm: float, magnet: Magnet) -> float: ...
@overload
def ampere_turns(
    flux_density_t: ArrayLike, gap_mm: ArrayLike, magnet: Magnet
) -> NDArray[np.float64]: ...
def ampere_turns(flux_density_t: ArrayLike, gap_mm: ArrayLike, magnet: Magnet) -> Numbers:
    """Return the ampere-turns that drive a flux density over the gap.

    Parameters
    ----------
    flux_density_t : float or array_like, T
        In the working gaps, zero or more.
    gap_mm : float or array_like, mm
        Air gap, zero or more.
    magnet : Magnet
        Poles and iron.

    Returns
    -------
    float or ndarray of the broadcast shape, A
        Infinite from the saturation of the iron upwards.

    Raises
    ------
    ValueError
        If an argument is negative or not a number.
    """
    density = in_range("flux_density_t", flux_density_t, "T", low=0)
    gap, iron, bend = reluctance_terms(in_range("gap_mm", gap_mm, "mm", low=0), magnet)
    left = 1 - bend * density
    if isinstance(left, float):
        return gap * density + iron * density / left if left > 0 else inf + 0 * gap
    unsaturated = np.where(left > 0, left, 1.0)
    return np.where(left > 0, gap * density + iron * density / unsaturated, inf)


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


@overload
def inductance_h(
    gap_mm: float, magnet: Magnet, coil: Coil, *, turns_factor: float = ...
) -> float: ...
@overload
def inductance_h(
    gap_mm: ArrayLike, magnet: Magnet, coil: Coil, *, turns_factor: ArrayLike = ...
) -> NDArray[np.float64]: ...
def inductance_h(
    gap_mm: ArrayLike, magnet: Magnet, coil: Coil, *, turns_factor: ArrayLike = 1.0
) -> Numbers:
    """Return the inductance of the coil while the iron is far from saturated.

    Parameters
    ----------
    gap_mm : float or array_like, mm
        Air gap, zero or more.
    magnet, coil : Magnet, Coil
        As built.
    turns_factor : float or array_like, dimensionless
        Fault: live turns over those of a sound coil, above zero.

    Returns
    -------
    float or ndarray of the broadcast shape, H

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    gap, iron, _ = reluctance_terms(in_range("gap_mm", gap_mm, "mm", low=0), magnet)
    live_turns = coil.turns * in_range("turns_factor", turns_factor, "", above=0)
    linked_area_m2 = magnet.leakage_factor * magnet.pole_area_cm2 * 1e-4
    return live_turns * live_turns * linked_area_m2 / (gap + iron)


def tilt_pull_factor(tilt_mm: ArrayLike, gap_mm: ArrayLike, magnet: Magnet) -> Numbers:
    """Return how much harder a tilted plate is drawn than a level one, iron left out.

    Parameters
    ----------
    tilt_mm : float or array_like, mm
        Gap on the wide side less the mean gap, zero up to the mean gap.
    gap_mm : float or array_like, mm
        Mean air gap, zero or more.
    magnet : Magnet
        Poles and iron.

    Returns
    -------
    float or ndarray of the broadcast shape, dimensionless

    Raises
    ------
    ValueError
        If the tilt is negative or more than the mean gap allows.

    Notes
    -----
    The mean of 1/(g + δ + a cos φ)² round the rim over 1/(g + δ)².
    """
    tilt = in_range("tilt_mm", tilt_mm, "mm", low=0)
    gap = in_range("gap_mm", gap_mm, "mm", low=0)
    in_range("tilt_mm over gap_mm", tilt - gap, "mm", high=0)
    share = tilt / (gap + magnet.residual_gap_mm)
    return (1 - share * share) ** -1.5


def residual_flux_density_t(
    magnet: Magnet, coercivity_a_per_m: float = COERCIVITY_A_PER_M
) -> float:
    """Return the flux density that stays in a closed magnet without current.

    Parameters
    ----------
    magnet : Magnet
        Poles and iron; a worn anti-stick layer is a smaller residual gap.
    coercivity_a_per_m : float, A/m
        Coercive field strength of the iron, zero or more.

    Returns
    -------
    float, T
        No more than the iron can carry.

    Raises
    ------
    ValueError
        If the coercivity is negative or not a number.

    Notes
    -----
    The iron's own field is used up over the two residual gaps. Source: the
    load line of a demagnetised circuit, B = μ0 Hc l/(2 δ).
    """
    coercivity = in_range("coercivity_a_per_m", coercivity_a_per_m, "A/m", low=0)
    free_t = MU_0 * coercivity * magnet.iron_path_mm / (2 * magnet.residual_gap_mm)
    return min(free_t, magnet.saturation_t / magnet.leakage_factor)


def sticking_residual_gap_mm(
    force_n: float, magnet: Magnet, coercivity_a_per_m: float = COERCIVITY_A_PER_M
) -> float:
    """Return the residual gap at each pole below which the plate stays stuck.

    Parameters
    ----------
    force_n : float, N
        Force of the springs with the gap closed, above zero.
    magnet : Magnet
        Poles and iron.
    coercivity_a_per_m : float, A/m
        Coercive field strength of the iron, zero or more.

    Returns
    -------
    float, mm

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    needed_t = flux_density_for_force_t(in_range("force_n", force_n, "N", above=0), magnet)
    coercivity = in_range("coercivity_a_per_m", coercivity_a_per_m, "A/m", low=0)
    return MU_0 * coercivity * magnet.iron_path_mm / (2 * needed_t)


def sticks(force_n: float, magnet: Magnet, coercivity_a_per_m: float = COERCIVITY_A_PER_M) -> bool:
    """Return whether the plate stays on the poles with the coil switched off.

    Parameters
    ----------
    force_n : float, N
        Force of the springs with the gap closed, zero or more.
    magnet : Magnet
        Poles and iron; a worn anti-stick layer is a smaller residual gap.
    coercivity_a_per_m : float, A/m
        Coercive field strength of the iron, zero or more.

    Returns
    -------
    bool

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    left_t = residual_flux_density_t(magnet, coercivity_a_per_m)
    return left_t >= flux_density_for_force_t(force_n, magnet)
