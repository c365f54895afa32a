"""The true gap of the brake as it stands. For the kernel's eyes only."""

import math

from widgets.brake.condition import Three, gap_field
from widgets.brake.gap.profile import GapField
from widgets.instruments.feeler import BLADE_WIDTH_MM

from .setup import Setup
from .state import State

ROOM_C = 20.0  # °C, what everything cools down to; invented
# °C from which bare metal burns a hand that lets go at once; ISO 13732-1, from memory: 65 to 70
# for a second, 55 for ten. A choice between.
BURNS_FROM_C = 60.0
LOCK_SHARE_THAT_HOLDS = 0.5  # of the proper torque: below it a screw counts as loose; invented
MOST_KNOWN_GAPS = 1000
STAGED_SHARE = 0.15  # of the distortion that is left when screws are tightened in stages; invented


def gap_now(setup: Setup, state: State) -> GapField:
    """Return the true gap as it stands, plate on the disc. For the kernel's eyes only."""
    stand_off_mm = state.stand_off_mm()
    wave = _clamp_share(setup, state) if state.brake.clamp_wave_mm else 0.0
    key = (stand_off_mm, state.shaft_deg, wave, id(state.brake))
    known = setup.known_gaps
    if key not in known:
        if len(known) > MOST_KNOWN_GAPS:
            known.clear()
        # The condition is kept with its gap, so that its identity cannot be given to another.
        known[key] = gap_field(
            setup.size, state.brake, stand_off_mm, state.shaft_deg, tightness=wave
        )
        known[("kept", id(state.brake))] = state.brake
    gap: GapField = known[key]
    return gap


def under_blade_mm(setup: Setup, state: State, angle_deg: float) -> tuple[float, float]:
    """Return the gap under the middle of a blade at an angle, and under its narrower edge, mm."""
    gap, known = gap_now(setup, state), setup.known_gaps
    key = ("under a blade", id(gap), angle_deg)
    found: tuple[float, float] | None = known.get(key)
    if found is None:
        half_deg = math.degrees(BLADE_WIDTH_MM / setup.size.screws.gauging_circle_mm)
        edge_mm = min(gap.at_mm(angle_deg - half_deg), gap.at_mm(angle_deg + half_deg))
        found = known[key] = (gap.at_mm(angle_deg), edge_mm)
    return found


def set_out_mm(setup: Setup, state: State) -> Three:
    """Return how far the body has been set out at each screw since it was found, mm."""
    first, second, third = (
        now - was
        for now, was in zip(state.screw_height_mm, setup.condition.screw_height_mm, strict=True)
    )
    return first, second, third


def narrowest_mm(setup: Setup, state: State) -> float:
    """Return the narrowest gap of plane and warp, mm; below 0 the parts would overlap."""
    gap = gap_now(setup, state)
    narrowest_mm = gap.plane.mean_mm - gap.plane.tilt_mm
    return narrowest_mm - gap.warp_mm


def _clamp_share(setup: Setup, state: State) -> float:
    """Return how much of the clamp distortion is there, as a share of the tight one."""
    proper_nm = setup.size.screws.retaining_torque_nm
    shares = [
        min(3.0, lock_nm / proper_nm) * (1.0 if at_once else STAGED_SHARE)
        for lock_nm, at_once in zip(state.lock_nm, state.in_one_go, strict=True)
    ]
    return sum(shares) / 3


def loose_locks(setup: Setup, state: State) -> tuple[int, ...]:
    """Return the numbers of the retaining screws that would not hold."""
    enough_nm = LOCK_SHARE_THAT_HOLDS * setup.size.screws.retaining_torque_nm
    return tuple(
        number for number, lock_nm in enumerate(state.lock_nm, start=1) if lock_nm < enough_nm
    )
