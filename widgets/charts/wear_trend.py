"""A history of gap readings, the line through it, and the day by which to look again."""

import datetime as dt
from collections.abc import Sequence

import numpy as np

from widgets.brake.days import day_words
from widgets.brake.wear.duty import CODE_INTERVAL_DAYS, NextInspection
from widgets.brake.wear.trend import DatedGap, Trend, fit_trend, inspection_from_history

from .marks import WIDTH_IN, Axes, limit_line
from .picture import ACCENT, INK, PENCIL, Picture, in_style, new_figure, picture


def trend_figure(
    readings: Sequence[DatedGap],
    gap_max_mm: float,
    *,
    confidence: float = 0.95,
    code_interval_days: int = CODE_INTERVAL_DAYS,
) -> Picture:
    """Return the readings over the days, the trend with its upper bound, and the due date.

    Parameters
    ----------
    readings : sequence of DatedGap
        In order of time, as for `fit_trend`.
    gap_max_mm : float
        Largest gap, mm, above 0.
    confidence : float
        One-sided, of the upper bound, 0.5 to below 1.
    code_interval_days : int
        Longest time between two inspections, days.

    Raises
    ------
    ValueError
        If the readings are too few or an argument is out of its range.
    """
    trend = fit_trend(readings)
    due = inspection_from_history(
        readings, gap_max_mm, confidence=confidence, code_interval_days=code_interval_days
    )
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        days = [(reading.on - trend.at).days for reading in readings]
        _draw_history(axes, readings, days)
        _draw_trend(axes, trend, _since(readings, days), due, confidence)
        ahead = max(1.25 * due.days, 30.0)
        top = 1.3 * max([gap_max_mm, *(reading.gap_mm for reading in readings)])
        axes.set(xlim=(days[0] - 0.04 * (ahead - days[0]), ahead), ylim=(0, top))
        axes.set(
            xlabel=f"days from the last reading, {day_words(trend.at, '%b')}", ylabel="air gap, mm"
        )
        limit_line(axes, gap_max_mm, "largest allowed", across=True, along=0.34)
        axes.axvline(due.days, color=INK, lw=2.4)
        words = f"look again by\n{day_words(due.on, '%b')} "
        axes.text(due.days, top * 0.985, words, ha="right", va="top", weight="bold")
        axes.set_title("Look again before the upper bound meets the limit")
        figure.legend(loc="outside lower center", ncols=2)
        return picture(figure, _alt(readings, trend, due, gap_max_mm))


def _draw_history(axes: Axes, readings: Sequence[DatedGap], days: Sequence[int]) -> None:
    axes.errorbar(
        days,
        [reading.gap_mm for reading in readings],
        yerr=[2 * reading.u_mm for reading in readings],
        fmt="D",
        ms=7,
        color=INK,
        capsize=4,
        label="readings, ± 2 u",
    )
    words = "adjusted in between"
    for index, reading in enumerate(readings):
        if reading.after_adjustment and index:
            middle = (days[index - 1] + days[index]) / 2
            axes.axvline(middle, color=PENCIL, ls=(0, (1, 3)), lw=2, label=words)
            words = "_"


def _since(readings: Sequence[DatedGap], days: Sequence[int]) -> int:
    """Return the day of the first reading after the last adjustment."""
    resets = [day for reading, day in zip(readings, days, strict=True) if reading.after_adjustment]
    return resets[-1] if resets else days[0]


def _draw_trend(
    axes: Axes, trend: Trend, since: int, due: NextInspection, confidence: float
) -> None:
    """Draw the line from the last adjustment (`since`, days), its bound from the last reading."""
    end = max(1.25 * due.days, 30.0)
    axes.plot([since, end], trend.expected_mm([since, end]), color=ACCENT, label="expected")
    ahead = np.linspace(0, end, 80)
    expected, upper = trend.expected_mm(ahead), trend.upper_mm(ahead, confidence)
    axes.plot(ahead, upper, color=ACCENT, ls="--", label=f"upper bound, {confidence:.0%}")
    axes.fill_between(ahead, expected, upper, color=ACCENT, alpha=0.15, lw=0)


def _alt(readings: Sequence[DatedGap], trend: Trend, due: NextInspection, gap_max_mm: float) -> str:
    first: dt.date = readings[0].on
    return (
        f"{len(readings)} gap readings from {day_words(first)} to {day_words(trend.at)}. The gap "
        f"grows by {100 * trend.slope_mm_per_day:.3f} mm in a hundred days and stands at "
        f"{trend.level_mm:.2f} mm; largest allowed {gap_max_mm:g} mm. {due.sentence}"
    )
