"""What stays in the iron without current, and what a tilted plate does to the pull."""

from numpy.typing import ArrayLike

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import Magnet

from .coil import Numbers
from .pull import MU_0, flux_density_for_force_t

COERCIVITY_A_PER_M = 150.0  # A/m, mild magnet iron; common practice, no source


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
