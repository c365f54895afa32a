"""Explorers of the whole brake: release on a bad day, the stop of a load, its faces."""

from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.sheet import four_designs
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.friction import SURFACES
from widgets.charts.stop_courses import StopOf, how_it_ends
from widgets.charts.torque_over_gap import friction_figure, ratio

from .explorer import Choice, Chosen, Control, Explorer, Fact, Slider

USUAL_SIZE = "Cedar-47"  # of the invented sheet; the first size of any other
WIDEST_SHARE = 1.5  # of the largest gap; beyond it the model's straight springs flatter the magnet
SURFACE_WORDS = (("bedded", "dry, bedded"), ("glazed", "glazed"), ("oiled", "oiled"))
SIDE_WORDS = (("dc", "DC side"), ("ac", "AC side"))


def lesson_size(size_name: str = USUAL_SIZE) -> BrakeSize:
    """Return a size of the sheet in force by its name, or its first: one with hollow screws.

    Lessons are told on hollow screws; an invented size stands in where the sheet has none.
    """
    sizes = (*sheet_in_force().sheet.sizes, *four_designs().sizes)
    screws = [size for size in sizes if size.design is Design.HOLLOW_SCREWS]
    return next((size for size in screws if size.name == size_name), screws[0])


def gap_slider(size: BrakeSize) -> Slider:
    """Return the slider for the air gap of a size, mm, standing at its setting."""
    most_mm = round(WIDEST_SHARE * size.gap.max_mm, 2)
    return Slider("gap_mm", "Air gap", "mm", 0.02, most_mm, 0.01, size.gap.setting_mm)


def stop_facts(size: BrakeSize, stop: StopOf) -> list[Fact]:
    """Return what a stop from lowering does to the load, and to the lining."""
    end = how_it_ends(size, stop)
    held = float(ratio(size, stop.gap_mm, stop.surface, stop.face_c))
    drift = Fact("Drop before the brake bites", f"{end.drift_mm:.0f} mm", "nothing holds it yet")
    said = "above 1 it stops" if held > 1 else "1 or less does not stop it"
    grip = Fact("Brake holds", f"{held:.2f} times the load", said, danger=held <= 1)
    if not end.held:
        gain = f"gains {end.runaway_rpm_per_s:.0f} rev/min every second"
        return [grip, drift, Fact("The load", "runs away", gain, danger=True)]
    return [
        grip,
        drift,
        Fact("The load stops after", f"{end.travel_mm:.0f} mm", f"and {1000 * end.time_s:.0f} ms"),
        Fact("Motor reaches", f"{end.peak_rpm:.0f} rev/min", f"rated {size.hoist.motor_rpm:.0f}"),
        Fact("Energy into the linings", f"{end.energy_j / 1000:.2f} kJ", "each stop"),
    ]


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
        looks = Fact("What you see", SURFACES[chosen["surface"]].says)
        return [looks, *stop_facts(size, stop)]

    return Explorer(
        controls,
        chosen_facts,
        lambda chosen: friction_figure(size, chosen["gap_mm"], chosen["face_c"], chosen["surface"]),
    )
