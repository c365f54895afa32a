"""The retaining screws that lock the setting, and the hollow screws that make it."""

from dataclasses import replace

from widgets.brake.condition import Three
from widgets.brake.levelling import change_for_turn_mm

from .actions import LoosenLock, TightenLock, TurnScrew
from .state import Observation, Outcome, Setup, State, gap_now, refused

TAKE_UP_REPEAT_MM = 0.004  # mm, scatter of the thread play from one locking to the next; invented
MOST_HEIGHT_MM = (
    6.0  # mm that a hollow screw can be turned out before it leaves its thread; invented
)
THREAD_GIVES_AT = 1.6  # of the proper torque, where the small screw begins to stretch; invented


def loosen_lock(_: Setup, state: State, action: LoosenLock) -> Outcome:
    """Return the brake with one retaining screw slack: its thread play opens again."""
    if state.fan_on or state.cover_on:
        return refused(state, _out_of_reach(state))
    index = action.screw - 1
    if state.lock_nm[index] == 0:
        return refused(state, f"Retaining screw {action.screw} is slack already.")
    changed = replace(state, lock_nm=_put(state.lock_nm, index, 0.0))
    words = f"Retaining screw {action.screw} gives with a crack; a quarter turn, and it is slack."
    if any(changed.lock_nm) or state.load_landed:
        return changed, Observation(done=True, words=words)
    alarm = "The last screw lets go with the load on the hook: the load drops with a jerk."
    changed = replace(changed, accidents=(*state.accidents, alarm))
    return changed, Observation(done=True, words=f"{words} {alarm}", alarm=alarm)


def tighten_lock(setup: Setup, state: State, action: TightenLock) -> Outcome:
    """Return the brake with one retaining screw tight: it takes up its thread play."""
    if state.fan_on or state.cover_on:
        return refused(state, _out_of_reach(state))
    index, proper_nm = action.screw - 1, setup.size.screws.retaining_torque_nm
    if action.torque_nm > THREAD_GIVES_AT * proper_nm:
        return refused(
            state,
            f"Retaining screw {action.screw} starts to stretch before {action.torque_nm:g} N·m: "
            "you stop and back it off. Look up the torque for this size.",
        )
    changed = state
    if state.lock_nm[index] == 0:
        changed = replace(
            state, take_up_mm=_put(state.take_up_mm, index, _taken_up_mm(setup, state, index))
        )
    changed = replace(changed, lock_nm=_put(changed.lock_nm, index, action.torque_nm))
    words = f"Retaining screw {action.screw}: the wrench clicks at {action.torque_nm:g} N·m."
    return changed, Observation(done=True, words=words)


def turn_screw(setup: Setup, state: State, action: TurnScrew) -> Outcome:
    """Return the brake with one hollow screw turned: out is plus, and opens the gap there."""
    if state.fan_on or state.cover_on:
        return refused(state, _out_of_reach(state))
    index = action.screw - 1
    if state.lock_nm[index] > 0:
        return refused(
            state,
            f"Hollow screw {action.screw} does not turn: its retaining screw clamps it.",
        )
    change_mm = change_for_turn_mm(action.turn_deg, setup.size.screws.pitch_mm)
    height_mm = state.screw_height_mm[index] + change_mm
    changed = replace(state, screw_height_mm=_put(state.screw_height_mm, index, height_mm))
    if height_mm - setup.condition.screw_height_mm[index] > MOST_HEIGHT_MM:
        return refused(
            state, f"Hollow screw {action.screw} would come out of its thread: you stop."
        )
    if _narrowest_mm(setup, changed) < 0:
        return refused(
            state, f"Hollow screw {action.screw} goes solid: the body sits on the plate. You stop."
        )
    way = "out" if action.turn_deg > 0 else "in"
    words = f"Hollow screw {action.screw}: {abs(action.turn_deg):g}° {way}."
    return changed, Observation(done=True, words=words)


def _taken_up_mm(setup: Setup, state: State, index: int) -> float:
    """Return the thread play that this locking takes up, mm: near the screw's own, never alike."""
    own_mm = setup.condition.take_up_mm[index]
    scatter_mm = TAKE_UP_REPEAT_MM * setup.draws.normal("take up", index, state.step)
    return max(0.0, own_mm + scatter_mm)


def _narrowest_mm(setup: Setup, state: State) -> float:
    """Return the narrowest gap of plane and warp, mm; below 0 the parts would overlap."""
    gap = gap_now(setup, state)
    narrowest_mm = gap.plane.mean_mm - gap.plane.tilt_mm
    return narrowest_mm - gap.warp_mm


def _put(three: Three, index: int, value: float) -> Three:
    values = list(three)
    values[index] = value
    return values[0], values[1], values[2]


def _out_of_reach(state: State) -> str:
    in_the_way = "cover" if state.cover_on else "fan"
    return f"You cannot get a key on the screws: the {in_the_way} is in the way."
