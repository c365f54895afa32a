"""The gap round the rim as three screws set it, and what one slack retaining screw does to it."""

import math

import numpy as np

from widgets.brake.gap.levelling import change_for_turn_mm, levelling_turns
from widgets.brake.gap.profile import GapField, Plane, plane_of_screws, screws_of_plane_mm
from widgets.brake.sizes.size import SLACK_TURN, BrakeSize

from .tables import Array, Axis, Table

MOST_IN_DEG, MOST_OUT_DEG = -150.0, 90.0
TAKE_UP_MM = (0.02, 0.06, 0.03)  # thread play of the three screws; within ISO 965-1 for M10
TILT_SHARE = 2.5  # of the evenness limit, widest less narrowest, as found
TILT_DEG = 20.0
WARP_SHARE = 1.5  # the same for the warped parts
WARP_DEG = 40.0
MOST_LET_OFF = 0.5  # of a turn of the retaining screw
PLACES = 73  # round the rim, every 5°, the first and the last being one
SCREWS = ("first", "second", "third")
Three = tuple[float, float, float]


def found_plane(size: BrakeSize) -> Plane:
    """Return the plane of the gap as found, all screws tight."""
    tilt_mm, angle = TILT_SHARE * size.gap.evenness_mm / 2, math.radians(TILT_DEG)
    return Plane(0.75 * size.gap.max_mm, tilt_mm * math.cos(angle), tilt_mm * math.sin(angle))


def screws_field(size: BrakeSize, turns_deg: Three, *, locked: bool, warped: bool) -> GapField:
    """Return the gap of a body that stands tilted, with its hollow screws turned.

    Parameters
    ----------
    size : BrakeSize
        Screws, circles and limits.
    turns_deg : tuple of three float
        Turn of each screw from where it was found, degrees, plus is out.
    locked : bool
        Whether the retaining screws are tight: each has then taken up its slack and play.
    warped : bool
        Whether a part is bent as well, two-lobed.
    """
    ratio = size.screws.radius_ratio
    heights_mm = [
        height_mm
        + change_for_turn_mm(turn_deg, size.screws.pitch_mm)
        + (0.0 if locked else size.screws.slack_mm + take_up_mm)
        for height_mm, turn_deg, take_up_mm in zip(
            screws_of_plane_mm(found_plane(size), ratio), turns_deg, TAKE_UP_MM, strict=True
        )
    ]
    plane = plane_of_screws((heights_mm[0], heights_mm[1], heights_mm[2]), ratio)
    warp_mm = WARP_SHARE * size.gap.evenness_mm / 2
    return GapField(plane, warp_mm if warped else 0.0, WARP_DEG)


def rim_axis() -> Axis:
    """Return the places round the rim, degrees clockwise from screw 1."""
    return Axis("angle_deg", "°", np.linspace(0.0, 360.0, PLACES))


def screws_round_tables(size: BrakeSize) -> dict[str, Table]:
    """Return what adds up to the gap round the rim, mm: found, slack, and the turn of each screw.

    The gap is linear in all three turns, so their shares are tables of their own. It is cut off
    at nothing on the page, as `GapField` does: metal does not overlap.
    """
    rim = rim_axis()
    turns = Axis("turn_deg", "°", np.array([MOST_IN_DEG, 0.0, MOST_OUT_DEG]))
    ratio, pitch_mm = size.screws.radius_ratio, size.screws.pitch_mm

    def lifted_mm(heights_mm: Three) -> Array:
        plane = plane_of_screws(heights_mm, ratio)
        return np.array([plane.at_mm(angle) for angle in rim.points.tolist()])

    unit: tuple[Three, Three, Three] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    change_mm = [change_for_turn_mm(turn, pitch_mm) for turn in turns.points.tolist()]
    slack = size.screws.slack_mm
    flat = screws_field(size, (0.0, 0.0, 0.0), locked=True, warped=False)
    bent = screws_field(size, (0.0, 0.0, 0.0), locked=True, warped=True)
    found = np.array([flat.at_mm(angle) for angle in rim.points.tolist()])
    warp = np.array([bent.at_mm(angle) for angle in rim.points.tolist()]) - found
    slacks = lifted_mm((slack + TAKE_UP_MM[0], slack + TAKE_UP_MM[1], slack + TAKE_UP_MM[2]))
    shares = {
        name: np.outer(np.array(change_mm), lifted_mm(one))
        for name, one in zip(SCREWS, unit, strict=True)
    }
    return {
        "rim": Table((rim,), {"found": found, "warp": warp, "slack": slacks}),
        "turned": Table((turns, rim), shares),
    }


def levelling_targets_deg(size: BrakeSize) -> tuple[Three, Three]:
    """Return the turns that level the gap as found, and the equal turns that set only its mean.

    Whole degrees, as a slider stands.
    """
    plane, pitch_mm = found_plane(size), size.screws.pitch_mm
    setting_mm = size.gap.setting_mm
    own = levelling_turns(plane, setting_mm, size.screws.radius_ratio, pitch_mm)
    mean = Plane(plane.mean_mm)
    alike = levelling_turns(mean, setting_mm, size.screws.radius_ratio, pitch_mm)
    first, second, third = (float(round(turn.turn_deg)) for turn in own)
    one, two, three = (float(round(turn.turn_deg)) for turn in alike)
    return (first, second, third), (one, two, three)


def let_off_table(size: BrakeSize) -> Table:
    """Return how far the springs lift the body at a screw let off by some of a turn, mm.

    Tight, nothing; the first touch gives the play of the threads, and then it follows the pitch.
    """
    turns = np.array([0.0, 0.0, MOST_LET_OFF])
    lift_mm = TAKE_UP_MM[1] + turns / SLACK_TURN * size.screws.slack_mm
    lift_mm[0] = 0.0
    return Table((Axis("let_off", "turn", turns),), {"lift_mm": lift_mm})


def hollow_table(size: BrakeSize) -> Table:
    """Return what a turn of the hollow screw changes in height at its place, mm, plus is wider."""
    turns = np.array([MOST_IN_DEG, 0.0, MOST_OUT_DEG])
    heights_mm = [change_for_turn_mm(turn, size.screws.pitch_mm) for turn in turns.tolist()]
    return Table((Axis("turn_deg", "°", turns),), {"height_mm": np.array(heights_mm)})
