"""Explorers of the whole brake: release on a bad day, the stop of a load, its faces."""

import math

from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.magnet import pull_n, release_voltage_v
from widgets.brake.magnet.coil import coil_ampere_turns
from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.braking import torque_at_gap_nm
from widgets.brake.torque.clamping import clamping_force_n
from widgets.brake.torque.friction import SURFACES
from widgets.charts.force_and_pull import force_and_pull
from widgets.charts.release_over_gap import (
    COLD_COIL_C,
    release_delay_ms,
    release_voltage_figure,
    releasing_gap_mm,
)
from widgets.charts.stop_courses import StopOf, how_it_ends, stop_figure
from widgets.charts.torque_over_gap import friction_figure, load_nm, ratio

from .explorer import Choice, Chosen, Control, Explorer, Fact, Slider, milliseconds

USUAL_SIZE = "Cedar-47"  # of the invented sheet; the first size of any other
WIDEST_SHARE = 1.5  # of the largest gap; beyond it the model's straight springs flatter the magnet
SURFACE_WORDS = (("bedded", "dry, bedded"), ("glazed", "glazed"), ("oiled", "oiled"))
SIDE_WORDS = (("dc", "DC side"), ("ac", "AC side"))


def lesson_size(size_name: str = USUAL_SIZE) -> BrakeSize:
    """Return a size of the sheet in force by its name, or its first size."""
    sheet = sheet_in_force().sheet
    found = [size for size in sheet.sizes if size.name == size_name]
    return found[0] if found else sheet.sizes[0]


def gap_slider(size: BrakeSize) -> Slider:
    """Return the slider for the air gap of a size, mm, standing at its setting."""
    most_mm = round(WIDEST_SHARE * size.gap.max_mm, 2)
    return Slider("gap_mm", "Air gap", "mm", 0.02, most_mm, 0.01, size.gap.setting_mm)


def gap_facts(size: BrakeSize, gap_mm: float) -> list[Fact]:
    """Return force, torque, pull and release time at a gap, mm."""
    coil = size.coil
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    torque_nm = torque_at_gap_nm(size, gap_mm)
    weak_v = LOW_SUPPLY * coil.voltage_v
    hot_pull_n = pull_n(gap_mm, coil_ampere_turns(coil, weak_v, HOT_COIL_C), size.magnet)
    share = release_voltage_v(gap_mm, force_n, size.magnet, coil, HOT_COIL_C) / coil.voltage_v
    cold_ms = release_delay_ms(size, gap_mm)
    hot_ms = release_delay_ms(size, gap_mm, LOW_SUPPLY, HOT_COIL_C)
    needs = f"needs {100 * share:.0f} % of the rated voltage, has {100 * LOW_SUPPLY:.0f} %"
    times = f"{torque_nm / load_nm(size):.2f} times the load"
    return [
        Fact("Springs push", f"{force_n:.0f} N", "less as the gap grows"),
        Fact("Braking torque", f"{torque_nm:.1f} N·m", times),
        Fact("Magnet pulls, hot, low mains", f"{hot_pull_n:.0f} N", "at the start of its travel"),
        _released("Release, hot, low mains", hot_ms, needs),
        Fact("Time to release, cold", milliseconds(cold_ms), "full voltage, until it moves"),
        Fact("Time to release, hot", milliseconds(hot_ms), "coil hot, low mains"),
    ]


def gap_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of lesson 1: move the gap, watch force, pull and release time."""
    size = lesson_size(size_name)
    return Explorer(
        [gap_slider(size)],
        lambda chosen: gap_facts(size, chosen["gap_mm"]),
        lambda chosen: force_and_pull(size, chosen["gap_mm"]),
    )


def release_facts(
    size: BrakeSize, gap_mm: float, supply_percent: float, coil_c: float
) -> list[Fact]:
    """Return whether the brake lets go, with what margin, how late, and up to which gap."""
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    needed_v = release_voltage_v(gap_mm, force_n, size.magnet, size.coil, coil_c)
    needed = 100 * needed_v / size.coil.voltage_v
    delay_ms = release_delay_ms(size, gap_mm, supply_percent / 100, coil_c)
    widest = releasing_gap_mm(size, supply_percent / 100, coil_c)
    reach = f"{widest:.2f} mm" if math.isfinite(widest) else "any on this slider"
    given = f"needs {needed:.0f} % of the rated voltage, has {supply_percent:.0f} %"
    return [
        _released("The brake", delay_ms, given),
        Fact("Time to release", milliseconds(delay_ms), "so long the motor pulls on it"),
        Fact("Widest gap that still releases", reach, f"largest allowed {size.gap.max_mm:g} mm"),
    ]


def release_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of a hot day with low mains: gap, voltage and coil temperature."""
    size = lesson_size(size_name)
    controls = [
        gap_slider(size),
        Slider("supply", "Voltage at the coil", "%", 75, 110, 1, 100, 0),
        Slider("coil_c", "Coil temperature", "°C", 0, 130, 5, COLD_COIL_C, 0),
    ]

    def chosen_facts(chosen: Chosen) -> list[Fact]:
        return release_facts(size, chosen["gap_mm"], chosen["supply"], chosen["coil_c"])

    return Explorer(
        controls,
        chosen_facts,
        lambda chosen: release_voltage_figure(
            size,
            chosen["gap_mm"],
            supply_share=chosen["supply"] / 100,
            coil_c=chosen["coil_c"],
        ),
    )


def stop_facts(size: BrakeSize, stop: StopOf) -> list[Fact]:
    """Return what a stop from lowering does to the load, and to the lining."""
    end = how_it_ends(size, stop)
    held = float(ratio(size, stop.gap_mm, stop.surface, stop.face_c))
    drift = Fact("Sunk before the brake bites", f"{end.drift_mm:.0f} mm", "nothing holds it yet")
    said = "above 1 it stops" if held > 1 else "1 or less does not stop it"
    grip = Fact("Brake holds", f"{held:.2f} times the load", said, danger=held <= 1)
    if not end.held:
        gain = f"gains {end.runaway_rpm_per_s:.0f} rev/min every second"
        return [grip, drift, Fact("The load", "runs away", gain, danger=True)]
    return [
        grip,
        drift,
        Fact("The load stands after", f"{end.travel_mm:.0f} mm", f"and {1000 * end.time_s:.0f} ms"),
        Fact("Motor reaches", f"{end.peak_rpm:.0f} rev/min", f"rated {size.hoist.motor_rpm:.0f}"),
        Fact("Energy into the linings", f"{end.energy_j / 1000:.2f} kJ", "each stop"),
    ]


def stop_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of a stop: the gap, and where the coil's circuit is opened."""
    size = lesson_size(size_name)

    def stop(chosen: Chosen) -> StopOf:
        side = Switching.AC_SIDE if chosen["side"] == "ac" else Switching.DC_SIDE
        return StopOf(f"{chosen['gap_mm']:.2f} mm, {side}", chosen["gap_mm"], side)

    sound = StopOf(
        f"{size.gap.setting_mm:g} mm, {Switching.DC_SIDE}, as it should be", size.gap.setting_mm
    )
    return Explorer(
        [gap_slider(size), Choice("side", "Coil is switched on its", SIDE_WORDS)],
        lambda chosen: stop_facts(size, stop(chosen)),
        lambda chosen: stop_figure(size, [stop(chosen), sound]),
    )


def lining_explorer(size_name: str = USUAL_SIZE) -> Explorer:
    """Return the explorer of the rubbing faces: their state, their temperature, the gap."""
    size = lesson_size(size_name)
    controls: list[Control] = [
        Choice("surface", "The faces are", SURFACE_WORDS),
        Slider("face_c", "Temperature of the faces", "°C", 20, 420, 10, 20, 0),
        gap_slider(size),
    ]

    def chosen_facts(chosen: Chosen) -> list[Fact]:
        stop = StopOf("", chosen["gap_mm"], surface=chosen["surface"], face_c=chosen["face_c"])
        looks = Fact("What one sees", SURFACES[chosen["surface"]].says)
        return [looks, *stop_facts(size, stop)]

    return Explorer(
        controls,
        chosen_facts,
        lambda chosen: friction_figure(size, chosen["gap_mm"], chosen["face_c"], chosen["surface"]),
    )


def _released(name: str, delay_ms: float, note: str) -> Fact:
    lets_go = math.isfinite(delay_ms)
    return Fact(name, "releases" if lets_go else "does not release", note, danger=not lets_go)
