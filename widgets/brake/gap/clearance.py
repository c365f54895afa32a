"""What is clear between the parts: under a leaf, brake applied; at the disc, brake released."""

from widgets.brake.condition import Condition
from widgets.brake.ranges import in_range

from .profile import GapField

# Run-out of the disc and its growth when warm, mm: below this clearance it rubs all round.
# Common practice, no source.
RUN_OUT_AND_GROWTH_MM = 0.15


def plate_is_drawn_in(condition: Condition) -> bool:
    """Return whether the plate lies on the magnet though the brake is meant to be applied."""
    return condition.coil_live or not condition.release_lever_returns


def gauged_gap_mm(condition: Condition, gap: GapField, angle_deg: float) -> float:
    """Return the clear distance that a leaf meets at an angle, mm.

    None with the plate drawn in; less than the true gap by the dust that lies in it.
    """
    in_range("angle_deg", angle_deg, "deg")
    if plate_is_drawn_in(condition):
        return 0.0
    return max(0.0, gap.at_mm(angle_deg) - condition.dust_mm)


def waves_mm(gap: GapField) -> float:
    """Return what warp, clamp wave and texture add to the plane or take from it at most, mm."""
    texture_mm = sum(abs(amplitude_mm) for _, amplitude_mm, _ in gap.texture_mm)
    return abs(gap.warp_mm) + abs(gap.clamp_wave_mm) + texture_mm


def running_clearance_mm(gap: GapField) -> float:
    """Return the play of the released disc where it is least, mm: half of the narrowest gap."""
    return min(gap.round_mm()) / 2


def rubs(gap: GapField, least_mm: float = RUN_OUT_AND_GROWTH_MM) -> bool:
    """Return whether the released disc touches: its play is less than run-out and growth ask.

    A size that allows a gap of `least_mm`, mm, and this is less, was made to run as true as that.
    """
    asked_mm = min(RUN_OUT_AND_GROWTH_MM, in_range("least_mm", least_mm, "mm", low=0))
    # Where even all waves at the narrowest side leave it free, nobody need go round the rim.
    surely_mm = gap.plane.mean_mm - gap.plane.tilt_mm - waves_mm(gap)
    return surely_mm <= asked_mm and 2 * running_clearance_mm(gap) < asked_mm
