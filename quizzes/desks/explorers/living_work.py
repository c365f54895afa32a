"""Living scenes of the work itself: screws, leaf, caliper, and the heat of stops."""

from widgets.bench.view.living.panel import Living
from widgets.bench.view.living.scene import Scene
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.friction import FADE_TEMPERATURE_C
from widgets.charts.living.brake_tables import hold_table
from widgets.charts.living.heat_tables import (
    HOURS,
    MOST_C,
    STOPS_AN_HOUR,
    grip_table,
    stop_heat_table,
    warming_table,
)
from widgets.charts.living.screw_tables import (
    MOST_IN_DEG,
    MOST_LET_OFF,
    MOST_OUT_DEG,
    SCREWS,
    hollow_table,
    let_off_table,
    levelling_targets_deg,
    screws_round_tables,
)
from widgets.charts.living.tool_tables import (
    MOST_SKEW_DEG,
    MOST_SQUARE_DEG,
    MOST_TILT_MM,
    depth_table,
    skew_table,
    span_table,
    thickness_table,
    under_leaf_table,
)
from widgets.charts.torque_over_gap import asked_ratio
from widgets.instruments.feeler import BLADE_WIDTH_MM, CHAMFER_MM, DRAG_BAND_MM, FULL_DEPTH_MM

from .brake_explorers import SIDE_WORDS, USUAL_SIZE
from .explorer import Choice, Slider
from .living_parts import GAP_ENLARGED, as_size, drawn_controls, plain, size_figures

AIR_C = 20.0
LEVEL_LEAVES_OUT = (
    "Left out: bending of body and plate by uneven tightening; the play of each thread is the same "
    "each time. Screws turn as in the brakes of these lessons: in makes the gap smaller."
)
ONE_SCREW_LEAVES_OUT = (
    f"{GAP_ENLARGED} Left out: stretch of the retaining screw. "
    "The other two screws do the same as this one."
)
LEAF_LEAVES_OUT = (
    f"Thickness is drawn many times larger than width: a leaf is {BLADE_WIDTH_MM:g} mm wide. "
    "Left out: the scatter of the hand, the leaf’s own error, dust."
)
JAWS_LEAVE_OUT = (
    "Wear plate and pressure plate have a notch at the rim through which the jaws reach. "
    "Left out: the error of the caliper itself, a raised edge on the lining."
)
HEAT_LEAVES_OUT = (
    "Left out: the skin of the faces, far hotter for an instant; heat from the motor; "
    "a weaker brake stopping later, which makes even more heat. The warming shows the "
    "order of magnitude only."
)
PART_WORDS = (("flat", "flat"), ("warped", "one of them is warped"))
LOCK_WORDS = (("tight", "locked to their torque"), ("slack", "slack"))


def levelling(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return the ring with its three screws: turn each, lock them, see the gap all round."""
    return Living(levelling_scene(as_size(size)))


def levelling_scene(size: BrakeSize) -> Scene:
    """Return the scene of the three screws."""
    own_deg, alike_deg = levelling_targets_deg(size)
    screws = [
        Slider(f"{name}_deg", f"Screw {number}, minus is in", "°",
               MOST_IN_DEG, MOST_OUT_DEG, 1, 0, 0)
        for number, name in enumerate(SCREWS, start=1)
    ]  # fmt: skip
    return Scene(
        "levelling",
        LEVEL_LEAVES_OUT,
        {**size_figures(size), "own_deg": list(own_deg), "alike_deg": list(alike_deg)},
        drawn_controls(
            *screws,
            Choice("locks", "Retaining screws", LOCK_WORDS),
            Choice("parts", "Plate and body are", PART_WORDS),
        ),
        lambda: plain(screws_round_tables(size)),
        dict,
    )


def one_screw(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return a retaining screw and its hollow screw, cut open: locked and slack."""
    return Living(one_screw_scene(as_size(size)))


def one_screw_scene(size: BrakeSize) -> Scene:
    """Return the scene of the one screw."""
    return Scene(
        "one_screw",
        ONE_SCREW_LEAVES_OUT,
        size_figures(size),
        drawn_controls(
            Slider("let_off", "Retaining screw, slackened", "turn", 0.0, MOST_LET_OFF, 0.01, 0.0),
            Slider("hollow_deg", "Hollow screw, minus is in", "°", -60.0, MOST_OUT_DEG, 1, 0, 0),
        ),
        lambda: plain({"lift": let_off_table(size), "height": hollow_table(size)}),
        dict,
    )


def leaf(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return a leaf in a gap that is not parallel, held well or badly."""
    return Living(leaf_scene(as_size(size)))


def leaf_scene(size: BrakeSize) -> Scene:
    """Return the scene of the leaf."""
    setting_mm = size.gap.setting_mm
    most_mm = round(setting_mm + MOST_TILT_MM / 2 + 0.1, 2)
    figures = {
        **size_figures(size),
        "drag_mm": DRAG_BAND_MM,
        "full_mm": FULL_DEPTH_MM,
        "chamfer_mm": CHAMFER_MM,
    }
    return Scene(
        "leaf",
        LEAF_LEAVES_OUT,
        figures,
        drawn_controls(
            Slider("leaf_mm", "Leaf", "mm", 0.05, most_mm, 0.01, setting_mm),
            Slider("depth_mm", "Pushed in", "mm", 0.1, FULL_DEPTH_MM, 0.1, FULL_DEPTH_MM, 1),
            Slider("skew_deg", "Out of line", "°", 0.0, MOST_SKEW_DEG, 1, 0, 0),
            Slider("angle_deg", "Place on the rim", "°", 0.0, 355.0, 5, 90, 0),
            Slider("tilt_mm", "Widest less narrowest", "mm", 0.0, MOST_TILT_MM, 0.01, 0.15),
        ),
        lambda: plain(
            {"under": under_leaf_table(size), "skew": skew_table(), "depth": depth_table()}
        ),
        dict,
    )


def jaws(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return caliper jaws over a disc that is clamped in its brake."""
    return Living(jaws_scene(as_size(size)))


def jaws_scene(size: BrakeSize) -> Scene:
    """Return the scene of the caliper."""
    return Scene(
        "jaws",
        JAWS_LEAVE_OUT,
        {**size_figures(size), "disc_least_mm": size.disc.min_mm},
        drawn_controls(
            Slider("angle_deg", "Place on the rim", "°", 0.0, 355.0, 5, 0, 0),
            Slider("square_deg", "Jaws out of square", "°", 0.0, MOST_SQUARE_DEG, 0.5, 4, 1),
        ),
        lambda: plain({"thickness": thickness_table(size), "span": span_table()}),
        dict,
    )


def heat(size: BrakeSize | str = USUAL_SIZE) -> Living:
    """Return two hours of stops: heat of each, warmth of the faces, grip that is left."""
    return Living(heat_scene(as_size(size)))


def heat_scene(size: BrakeSize) -> Scene:
    """Return the scene of the heat."""
    figures = {
        **size_figures(size),
        "air_c": AIR_C,
        "most_c": MOST_C,
        "fade_c": FADE_TEMPERATURE_C[0],
        "hours": HOURS,
        "asked": asked_ratio(),
    }
    low, high = STOPS_AN_HOUR
    gap = size.gap
    return Scene(
        "heat",
        HEAT_LEAVES_OUT,
        figures,
        drawn_controls(
            Slider("stops", "Stops an hour", "", low, high, 10, 120, 0),
            Slider("gap_mm", "Air gap", "mm", gap.min_mm, gap.max_mm, 0.01, gap.setting_mm),
            Choice("side", "Switched on the", SIDE_WORDS),
        ),
        lambda: plain(
            {
                "heat": stop_heat_table(size),
                "warming": warming_table(size),
                "grip": grip_table(size),
                "hold": hold_table(size),
            }
        ),
        dict,
    )
