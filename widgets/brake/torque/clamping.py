"""What the springs press the disc with: force against gap, free length, stored energy."""

from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Springs

# Stiffness of a hand-release lever and its rods, N per mm of plate travel.
# Common practice, no source: 1 to 5 kN/mm; the middle is taken.
RELEASE_LEVER_RATE_N_PER_MM = 3000.0


@overload
def clamping_force_n(
    gap_mm: float,
    springs: Springs,
    setting_gap_mm: float,
    *,
    intact: int | None = ...,
    force_factor: float = ...,
    release_lever_play_mm: float | None = ...,
    release_lever_rate_n_per_mm: float = ...,
) -> float: ...
@overload
def clamping_force_n(
    gap_mm: ArrayLike,
    springs: Springs,
    setting_gap_mm: float,
    *,
    intact: ArrayLike | None = ...,
    force_factor: ArrayLike = ...,
    release_lever_play_mm: ArrayLike | None = ...,
    release_lever_rate_n_per_mm: float = ...,
) -> NDArray[np.float64]: ...
def clamping_force_n(
    gap_mm: ArrayLike,
    springs: Springs,
    setting_gap_mm: float,
    *,
    intact: ArrayLike | None = None,
    force_factor: ArrayLike = 1.0,
    release_lever_play_mm: ArrayLike | None = None,
    release_lever_rate_n_per_mm: float = RELEASE_LEVER_RATE_N_PER_MM,
) -> float | NDArray[np.float64]:
    """Return the force with which the springs clamp the disc at a gap.

    Parameters
    ----------
    gap_mm : float or array_like
        Air gap with the coil off, mm, zero or more. At zero the plate lies on
        the magnet, so this is also the force that the held plate works against.
    springs : Springs
        Count, force of each at the setting gap, rate of each.
    setting_gap_mm : float
        Gap at which `springs.force_each_n` holds, mm.
    intact : int or array_like of int, optional
        Springs that still push, 0 to `springs.count`. All, if not given.
    force_factor : float or array_like
        Force of each spring over what it should be, 0 to 2.
    release_lever_play_mm : float or array_like, optional
        Free play of the hand release, as plate travel beyond the setting gap,
        mm. Once the lining has worn by more than that, the lever holds the
        plate back. No lever, if not given.
    release_lever_rate_n_per_mm : float
        Stiffness of that lever, N/mm.

    Returns
    -------
    float or ndarray
        Clamping force, N, in the broadcast shape; never below zero.

    Raises
    ------
    ValueError
        If an argument is out of its range, or `intact` is not a whole number.

    Notes
    -----
    Linear springs: each loses its rate times the travel beyond the setting
    gap, until it is free. Source: any machine-design text on helical springs
    (Shigley, ch. 10); the lever term is common practice, no source.

    Examples
    --------
    >>> clamping_force_n(0.5, Springs(8, 100.0, 50.0), 0.3)
    720.0
    """
    travel_mm = in_range("gap_mm", gap_mm, "mm", low=0) - in_range(
        "setting_gap_mm", setting_gap_mm, "mm", above=0
    )
    each_n = _never_negative(springs.force_each_n - springs.rate_each_n_per_mm * travel_mm)
    force_n = each_n * _pushing(springs, intact, force_factor)
    if release_lever_play_mm is None:
        return force_n
    play_mm = in_range("release_lever_play_mm", release_lever_play_mm, "mm", low=0)
    rate = in_range("release_lever_rate_n_per_mm", release_lever_rate_n_per_mm, "N/mm", low=0)
    return _never_negative(force_n - rate * _never_negative(travel_mm - play_mm))


def free_gap_mm(springs: Springs, setting_gap_mm: float) -> float:
    """Return the gap at which the springs reach their free length and no longer push.

    Parameters
    ----------
    springs : Springs
        Force of each at the setting gap, rate of each.
    setting_gap_mm : float
        Gap at which that force holds, mm, above 0.

    Returns
    -------
    float
        Gap, mm.

    Raises
    ------
    ValueError
        If `setting_gap_mm` is not above 0.

    Examples
    --------
    >>> free_gap_mm(Springs(8, 100.0, 50.0), 0.3)
    2.3
    """
    setting_mm = in_range("setting_gap_mm", setting_gap_mm, "mm", above=0)
    return setting_mm + springs.force_each_n / springs.rate_each_n_per_mm


@overload
def spring_energy_j(
    gap_mm: float,
    springs: Springs,
    setting_gap_mm: float,
    *,
    intact: int | None = ...,
    force_factor: float = ...,
) -> float: ...
@overload
def spring_energy_j(
    gap_mm: ArrayLike,
    springs: Springs,
    setting_gap_mm: float,
    *,
    intact: ArrayLike | None = ...,
    force_factor: ArrayLike = ...,
) -> NDArray[np.float64]: ...
def spring_energy_j(
    gap_mm: ArrayLike,
    springs: Springs,
    setting_gap_mm: float,
    *,
    intact: ArrayLike | None = None,
    force_factor: ArrayLike = 1.0,
) -> float | NDArray[np.float64]:
    """Return the energy that waits in the springs when the retaining screws are slackened.

    Parameters
    ----------
    gap_mm, springs, setting_gap_mm, intact, force_factor
        As for `clamping_force_n`. A spring weakened by `force_factor` is taken
        to have lost rate and force alike, at the same free length.

    Returns
    -------
    float or ndarray
        Energy, J, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Half the rate times the square of the compression that is left.

    Examples
    --------
    >>> round(spring_energy_j(0.3, Springs(8, 100.0, 50.0), 0.3), 6)
    0.8
    """
    gap = in_range("gap_mm", gap_mm, "mm", low=0)
    compressed_mm = _never_negative(free_gap_mm(springs, setting_gap_mm) - gap)
    each_j = springs.rate_each_n_per_mm * compressed_mm * compressed_mm / 2000  # N·mm to J
    return each_j * _pushing(springs, intact, force_factor)


def _pushing(
    springs: Springs, intact: ArrayLike | None, force_factor: ArrayLike
) -> float | NDArray[np.float64]:
    factor = in_range("force_factor", force_factor, "", low=0, high=2)
    if intact is None:
        return springs.count * factor
    count = in_range("intact", intact, "", low=0, high=springs.count)
    whole = count.is_integer() if isinstance(count, float) else np.all(count == np.floor(count))
    if not whole:
        raise ValueError(f"intact must be a whole number of springs, got {intact!r:.60}")
    return count * factor


def _never_negative(value: float | NDArray[np.float64]) -> float | NDArray[np.float64]:
    # Springs push, they cannot pull.
    return max(value, 0.0) if isinstance(value, float) else np.maximum(value, 0.0)
