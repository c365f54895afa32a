"""When the gap will reach its limit, from the readings that were really taken."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

from .duty import CODE_INTERVAL_DAYS, NextInspection, next_inspection

LEAST_SPARE_READINGS = 2  # beyond what the line needs; with fewer the band means nothing


@dataclass(frozen=True, slots=True)
class DatedGap:
    """One gap reading: day, mean gap and its standard uncertainty, mm.

    `after_adjustment` says that the brake was adjusted (or given a new disc)
    since the reading before, so that the line starts again from here.
    """

    on: dt.date
    gap_mm: float
    u_mm: float
    after_adjustment: bool = False

    def __post_init__(self) -> None:
        in_range("gap_mm", self.gap_mm, "mm", low=0)
        in_range("u_mm", self.u_mm, "mm", above=0)


@dataclass(frozen=True, slots=True)
class Trend:
    """A line through the readings since the last adjustment, with the slope of all of them.

    `level_mm` is the fitted gap on day `at`; `covariance` is that of level and
    slope, mm² and days, ndarray of shape (2, 2), scaled by `scatter`;
    `scatter` is the variance of the weighted residuals, or 1 if that is less:
    readings are never believed to be better than their stated uncertainty.
    """

    at: dt.date
    level_mm: float
    slope_mm_per_day: float
    covariance: NDArray[np.float64]
    scatter: float
    spare_readings: int
    last_u_mm: float

    def expected_mm(self, days: ArrayLike) -> NDArray[np.float64]:
        """Return the fitted gap, mm, a number of days after `at`, in the shape of `days`."""
        return self.level_mm + self.slope_mm_per_day * np.asarray(
            in_range("days", days, "days"), dtype=np.float64
        )

    def upper_mm(
        self, days: ArrayLike, confidence: float, *, u_mm: float | None = None
    ) -> NDArray[np.float64]:
        """Return the gap that a reading will not exceed, with a stated confidence.

        Parameters
        ----------
        days : array_like
            Days after `at`.
        confidence : float
            One-sided, 0.5 to below 1.
        u_mm : float, optional
            Standard uncertainty of the reading to come, mm; that of the last
            one, if not given.

        Returns
        -------
        ndarray, mm
            In the shape of `days`.

        Raises
        ------
        ValueError
            If an argument is out of its range.

        Notes
        -----
        Fitted value plus Student's t times the root of the variance of the
        line and that of one more reading. Source: any text on regression, for
        instance Draper & Smith, *Applied Regression Analysis*, prediction of a
        single observation (from memory).
        """
        from scipy.special import stdtrit  # noqa: PLC0415 (a page opens faster without SciPy)

        after = np.asarray(in_range("days", days, "days"), dtype=np.float64)
        sure = in_range("confidence", confidence, "", low=0.5, below=1)
        coming = in_range("u_mm", self.last_u_mm if u_mm is None else u_mm, "mm", low=0)
        (level, both), (_, slope) = self.covariance.tolist()
        variance = level + 2 * both * after + slope * after**2 + self.scatter * coming**2
        factor = float(stdtrit(self.spare_readings, sure))
        upper: NDArray[np.float64] = self.expected_mm(after) + factor * np.sqrt(variance)
        return upper

    def days_until(self, gap_max_mm: float, confidence: float) -> float:
        """Return the days after `at` when the upper bound reaches the limit.

        Parameters
        ----------
        gap_max_mm : float
            Largest gap, mm, above 0.
        confidence : float
            One-sided, 0.5 to below 1.

        Returns
        -------
        float
            Days; 0 if the bound is there already, infinite if it stays below
            for ten years.

        Raises
        ------
        ValueError
            If an argument is out of its range.
        """
        limit = in_range("gap_max_mm", gap_max_mm, "mm", above=0)
        days = np.arange(0.0, 3661.0)
        beyond = np.flatnonzero(self.upper_mm(days, confidence) >= limit)
        if beyond.size == 0:
            return math.inf
        first = int(beyond[0])
        if first == 0:
            return 0.0
        low, high = first - 1.0, float(first)
        for _ in range(40):  # forty halvings of one day
            middle = (low + high) / 2
            low, high = (
                (low, middle)
                if float(self.upper_mm(middle, confidence)) >= limit
                else (middle, high)
            )
        return low


def fit_trend(readings: Sequence[DatedGap]) -> Trend:
    """Return the line through a history of readings, adjustments and all.

    Parameters
    ----------
    readings : sequence of DatedGap
        In order of time. Each adjustment starts a new level; the slope is the
        same throughout, since it is the same hoist at the same work.

    Returns
    -------
    Trend
        For the time since the last adjustment.

    Raises
    ------
    ValueError
        If they are too few, all at one time, or not in order of time.

    Notes
    -----
    Weighted least squares, weights 1/u². Between two readings with an
    adjustment in between nothing is learned about the slope, so that each
    adjustment costs one reading. Source: any text on regression.
    """
    day, gap, u, segment = _columns(readings)
    levels = int(segment[-1]) + 1
    spare = len(readings) - levels - 1
    if spare < LEAST_SPARE_READINGS:
        needed = levels + 1 + LEAST_SPARE_READINGS
        raise ValueError(
            f"readings must be at least {needed} with {levels - 1} adjustments among them, to say "
            f"how sure the date is, got {len(readings)}"
        )
    since = day - day[-1]
    design = np.zeros((len(readings), levels + 1))
    design[np.arange(len(readings)), segment] = 1.0
    design[:, levels] = since
    if np.linalg.matrix_rank(design) <= levels:
        raise ValueError("readings must lie on different days between adjustments, got one day")
    return _solve(design, gap, u, readings[-1], spare)


def _columns(
    readings: Sequence[DatedGap],
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.intp]]:
    if not readings:
        raise ValueError("readings must be at least 4 to show a trend, got none")
    day = np.array([reading.on.toordinal() for reading in readings], dtype=np.float64)
    back = np.flatnonzero(np.diff(day) < 0)
    if back.size:
        later = int(back[0]) + 1
        raise ValueError(
            f"readings must be in order of time, got readings[{later}] on {readings[later].on} "
            f"after {readings[later - 1].on}"
        )
    gap = np.array([reading.gap_mm for reading in readings])
    u = np.array([reading.u_mm for reading in readings])
    resets = [reading.after_adjustment and index > 0 for index, reading in enumerate(readings)]
    return day, gap, u, np.cumsum(resets)


def _solve(
    design: NDArray[np.float64],
    gap_mm: NDArray[np.float64],
    u_mm: NDArray[np.float64],
    last: DatedGap,
    spare: int,
) -> Trend:
    weighted, target = design / u_mm[:, np.newaxis], gap_mm / u_mm
    q, r = np.linalg.qr(weighted)
    best = np.linalg.solve(r, q.T @ target)
    residual = target - weighted @ best
    scatter = max(1.0, float(residual @ residual) / spare)
    inverse = np.linalg.inv(r)
    covariance = scatter * (inverse @ inverse.T)
    return Trend(
        at=last.on,
        level_mm=float(best[-2]),
        slope_mm_per_day=float(best[-1]),
        covariance=covariance[-2:, -2:],
        scatter=scatter,
        spare_readings=spare,
        last_u_mm=last.u_mm,
    )


def inspection_from_history(
    readings: Sequence[DatedGap],
    gap_max_mm: float,
    *,
    confidence: float = 0.95,
    code_interval_days: int = CODE_INTERVAL_DAYS,
) -> NextInspection:
    """Return the date of the next inspection from a history of readings.

    Parameters
    ----------
    readings : sequence of DatedGap
        As for `fit_trend`; the date counts from the last of them.
    gap_max_mm : float
        Largest gap, mm, above 0.
    confidence : float
        One-sided, 0.5 to below 1.
    code_interval_days : int
        Longest time between two inspections, days.

    Returns
    -------
    NextInspection
        The day before the upper bound crosses the limit, or the end of the
        code interval if that is sooner.

    Raises
    ------
    ValueError
        If the readings are too few or an argument is out of its range.
    """
    trend = fit_trend(readings)
    days = trend.days_until(gap_max_mm, confidence)
    return next_inspection(
        days, trend.at, confidence=confidence, code_interval_days=code_interval_days
    )
