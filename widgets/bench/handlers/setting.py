"""What sets the gap where no hollow screw does: shims under three spacers, an adjusting ring."""

from widgets.bench.actions import (
    ChangeShim,
    LockAdjustingRing,
    LoosenAdjustingRing,
    TurnAdjustingRing,
)
from widgets.bench.observed import Outcome, already, not_possible, seen, wrong_order
from widgets.bench.setup import Setup
from widgets.bench.standing import narrowest_mm, set_out_mm
from widgets.bench.state import State
from widgets.brake.gap.levelling import steps_of
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.size import BrakeSize

from .looking import in_the_way

# mm that the gap can be set wider than it was found, at least: bolts and thread are as long as the
# whole wear of the disc asks for; invented.
LEAST_RANGE_MM = 6.0
WEAR_ON_RANGE = 1.5  # of the disc's wear, what a maker leaves beside the gap; invented
NEAR_MM = 1e-6  # of a step, what rounding leaves


def _most_height_mm(size: BrakeSize) -> float:
    """Return how far the body can be set out from where it was found, mm.

    Made long enough to follow the whole wear of the disc, and back for a new one.
    """
    wear_mm = size.disc.new_mm - size.disc.min_mm
    return max(LEAST_RANGE_MM, WEAR_ON_RANGE * wear_mm + size.gap.max_mm)


def change_shim(setup: Setup, state: State, action: ChangeShim) -> Outcome:
    """Return the brake with shims put under one spacer or taken out; the gap moves by as much."""
    size, screw = setup.size, action.screw
    refused = not_of(Design.SHIMS, setup, state, "shim.none-of-this-design")
    if refused:
        return refused
    index, change_mm = screw - 1, action.change_mm
    if state.lock_nm[index] > 0:
        return wrong_order(state, "shim.clamped", screw=screw)
    whole_mm = steps_of(change_mm, size.step_mm) * size.step_mm
    if not whole_mm or abs(whole_mm - change_mm) > NEAR_MM:
        return not_possible(state, "shim.no-such-thickness", step_mm=size.step_mm)
    if state.body_on and not state.drawn[index] and change_mm > state.slack_mm[index] + NEAR_MM:
        room_mm = round(state.slack_mm[index], 2)
        return wrong_order(state, "shim.no-room", screw=screw, room_mm=room_mm)
    heights = [*state.screw_height_mm]
    heights[index] += change_mm
    changed = state._replace(screw_height_mm=(heights[0], heights[1], heights[2]))
    too_far = beyond(setup, changed, change_mm, ("shim.end", "shim.home", "shim.solid"))
    if too_far:
        return not_possible(state, too_far, screw=screw)
    return seen(changed, "shim.changed", screw=screw, change_mm=change_mm)


def loosen_adjusting_ring(setup: Setup, state: State, _: LoosenAdjustingRing) -> Outcome:
    """Return the brake with the set screw of its adjusting ring loose."""
    refused = _no_ring(setup, state)
    if refused:
        return refused
    if state.ring_loose:
        return already(state, "adjusting-ring.already-loose")
    return seen(state._replace(ring_loose=True), "adjusting-ring.loose")


def turn_adjusting_ring(setup: Setup, state: State, action: TurnAdjustingRing) -> Outcome:
    """Return the brake with its ring turned: the gap moves alike all the way round."""
    refused = _no_ring(setup, state)
    if refused:
        return refused
    if not state.ring_loose:
        return wrong_order(state, "adjusting-ring.locked")
    if not action.notches:
        return not_possible(state, "adjusting-ring.no-notch")
    change_mm = action.notches * setup.size.step_mm
    first, second, third = state.screw_height_mm
    heights = (first + change_mm, second + change_mm, third + change_mm)
    changed = state._replace(screw_height_mm=heights)
    codes = ("adjusting-ring.end", "adjusting-ring.home", "adjusting-ring.solid")
    too_far = beyond(setup, changed, change_mm, codes)
    if too_far:
        return not_possible(state, too_far)
    return seen(changed, "adjusting-ring.turned", notches=action.notches)


def lock_adjusting_ring(setup: Setup, state: State, _: LockAdjustingRing) -> Outcome:
    """Return the brake with its ring locked: the play of its thread is taken up."""
    refused = _no_ring(setup, state)
    if refused:
        return refused
    if not state.ring_loose:
        return already(state, "adjusting-ring.already-locked")
    changed = state._replace(ring_loose=False)
    if all(state.lock_nm) and narrowest_mm(setup, changed) < 0:
        return wrong_order(state, "adjusting-ring.solid")
    return seen(changed, "adjusting-ring.locked-now")


def _no_ring(setup: Setup, state: State) -> Outcome | None:
    refused = not_of(Design.ADJUSTING_RING, setup, state, "adjusting-ring.none-of-this-design")
    if refused or state.body_on:
        return refused
    return wrong_order(state, "screws.body-off")


def not_of(design: Design, setup: Setup, state: State, code: str) -> Outcome | None:
    """Return the refusal of whoever cannot get at it, or wants what this design has not, or None.

    What is in the way comes first: nobody learns by trying what the eye cannot see yet.
    """
    part = in_the_way(state, "screws")
    if part:
        return wrong_order(state, "screws.in-the-way", part=part)
    if setup.size.design is not design:
        return not_possible(state, code, design=setup.size.design.value)
    return None


def beyond(setup: Setup, changed: State, change_mm: float, codes: tuple[str, str, str]) -> str:
    """Return the code of a setting beyond its end, beyond its home, or gone solid; or nothing."""
    end, home, solid = codes
    moved = set_out_mm(setup, changed)
    if max(moved) > _most_height_mm(setup.size):
        return end
    room_mm = changed.brake.screw_room_mm
    if change_mm < 0 and room_mm is not None and -min(moved) > room_mm:
        return home
    if change_mm < 0 and changed.body_on and narrowest_mm(setup, changed.seated()) < 0:
        return solid
    return ""
