"""Mean and scatter of a gap from several brackets."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, pstdev

from .gap_reading import GapReading


@dataclass(frozen=True, slots=True)
class BracketFit:
    """Mean and scatter of several brackets, mm.

    Attributes
    ----------
    mean_mm : float
        Most likely mean of what was measured, mm.
    sigma_mm : float
        Most likely standard deviation, mm; zero if the steps are too coarse to show any.
    """

    mean_mm: float
    sigma_mm: float

    @property
    def is_resolved(self) -> bool:
        """Whether the steps were fine enough to show a scatter at all."""
        return self.sigma_mm > 0


MOST_ROUNDS = 5000  # of the iteration; six brackets need about ten
SETTLED_MM = 1e-10  # mm, far below any leaf


def fit_brackets(readings: Sequence[GapReading]) -> BracketFit:
    """Return the mean and scatter of gaps of which only the brackets are known.

    Parameters
    ----------
    readings : sequence of GapReading
        At least one bracket; of one place again and again, or of several places.

    Returns
    -------
    BracketFit
        In mm.

    Raises
    ------
    ValueError
        If there is no reading.

    Notes
    -----
    A bracket is an interval-censored value. Each round puts in its place the
    mean and variance of a normal distribution cut to it (expectation), and takes
    the mean and variance of all (maximisation). Brackets that all share a value
    show no scatter: then the middle of what they share is returned.

    Source: Dempster, Laird & Rubin, *J. R. Stat. Soc. B* 39 (1977), 1-38.
    """
    if not readings:
        raise ValueError("readings must hold at least one bracket, got none")
    low_mm = max(reading.go_mm for reading in readings)
    high_mm = min(reading.no_go_mm for reading in readings)
    if low_mm <= high_mm + SETTLED_MM:  # 0.05 steps that touch may miss each other by a float
        return BracketFit((low_mm + high_mm) / 2, 0.0)
    middles_mm = [reading.middle_mm for reading in readings]
    mean_mm, sigma_mm = fmean(middles_mm), pstdev(middles_mm)
    for _ in range(MOST_ROUNDS):
        before = mean_mm, sigma_mm
        mean_mm, sigma_mm = _next_round(readings, *before)
        if math.dist(before, (mean_mm, sigma_mm)) < SETTLED_MM:
            break
    return BracketFit(mean_mm, sigma_mm)


def _next_round(
    readings: Sequence[GapReading], mean_mm: float, sigma_mm: float
) -> tuple[float, float]:
    """Return mean and standard deviation, mm, with each bracket filled in from the last ones."""
    cut = [
        _cut_normal((r.go_mm - mean_mm) / sigma_mm, (r.no_go_mm - mean_mm) / sigma_mm)
        for r in readings
    ]
    shift = fmean(first for first, _ in cut)
    second = fmean(square for _, square in cut)
    return mean_mm + sigma_mm * shift, sigma_mm * math.sqrt(second - shift**2)


def _cut_normal(low: float, high: float) -> tuple[float, float]:
    """Return mean and mean square of a standard normal cut to an interval, dimensionless."""
    if low + high > 0:  # both tails alike, and the lower one loses no digits
        mean, square = _cut_normal(-high, -low)
        return -mean, square
    chance = (math.erfc(-high / math.sqrt(2)) - math.erfc(-low / math.sqrt(2))) / 2
    at_low, at_high = _STANDARD.pdf(low), _STANDARD.pdf(high)
    mean = (at_low - at_high) / chance
    return mean, 1 + (low * at_low - high * at_high) / chance


_STANDARD = NormalDist()
