"""How sure is it that a limit is kept: conformance, guard bands, zones of action, risks.

A reading with its standard uncertainty says of a value only how probable it is
that it keeps its limits (JCGM 106:2012). What to do then hangs on what each
mistake costs.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from itertools import pairwise
from statistics import NormalDist
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .ranges import in_range

COST_RATIO = 20.0  # unsafe pass over needless work, dimensionless; the suite's own choice
ONE_SIDED_95 = 1.6448536269514722  # dimensionless, 95 % of a normal lies below; ISO 14253-1:2017
COVERAGE_FACTOR = 2.0  # dimensionless, U = 2 u; JCGM 106:2012, 8.3.2
CLOSE_CALL = (
    1.0  # standard uncertainties from the limit; nearer than that the reading decides little
)
TAILS = 12.0  # standard deviations beyond which a normal holds less than 1e-32

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
    root = math.sqrt(2)
    return (math.erfc(-high / root) - math.erfc(-low / root)) / 2


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


@dataclass(frozen=True, slots=True)
class Prior:
    """What is known of the gaps (or linings) of such brakes beforehand: normal, mm.

    Attributes
    ----------
    mean : float
        Mean, mm or the unit of the limits.
    sigma : float
        Standard deviation, mm or the same unit, above zero.
    """

    mean: float
    sigma: float

    def __post_init__(self) -> None:
        in_range("prior mean", self.mean, "")
        in_range("prior sigma", self.sigma, "", above=0)

    def after(self, measured: float, uncertainty: float) -> "Prior":
        """Return what is known after one reading: the two weighted by their precision.

        Notes
        -----
        Source: JCGM 106:2012, 7.2.2, normal prior and normal likelihood.
        """
        in_range("measured", measured, "")
        in_range("uncertainty", uncertainty, "", above=0)
        weight = self.sigma**2 / (self.sigma**2 + uncertainty**2)
        mean = self.mean + weight * (measured - self.mean)
        return Prior(mean, uncertainty * math.sqrt(weight))


@dataclass(frozen=True, slots=True)
class Risks:
    """Chances of the two mistakes, dimensionless, 0 to 1.

    Attributes
    ----------
    consumer : float
        A bad one is accepted.
    producer : float
        A good one is rejected.
    """

    consumer: float
    producer: float


def specific_risks(
    measured: float,
    uncertainty: float,
    prior: Prior,
    *,
    lower: float | None = None,
    upper: float | None = None,
) -> Risks:
    """Return the risk of accepting, and of rejecting, the one brake that was read.

    Parameters
    ----------
    measured : float
        Reading, mm or the unit of the limits.
    uncertainty : float
        Standard uncertainty, mm or the same unit, above zero.
    prior : Prior
        What is known beforehand.
    lower, upper : float, optional
        Limits, same unit; at least one.

    Returns
    -------
    Risks
        Consumer's if it is accepted, producer's if it is rejected; they add up to 1.

    Notes
    -----
    Source: JCGM 106:2012, 9.3.
    """
    known = prior.after(measured, uncertainty)
    low, high = _limits(lower, upper)
    good = _between((low - known.mean) / known.sigma, (high - known.mean) / known.sigma)
    return Risks(consumer=1 - good, producer=good)


def global_risks(
    prior: Prior,
    uncertainty: float,
    guard: float = 0.0,
    *,
    lower: float | None = None,
    upper: float | None = None,
) -> Risks:
    """Return the share of all brakes that are wrongly accepted, and wrongly rejected.

    Parameters
    ----------
    prior : Prior
        Distribution of the true values.
    uncertainty : float
        Standard uncertainty of each reading, mm or the unit of the limits, above zero.
    guard : float
        Guard band, mm or the same unit; zero for plain acceptance, negative to be lax.
    lower, upper : float, optional
        Limits, same unit; at least one.

    Returns
    -------
    Risks
        Shares of all brakes.

    Raises
    ------
    ValueError
        If the guard bands leave nothing between them.

    Notes
    -----
    True value and reading are bivariate normal. The chance of a reading on the
    wrong side, for each true value, is integrated over the true values there.

    Source: JCGM 106:2012, 9.4.
    """
    low, high = _limits(lower, upper)
    in_range("guard", guard, "")
    in_range("uncertainty", uncertainty, "", above=0)
    if not low + guard < high - guard:
        raise ValueError(f"guard must leave room between the limits, got {guard:g}")

    def accepted(true: float) -> float:
        return _between((low + guard - true) / uncertainty, (high - guard - true) / uncertainty)

    def rejected(true: float) -> float:
        below = _between(-math.inf, (low + guard - true) / uncertainty)
        return below + _between((high - guard - true) / uncertainty, math.inf)

    edges = [edge for edge in (low, high, low + guard, high - guard) if math.isfinite(edge)]
    bad = [(-math.inf, low), (high, math.inf)]
    return Risks(
        consumer=sum(_expected(accepted, span, prior, uncertainty, edges) for span in bad),
        producer=_expected(rejected, (low, high), prior, uncertainty, edges),
    )


def _expected(
    chance: Callable[[float], float],
    span: tuple[float, float],
    prior: Prior,
    uncertainty: float,
    edges: list[float],
) -> float:
    """Return the mean of `chance` over the true values within a span, dimensionless.

    Gauss and Legendre's rule, panel by panel: none is wider than one standard
    deviation of the prior, nor near an edge than two uncertainties, so that both
    normals are smooth in it, and no search for a step size can fail.
    """
    start = max(span[0], prior.mean - TAILS * prior.sigma)
    end = min(span[1], prior.mean + TAILS * prior.sigma)
    if start >= end:
        return 0.0
    steps = [prior.mean + k * prior.sigma for k in range(-int(TAILS), int(TAILS) + 1)]
    steps += [edge + k * uncertainty for edge in edges for k in range(-8, 9, 2)]
    places = sorted({start, end, *(step for step in steps if start < step < end)})
    pdf = NormalDist(prior.mean, prior.sigma).pdf
    total = 0.0
    for left, right in pairwise(places):
        middle, half = (left + right) / 2, (right - left) / 2
        for node, weight in _nodes():
            true = middle + half * node
            total += half * weight * pdf(true) * chance(true)
    return total


@cache
def _nodes() -> tuple[tuple[float, float], ...]:
    """Return places and weights of the Gauss and Legendre rule of 16 points on -1 to 1."""
    places, weights = np.polynomial.legendre.leggauss(16)
    return tuple(zip(places.tolist(), weights.tolist(), strict=True))
