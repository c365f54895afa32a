"""How the load sinks after power-off: free, while the torque rises, and slipping to rest."""

from functools import lru_cache

import numpy as np

from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque import StopCase, integrated_stop
from widgets.charts.stop_courses import WATCH_S, StopOf, course_case

from .plate_courses import crossing_axis
from .tables import Array, Course, Phase, in_even_steps

COLUMNS = ("travel_mm", "speed_rad_s", "torque_nm", "energy_j", "turns_rev")
STEPS = 33


@lru_cache(maxsize=32)
def load_course(size: BrakeSize, side: Switching) -> Course:
    """Return the stop of the rated load from lowering at full speed, over the gap.

    The numbers are those of `integrated_stop` for `course_case`, and so those that the lessons
    print. A brake that does not hold is followed for `WATCH_S` after its full torque.
    """
    axis = crossing_axis(size)
    cases = [
        course_case(size, StopOf("", gap_mm, switching=side)) for gap_mm in axis.points.tolist()
    ]
    per_phase = list(zip(*(_phases(case) for case in cases), strict=True))
    names = ("free", "rises", "slips")
    return Course(
        axis, tuple(_phase(name, list(parts)) for name, parts in zip(names, per_phase, strict=True))
    )


def _phases(case: StopCase) -> list[tuple[float, dict[str, Array]]]:
    """Return duration, s, and columns of the three phases of one stop."""
    _, trace = integrated_stop(case, watch_s=WATCH_S)
    end_s = float(trace.time_s[-1])
    full_s = min(case.delay_s + case.rise_s, end_s)
    turns = trace.travel_mm / (1000 * case.metres_per_radian) / (2 * np.pi)
    columns = (
        trace.travel_mm, trace.speed_rad_s, trace.braking_torque_nm, trace.friction_energy_j, turns,
    )  # fmt: skip
    parts = []
    for start_s, stop_s in ((0.0, case.delay_s), (case.delay_s, full_s), (full_s, end_s)):
        steps = {
            name: in_even_steps(trace.time_s, column, start_s, stop_s, STEPS)
            for name, column in zip(COLUMNS, columns, strict=True)
        }
        parts.append((stop_s - start_s, steps))
    return parts


def _phase(name: str, parts: list[tuple[float, dict[str, Array]]]) -> Phase:
    durations = np.array([duration_s for duration_s, _ in parts])
    columns = {column: np.vstack([steps[column] for _, steps in parts]) for column in COLUMNS}
    return Phase(name, durations, columns)
