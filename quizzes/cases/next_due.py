"""When a brake must be seen again: what its readings and the order's duty leave of gap and disc.

One rate of growth stands behind both: the date, and what is dealt with today because it would
not last until a date that is planned.
"""

import math
from collections.abc import Sequence
from functools import lru_cache

from widgets.bench.setup import Order
from widgets.brake.judgement import ONE_SIDED_95
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque import closed_form_stop, stop_case
from widgets.brake.wear.duty import RULE_FACTOR
from widgets.brake.wear.growth import gap_growth_per_stop_mm

MONTH_DAYS = 30.0  # that a growth on a work order is stated for
USUAL_DELAY_MS = 40.0  # ms to the first torque, DC side: 10 to 60; common practice, no source


@lru_cache(maxsize=64)
def growth_mm(size: BrakeSize) -> float:
    """Return how much one emergency stop from lowering widens the gap, mm.

    Notes
    -----
    Rated torque and load, `USUAL_DELAY_MS`: the heaviest stop, so the safe side.
    Source: `hoist.closed_form_stop`, `wear.gap_growth_per_stop_mm`.
    """
    stop = closed_form_stop(stop_case(size.hoist, size.torque_nm, USUAL_DELAY_MS))
    lining = size.lining
    area_mm2 = math.pi * (lining.outer_radius_mm**2 - lining.inner_radius_mm**2)
    return gap_growth_per_stop_mm(stop.energy_j, area_mm2)


def growth_mm_per_day(size: BrakeSize, order: Order) -> float:
    """Return the growth of the gap a day that has to be allowed for, mm.

    Notes
    -----
    What the records of this brake show counts once. An estimate counts twice: of a life that
    nobody has measured the trade uses half (common practice, no source).
    """
    if order.grows_mm_per_month is None:
        return growth_mm(size) * order.stops_per_day / RULE_FACTOR
    per_day_mm = order.grows_mm_per_month / MONTH_DAYS
    return per_day_mm if order.recorded else per_day_mm / RULE_FACTOR


def growth_until_next_mm(size: BrakeSize, order: Order) -> float:
    """Return by how much the gap grows until the planned inspection, mm; 0 if none is planned."""
    if order.planned_days is None:
        return 0.0
    return growth_mm_per_day(size, order) * order.planned_days


def next_days(
    size: BrakeSize, order: Order, gaps: Sequence[Reading], discs: Sequence[Reading]
) -> int:
    """Return the days to the next inspection: what gap and disc have left, at least 1.

    Parameters
    ----------
    size : BrakeSize
        Row of the limits sheet.
    order : Order
        Stops a day or growth, a date that is planned, and the longest interval that the
        local rule allows.
    gaps, discs : sequence of Reading
        The readings as the brake goes back; the worst counts, with the guard
        band of every decision: as long as a reading lasts to a date, the date is allowed.
    """
    room_mm = [size.gap.max_mm - r.value_mm - ONE_SIDED_95 * r.u_mm for r in gaps]
    room_mm += [r.value_mm - size.disc.min_mm - ONE_SIDED_95 * r.u_mm for r in discs]
    left_days = max(0.0, min(room_mm, default=0.0)) / growth_mm_per_day(size, order)
    planned = order.most_days if order.planned_days is None else order.planned_days
    return max(1, min(planned, math.floor(left_days)))
