"""The explorer of the next inspection: gap as left, stops a day, leaves."""

from quizzes.cases.next_due import growth_mm
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.wear.duty import CODE_INTERVAL_DAYS, RULE_FACTOR, rule_of_thumb_days
from widgets.brake.wear.growth import stops_until
from widgets.charts.next_look import next_look_figure
from widgets.charts.picture import Picture

from .brake_explorers import USUAL_SIZE, lesson_size
from .explorer import Choice, Explorer, Fact, Slider
from .reading_explorers import STEP_WORDS, feeler_u_mm


def due_facts(size: BrakeSize, gap_mm: float, stops_per_day: float, steps: str) -> list[Fact]:
    """Return how long a gap lasts from a reading, a duty and what a stop wears.

    The wear of a stop is that of the heaviest one, lowering the rated load.
    """
    expanded_mm = 2 * feeler_u_mm(steps, gap_mm)
    room_mm = max(0.0, size.gap.max_mm - gap_mm - expanded_mm)
    stops = _stops(size, room_mm)
    days = int(rule_of_thumb_days(stops, stops_per_day))
    due = min(days, CODE_INTERVAL_DAYS)
    why = "by wear" if days < CODE_INTERVAL_DAYS else "longest that the code allows here"
    return [
        Fact(
            "Room that is certain",
            f"{room_mm:.3f} mm",
            (f"limit minus reading minus {expanded_mm:.3f}"),
        ),
        Fact("Stops that it lasts", f"{stops:,.0f}".replace(",", " "), "heaviest stops, each"),
        Fact("Days by wear", f"{stops / stops_per_day:.0f}", f"use {RULE_FACTOR:g} of them"),
        Fact("Look again within", f"{due} days", why, danger=due == 0),
    ]


def due_picture(size: BrakeSize, gap_mm: float, stops_per_day: float, steps: str) -> Picture:
    """Return the figure of the same: the gap over the days, its limit, the day to look again."""
    expanded_mm = 2 * feeler_u_mm(steps, gap_mm)
    stops = _stops(size, max(0.0, size.gap.max_mm - gap_mm - expanded_mm))
    due = min(int(rule_of_thumb_days(stops, stops_per_day)), CODE_INTERVAL_DAYS)
    grows = growth_mm(size) * stops_per_day
    return next_look_figure(gap_mm, expanded_mm, grows, size.gap.max_mm, due)


def _stops(size: BrakeSize, room_mm: float) -> float:
    return stops_until(size.gap.max_mm - room_mm, size.gap.max_mm, growth_mm(size))


def due_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of the next inspection: gap as left, stops a day, leaves."""
    size = lesson_size(size_name)
    limits = size.gap
    return Explorer(
        [
            Slider("gap_mm", "Gap as left", "mm", limits.min_mm, limits.max_mm, 0.01,
                   limits.setting_mm),
            Slider("stops", "Stops a day", "", 20, 600, 10, 240, 0),
            Choice("steps", "Gauged with", STEP_WORDS),
        ],
        lambda chosen: due_facts(size, chosen["gap_mm"], chosen["stops"], chosen["steps"]),
        lambda chosen: due_picture(size, chosen["gap_mm"], chosen["stops"], chosen["steps"]),
    )  # fmt: skip
