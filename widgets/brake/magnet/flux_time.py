"""How long the flux in the magnet takes to rise or fall, plate held still."""

from math import inf

import numpy as np
from numpy.typing import ArrayLike

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Magnet

from . import reluctance_terms
from .actuator import Array
from .coil import Numbers


def flux_time_s(
    start_t: ArrayLike,
    end_t: ArrayLike,
    gap_mm: ArrayLike,
    drive_v: ArrayLike,
    magnet: Magnet,
    *,
    resistance_ohm: float,
    turns: float,
) -> Numbers:
    """Return how long the flux takes from one density to another, plate held still.

    Parameters
    ----------
    start_t, end_t : float or array_like, T
        Flux densities in the gaps, zero to the saturation of the iron.
    gap_mm : float or array_like, mm
        Gap at which the plate is held, zero or more.
    drive_v : float or array_like, V
        Voltage that drives the current: the supply's when switched on, zero
        when the coil freewheels, minus the clamp voltage when cut off.
    magnet : Magnet
        Poles and iron.
    resistance_ohm : float, ohm
        Resistance of the circuit, above zero.
    turns : float, dimensionless
        Live turns, above zero.

    Returns
    -------
    float or ndarray of the broadcast shape, s
        Infinite where the flux never gets there.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    N A λ dB/dt = U - R·mmf(B)/N has a right side that is a quadratic over
    (1 - B/B_sat), so that the time is a sum of two logarithms. Source:
    Faraday's law; partial fractions.
    """
    limit_t = magnet.saturation_t / magnet.leakage_factor
    start = np.asarray(in_range("start_t", start_t, "T", low=0, below=limit_t))
    end = np.asarray(in_range("end_t", end_t, "T", low=0, below=limit_t))
    drive = np.asarray(in_range("drive_v", drive_v, "V"))
    ohm_per_turn = in_range("resistance_ohm", resistance_ohm, "ohm", above=0) / in_range(
        "turns", turns, "", above=0
    )
    gap, iron, bend = reluctance_terms(in_range("gap_mm", gap_mm, "mm", low=0), magnet)
    square = ohm_per_turn * gap * bend
    linear = drive * bend + ohm_per_turn * (gap + iron)
    root = np.sqrt(linear * linear - 4 * square * drive)
    far = (linear + np.copysign(root, linear)) / (2 * square)
    near = drive / (square * far)

    def part(pole: Array) -> Array:
        return (1 - bend * pole) * np.log(np.abs((end - pole) / (start - pole)))

    steady = np.where(drive < 0, -inf, near)
    reached = np.where(end > start, end < steady, end > steady)
    with np.errstate(divide="ignore", invalid="ignore"):
        shape = (part(near) - part(far)) / (square * (near - far))
    seconds = np.where(reached, _linkage_vs_per_t(magnet, turns) * shape, inf)
    answer = np.where(end == start, 0.0, seconds)
    return float(answer) if answer.ndim == 0 else answer


def _linkage_vs_per_t(magnet: Magnet, turns: float) -> float:
    return turns * magnet.pole_area_cm2 * 1e-4 * magnet.leakage_factor
