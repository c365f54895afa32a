"""What a leaf finds in a wedge-shaped gap, and what caliper jaws show over a clamped disc."""

import math

import numpy as np

from widgets.brake.condition import Disc
from widgets.brake.gap.profile import Plane
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import FULL_DEPTH_MM, Entry, blade_angles_deg

from .screw_tables import rim_axis
from .tables import Axis, Table

MOST_TILT_MM = 0.3  # widest less narrowest round the rim
MOST_SKEW_DEG = 10.0
MOST_SQUARE_DEG = 10.0
WORN_SHARE = 0.8  # of what a disc may lose, for the disc between the jaws
TAPER_MM = 0.08  # thickest less mean of that disc


def under_leaf_table(size: BrakeSize) -> Table:
    """Return the gap under a leaf, mm, over the place on the rim and the tilt of the body.

    Columns: at its left edge, in its middle, at its right edge, and the smallest under it, on
    which it rides. The gap is widest at screw 1, and its mean is the setting.
    """
    rim = rim_axis()
    tilt = Axis("tilt_mm", "mm", np.array([0.0, MOST_TILT_MM]))
    shape = (rim.points.size, tilt.points.size)
    columns = {name: np.zeros(shape) for name in ("left", "middle", "right", "smallest")}
    for row, angle_deg in enumerate(rim.points.tolist()):
        under = blade_angles_deg(angle_deg, size.screws.gauging_circle_mm).tolist()
        for column, tilt_mm in enumerate(tilt.points.tolist()):
            plane = Plane(size.gap.setting_mm, tilt_mm / 2)
            gaps = [plane.at_mm(angle) for angle in under]
            middle = len(gaps) // 2
            found = (gaps[0], gaps[middle], gaps[-1], min(gaps))
            for name, gap_mm in zip(columns, found, strict=True):
                columns[name][row, column] = gap_mm
    return Table((rim, tilt), columns)


def skew_table() -> Table:
    """Return the room that a leaf out of the plane of the gap loses, mm, over its angle."""
    skew = Axis("skew_deg", "°", np.linspace(0.0, MOST_SKEW_DEG, 11))
    lost = np.array([Entry(skew_deg=angle).lost_mm for angle in skew.points.tolist()])
    return Table((skew,), {"lost_mm": lost})


def depth_table() -> Table:
    """Return the room that a leaf wins at the broken edge, mm, over how far it is in."""
    depth = Axis("depth_mm", "mm", np.array([0.05, 0.5, 1.0, FULL_DEPTH_MM]))
    won = np.array([-Entry(depth_mm=reach).lost_mm for reach in depth.points.tolist()])
    return Table((depth,), {"won_mm": won})


def clamped_disc(size: BrakeSize) -> Disc:
    """Return the worn, slightly wedge-shaped disc that stands between the jaws."""
    worn_mm = WORN_SHARE * (size.disc.new_mm - size.disc.min_mm)
    return Disc(size.disc.new_mm - worn_mm, TAPER_MM, 90.0)


def thickness_table(size: BrakeSize) -> Table:
    """Return the thickness of that disc round its rim, mm."""
    rim, disc = rim_axis(), clamped_disc(size)
    return Table(
        (rim,), {"thickness_mm": np.array([disc.at_mm(angle) for angle in rim.points.tolist()])}
    )


def span_table() -> Table:
    """Return how many times the thickness jaws span that are out of square by an angle, degrees.

    Source: trigonometry, as `Caliper.read_mm`.
    """
    tilt = Axis("square_deg", "°", np.linspace(0.0, MOST_SQUARE_DEG, 21))
    return Table((tilt,), {"times": np.array([1 / math.cos(a) for a in np.radians(tilt.points)])})
