"""Sound brakes of any wear, and brakes at a chosen gap over a chosen disc: what faults lie on."""

from dataclasses import replace

from widgets.brake.condition import Condition, Disc, Three, sound_condition
from widgets.brake.draws import Draws
from widgets.brake.gap.profile import Plane
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

CLEAR_U = 6.0  # standard uncertainties that a case keeps from every limit it does not break
MOST_GROWN = 1.4  # of the largest gap, more than any case of too large a gap
SPARE_MM = CLEAR_U * DISC_U_MM + 0.1  # of disc that a good one has over its least
READABLE_MM = 1.9  # mm, mean gap up to which every place is read with three leaves; a choice
MOST_TAKE_UP_MM = 0.06  # mm, thread play at one screw; common practice, no source
SMALL_TAKE_UP_MM = 0.015  # mm, of a brake that was set well, even, and locked in stages; invented
_TEXTURE_LOBES = (5, 7, 11)


def between(draws: Draws, label: str, low: float, high: float) -> float:
    """Return an even draw from low to high."""
    return low + (high - low) * draws.uniform(label)


def brake_at(
    draws: Draws,
    size: BrakeSize,
    mean_mm: float,
    tilt_mm: float,
    disc_mm: float,
    *,
    most_take_up_mm: float = MOST_TAKE_UP_MM,
) -> Condition:
    """Return a brake with an even or tilted gap over a disc, its faces, dust and play drawn."""
    if not size.design.adjusts:
        disc_mm = disc_under_mm(size, mean_mm)
    disc = Disc(disc_mm, between(draws, "taper", 0.0, 0.004), between(draws, "thick", 0, 360))
    take_up_mm = _take_up(draws, most_take_up_mm)
    plane = _plane(draws, mean_mm, tilt_mm)
    condition = sound_condition(size, gap=plane, disc=disc, take_up_mm=take_up_mm)
    texture = tuple(
        (
            lobes,
            between(draws, f"wave {lobes}", 0.0, 0.0015),
            between(draws, f"phase {lobes}", 0, 360),
        )
        for lobes in _TEXTURE_LOBES
    )
    return replace(condition, texture_mm=texture, dust_mm=between(draws, "dust", 0.03, 0.12))


def disc_under_mm(size: BrakeSize, gap_mm: float) -> float:
    """Return the thickness of the disc under a gap that nothing sets, mm.

    What the gap has gained since it was new the disc has lost.
    """
    return size.disc.new_mm - (gap_mm - size.gap.setting_mm)


def _take_up(draws: Draws, most_mm: float) -> Three:
    first, second, third = (
        between(draws, f"take up {screw}", 0.005, most_mm) for screw in (1, 2, 3)
    )
    return first, second, third


def _plane(draws: Draws, mean_mm: float, tilt_mm: float) -> Plane:
    turn = draws.uniform("tilt place")
    whole = Plane(mean_mm, tilt_mm, 0.0)
    return Plane(
        mean_mm,
        whole.at_mm(360 * turn) - mean_mm,
        whole.at_mm(360 * turn - 90) - mean_mm,
    )


ONE_SIDE_MORE = 0.5  # of `CLEAR_U`, that a side may be wider yet; a choice
MOST_SMALL_TILT = 0.2  # of the evenness limit, half of widest less narrowest; a choice


def small_tilt_mm(draws: Draws, size: BrakeSize) -> float:
    """Return a tilt well within evenness, mm: half of widest less narrowest."""
    return between(draws, "tilt", 0.0, MOST_SMALL_TILT) * size.gap.evenness_mm


def good_disc_mm(draws: Draws, size: BrakeSize) -> float:
    """Return the thickness of a disc well above its least, mm."""
    new_mm, least_mm = size.disc.new_mm, size.disc.min_mm
    clear_mm = least_mm + CLEAR_U * DISC_U_MM + 0.1
    return between(draws, "disc", max(clear_mm, 0.35 * new_mm + 0.65 * least_mm), new_mm)


def in_limits(
    draws: Draws, size: BrakeSize, share: float | None = None, *, even: bool = False
) -> Condition:
    """Return a brake with nothing wrong: gap from its setting (share 0) to well under the largest.

    Raises
    ------
    ValueError
        If the limits of the size leave no room for one.
    """
    tilt_mm = 0.0 if even else small_tilt_mm(draws, size)
    high_mm = size.gap.max_mm - CLEAR_U * GAP_U_MM - tilt_mm - 0.02
    low_mm = size.gap.setting_mm + tilt_mm
    if not size.design.adjusts:  # the disc may be at its least before the gap is at its largest
        wear_mm = size.disc.new_mm - size.disc.min_mm - SPARE_MM
        high_mm = min(high_mm, size.gap.setting_mm + wear_mm)
    if high_mm <= low_mm:
        raise ValueError("its largest gap lies too near to its setting to be told apart")
    worn = draws.uniform("gap") if share is None else share
    mean_mm = low_mm + 0.8 * worn * (high_mm - low_mm)
    play_mm = SMALL_TAKE_UP_MM if even else MOST_TAKE_UP_MM
    return brake_at(
        draws, size, mean_mm, tilt_mm, good_disc_mm(draws, size), most_take_up_mm=play_mm
    )


draw_sound = in_limits


def just_set(draws: Draws, size: BrakeSize) -> Condition:
    """Return a sound brake whose gap was set a short while ago, and even."""
    return in_limits(draws, size, 0.1 * draws.uniform("gap"), even=True)


def with_disc_to_spare(size: BrakeSize, condition: Condition, grown_mm: float) -> Condition:
    """Return the brake with so much disc that it is good yet when the gap has grown, mm."""
    least_mm = size.disc.min_mm + SPARE_MM + grown_mm
    more_mm = max(0.0, min(least_mm, size.disc.new_mm) - condition.disc.thickness_mm)
    return thicker(condition, more_mm)


def gap_too_large(draws: Draws, size: BrakeSize, share: float | None = None) -> Condition:
    """Return a brake whose gap has grown past its largest while the disc is good."""
    tilt_mm = small_tilt_mm(draws, size)
    low_mm = size.gap.max_mm + CLEAR_U * GAP_U_MM + tilt_mm
    grown = draws.uniform("gap") if share is None else share
    mean_mm = low_mm + grown * min(0.25 * size.gap.max_mm, max(0.0, READABLE_MM - low_mm))
    return brake_at(draws, size, mean_mm, tilt_mm, good_disc_mm(draws, size))


def gap_large_on_one_side(draws: Draws, size: BrakeSize, share: float | None = None) -> Condition:
    """Return a brake whose gap is clearly too large on one side, and well within it on the mean."""
    more = draws.uniform("gap") if share is None else share
    tilt_mm = CLEAR_U * (2.0 + ONE_SIDE_MORE * more) * GAP_U_MM
    mean_mm = size.gap.max_mm - CLEAR_U * GAP_U_MM
    return brake_at(draws, size, mean_mm, tilt_mm, good_disc_mm(draws, size))


def disc_worn(draws: Draws, size: BrakeSize, share: float | None = None) -> Condition:
    """Return a brake with its disc at or below its least; the gap tells nothing of it."""
    tilt_mm = small_tilt_mm(draws, size)
    if draws.uniform("gap was set") < 0.5:
        mean_mm = size.gap.setting_mm + tilt_mm + between(draws, "gap", 0.0, 0.05)
    else:
        mean_mm = size.gap.max_mm + CLEAR_U * GAP_U_MM + tilt_mm
        mean_mm += between(draws, "gap", 0, min(0.2, max(0.0, READABLE_MM - mean_mm)))
    worn = draws.uniform("beyond") if share is None else share
    beyond_mm = CLEAR_U * (1.0 + 3.0 * worn) * DISC_U_MM
    disc_mm = max(size.disc.min_mm - beyond_mm, 0.8 * size.disc.min_mm)
    return brake_at(draws, size, mean_mm, tilt_mm, disc_mm)


def gap_at(draws: Draws, size: BrakeSize, distance: float) -> Condition:
    """Return a brake with a good disc whose widest gap is `distance` times u inside the largest."""
    tilt_mm = small_tilt_mm(draws, size)
    mean_mm = size.gap.max_mm - distance * GAP_U_MM - tilt_mm
    return brake_at(draws, size, mean_mm, tilt_mm, good_disc_mm(draws, size))


def disc_at(draws: Draws, size: BrakeSize, distance: float) -> Condition:
    """Return a brake with a normal gap whose thinnest disc is `distance` times u above its least.

    The disc has been adjusted to: nothing but a caliper can tell how much is left of it.
    """
    sound = in_limits(draws, size)
    taper_mm = sound.disc.taper_mm
    thickness_mm = size.disc.min_mm + distance * DISC_U_MM + taper_mm
    return thicker(sound, thickness_mm - sound.disc.thickness_mm)


def thicker(condition: Condition, by_mm: float) -> Condition:
    """Return the brake with a thicker disc under the same gap."""
    first, second, third = condition.screw_height_mm
    heights = (first + by_mm, second + by_mm, third + by_mm)
    disc = replace(condition.disc, thickness_mm=condition.disc.thickness_mm + by_mm)
    return replace(condition, disc=disc, screw_height_mm=heights)
