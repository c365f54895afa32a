"""When a brake must be seen again: what its readings and the order's duty leave of gap and disc."""

import math
from collections.abc import Sequence
from functools import lru_cache

from widgets.bench.setup import Order
from widgets.brake.judgement import COVERAGE_FACTOR
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque import closed_form_stop, stop_case
from widgets.brake.wear.duty import RULE_FACTOR
from widgets.brake.wear.growth import gap_growth_per_stop_mm

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


def next_days(
    size: BrakeSize, order: Order, gaps: Sequence[Reading], discs: Sequence[Reading]
) -> int:
    """Return the days to the next inspection: half of what gap and disc have left, at least 1.

    Parameters
    ----------
    size : BrakeSize
        Row of the limits sheet.
    order : Order
        Stops a day, and the longest interval that the local rule allows.
    gaps, discs : sequence of Reading
        The readings as the brake goes back; the worst counts, with its expanded uncertainty.

    Notes
    -----
    Source: common practice, no source, for the half.
    """
    room_mm = [size.gap.max_mm - r.value_mm - COVERAGE_FACTOR * r.u_mm for r in gaps]
    room_mm += [r.value_mm - size.disc.min_mm - COVERAGE_FACTOR * r.u_mm for r in discs]
    stops = max(0.0, min(room_mm, default=0.0)) / growth_mm(size)
    return max(1, min(order.most_days, math.floor(RULE_FACTOR * stops / order.stops_per_day)))
