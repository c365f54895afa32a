"""What lessons prove: release worked out hot, loads held, a history, what lasts to a date."""

import datetime as dt
from dataclasses import replace

from quizzes.cases.next_due import growth_mm, growth_until_next_mm
from quizzes.cases.rounds import EIGHT
from widgets.bench.setup import Order
from widgets.brake.behaviour import load_ratio, release_share
from widgets.brake.condition import Condition, sound_condition
from widgets.brake.draws import Draws
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Reading, conclude
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.wear.trend import DatedGap
from widgets.instruments.feeler.gap_reading import budget as feeler_budget
from widgets.instruments.written import DISC_U_MM

COLD_COIL_C = 20.0  # °C, where a resistance is stated; IEC 60028
STOPS_SCATTER = 0.15  # of the stops a day, from one visit to the next; invented
VISIT_DAYS = 30


def example_history(
    size: BrakeSize, stops_per_day: float = 240.0, visits: int = 5, last: dt.date | None = None
) -> tuple[DatedGap, ...]:
    """Return the gap readings of an invented hoist, always the same for a size and its work.

    Parameters
    ----------
    size : BrakeSize
        Whose gap grows, from its setting.
    stops_per_day : float
        On the mean, above 0; from visit to visit they scatter.
    visits : int
        How many readings.
    last : date, optional
        Day of the last one.
    """
    draws = Draws(f"history of {size.name}".encode().ljust(16))
    end = last or dt.date(2026, 6, 1)
    u_mm = feeler_budget(0.01, leaves=2).combined
    gap_mm, found = size.gap.setting_mm, []
    for visit in range(visits):
        on = end - dt.timedelta(days=VISIT_DAYS * (visits - 1 - visit))
        shown_mm = round(gap_mm + u_mm * draws.normal("reading", visit), 2)
        found.append(DatedGap(on, shown_mm, u_mm))
        stops = stops_per_day * VISIT_DAYS * (1 + STOPS_SCATTER * draws.normal("work", visit))
        gap_mm += growth_mm(size) * stops
    return tuple(found)


def judged_by_then(size: BrakeSize, gap_mm: float, order: Order) -> tuple[float, str]:
    """Return an even gap as it counts at the planned inspection, mm, and what it asks for today.

    The disc is as good as new.
    """
    u_mm, grown_mm = feeler_budget(0.01, leaves=2).combined, growth_until_next_mm(size, order)
    gaps = [Reading(angle_deg, gap_mm, u_mm) for angle_deg in EIGHT]
    discs = [Reading(0.0, size.disc.new_mm, DISC_U_MM)]
    return gap_mm + grown_mm, str(conclude(size, gaps, discs, grown_mm).outcome)


def cold_release_share(size: BrakeSize, gap_mm: float) -> float:
    """Return the voltage that draws a sound plate in with a coil at 20 °C, over the rated one."""
    return release_share(size, sound_condition(size, gap=Plane(gap_mm)), gap_mm, COLD_COIL_C)


def held_loads(size: BrakeSize) -> dict[str, float]:
    """Return how many times the rated load some brakes hold, by what they are."""
    set_mm, largest_mm = size.gap.setting_mm, size.gap.max_mm
    sound = sound_condition(size, gap=Plane(set_mm))
    brakes: dict[str, tuple[Condition, float]] = {
        "sound, gap as set": (sound, set_mm),
        "sound, largest gap": (sound, largest_mm),
        "one spring broken": (replace(sound, springs_intact=size.springs.count - 1), set_mm),
        "new disc, not bedded": (replace(sound, surface="unbedded"), set_mm),
        "glazed, gap as set": (replace(sound, surface="glazed"), set_mm),
        "glazed, largest gap": (replace(sound, surface="glazed"), largest_mm),
        "oiled": (replace(sound, surface="oiled"), set_mm),
    }
    return {words: load_ratio(size, brake, gap) for words, (brake, gap) in brakes.items()}
