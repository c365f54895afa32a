"""What a history of visits comes to: wear, the day of reaching the limit, the next inspection."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from widgets.brake.judgement import COVERAGE_FACTOR
from widgets.brake.judgement.rules import Outcome
from widgets.brake.wear.duty import RULE_FACTOR, rule_of_thumb_days
from widgets.brake.wear.growth import RecordCheck, check_record
from widgets.brake.wear.trend import DatedGap, Trend, fit_trend
from widgets.instruments.feeler.gap_reading import budget as feeler_budget

from .entry import COUNTER, NO_WORK, JobEntry, PastVisit
from .findings import Findings

CONFIDENCE = 0.95  # one-sided, of the day until which the gap stays below its limit
HISTORY_U_MM = feeler_budget(0.05).combined  # of an old reading: common leaves, a steady hand
FURTHEST_DAYS = 3660.0


@dataclass(frozen=True, slots=True)
class History:
    """What the visits say about wear.

    Attributes
    ----------
    growth_mm_per_day : float or None
        Growth of the gap; None if the visits do not show it.
    growth_u_mm_per_day : float or None
        Its standard uncertainty; None if there are too few visits to know.
    stops_per_day : float or None
        Mean duty over the visits; None if it was not written down.
    days_by_wear : float
        Days after the readings until the gap may reach its limit; infinite
        where nothing says so.
    counts_from_setting : bool
        Whether those days begin only when the brake has been set again.
    how : str
        `trend`, `two visits` or `none`: what the days rest on.
    missing : str
        What would be needed for more, in words; empty if nothing is missing.
    record : RecordCheck or None
        Whether the disc has lost what the gap has gained.
    """

    growth_mm_per_day: float | None
    growth_u_mm_per_day: float | None
    stops_per_day: float | None
    days_by_wear: float
    counts_from_setting: bool
    how: str
    missing: str
    record: RecordCheck | None

    @property
    def growth_um_per_1000_stops(self) -> float | None:
        """Growth of the gap in thousandths of a millimetre for a thousand stops."""
        if self.growth_mm_per_day is None or not self.stops_per_day:
            return None
        return 1e6 * self.growth_mm_per_day / self.stops_per_day


def read_history(entry: JobEntry, findings: Findings) -> History:
    """Return what the visits and today's readings say about wear.

    Parameters
    ----------
    entry : JobEntry
        With its history in order of time.
    findings : Findings
        Of the same entry.

    Notes
    -----
    The widest gap is followed, since the limit is for the widest. Where too
    few visits fix a line with its uncertainty, half of what two visits promise
    is taken. Source of that half: common practice, no source.
    """
    visits = _with_today(entry, findings)
    duty = _stops_per_day(entry)
    from_setting = findings.outcome is not Outcome.FIT
    found = _by_trend(entry, findings, visits, from_setting=from_setting)
    if isinstance(found, str):
        missing, found = found, _by_two_visits(entry, findings, visits, from_setting=from_setting)
    else:
        missing = ""
    growth, growth_u, days, how = found
    if duty and entry.stops_ahead and math.isfinite(days):
        days *= duty / entry.stops_ahead  # wear depends on stops, not on days
    return History(
        growth_mm_per_day=growth,
        growth_u_mm_per_day=growth_u,
        stops_per_day=duty,
        days_by_wear=days,
        counts_from_setting=from_setting,
        how=how,
        missing=missing,
        record=_record(entry, findings),
    )


_Found = tuple[float | None, float | None, float, str]


def _with_today(entry: JobEntry, findings: Findings) -> list[DatedGap]:
    visits = [
        DatedGap(visit.on, visit.gap_mm, HISTORY_U_MM, visit.work != NO_WORK)
        for visit in entry.history
    ]
    widest = findings.widest
    worked = entry.work_since != NO_WORK
    return [*visits, DatedGap(entry.on, widest.value_mm, widest.u_mm, worked)]


def _by_trend(
    entry: JobEntry, findings: Findings, visits: Sequence[DatedGap], *, from_setting: bool
) -> _Found | str:
    """Return what a line through the visits says, or why there is none."""
    try:
        trend = fit_trend(visits)
    except ValueError:
        return _what_is_missing(visits)
    if from_setting:
        trend = _set_again(trend, entry.size.gap.setting_mm, findings.widest.u_mm)
    days = trend.days_until(entry.size.gap.max_mm, CONFIDENCE)
    u = math.sqrt(float(trend.covariance[1, 1]))
    return trend.slope_mm_per_day, u, days, "trend"


def _what_is_missing(visits: Sequence[DatedGap]) -> str:
    resets = sum(visit.after_adjustment for visit in visits[1:])
    needed = resets + 4  # a level for each run, one slope, two to spare
    had = len(visits)
    if had >= needed:
        return "The visits between two settings are on the same day: they show no wear."
    return (
        f"A line with its uncertainty needs {needed} visits on different days, today’s among "
        f"them; there are {had}."
    )


def _set_again(trend: Trend, setting_mm: float, u_mm: float) -> Trend:
    """Return the line as it will run from the setting, with the slope it has now."""
    slope_variance = float(trend.covariance[1, 1])
    covariance = np.array([[u_mm**2, 0.0], [0.0, slope_variance]])
    return replace(trend, level_mm=setting_mm, covariance=covariance)


def _by_two_visits(
    entry: JobEntry, findings: Findings, visits: Sequence[DatedGap], *, from_setting: bool
) -> _Found:
    """Return half of the days that the last run between two settings promises."""
    start = max(index for index, visit in enumerate(visits) if visit.after_adjustment or not index)
    first, last = visits[start], visits[-1]
    days = (last.on - first.on).days
    growth_mm = last.gap_mm - first.gap_mm
    if days < 1 or growth_mm <= 0:
        return None, None, math.inf, "none"
    gap = entry.size.gap
    start_mm = gap.setting_mm if from_setting else last.gap_mm
    room_mm = max(0.0, gap.max_mm - start_mm - COVERAGE_FACTOR * findings.widest.u_mm)
    growth = growth_mm / days
    left = rule_of_thumb_days(room_mm / growth, 1.0, factor=RULE_FACTOR)
    return growth, None, min(left, FURTHEST_DAYS), "two visits"


def _stops_per_day(entry: JobEntry) -> float | None:
    """Return the mean duty over the history, stops per day; None if it cannot be told."""
    noted = [visit for visit in entry.history if visit.duty is not None]
    if not noted:
        return None
    if entry.duty_kind != COUNTER:
        return math.fsum(visit.duty or 0.0 for visit in noted) / len(noted) or None
    first = noted[0]
    last_on, last = noted[-1].on, noted[-1].duty
    if entry.duty_now is not None:
        last_on, last = entry.on, entry.duty_now
    days = (last_on - first.on).days
    done = (last or 0.0) - (first.duty or 0.0)
    return done / days if days > 0 and done > 0 else None


def _record(entry: JobEntry, findings: Findings) -> RecordCheck | None:
    """Return whether the disc lost what the gap gained since the brake was last worked on."""
    run = _last_run(entry)
    noted = [visit for visit in run if visit.disc_mm is not None]
    if not noted or noted[0].disc_mm is None:
        return None
    thinnest_mm = min(reading.value_mm for reading in findings.discs)
    growth_mm = findings.widest.value_mm - noted[0].gap_mm
    return check_record(noted[0].disc_mm, thinnest_mm, growth_mm)


def _last_run(entry: JobEntry) -> list[PastVisit]:
    """Return the visits since the last work; none if that was after all of them."""
    if entry.work_since != NO_WORK:
        return []
    run: list[PastVisit] = []
    for visit in reversed(entry.history):
        run.insert(0, visit)
        if visit.work != NO_WORK:
            break
    return run


def next_date(entry: JobEntry, history: History) -> tuple[dt.date, bool] | None:
    """Return the day of the next inspection and whether wear decided it.

    Parameters
    ----------
    entry : JobEntry
        With the code interval that its user stated.
    history : History
        Of the same entry.

    Returns
    -------
    (date, bool) or None
        Never later than the code interval; None if neither wear nor code
        gives a day.
    """
    by_wear = history.days_by_wear
    if entry.code_days is None and not math.isfinite(by_wear):
        return None
    code_days = math.inf if entry.code_days is None else float(entry.code_days)
    decided_by_wear = by_wear < code_days
    days = int(min(by_wear, code_days, FURTHEST_DAYS))
    return entry.on + dt.timedelta(days=days), decided_by_wear
