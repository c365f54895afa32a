"""How hard the magnet pulls.

Two equal working gaps in series with an iron path that saturates. No fringing, no eddy
currents, leakage a fixed share of the flux: trust it to about 1.5 times the largest gap.
"""

from math import inf
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Coil, Magnet

from .coil import Numbers

MU_0 = 1.25663706127e-6  # N/A², CODATA 2022


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
