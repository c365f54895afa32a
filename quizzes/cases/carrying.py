"""Which families a size can carry: the fault must lie clearly beyond a limit of this size.

A size without a wear plate cannot miss one, and where the limits are wide the most that
locking takes up breaks none of them. Such a case has no right answer, so it is not drawn.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache

from widgets.brake.condition import Condition, gap_field, sound_condition
from widgets.brake.draws import Draws
from widgets.brake.faults import fault
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.design import DESIGN_WORDS, Design
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

from .case import Depth
from .families import (
    FAMILIES,
    LEAST_TAPER_MM,
    MOST_SLOPE,
    clear_range,
    grown_mm_of,
    lay_on,
    slope_under_a_leaf_mm,
)
from .family import Family
from .looking_ahead import CLEAR_U as AHEAD_U
from .looking_ahead import LEAST_SHARE, MOST_SHARE
from .sound_brakes import CLEAR_U, MOST_SMALL_TILT, ONE_SIDE_MORE, READABLE_MM, SPARE_MM

# Uncertainties by which the least there is of a fault must lie beyond a limit; choices of ours.
# Three waves stand at eight places, and their fit tells them sooner than one place would.
CLEAR_BY_U = {
    "not-remeasured": 3.0,
    "gap-tilted": 3.0,
    "warped": 3.0,
    "clamp-distortion": 1.7,
    "gap-too-small": 3.0,
}
_DICE = Draws(bytes(range(16)))
# Faults that come of setting a gap at three places, or of what a person does there.
_OF_THREE_PLACES = frozenset(
    {"gap-tilted", "screw-not-locked", "not-remeasured", "clamp-distortion", "taper"}
)
# Faults that only a gap which can be set has beside a disc: elsewhere the one tells the other.
_OF_A_GAP_THAT_IS_SET = frozenset(
    {"gap-too-small", "disc-spent-gap-set", "wrong-disc", "lever-tight", "disc-swollen"}
)
_CANNOT: Mapping[Design, frozenset[str]] = {
    Design.HOLLOW_SCREWS: frozenset(),
    Design.SHIMS: frozenset({"screw-not-locked", "not-remeasured"}),
    Design.ADJUSTING_RING: _OF_THREE_PLACES,
    Design.FIXED: _OF_THREE_PLACES | _OF_A_GAP_THAT_IS_SET,
}
ONE_SIDED = "gap too large on one side"
# Families that need more than a fault: a range of the setting that is used up, a disc by itself.
_CANNOT_BY_NAME: Mapping[Design, frozenset[str]] = {
    Design.HOLLOW_SCREWS: frozenset(),
    Design.SHIMS: frozenset(),
    Design.ADJUSTING_RING: frozenset(
        {"thread torn while adjusting", "weak wrench, gap too large", ONE_SIDED}
    ),
    Design.FIXED: frozenset(
        {
            "thread torn while adjusting",
            "adjusting range used up",
            "weak wrench, gap too large",
            "disc passes its least before the next inspection",
            ONE_SIDED,
        }
    ),
}


@lru_cache(maxsize=8192)
def cannot_carry(family: str, size: BrakeSize) -> str:
    """Return why a size cannot carry a case of a family, or nothing if it can.

    Raises
    ------
    KeyError
        If there is no such family.
    """
    faults = FAMILIES[family].faults
    early = (
        not_of_design(FAMILIES[family], size)
        or _not_in_time(FAMILIES[family], size)
        or _no_room_for_a_side(FAMILIES[family], size)
    )
    if early:
        return early
    if "wear-plate-missing" in faults and size.wear_plate_mm == 0:
        return "this size has no wear plate, so none can be missing"
    if "taper" in faults and not _wedge_shows(size):
        return "its disc wears by too little, or too much, for a wedge that caliper and leaves tell"
    wear_mm = size.disc.new_mm - size.disc.min_mm
    # The family of a gap too large alone sets the gap over a good disc: nothing need have worn.
    worn_mm = max((grown_mm_of(one, size) for one in faults), default=0.0)
    set_over = "gap too large" in family or Depth.BENCH not in FAMILIES[family].depths
    if not set_over and not FAMILIES[family].near and worn_mm > wear_mm - SPARE_MM:
        return "its disc is worn out before its gap has grown so far"
    for fault_id in faults:
        if fault_id in CLEAR_BY_U and not _is_clear(fault_id, size):
            return f"the fault {fault_id!r} would leave it within its limits"
    return ""


def carried(families: Sequence[str], sizes: Sequence[BrakeSize]) -> tuple[str, ...]:
    """Return the families that at least one of the sizes can carry, in order."""
    return tuple(
        family for family in families if any(not cannot_carry(family, size) for size in sizes)
    )


def _not_in_time(family: Family, size: BrakeSize) -> str:
    """Return why the time to come decides nothing about a size, or nothing if it can."""
    ahead = family.ahead or family.name == "record older than the brake"
    if ahead and not _lasts_or_not(size):
        return "its limits lie too near to each other for what will pass them to be told today"
    return ""


def _lasts_or_not(size: BrakeSize) -> bool:
    """Return whether the time to come can decide: room in gap and disc for three kinds of brake."""
    run_mm = size.gap.max_mm - size.gap.setting_mm
    wear_mm = size.disc.new_mm - size.disc.min_mm
    tilt_mm = 2 * MOST_SMALL_TILT * size.gap.evenness_mm
    told = LEAST_SHARE * run_mm > 2 * AHEAD_U * GAP_U_MM + tilt_mm
    worn = LEAST_SHARE * run_mm > 1.6 * AHEAD_U * DISC_U_MM
    kept = (1 - MOST_SHARE) * run_mm > AHEAD_U * GAP_U_MM + tilt_mm
    disc = wear_mm > MOST_SHARE * run_mm + AHEAD_U * DISC_U_MM
    return told and worn and kept and disc


def _no_room_for_a_side(family: Family, size: BrakeSize) -> str:
    """Return why one side alone cannot be too large and both be read by leaves, or nothing."""
    if family.name != ONE_SIDED:
        return ""
    most_mm = CLEAR_U * (2.0 + ONE_SIDE_MORE) * GAP_U_MM
    mean_mm = size.gap.max_mm - CLEAR_U * GAP_U_MM
    slope_mm = slope_under_a_leaf_mm(size, most_mm)
    readable = mean_mm + most_mm <= READABLE_MM and slope_mm <= MOST_SLOPE * size.gap.evenness_mm
    if readable and mean_mm - most_mm >= size.gap.min_mm + CLEAR_U * GAP_U_MM:
        return ""
    return "its gap is too narrow, or too wide to be read, for one side alone to be too large"


def _wedge_shows(size: BrakeSize) -> bool:
    """Return whether a wedge can be thin at one side, not on the mean, and its gap be read."""
    least, most = clear_range("taper", size)
    can_be = least >= fault("taper").amount.least
    return can_be and most * (size.disc.new_mm - size.disc.min_mm) >= LEAST_TAPER_MM


def _is_clear(fault_id: str, size: BrakeSize) -> bool:
    """Return whether the least of a fault on a brake just set is clearly out of a limit."""
    sound = sound_condition(size, take_up_mm=(0.0, 0.0, 0.0))
    return _out_by_mm(size, lay_on(fault_id, _DICE, size, sound, 0.0)) >= (
        CLEAR_BY_U[fault_id] * GAP_U_MM
    )


def _out_by_mm(size: BrakeSize, condition: Condition) -> float:
    """Return by how much the worst of a gap lies beyond its limit, mm; below 0 within them."""
    gap, limits = gap_field(size, condition), size.gap
    round_mm = gap.round_mm(72)
    bent_mm = [mm - gap.plane.at_mm(5.0 * place) for place, mm in enumerate(round_mm)]
    return max(
        limits.min_mm - min(round_mm),
        max(round_mm) - limits.max_mm,
        2 * gap.plane.tilt_mm - limits.evenness_mm,
        max(bent_mm) - min(bent_mm) - limits.evenness_mm,
    )


def not_of_design(family: Family, size: BrakeSize) -> str:
    """Return why a brake of this size's design cannot show a family, or nothing if it can."""
    design = size.design
    if family.name in _CANNOT_BY_NAME[design] or _CANNOT[design] & set(family.faults):
        return f"its design ({DESIGN_WORDS[design]}) cannot show it"
    if design.adjusts or not (family.ahead or family.near):
        return ""
    run_mm = size.gap.max_mm - size.gap.setting_mm
    if size.disc.new_mm - size.disc.min_mm - run_mm < SPARE_MM:
        return "its gap cannot be set, and its disc is worn out before the gap has grown so far"
    return ""


def meant_for(family: Family, size: BrakeSize) -> frozenset[Outcome]:
    """Return what is right for a family on a size: what cannot be adjusted gets a new disc."""
    if size.design.adjusts:
        return family.meant
    return frozenset(Outcome.REPLACE if one is Outcome.ADJUST else one for one in family.meant)
