"""What a decision rule risks, for one reading and for a run of brakes."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from statistics import NormalDist

import numpy as np

from widgets.brake.ranges import in_range

from .chance import _between, _limits

TAILS = 12.0  # standard deviations beyond which a normal holds less than 1e-32


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
