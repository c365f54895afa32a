"""How hard a hoist works, and when its brake must be seen again."""

import datetime as dt
import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.days import day_words
from widgets.brake.judgement.standards import Mark
from widgets.brake.ranges import in_range

# Share of the predicted life that the trade uses up before looking again.
# Common practice, no source.
RULE_FACTOR = 0.5
# FEM 9.755: hours run times this. From memory.
HOUR_COUNTER_FACTOR = 1.1
ESTIMATE_FACTOR = 1.2
CODE_INTERVAL_DAYS = 365  # 29 CFR 1910.179(j)(1)(ii): periodic, 1 to 12 months. From memory.


@dataclass(frozen=True, slots=True)
class DutyGroup:
    """A duty group: starts per hour, duty in percent, full-load life in hours, and the marks.

    `rates_mark` says how well starts and duty are known, `life_mark` the life.
    """

    name: str
    iso_name: str
    starts_per_hour: float
    duty_percent: float
    full_load_life_h: float | None
    rates_mark: Mark
    life_mark: Mark


_SECONDARY, _MEMORY = Mark.CONFIRMED, Mark.FROM_MEMORY

# Starts and duty: FEM 9.683; "confirmed" in secondary copies only. Life: FEM
# 9.755, 3m confirmed in a secondary copy, the others from memory. ISO names:
# M3 to M6 confirmed in secondary copies; the two ends are from memory.
DUTY_GROUPS: dict[str, DutyGroup] = {
    group.name: group
    for group in (
        DutyGroup("1Dm", "M1", 90, 15, None, _MEMORY, _MEMORY),
        DutyGroup("1Cm", "M2", 120, 20, None, _MEMORY, _MEMORY),
        DutyGroup("1Bm", "M3", 150, 25, 400, _SECONDARY, _MEMORY),
        DutyGroup("1Am", "M4", 180, 30, 800, _SECONDARY, _MEMORY),
        DutyGroup("2m", "M5", 240, 40, 1600, _SECONDARY, _MEMORY),
        DutyGroup("3m", "M6", 300, 50, 3200, _SECONDARY, _SECONDARY),
        DutyGroup("4m", "M7", 360, 60, 6300, _MEMORY, _MEMORY),
    )
}


@dataclass(frozen=True, slots=True)
class LoadSpectrum:
    """How heavy the loads are on the whole: cubic mean value, and the factor for the life."""

    name: str
    mean_load: float
    factor: float
    mark: Mark = Mark.FROM_MEMORY  # ISO 4301-1 / FEM 9.511


LOAD_SPECTRA: dict[str, LoadSpectrum] = {
    spectrum.name: spectrum
    for spectrum in (
        LoadSpectrum("light", 0.50, 0.125),
        LoadSpectrum("medium", 0.63, 0.25),
        LoadSpectrum("heavy", 0.80, 0.5),
        LoadSpectrum("very heavy", 1.00, 1.0),
    )
}


def stops_per_day(group: DutyGroup, hours_per_day: float) -> float:
    """Return the stops of a day at the full starts of a duty group, each start ending in one.

    `hours_per_day` is 0 to 24, anything else a ValueError. This is the most
    that the group allows. An inverter stops the load electrically: count its
    emergency stops in place of these.
    """
    return group.starts_per_hour * in_range("hours_per_day", hours_per_day, "h", low=0, high=24)


def full_load_hours_used(
    spectrum: LoadSpectrum, running_h: float, *, recording_factor: float = ESTIMATE_FACTOR
) -> float:
    """Return the part of the full-load life that is used up, h.

    `running_h` is zero or more, `recording_factor` (for what is uncertain in
    it) 1 to 2, anything else a ValueError. Source: FEM 9.755 (from memory).

    Examples
    --------
    >>> full_load_hours_used(LOAD_SPECTRA["medium"], 1000.0)
    300.0
    """
    hours = in_range("running_h", running_h, "h", low=0)
    factor = in_range("recording_factor", recording_factor, "", low=1, high=2)
    return spectrum.factor * hours * factor


@overload
def rule_of_thumb_days(stops: float, stops_per_day: float, *, factor: float = ...) -> float: ...
@overload
def rule_of_thumb_days(
    stops: ArrayLike, stops_per_day: ArrayLike, *, factor: float = ...
) -> NDArray[np.float64]: ...
def rule_of_thumb_days(
    stops: ArrayLike, stops_per_day: ArrayLike, *, factor: float = RULE_FACTOR
) -> float | NDArray[np.float64]:
    """Return the days to the next inspection by the rule of the trade: half of what is left.

    Parameters
    ----------
    stops : float or array_like
        Stops left, zero or more: `wear.stops_until` from the gap read plus its
        expanded uncertainty.
    stops_per_day : float or array_like
        Above 0.
    factor : float
        Share of the predicted days to use, above 0 to 1.

    Returns
    -------
    float or ndarray
        Days, not rounded and not yet held to the code interval.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Source: common practice, no source.
    """
    share = in_range("factor", factor, "", above=0, high=1)
    left = in_range("stops", stops, "", low=0)
    return share * left / in_range("stops_per_day", stops_per_day, "1/day", above=0)


@dataclass(frozen=True, slots=True)
class NextInspection:
    """When the brake must be seen again, and what decided it."""

    on: dt.date
    days: int
    confidence: float
    by_wear: bool

    @property
    def sentence(self) -> str:
        """The date and its reason, in words."""
        if self.by_wear:
            return (
                f"Inspect by {day_words(self.on)}: until then the gap stays below its limit "
                f"with a confidence of {self.confidence:.0%}."
            )
        return (
            f"Inspect by {day_words(self.on)}: wear would allow more, the code interval does not."
        )


def next_inspection(
    days_by_wear: float,
    on: dt.date,
    *,
    confidence: float,
    code_interval_days: int = CODE_INTERVAL_DAYS,
) -> NextInspection:
    """Return the date after a number of days, never later than the code interval.

    Parameters
    ----------
    days_by_wear : float
        Days that wear allows, zero or more; infinite where there is no wear.
    on : date
        Day of the last reading.
    confidence : float
        With which those days are stated, 0.5 to below 1.
    code_interval_days : int
        Longest time between two inspections, days, 1 to 3660.

    Returns
    -------
    NextInspection
        Days are rounded down.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    longest = int(in_range("code_interval_days", code_interval_days, "days", low=1, high=3660))
    sure = in_range("confidence", confidence, "", low=0.5, below=1)
    allowed = (
        longest
        if days_by_wear == math.inf
        else in_range("days_by_wear", days_by_wear, "days", low=0)
    )
    by_wear = allowed < longest
    days = int(allowed) if by_wear else longest
    return NextInspection(on + dt.timedelta(days=days), days, sure, by_wear)


def stops_with_confidence(
    room_mm: float,
    growth_mm: float,
    growth_cv: float,
    *,
    gap_u_mm: float = 0.0,
    confidence: float = 0.95,
) -> float:
    """Return the stops after which the gap is still below its limit with a stated confidence.

    Parameters
    ----------
    room_mm : float
        Limit less gap read, mm. Zero or less gives no stops at all.
    growth_mm : float
        Mean growth per stop, mm, above 0.
    growth_cv : float
        Standard deviation of that growth over its mean, 0 to 3: lining, loads
        and temperature make it uncertain.
    gap_u_mm : float
        Standard uncertainty of the gap read, mm, zero or more.
    confidence : float
        0.5 to below 1.

    Returns
    -------
    float
        Stops, not rounded.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The growth coefficient of this brake is one unknown number, lognormal: it
    cannot be negative, and what makes it is a product. The reading error is
    normal. The two are folded by the trapezoidal rule, and the stops at which
    the chance of being within the limit is `confidence` are found by bisection.
    Source: elementary probability; the lognormal is our choice.
    """
    room = in_range("room_mm", room_mm, "mm")
    mean = in_range("growth_mm", growth_mm, "mm", above=0)
    spread = in_range("growth_cv", growth_cv, "", low=0, high=3)
    u_mm = in_range("gap_u_mm", gap_u_mm, "mm", low=0)
    sure = in_range("confidence", confidence, "", low=0.5, below=1)
    sigma = math.sqrt(math.log1p(spread * spread))
    median = mean * math.exp(-sigma * sigma / 2)
    if u_mm == 0 or sigma == 0:
        least_room = room - NormalDist().inv_cdf(sure) * u_mm
        return max(0.0, least_room) / (median * math.exp(NormalDist().inv_cdf(sure) * sigma))
    return _bisect(room, median, sigma, u_mm, sure)


def _bisect(room_mm: float, median_mm: float, sigma: float, u_mm: float, sure: float) -> float:
    if NormalDist().cdf(room_mm / u_mm) <= sure:
        return 0.0
    # Where the median growth uses up the room the chance is a half or less.
    low, high = 0.0, room_mm / median_mm
    for _ in range(50):  # fifty halvings leave no digit that matters
        middle = (low + high) / 2
        if _chance_within(room_mm, middle * median_mm, sigma, u_mm) > sure:
            low = middle
        else:
            high = middle
    return low


def _chance_within(room_mm: float, grown_median_mm: float, sigma: float, u_mm: float) -> float:
    from scipy.special import ndtr  # noqa: PLC0415 (a page opens faster without SciPy)

    errors = np.linspace(-8.0, 8.0, 4001)  # of the reading, in standard uncertainties
    density = np.exp(-errors * errors / 2)
    true_room_mm = room_mm - u_mm * errors
    with np.errstate(divide="ignore"):
        log_room = np.log(np.maximum(true_room_mm, 0.0) / grown_median_mm)
    return float(np.dot(density, ndtr(log_room / sigma)) / density.sum())
