"""How sure a reading is of its limits: probability, guard band, zone and action."""

import math
from enum import StrEnum
from statistics import NormalDist
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

# Unsafe pass over needless work, dimensionless: the suite's own choice, so that the least distance
# that a Bayes decision asks for is the 1.645 of the standard.
COST_RATIO = 19.0
ONE_SIDED_95 = 1.6448536269514722  # dimensionless, 95 % of a normal lies below; ISO 14253-1:2017
COVERAGE_FACTOR = 2.0  # dimensionless, U = 2 u; JCGM 106:2012, 8.3.2
CLOSE_CALL = 1.0  # standard uncertainties from the limit; nearer, a reading decides little
_STANDARD = NormalDist()


@overload
def conformance_probability(
    measured: float, uncertainty: float, *, lower: float | None = ..., upper: float | None = ...
) -> float: ...


@overload
def conformance_probability(
    measured: ArrayLike,
    uncertainty: ArrayLike,
    *,
    lower: float | None = ...,
    upper: float | None = ...,
) -> NDArray[np.float64]: ...


def conformance_probability(
    measured: ArrayLike,
    uncertainty: ArrayLike,
    *,
    lower: float | None = None,
    upper: float | None = None,
) -> float | NDArray[np.float64]:
    """Return how probable it is that the true value keeps its limits.

    Parameters
    ----------
    measured : float or array_like of shape (n,)
        Reading, in the unit of the limits, mm for a gap or a lining.
    uncertainty : float or array_like of shape (n,)
        Its standard uncertainty, same unit, above zero.
    lower, upper : float, optional
        Limits, same unit; at least one, and `lower` below `upper`.

    Returns
    -------
    float or ndarray of shape (n,)
        Probability, dimensionless, 0 to 1.

    Raises
    ------
    ValueError
        If no limit is given, the limits are crossed, or `uncertainty` is not above zero.

    Notes
    -----
    Normal distribution about the reading, nothing being known beforehand.

    Source: JCGM 106:2012, 7.3 and 7.4.

    Examples
    --------
    A gap read two uncertainties below its maximum:

    >>> round(conformance_probability(0.76, 0.02, upper=0.80), 4)
    0.9772
    """
    low, high = _limits(lower, upper)
    measured = in_range("measured", measured, "")
    uncertainty = in_range("uncertainty", uncertainty, "", above=0)
    if isinstance(measured, float) and isinstance(uncertainty, float):
        return _between((low - measured) / uncertainty, (high - measured) / uncertainty)
    from scipy.special import ndtr  # noqa: PLC0415 -- a page opens without SciPy

    start = (low - np.asarray(measured)) / uncertainty
    end = (high - np.asarray(measured)) / uncertainty
    # In the upper tail both ends are near 1: there the mirror image keeps the digits.
    mirrored = start + end > 0
    start, end = np.where(mirrored, -end, start), np.where(mirrored, -start, end)
    result: NDArray[np.float64] = ndtr(end) - ndtr(start)
    return result


def _limits(lower: float | None, upper: float | None) -> tuple[float, float]:
    """Return both limits, an absent one infinite."""
    if lower is None and upper is None:
        raise ValueError("lower or upper must be given, got neither")
    low = -math.inf if lower is None else in_range("lower", lower, "")
    high = math.inf if upper is None else in_range("upper", upper, "")
    if not low < high:
        raise ValueError(f"lower must be < upper, got {low:g} and {high:g}")
    return low, high


def _between(low: float, high: float) -> float:
    """Return the chance of a standard normal between two values, dimensionless, also far out."""
    if low + high > 0:
        low, high = -high, -low
    return (math.erfc(-high / math.sqrt(2)) - math.erfc(-low / math.sqrt(2))) / 2


def guard_band(uncertainty: float, coverage_factor: float = COVERAGE_FACTOR) -> float:
    """Return how far inside its limit a reading must be to be accepted.

    Parameters
    ----------
    uncertainty : float
        Standard uncertainty, mm or the unit of the limit, zero or more.
    coverage_factor : float
        Guard in standard uncertainties, dimensionless, zero or more: 2 for
        w = U, 1.645 for 95 % conformance at the worst, 0 for plain acceptance.

    Returns
    -------
    float
        Guard band w, mm or the unit of `uncertainty`.

    Notes
    -----
    Source: JCGM 106:2012, 8.3.2; ISO 14253-1:2017 for 95 %, from memory.
    """
    in_range("coverage_factor", coverage_factor, "", low=0)
    return in_range("uncertainty", uncertainty, "", low=0) * coverage_factor


def is_accepted(
    measured: float, guard: float, *, lower: float | None = None, upper: float | None = None
) -> bool:
    """Return whether a reading is inside its limits by the guard band or more.

    Parameters
    ----------
    measured : float
        Reading, mm or the unit of the limits.
    guard : float
        Guard band, mm or the same unit, zero or more.
    lower, upper : float, optional
        Limits, same unit; at least one.

    Returns
    -------
    bool
        False for any reading if the guard bands leave nothing between them.

    Notes
    -----
    Source: JCGM 106:2012, 8.3.2, guarded acceptance.
    """
    low, high = _limits(lower, upper)
    in_range("measured", measured, "")
    in_range("guard", guard, "", low=0)
    return low + guard <= measured <= high - guard


def least_distance(cost_ratio: float = COST_RATIO) -> float:
    """Return how many standard uncertainties inside its limit a reading must be to carry on.

    Parameters
    ----------
    cost_ratio : float
        Cost of an unsafe pass over that of needless work, dimensionless, above zero.

    Returns
    -------
    float
        Least distance d*, dimensionless; below zero if needless work costs more.

    Notes
    -----
    To carry on costs C (1 - p), to act costs p: carrying on is cheaper for
    1 - p < 1 / (1 + C).

    Source: Bayes decision between two actions, Berger, *Statistical Decision
    Theory and Bayesian Analysis*, 2nd ed. (1985), section 4.4, from memory.

    Examples
    --------
    >>> round(least_distance(19), 3)
    1.645
    """
    in_range("cost_ratio", cost_ratio, "", above=0, high=1e12)
    return 0.0 - _STANDARD.inv_cdf(1 / (1 + cost_ratio))


class Zone(StrEnum):
    """Where a reading lies, from safely inside its limit to clearly beyond."""

    CONTINUE = "continue"
    GUARD = "guard band"
    CLOSE = "close to the limit"
    BEYOND = "beyond the limit"


class Action(StrEnum):
    """What may be done on a reading."""

    CONTINUE = "continue"
    REMEASURE = "measure again, with less uncertainty"
    ACT = "adjust or replace"


ACCEPTABLE = {
    Zone.CONTINUE: frozenset({Action.CONTINUE}),
    Zone.GUARD: frozenset({Action.ACT, Action.REMEASURE}),
    Zone.CLOSE: frozenset({Action.ACT, Action.REMEASURE}),
    Zone.BEYOND: frozenset({Action.ACT}),
}


def either_way(
    measured: float, uncertainty: float, *, lower: float | None = None, upper: float | None = None
) -> bool:
    """Return whether carrying on and acting are both right on a reading: one standard or another.

    Arguments as for `distance`.

    Notes
    -----
    From 1.645 uncertainties inside the limit ISO 14253-1:2017 carries on (95 % sure at the
    worst); up to 2 JCGM 106:2012, 8.3.2, with w = U, acts.
    """
    inside = distance(measured, uncertainty, lower=lower, upper=upper)
    return ONE_SIDED_95 <= inside < COVERAGE_FACTOR


def distance(
    measured: float, uncertainty: float, *, lower: float | None = None, upper: float | None = None
) -> float:
    """Return how far inside its nearest limit a reading is, in standard uncertainties.

    Parameters
    ----------
    measured : float
        Reading, mm or the unit of the limits.
    uncertainty : float
        Standard uncertainty, mm or the same unit, above zero.
    lower, upper : float, optional
        Limits, same unit; at least one.

    Returns
    -------
    float
        Distance d, dimensionless, negative beyond the limit.
    """
    low, high = _limits(lower, upper)
    in_range("measured", measured, "")
    in_range("uncertainty", uncertainty, "", above=0)
    return min(measured - low, high - measured) / uncertainty


def zone(
    measured: float,
    uncertainty: float,
    *,
    lower: float | None = None,
    upper: float | None = None,
    cost_ratio: float = COST_RATIO,
) -> Zone:
    """Return the zone of a reading; `ACCEPTABLE` says what may be done there.

    Parameters
    ----------
    measured : float
        Reading, mm or the unit of the limits.
    uncertainty : float
        Standard uncertainty, mm or the same unit, above zero.
    lower, upper : float, optional
        Limits, same unit; at least one.
    cost_ratio : float
        Cost of an unsafe pass over that of needless work, dimensionless, 1 or more.

    Returns
    -------
    Zone
        With d the distance and d* the least one: CONTINUE from d* on, GUARD
        from 1, CLOSE above -d*, BEYOND from there down.

    Notes
    -----
    With two limits the nearer one counts; they are taken to be many
    uncertainties apart.
    """
    least = least_distance(in_range("cost_ratio", cost_ratio, "", low=1))
    inside = distance(measured, uncertainty, lower=lower, upper=upper)
    if inside >= least:
        return Zone.CONTINUE
    if inside >= CLOSE_CALL:
        return Zone.GUARD
    return Zone.CLOSE if inside > -least else Zone.BEYOND
