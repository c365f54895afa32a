"""How the plate crosses the gap: drawn in as the voltage creeps up, let go, and after power-off."""

from functools import lru_cache

import numpy as np

from widgets.brake.magnet import release_voltage_v
from widgets.brake.magnet.transient import (
    Actuator,
    Switching,
    Transient,
    application_transient,
    estimated_plate_mass_kg,
    release_transient,
)
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.clamping import clamping_force_n

from .brake_tables import widest_gap_mm
from .tables import Array, Axis, Course, Phase, in_even_steps

COLUMNS = ("open_mm", "flux_t", "current_a", "pull_n", "clamp_n")
CREEP = 1.02  # voltage over the one that just pulls the plate in, as it creeps up
STEPS = 41
GAPS = 9


def crossing_axis(size: BrakeSize, count: int = GAPS) -> Axis:
    """Return the gaps at which crossings are worked out, mm."""
    return Axis("gap_mm", "mm", np.linspace(0.1, widest_gap_mm(size), count))


def actuator_at(size: BrakeSize, gap_mm: float, coil_c: float = 20.0) -> Actuator:
    """Return magnet, coil, springs and plate of a sound brake at a gap, mm, and heat, °C."""

    def force_n(open_mm: float) -> float:
        return float(clamping_force_n(open_mm, size.springs, size.gap.setting_mm))

    mass_kg = estimated_plate_mass_kg(size)
    return Actuator(gap_mm, force_n, size.magnet, size.coil, mass_kg, coil_c)


@lru_cache(maxsize=32)
def drawn_in_course(size: BrakeSize) -> Course:
    """Return the crossing of the plate to the magnet, the voltage a little above the needed one.

    Columns as in `COLUMNS`, over the gap; cold coil. A magnet that cannot lift the plate at a
    gap even with its iron saturated has no crossing there, and the nearest narrower one stands in.
    """
    axis = crossing_axis(size)
    crossings: list[tuple[float, dict[str, Array]]] = []
    for gap_mm in axis.points.tolist():
        actuator = actuator_at(size, gap_mm)
        force_n = actuator.force_of_gap_n(gap_mm)
        needed_v = float(release_voltage_v(gap_mm, force_n, size.magnet, size.coil, 20.0))
        if not np.isfinite(needed_v) and crossings:
            crossings.append(crossings[-1])
            continue
        run = release_transient(actuator, CREEP * needed_v, duration_s=_LONGEST_S)
        crossings.append(_part(run, run.lift_off_s, _there(run.landing_s, run)))
    return Course(axis, (_phase("crosses", crossings),))


@lru_cache(maxsize=32)
def power_off_course(size: BrakeSize, side: Switching) -> Course:
    """Return what field and plate do after power-off at full voltage, cold coil, over the gap.

    The field fades, the plate crosses, and what is left of the field dies. Columns as in
    `COLUMNS`.
    """
    axis = crossing_axis(size)
    runs = [
        application_transient(actuator_at(size, gap_mm), side) for gap_mm in axis.points.tolist()
    ]
    return Course(
        axis,
        (
            _phase("fades", [_part(run, 0.0, run.lift_off_s) for run in runs]),
            _phase("crosses", [_part(run, run.lift_off_s, run.landing_s) for run in runs]),
            _phase("dies", [_part(run, run.landing_s, float(run.time_s[-1])) for run in runs]),
        ),
    )


_LONGEST_S = 3.0  # of a crossing with the voltage creeping: many times the slowest


def _there(landing_s: float, run: Transient) -> float:
    return landing_s if np.isfinite(landing_s) else float(run.time_s[-1])


def _part(run: Transient, start_s: float, end_s: float) -> tuple[float, dict[str, Array]]:
    """Return how long a part of a run lasts, s, and its columns in even steps."""
    columns = (run.position_mm, run.flux_density_t, run.current_a, run.pull_n, run.clamp_n)
    steps = {
        name: in_even_steps(run.time_s, column, start_s, end_s, STEPS)
        for name, column in zip(COLUMNS, columns, strict=True)
    }
    return end_s - start_s, steps


def _phase(name: str, parts: list[tuple[float, dict[str, Array]]]) -> Phase:
    durations = np.array([duration_s for duration_s, _ in parts])
    columns = {column: np.vstack([steps[column] for _, steps in parts]) for column in COLUMNS}
    return Phase(name, durations, columns)
