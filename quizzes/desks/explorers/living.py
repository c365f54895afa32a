"""The living cutaway for lessons: one line of Python for each scene."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from widgets.bench.view.living.panel import Living
from widgets.bench.view.living.scene import Scene
from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.magnet import flux_density_t
from widgets.brake.magnet.coil import coil_ampere_turns
from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.size import BrakeSize
from widgets.charts.living.brake_tables import (
    COIL_C,
    MOST_SUPPLY,
    hold_table,
    release_table,
    still_tables,
    widest_gap_mm,
)
from widgets.charts.living.load_courses import load_course
from widgets.charts.living.plate_courses import drawn_in_course, power_off_course
from widgets.charts.living.tables import Course
from widgets.charts.living.wear_runs import adjusted_table, neglected_table
from widgets.charts.release_over_gap import COLD_COIL_C
from widgets.charts.stop_courses import StopOf, how_it_ends

from .brake_explorers import SIDE_WORDS, USUAL_SIZE, gap_slider
from .explorer import Choice, Slider
from .living_parts import GAP_ENLARGED, as_size, drawn_controls, plain, size_figures
from .living_work import heat, jaws, leaf, levelling, one_screw

__all__ = [
    "clack",
    "four_stops",
    "heat",
    "jaws",
    "leaf",
    "levelling",
    "one_screw",
    "switching",
    "wear_runs",
]

STOP_LEAVES_OUT = (
    "Left out: stretch of rope or chain, eddy currents in the iron. The torque rises evenly "
    "once the plate lets go."
)
WEAR_LEAVES_OUT = (
    "Gap and linings are drawn to one scale, larger than the rest. Every stop is from lowering the "
    "rated load; linings wear evenly, by an invented coefficient that shows the "
    "order of magnitude."
)
HABIT_WORDS = (("adjusted", "set again at its largest"), ("neglected", "never adjusted"))
SIDES = {"dc": Switching.DC_SIDE, "ac": Switching.AC_SIDE}
RUNAWAY_MM = 1000.0  # foot of the rule where no load stands
MAGNET_LEAVES_OUT = "Left out: eddy currents in the iron, field beside the gap, the plate’s bounce."


def clack(
    size: BrakeSize | str = USUAL_SIZE,
    *,
    gap_mm: float | None = None,
    coil_c: float = COLD_COIL_C,
) -> Living:
    """Return the clack: the voltage creeps up until the plate snaps over, or never does.

    Parameters
    ----------
    size : BrakeSize or str
        A size, or its name on the sheet in force.
    gap_mm : float, optional
        Where the gap starts, mm; the setting, if not given. A gap that this size cannot be drawn
        with, because another sheet is in force, starts at the nearest that it can.
    coil_c : float
        Where the temperature of the coil starts, °C.
    """
    return Living(clack_scene(as_size(size), gap_mm=gap_mm, coil_c=coil_c))


def clack_scene(
    size: BrakeSize, *, gap_mm: float | None = None, coil_c: float = COLD_COIL_C
) -> Scene:
    """Return the scene of the clack; arguments as for `clack`."""
    gap = gap_slider(size)
    if gap_mm is not None:
        gap = replace(gap, start=min(max(gap_mm, gap.low), gap.high))
    return Scene(
        "clack",
        f"{GAP_ENLARGED} {MAGNET_LEAVES_OUT}",
        size_figures(size),
        drawn_controls(
            Slider("supply", "Voltage at the coil", "%", 0, MOST_SUPPLY, 1, 0, 0),
            gap,
            Slider("coil_c", "Coil temperature", "°C", *COIL_C, 5, coil_c, 0),
        ),
        lambda: plain(still_tables(size)),
        lambda: plain(
            {
                "in": drawn_in_course(size),
                # Whoever turns the voltage down lets the field fade slowly, as on the AC side.
                "out": power_off_course(size, Switching.AC_SIDE).only("crosses"),
            }
        ),
    )


def switching(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return the two stops side by side: coil cut off on its DC side, and on its AC side."""
    return Living(switching_scene(as_size(size)))


def switching_scene(size: BrakeSize) -> Scene:
    """Return the scene of the two switchings."""
    return Scene(
        "switching",
        f"{GAP_ENLARGED} {STOP_LEAVES_OUT}",
        {**size_figures(size), **stop_figures(size, tuple(SIDES.values()))},
        drawn_controls(gap_slider(size)),
        dict,
        lambda: plain(stop_courses(size, SIDES)),
    )


def four_stops(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return four stops at once, each at a gap of its own; one brake is looked into."""
    return Living(four_stops_scene(as_size(size)))


def four_stops_scene(size: BrakeSize) -> Scene:
    """Return the scene of the four gaps."""
    limits = size.gap
    gaps = (limits.min_mm, limits.setting_mm, limits.max_mm, widest_gap_mm(size))
    names = ("least", "setting", "largest", "too wide")
    watched = tuple(
        (str(i), f"{gap_mm:g} mm, {name}")
        for i, (gap_mm, name) in enumerate(zip(gaps, names, strict=True))
    )
    on_dc = stop_figures(size, (Switching.DC_SIDE,))
    figures = {
        **size_figures(size),
        **stop_figures(size, tuple(SIDES.values())),
        "most_dc_mm": on_dc["most_mm"],
        "most_dc_rev_s": on_dc["most_rev_s"],
        "gaps_mm": list(gaps),
        "names": list(names),
    }
    return Scene(
        "four_stops",
        f"{GAP_ENLARGED} {STOP_LEAVES_OUT}",
        figures,
        drawn_controls(
            Choice("watched", "Look into the brake with a gap of", watched),
            Choice("side", "All four are switched on the", SIDE_WORDS),
        ),
        dict,
        lambda: plain(stop_courses(size, SIDES)),
    )


def wear_runs(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return the life of a disc: runs of wear to its least and past it, adjusted or never."""
    return Living(wear_runs_scene(as_size(size)))


def wear_runs_scene(size: BrakeSize) -> Scene:
    """Return the scene of the runs of wear."""
    disc = size.disc
    figures = {
        **size_figures(size),
        "lining_new_mm": disc.lining_new_mm,
        "lining_min_mm": disc.lining_new_mm - (disc.new_mm - disc.min_mm) / 2,
        "disc_new_mm": disc.new_mm,
        "disc_least_mm": disc.min_mm,
        "hot_c": HOT_COIL_C,
        "low_percent": 100 * LOW_SUPPLY,
    }
    return Scene(
        "wear_runs",
        WEAR_LEAVES_OUT,
        figures,
        drawn_controls(Choice("habit", "The gap is", HABIT_WORDS)),
        lambda: plain(
            {
                "adjusted": adjusted_table(size),
                "neglected": neglected_table(size),
                "hold": hold_table(size),
                "release": release_table(size),
            }
        ),
        dict,
    )


def stop_figures(size: BrakeSize, sides: Sequence[Switching]) -> dict[str, Any]:
    """Return what the rules and strips of a stop need: the load, and the most of what moves."""
    gaps = (size.gap.setting_mm, widest_gap_mm(size))
    ends = [how_it_ends(size, StopOf("", gap, switching=side)) for side in sides for gap in gaps]
    held = [end for end in ends if end.held]
    drive = coil_ampere_turns(size.coil, size.coil.voltage_v, COLD_COIL_C)
    return {
        "load_kg": size.hoist.load_kg,
        # A load that runs away leaves the rule; those that stand are on it.
        "most_mm": max((end.travel_mm for end in held), default=RUNAWAY_MM),
        "most_rev_s": max((end.peak_rpm for end in held), default=size.hoist.motor_rpm) / 60,
        "most_t": float(flux_density_t(0.0, drive, size.magnet)),
    }


def stop_courses(size: BrakeSize, sides: Mapping[str, Switching]) -> dict[str, Course]:
    """Return the courses of plate and load after power-off, for each side."""
    plates = {f"plate_{name}": power_off_course(size, side) for name, side in sides.items()}
    loads = {f"load_{name}": load_course(size, side) for name, side in sides.items()}
    return {**plates, **loads}
