"""Braking torque: torque of the faces at a gap, lining pressure, ratio to the load."""

import math
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize, Lining

from .clamping import clamping_force_n
from .friction import uniform_wear_radius_mm

# Static over dynamic torque of one brake. Common practice, no source.
STATIC_OVER_DYNAMIC_RANGE = (0.8, 1.2)
# Torque between samples, speeds and temperatures, ± share. Common practice, no source.
TORQUE_SPREAD_RANGE = (0.20, 0.30)
# Mean lining pressure of brakes of this kind, N/mm². Common practice, no source.
LINING_PRESSURE_RANGE_N_PER_MM2 = (0.05, 0.30)


@overload
def braking_torque_nm(
    force_n: float, friction: float, radius_mm: float, *, faces: int = ...
) -> float: ...
@overload
def braking_torque_nm(
    force_n: ArrayLike, friction: ArrayLike, radius_mm: ArrayLike, *, faces: int = ...
) -> NDArray[np.float64]: ...
def braking_torque_nm(
    force_n: ArrayLike, friction: ArrayLike, radius_mm: ArrayLike, *, faces: int = 2
) -> float | NDArray[np.float64]:
    """Return the torque at which a clamped disc slips.

    Parameters
    ----------
    force_n : float or array_like
        Clamping force, N, zero or more.
    friction : float or array_like
        Coefficient of friction, 0 to 1.
    radius_mm : float or array_like
        Effective radius, mm, above 0.
    faces : int
        Rubbing faces that share the same force, 1 or more.

    Returns
    -------
    float or ndarray
        Torque, N·m, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Faces times friction times force times radius. Real brakes of one kind
    differ by `TORQUE_SPREAD_RANGE`. Source: Shigley, ch. 16.

    Examples
    --------
    >>> braking_torque_nm(1000.0, 0.40, 50.0)
    40.0
    """
    force = in_range("force_n", force_n, "N", low=0)
    grip = in_range("friction", friction, "", low=0, high=1)
    radius = in_range("radius_mm", radius_mm, "mm", above=0)
    in_range("faces", faces, "", low=1)
    return faces * grip * force * radius / 1000


@overload
def torque_at_gap_nm(
    size: BrakeSize,
    gap_mm: float,
    *,
    friction: float | None = ...,
    intact: int | None = ...,
    force_factor: float = ...,
    release_lever_play_mm: float | None = ...,
) -> float: ...
@overload
def torque_at_gap_nm(
    size: BrakeSize,
    gap_mm: ArrayLike,
    *,
    friction: ArrayLike | None = ...,
    intact: ArrayLike | None = ...,
    force_factor: ArrayLike = ...,
    release_lever_play_mm: ArrayLike | None = ...,
) -> NDArray[np.float64]: ...
def torque_at_gap_nm(
    size: BrakeSize,
    gap_mm: ArrayLike,
    *,
    friction: ArrayLike | None = None,
    intact: ArrayLike | None = None,
    force_factor: ArrayLike = 1.0,
    release_lever_play_mm: ArrayLike | None = None,
) -> float | NDArray[np.float64]:
    """Return the braking torque of a size at a gap, run in.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    gap_mm : float or array_like
        Air gap with the coil off, mm, zero or more.
    friction : float or array_like, optional
        Coefficient of friction; that of the size, if not given.
    intact, force_factor, release_lever_play_mm
        As for `clamping_force_n`.

    Returns
    -------
    float or ndarray
        Torque, N·m, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    force_n = clamping_force_n(
        gap_mm,
        size.springs,
        size.gap.setting_mm,
        intact=intact,
        force_factor=force_factor,
        release_lever_play_mm=release_lever_play_mm,
    )
    lining = size.lining
    grip = lining.friction if friction is None else friction
    radius_mm = (lining.inner_radius_mm + lining.outer_radius_mm) / 2
    return braking_torque_nm(force_n, grip, radius_mm, faces=lining.faces)


@overload
def gap_at_torque_mm(
    size: BrakeSize, torque_nm: float, *, friction: float | None = ...
) -> float: ...
@overload
def gap_at_torque_mm(
    size: BrakeSize, torque_nm: ArrayLike, *, friction: ArrayLike | None = ...
) -> NDArray[np.float64]: ...
def gap_at_torque_mm(
    size: BrakeSize, torque_nm: ArrayLike, *, friction: ArrayLike | None = None
) -> float | NDArray[np.float64]:
    """Return the gap at which the torque of a sound brake has fallen to a value.

    Parameters
    ----------
    size : BrakeSize
        The brake, run in, all springs whole.
    torque_nm : float or array_like
        Torque, N·m, zero or more.
    friction : float or array_like, optional
        Coefficient of friction, above 0; that of the size, if not given.

    Returns
    -------
    float or ndarray
        Gap, mm. Below zero where the brake cannot reach that torque at all.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    wanted = in_range("torque_nm", torque_nm, "N·m", low=0)
    lining, springs = size.lining, size.springs
    chosen = lining.friction if friction is None else friction
    grip = in_range("friction", chosen, "", above=0, high=1)
    radius_mm = uniform_wear_radius_mm(lining.inner_radius_mm, lining.outer_radius_mm)
    each_n = wanted * 1000 / (lining.faces * grip * radius_mm * springs.count)
    return size.gap.setting_mm + (springs.force_each_n - each_n) / springs.rate_each_n_per_mm


@overload
def static_torque_nm(dynamic_torque_nm: float, static_over_dynamic: float) -> float: ...
@overload
def static_torque_nm(
    dynamic_torque_nm: ArrayLike, static_over_dynamic: ArrayLike
) -> NDArray[np.float64]: ...
def static_torque_nm(
    dynamic_torque_nm: ArrayLike, static_over_dynamic: ArrayLike
) -> float | NDArray[np.float64]:
    """Return the torque at which a held disc breaks away, from the torque while it slips.

    Parameters
    ----------
    dynamic_torque_nm : float or array_like
        Torque while slipping, N·m, zero or more.
    static_over_dynamic : float or array_like
        Ratio of the two, 0.8 to 1.2.

    Returns
    -------
    float or ndarray
        Static torque, N·m, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Source: common practice, no source (`STATIC_OVER_DYNAMIC_RANGE`).
    """
    low, high = STATIC_OVER_DYNAMIC_RANGE
    torque = in_range("dynamic_torque_nm", dynamic_torque_nm, "N·m", low=0)
    return torque * in_range("static_over_dynamic", static_over_dynamic, "", low=low, high=high)


def face_area_mm2(lining: Lining) -> float:
    """Return the rubbing area of one face, mm²."""
    return math.pi * (lining.outer_radius_mm**2 - lining.inner_radius_mm**2)


@overload
def lining_pressure_n_per_mm2(force_n: float, lining: Lining) -> float: ...
@overload
def lining_pressure_n_per_mm2(force_n: ArrayLike, lining: Lining) -> NDArray[np.float64]: ...
def lining_pressure_n_per_mm2(force_n: ArrayLike, lining: Lining) -> float | NDArray[np.float64]:
    """Return the mean pressure on a face, N/mm²: clamping force (N, 0 or more) over its area."""
    return in_range("force_n", force_n, "N", low=0) / face_area_mm2(lining)


@overload
def peak_pressure_n_per_mm2(force_n: float, lining: Lining) -> float: ...
@overload
def peak_pressure_n_per_mm2(force_n: ArrayLike, lining: Lining) -> NDArray[np.float64]: ...
def peak_pressure_n_per_mm2(force_n: ArrayLike, lining: Lining) -> float | NDArray[np.float64]:
    """Return the pressure at the inner edge of a run-in lining, N/mm².

    Source: Shigley, ch. 16, uniform wear: F = 2π p_a r_i (r_o − r_i).
    """
    width_mm = lining.outer_radius_mm - lining.inner_radius_mm
    force = in_range("force_n", force_n, "N", low=0)
    return force / (2 * math.pi * lining.inner_radius_mm * width_mm)


@overload
def holding_ratio(torque_nm: float, load_torque_nm: float) -> float: ...
@overload
def holding_ratio(torque_nm: ArrayLike, load_torque_nm: ArrayLike) -> NDArray[np.float64]: ...
def holding_ratio(torque_nm: ArrayLike, load_torque_nm: ArrayLike) -> float | NDArray[np.float64]:
    """Return how many times the brake could hold the load.

    Parameters
    ----------
    torque_nm : float or array_like
        Braking torque, N·m, zero or more.
    load_torque_nm : float or array_like
        Torque of the load at the same shaft, N·m, above 0.

    Returns
    -------
    float or ndarray
        Ratio, without dimension. At 1 or less the load runs away.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    torque = in_range("torque_nm", torque_nm, "N·m", low=0)
    return torque / in_range("load_torque_nm", load_torque_nm, "N·m", above=0)
