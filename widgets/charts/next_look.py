"""The gap over the days to come, from the reading it was left with to the largest allowed."""

import numpy as np

from widgets.brake.ranges import in_range

from .marks import WIDTH_IN, limit_line
from .picture import ACCENT, INK, Picture, in_style, new_figure, picture

LEAST_DAYS = 30.0  # that the figure shows


def next_look_figure(
    gap_mm: float, expanded_mm: float, growth_mm_per_day: float, largest_mm: float, due_days: int
) -> Picture:
    """Return the gap as it grows, with the uncertainty of its reading, and the day to look again.

    Parameters
    ----------
    gap_mm, expanded_mm : float
        Reading as left, mm, 0 or more, and its expanded uncertainty, mm, above 0.
    growth_mm_per_day : float
        By how much the gap grows, mm a day, above 0.
    largest_mm : float
        Largest gap allowed, mm, above 0.
    due_days : int
        Days until the next inspection, 0 or more.

    Raises
    ------
    ValueError
        If a number is out of its range.
    """
    in_range("gap_mm", gap_mm, "mm", low=0)
    in_range("expanded_mm", expanded_mm, "mm", above=0)
    in_range("growth_mm_per_day", growth_mm_per_day, "mm/day", above=0)
    in_range("largest_mm", largest_mm, "mm", above=0)
    in_range("due_days", due_days, "days", low=0)
    reached = max(0.0, (largest_mm - gap_mm - expanded_mm) / growth_mm_per_day)
    days = np.linspace(0.0, max(LEAST_DAYS, 1.25 * reached, 1.25 * due_days), 60)
    gaps = gap_mm + growth_mm_per_day * days
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        axes.plot(days, gaps, color=ACCENT, label="gap")
        low, high = gaps - expanded_mm, gaps + expanded_mm
        axes.fill_between(days, low, high, color=ACCENT, alpha=0.2, lw=0, label="± 2 u")
        axes.plot([0.0], [gap_mm], "D", ms=9, color=INK, label="as left")
        top = 1.3 * largest_mm
        axes.set(xlim=(0, days[-1]), ylim=(0, top))
        axes.set(xlabel="days from today", ylabel="air gap, mm")
        limit_line(axes, largest_mm, "largest allowed", across=True, along=0.6)
        axes.axvline(due_days, color=INK, lw=2.4)
        side = "right" if due_days > days[-1] / 2 else "left"
        words = f" look again within\n {due_days} days "
        axes.text(due_days, 0.04 * top, words, ha=side, va="bottom", weight="bold")
        axes.set_title("Look again before the gap can be too wide")
        figure.legend(loc="outside lower center", ncols=3)
        return picture(
            figure,
            f"The gap grows from {gap_mm:.2f} mm by {30 * growth_mm_per_day:.3f} mm in 30 days. "
            f"With {expanded_mm:.3f} mm of uncertainty it may reach {largest_mm:g} mm after "
            f"{reached:.0f} days. Look again within {due_days} days.",
        )
