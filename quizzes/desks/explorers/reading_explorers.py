"""Explorers of measuring: a reading near a limit, and how many places round the rim one needs."""

import math

from widgets.brake.gap.profile import GapField, Plane
from widgets.brake.judgement.chance import conformance_probability, least_distance, zone
from widgets.brake.judgement.words import ZONE_WORDS
from widgets.brake.sizes.size import BrakeSize
from widgets.charts.near_a_limit import near_limit_figure, rounded_down, said_of
from widgets.charts.picture import Picture
from widgets.charts.places_round import places_figure, seen_at
from widgets.instruments.feeler import budget

from .brake_explorers import USUAL_SIZE, lesson_size
from .explorer import Choice, Chosen, Explorer, Fact, Slider

STEPS_MM = {"coarse": (0.05, 1), "fine": (0.01, 2)}  # from leaf to leaf, mm; leaves in the stack
STEP_WORDS = (("coarse", "single leaves, steps of 0.05 mm"), ("fine", "stacks, steps of 0.01 mm"))
COUNT_WORDS = (("3", "3 places"), ("4", "4 places"), ("6", "6 places"), ("8", "8 places"))
TILT_DEG = 15.0  # where the tilt of the explorer is widest; the warp is turned against it


def feeler_u_mm(steps: str, gap_mm: float) -> float:
    """Return the standard uncertainty of a gap read with a way of stacking leaves, mm."""
    step_mm, leaves = STEPS_MM[steps]
    return budget(step_mm, leaves, mark_mm=max(gap_mm, step_mm) / leaves).combined


def limit_facts(size: BrakeSize, reading_mm: float, steps: str) -> list[Fact]:
    """Return what one reading says about the largest gap, with its uncertainty."""
    limit_mm, u_mm = size.gap.max_mm, feeler_u_mm(steps, reading_mm)
    within = conformance_probability(reading_mm, u_mm, upper=limit_mm)
    found = zone(reading_mm, u_mm, upper=limit_mm)
    edge_mm = limit_mm - least_distance() * u_mm
    return [
        Fact("Reading with its uncertainty", f"{reading_mm:.2f} ± {2 * u_mm:.3f} mm", "± 2 u"),
        Fact("Chance to be within", f"{100 * within:.1f} %", f"largest allowed {limit_mm:g} mm"),
        Fact("It is", ZONE_WORDS[found], said_of(found)),
        Fact("Carry on up to", f"{rounded_down(edge_mm):.2f} mm", "the limit less the guard band"),
    ]


def limit_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of a reading near the largest gap, with coarse and fine leaves."""
    size = lesson_size(size_name)
    limit_mm = size.gap.max_mm
    low, high = round(limit_mm - 0.12, 2), round(limit_mm + 0.08, 2)
    start = round(limit_mm - 0.02, 2)

    def figure_of(chosen: Chosen) -> Picture:
        u_mm = feeler_u_mm(chosen["steps"], chosen["reading_mm"])
        return near_limit_figure(chosen["reading_mm"], u_mm, limit_mm)

    return Explorer(
        [
            Slider("reading_mm", "Gap as read", "mm", low, high, 0.005, start, 3),
            Choice("steps", "Gauged with", STEP_WORDS),
        ],
        lambda chosen: limit_facts(size, chosen["reading_mm"], chosen["steps"]),
        figure_of,
    )


def uneven_field(size: BrakeSize, tilt_mm: float, warp_mm: float, warp_deg: float) -> GapField:
    """Return a gap with a tilt and a warp, each from widest to narrowest, mm, round its mean."""
    mean_mm = 0.75 * size.gap.max_mm
    angle = math.radians(TILT_DEG)
    plane = Plane(mean_mm, tilt_mm / 2 * math.cos(angle), tilt_mm / 2 * math.sin(angle))
    return GapField(plane, warp_mm / 2, warp_deg)


def places_facts(field: GapField, places: int, limit_mm: float) -> list[Fact]:
    """Return what a number of places sees of a gap, and what it misses."""
    seen, true_mm = seen_at(field, places), max(field.round_mm(360))
    missed_mm = true_mm - seen.widest_mm
    beyond = true_mm > limit_mm >= seen.widest_mm
    judged = f"{seen.left_over_mm:.2f} mm" if places >= 5 else "cannot be told: too few places"
    return [
        Fact("Widest that you found", f"{seen.widest_mm:.2f} mm", f"at {places} places"),
        Fact(
            "Widest there is",
            f"{true_mm:.2f} mm",
            "beyond the limit, and you did not see it"
            if beyond
            else f"missed by {missed_mm:.2f} mm",
            danger=beyond,
        ),
        Fact(
            "Tilt, widest to narrowest", f"{seen.tilt_spread_mm:.2f} mm", "the screws can cure it"
        ),
        Fact("Left over", judged, "no screw can cure it"),
    ]


def places_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of an uneven gap: tilt, warp, and how many places are gauged."""
    size = lesson_size(size_name)

    def field(chosen: Chosen) -> GapField:
        return uneven_field(size, chosen["tilt_mm"], chosen["warp_mm"], chosen["warp_deg"])

    return Explorer(
        [
            Choice("places", "Gauge at", COUNT_WORDS),
            Slider("tilt_mm", "Tilt", "mm", 0, 0.3, 0.01, 0.1),
            Slider("warp_mm", "Warp", "mm", 0, 0.3, 0.01, 0.2),
            Slider("warp_deg", "A crest of the warp at", "°", 0, 175, 5, 45, 0),
        ],
        lambda chosen: places_facts(field(chosen), int(chosen["places"]), size.gap.max_mm),
        lambda chosen: places_figure(field(chosen), size.gap, [int(chosen["places"])]),
    )
