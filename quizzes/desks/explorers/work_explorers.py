"""Explorers of the work itself: three screws under one body, and the day of the next inspection."""

import math

from quizzes.cases.next_due import growth_mm
from widgets.brake.gap.levelling import change_for_turn_mm
from widgets.brake.gap.profile import GapField, Plane, plane_of_screws, screws_of_plane_mm
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.wear.duty import CODE_INTERVAL_DAYS, RULE_FACTOR, rule_of_thumb_days
from widgets.brake.wear.growth import stops_until
from widgets.charts.gap_round import gap_round
from widgets.charts.next_look import next_look_figure
from widgets.charts.picture import Picture

from .brake_explorers import USUAL_SIZE, lesson_size
from .explorer import Choice, Chosen, Explorer, Fact, Slider
from .reading_explorers import STEP_WORDS, feeler_u_mm

MOST_IN_DEG, MOST_OUT_DEG = -150.0, 90.0
TAKE_UP_MM = (0.02, 0.06, 0.03)  # thread play of the three screws; within ISO 965-1 for M10
TILT_SHARE = 2.5  # of the evenness limit, widest less narrowest, as found
WARP_SHARE = 1.5  # the same for the warped parts
WARP_DEG = 40.0
PART_WORDS = (("flat", "flat"), ("warped", "one of them is warped"))
LOCK_WORDS = (("slack", "slack"), ("tight", "locked to their torque"))


def screws_field(
    size: BrakeSize, turns_deg: tuple[float, float, float], *, locked: bool, warped: bool
) -> GapField:
    """Return the gap of a body that stands tilted, with its hollow screws turned.

    Parameters
    ----------
    size : BrakeSize
        Screws, circles and limits.
    turns_deg : tuple of three float
        Turn of each screw from where it was found, degrees, plus is out.
    locked : bool
        Whether the retaining screws are tight: each has then taken up its slack and play.
    warped : bool
        Whether a part is bent as well, two-lobed.
    """
    ratio, evenness_mm = size.screws.radius_ratio, size.gap.evenness_mm
    tilt_mm, angle = TILT_SHARE * evenness_mm / 2, math.radians(20.0)
    found = Plane(0.75 * size.gap.max_mm, tilt_mm * math.cos(angle), tilt_mm * math.sin(angle))
    heights_mm = [
        height_mm
        + change_for_turn_mm(turn_deg, size.screws.pitch_mm)
        + (0.0 if locked else size.screws.slack_mm + take_up_mm)
        for height_mm, turn_deg, take_up_mm in zip(
            screws_of_plane_mm(found, ratio), turns_deg, TAKE_UP_MM, strict=True
        )
    ]
    plane = plane_of_screws((heights_mm[0], heights_mm[1], heights_mm[2]), ratio)
    return GapField(plane, WARP_SHARE * evenness_mm / 2 if warped else 0.0, WARP_DEG)


def screws_facts(size: BrakeSize, field: GapField) -> list[Fact]:
    """Return what is widest, narrowest and uneven about a gap, beside what is allowed."""
    round_mm, limits = field.round_mm(), size.gap
    widest_mm, narrowest_mm = max(round_mm), min(round_mm)
    spread_mm = widest_mm - narrowest_mm
    even = "within" if spread_mm <= limits.evenness_mm else "more than"
    mean_mm = sum(round_mm) / len(round_mm)
    touches = narrowest_mm == 0
    return [
        Fact("Mean", f"{mean_mm:.2f} mm", f"to be set: {limits.setting_mm:g} mm"),
        Fact("Widest", f"{widest_mm:.2f} mm", f"largest allowed {limits.max_mm:g} mm"),
        Fact(
            "Narrowest",
            f"{narrowest_mm:.2f} mm",
            "the body sits on the plate" if touches else f"least allowed {limits.min_mm:g} mm",
            danger=narrowest_mm < limits.min_mm,
        ),
        Fact(
            "Widest less narrowest",
            f"{spread_mm:.2f} mm",
            f"{even} the {limits.evenness_mm:g} mm allowed",
        ),
    ]


def screws_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of the three screws: turn each, lock them, and see the gap all round."""
    size = lesson_size(size_name)

    def field(chosen: Chosen) -> GapField:
        turns_deg = (chosen["first_deg"], chosen["second_deg"], chosen["third_deg"])
        locked, warped = chosen["locks"] == "tight", chosen["parts"] == "warped"
        return screws_field(size, turns_deg, locked=locked, warped=warped)

    def figure_of(chosen: Chosen) -> Picture:
        return gap_round(field(chosen), [], size.gap, "The gap all round")

    screws = [
        Slider(f"{name}_deg", f"Screw {number}, minus is in", "°",
               MOST_IN_DEG, MOST_OUT_DEG, 1, 0, 0)
        for number, name in enumerate(("first", "second", "third"), start=1)
    ]  # fmt: skip
    return Explorer(
        [
            *screws,
            Choice("locks", "Retaining screws", LOCK_WORDS),
            Choice("parts", "Plate and body are", PART_WORDS),
        ],
        lambda chosen: screws_facts(size, field(chosen)),
        figure_of,
    )


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
            "Room that is sure", f"{room_mm:.3f} mm", f"limit less reading less {expanded_mm:.3f}"
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
