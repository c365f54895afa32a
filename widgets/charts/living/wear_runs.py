"""Gap and disc over thousands of stops: set back each time, or never."""

import numpy as np

from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.braking import face_area_mm2
from widgets.brake.wear.growth import adjustments_left, gap_growth_per_stop_mm
from widgets.charts.wear_and_energy import stop_energy_j

from .brake_tables import widest_gap_mm
from .tables import Array, Axis, Table

POINTS = 49  # gaps at which a run of wear is followed
PAST_RUNS = 1.0  # how far past the disc's least the first story goes, runs


def growth_over_stops(size: BrakeSize, end_mm: float) -> tuple[Array, Array]:
    """Return gaps from the setting to `end_mm`, mm, and the stops that make each.

    A wider gap costs more energy a stop, so the growth quickens; the stops are the integral of
    that, as in `one_run`.
    """
    gaps = np.linspace(size.gap.setting_mm, end_mm, POINTS)
    area_mm2 = face_area_mm2(size.lining)
    per_stop = np.array(
        [gap_growth_per_stop_mm(stop_energy_j(size, gap), area_mm2) for gap in gaps.tolist()]
    )
    slowness = 1 / per_stop
    steps = np.diff(gaps) * (slowness[1:] + slowness[:-1]) / 2
    return gaps, np.concatenate([[0.0], np.cumsum(steps)])


def adjusted_table(size: BrakeSize) -> Table:
    """Return gap, disc, one lining, mm, and adjustments made, over the stops, set back each time.

    From a new disc to one run past its least. A setting back is a step: its stop appears twice.
    """
    gaps, stops = growth_over_stops(size, size.gap.max_mm)
    runs = adjustments_left(
        size.disc.new_mm, size.disc.min_mm, size.gap.setting_mm, size.gap.max_mm
    )
    total = int(np.ceil(runs - 1e-9)) + int(PAST_RUNS)
    grown = gaps - size.gap.setting_mm
    spent = np.concatenate([run * grown[-1] + grown for run in range(total)])
    return _table(
        size,
        np.concatenate([run * stops[-1] + stops for run in range(total)]),
        np.tile(gaps, total),
        spent,
        np.repeat(np.arange(total, dtype=np.float64), gaps.size),
    )


def neglected_table(size: BrakeSize) -> Table:
    """Return the same columns for a brake that nobody adjusts, up to the widest gap drawn."""
    gaps, stops = growth_over_stops(size, widest_gap_mm(size))
    return _table(size, stops, gaps, gaps - size.gap.setting_mm, np.zeros_like(gaps))


def _table(size: BrakeSize, stops: Array, gaps: Array, spent: Array, adjusted: Array) -> Table:
    columns = {
        "gap_mm": gaps,
        "disc_mm": size.disc.new_mm - spent,
        "lining_mm": size.disc.lining_new_mm - spent / 2,
        "adjusted": adjusted,
    }
    return Table((Axis("stops", "stops", stops),), columns)
