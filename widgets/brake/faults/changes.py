"""How each fault changes the parts of a brake: one function a fault, inputs only.

Each takes size, condition and `Dose`, and returns the condition with the fault on top of
whatever was wrong already, so that faults combine.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from widgets.brake.condition import Condition, Disc, Three, gap_field
from widgets.brake.gap.profile import Plane, screws_of_plane_mm
from widgets.brake.magnet.transient import Switching
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize

BLUE_FACE_C = 250.0  # °C, faces that show heat colours fade in duty; common practice, no source
WIRE_BREAKS_AT = 1.5  # resistance over the proper one from which a bad joint is open; invented
DUST_ON_POLES_SHARE = 2 / 3  # of a dust cake, packed by the plate; invented


@dataclass(frozen=True, slots=True)
class Dose:
    """How much of a fault (in the unit of its `Amount`), where, degrees, and at which screw."""

    amount: float
    place_deg: float = 0.0
    screw: int = 1

    def __post_init__(self) -> None:
        in_range("amount", self.amount, "")
        in_range("place_deg", self.place_deg, "deg", low=0, high=360)
        in_range("screw", self.screw, "", low=1, high=3)


Change = Callable[[BrakeSize, Condition, Dose], Condition]


def mean_gap_mm(size: BrakeSize, condition: Condition) -> float:
    """Return the mean gap of a brake as it was found, mm."""
    return gap_field(size, condition).plane.mean_mm


def wear_to_share_of_max(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Wear the disc until the mean gap is `amount` times the largest."""
    return _worn_by(condition, dose.amount * size.gap.max_mm - mean_gap_mm(size, condition))


def set_tight(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Turn the screws in until the mean gap is `amount` times the smallest."""
    return _set_to(size, condition, dose.amount * size.gap.min_mm)


def tilt(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Wear to the middle between setting and largest gap, tilted by `amount` times evenness."""
    middle_mm = (size.gap.setting_mm + size.gap.max_mm) / 2
    worn = _worn_by(condition, middle_mm - mean_gap_mm(size, condition))
    place, tilt_mm = math.radians(dose.place_deg), dose.amount * size.gap.evenness_mm
    plane = Plane(0.0, tilt_mm * math.cos(place), tilt_mm * math.sin(place))
    return _raised(worn, screws_of_plane_mm(plane, size.screws.radius_ratio))


def unlock_one_screw(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Leave one retaining screw loose; its hollow screw has walked out by `amount` of the max."""
    walked_mm = dose.amount * size.gap.max_mm
    loose = replace(condition, lock_share=_put(condition.lock_share, dose.screw, 0.0))
    return _raised(loose, _put((0.0, 0.0, 0.0), dose.screw, walked_mm))


def locked_unmeasured(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Let locking take up `amount` mm at one screw and less at the others, gap set before."""
    shares = [1.0, 0.6, 0.3]
    shares = shares[1 - dose.screw :] + shares[: 1 - dose.screw]
    first, second, third = (
        max(present, share * dose.amount)
        for present, share in zip(condition.take_up_mm, shares, strict=True)
    )
    return replace(condition, take_up_mm=(first, second, third))


def warp(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Bend the plate two-lobed, by `amount` times evenness."""
    amplitude_mm = condition.warp_mm + dose.amount * size.gap.evenness_mm
    return replace(condition, warp_mm=amplitude_mm, warp_deg=dose.place_deg)


def clamp_wave(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Pull the body out of shape at the screws, by `amount` times evenness."""
    wave_mm = condition.clamp_wave_mm + dose.amount * size.gap.evenness_mm
    return replace(condition, clamp_wave_mm=wave_mm)


def spent_disc_gap_set(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Wear the disc to its least and `amount` of the wear allowed, then set the gap as new."""
    left_mm = size.disc.min_mm + dose.amount * (size.disc.new_mm - size.disc.min_mm)
    spent = replace(condition.disc, thickness_mm=left_mm)
    return _set_to(size, replace(condition, disc=spent), size.gap.setting_mm)


def taper(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Wear the disc to a wedge: its taper `amount` times the wear allowed, thin side under min."""
    taper_mm = dose.amount * (size.disc.new_mm - size.disc.min_mm)
    thickness_mm = 0.99 * size.disc.min_mm + taper_mm
    wedge = Disc(thickness_mm, taper_mm, dose.place_deg)
    return _set_to(size, replace(condition, disc=wedge), size.gap.setting_mm + taper_mm)


def oil(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Wet the faces with oil."""
    return replace(condition, surface="oiled")


def glaze(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Glaze the lining, unless it is oiled as well: the slipperier state counts."""
    return condition if condition.surface == "oiled" else replace(condition, surface="glazed")


def heat_cracks(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Check the counter-face with heat: it runs at `BLUE_FACE_C` and is warped a little."""
    hot = replace(condition, face_c=max(condition.face_c, BLUE_FACE_C))
    return warp(size, hot, dose)


def break_springs(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Break `amount` springs."""
    return replace(condition, springs_intact=max(0, condition.springs_intact - round(dose.amount)))


def weaken_springs(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Leave the springs with `amount` of their force."""
    return replace(condition, spring_force_factor=condition.spring_force_factor * dose.amount)


def wear_spline(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Wear the spline to a play of `amount` degrees."""
    return replace(condition, spline_play_deg=max(condition.spline_play_deg, dose.amount))


def swell(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Swell the disc with rust by `amount` of the setting: it sticks at standstill, then slips."""
    swollen_mm = condition.swelling_mm + dose.amount * size.gap.setting_mm
    return replace(condition, swelling_mm=swollen_mm, static_over_dynamic=1.2)


def reverse_hub(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Let the hub carry `amount` of the spring force."""
    return replace(condition, hub_share=max(condition.hub_share, dose.amount))


def leave_out_wear_plate(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Take the wear plate away."""
    return replace(condition, wear_plate_mm=0.0)


def fit_wrong_disc(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Put in a disc of `amount` the thickness and a smaller ring, the gap adjusted to suit."""
    other = Disc(dose.amount * size.disc.new_mm)
    radius = condition.radius_factor * dose.amount
    return _set_to(size, replace(condition, disc=other, radius_factor=radius), size.gap.setting_mm)


def raise_resistance(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Give the coil a bad joint of `amount` times its resistance; from 1.5 on it is open."""
    factor = condition.resistance_factor * dose.amount
    is_open = condition.coil_open or dose.amount >= WIRE_BREAKS_AT
    return replace(condition, resistance_factor=factor, coil_open=is_open)


def short_turns(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Leave `amount` of the turns alive: resistance and ampere-turns fall alike."""
    return replace(
        condition,
        resistance_factor=condition.resistance_factor * dose.amount,
        turns_factor=condition.turns_factor * dose.amount,
    )


def open_a_diode(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Open one diode of the bridge."""
    return replace(condition, rectifier_diode_open=True)


def switch_on_the_ac_side(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Wire the contact to the AC side of the rectifier."""
    return replace(condition, switching=Switching.AC_SIDE)


def lose_the_seal(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Let a dust cake of `amount` mm into the gap, most of it packed on the poles."""
    on_poles_mm = condition.pole_dust_mm + DUST_ON_POLES_SHARE * dose.amount
    dust_mm = max(condition.dust_mm, dose.amount)
    return replace(condition, seal_ok=False, dust_mm=dust_mm, pole_dust_mm=on_poles_mm)


def set_lever_tight(size: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Wear the brake on, with a lever that has touched for the last `amount` mm."""
    worn_mm = size.gap.setting_mm + 0.8 * (size.gap.max_mm - size.gap.setting_mm)
    worn = _worn_by(condition, worn_mm - mean_gap_mm(size, condition))
    play_mm = mean_gap_mm(size, worn) - size.gap.setting_mm - dose.amount
    return replace(worn, release_lever_play_mm=max(0.0, play_mm))


def jam_lever(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Leave the hand release drawn."""
    return replace(condition, release_lever_returns=False)


def lose_the_fan(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Take the fan away."""
    return replace(condition, fan_ok=False)


def wear_anti_stick(_: BrakeSize, condition: Condition, dose: Dose) -> Condition:
    """Leave `amount` of the anti-stick layer."""
    return replace(condition, residual_gap_factor=condition.residual_gap_factor * dose.amount)


def leave_coil_live(_: BrakeSize, condition: Condition, __: Dose) -> Condition:
    """Feed the coil while somebody measures."""
    return replace(condition, coil_live=True)


def _worn_by(condition: Condition, growth_mm: float) -> Condition:
    # Wear only opens the gap: a brake already wider is left as it is.
    thickness_mm = condition.disc.thickness_mm - max(0.0, growth_mm)
    return replace(condition, disc=replace(condition.disc, thickness_mm=thickness_mm))


def _set_to(size: BrakeSize, condition: Condition, gap_mm: float) -> Condition:
    change_mm = gap_mm - mean_gap_mm(size, condition)
    return _raised(condition, (change_mm, change_mm, change_mm))


def _raised(condition: Condition, by_mm: Three) -> Condition:
    first, second, third = (
        height + change for height, change in zip(condition.screw_height_mm, by_mm, strict=True)
    )
    return replace(condition, screw_height_mm=(first, second, third))


def _put(three: Three, screw: int, value: float) -> Three:
    first, second, third = (value if at == screw else old for at, old in enumerate(three, 1))
    return first, second, third
