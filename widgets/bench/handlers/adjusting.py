"""The retaining screws that lock the setting, the hollow screws that make it, the hand release."""

from dataclasses import replace
from typing import TypeVar

from widgets.bench.actions import LoosenLock, SetLever, TightenLock, TryLock, TurnScrew, WorkLever
from widgets.bench.observed import (
    Outcome,
    already,
    harmed,
    not_possible,
    not_there,
    seen,
    wrong_order,
)
from widgets.bench.setup import Setup
from widgets.bench.standing import LOCK_SHARE_THAT_HOLDS, gap_now, narrowest_mm
from widgets.bench.state import State
from widgets.bench.symptoms import lever_play_mm
from widgets.brake.gap.levelling import change_for_turn_mm
from widgets.brake.sizes.design import Design

from .looking import in_the_way
from .setting import beyond, not_of

TAKE_UP_REPEAT_MM = 0.004  # mm, scatter of the thread play from one locking to the next; invented
COCKED_MM = 0.15  # mm, what a body that hangs askew in its guides takes up at its top; invented
THREAD_HOLDS = 0.3  # of the proper torque, what a torn thread still stands; invented
THREAD_GIVES_AT = 1.6  # of the proper torque, where the small screw begins to stretch; invented
STAGE = 0.75  # of the proper torque: from slack to above this in one go is not a stage; invented
_One = TypeVar("_One", float, bool)


def try_lock(setup: Setup, state: State, action: TryLock) -> Outcome:
    """Return whether a retaining screw holds against the wrench."""
    kept_from = _no_screw(state, action.screw)
    if kept_from:
        return kept_from
    index, proper_nm = action.screw - 1, setup.size.screws.retaining_torque_nm
    holds = state.lock_nm[index] >= LOCK_SHARE_THAT_HOLDS * proper_nm
    known = state._replace(lock_known=_put(state.lock_known, index, value=True))
    return seen(known, "lock.tried", screw=action.screw, holds=holds)


def loosen_lock(setup: Setup, state: State, action: LoosenLock) -> Outcome:
    """Return the brake with one retaining screw slack: the springs lift the body by what it gives.

    The play of the threads opens on top of that.
    """
    kept_from = _no_screw(state, action.screw)
    if kept_from:
        return kept_from
    index = action.screw - 1
    if state.lock_nm[index] == 0:
        return already(state, "lock.already-slack", screw=action.screw)
    changed = state._replace(
        lock_nm=_put(state.lock_nm, index, value=0.0),
        slack_mm=_put(state.slack_mm, index, value=setup.size.screws.slack_mm),
        in_one_go=_put(state.in_one_go, index, value=False),
        lock_known=_put(state.lock_known, index, value=True),
    )
    if any(changed.lock_nm) or state.load_landed:
        return seen(changed, "lock.slack", screw=action.screw)
    return harmed(changed, "lock.slack", "load-drops", screw=action.screw)


def tighten_lock(setup: Setup, state: State, action: TightenLock) -> Outcome:
    """Return the brake with one retaining screw tight: it takes up its thread play."""
    kept_from = _no_screw(state, action.screw)
    if kept_from:
        return kept_from
    index, proper_nm = action.screw - 1, setup.size.screws.retaining_torque_nm
    if action.torque_nm > THREAD_GIVES_AT * proper_nm:
        return not_possible(state, "lock.stretches", screw=action.screw, torque_nm=action.torque_nm)
    if state.brake.torn_thread == action.screw and action.torque_nm > THREAD_HOLDS * proper_nm:
        return not_possible(state, "lock.thread-torn", screw=action.screw)
    torque_nm = action.torque_nm * state.brake.tools.wrench_share
    changed = state._replace(
        lock_nm=_put(state.lock_nm, index, value=torque_nm),
        slack_mm=_put(state.slack_mm, index, value=0.0),
        lock_known=_put(state.lock_known, index, value=True),
    )
    if state.lock_nm[index] == 0:
        at_once = torque_nm > STAGE * proper_nm
        changed = changed._replace(
            take_up_mm=_put(state.take_up_mm, index, value=_taken_up_mm(setup, state, index)),
            in_one_go=_put(state.in_one_go, index, value=at_once),
        )
    if narrowest_mm(setup, changed) < 0:
        return wrong_order(state, "lock.solid", screw=action.screw)
    return seen(changed, "lock.tight", screw=action.screw, torque_nm=action.torque_nm)


def turn_screw(setup: Setup, state: State, action: TurnScrew) -> Outcome:
    """Return the brake with one hollow screw turned: out is plus, and opens the gap there."""
    kept_from = not_of(
        Design.HOLLOW_SCREWS, setup, state, "hollow-screw.none-of-this-design"
    ) or _no_screw(state, action.screw)
    if kept_from:
        return kept_from
    index = action.screw - 1
    if state.lock_nm[index] > 0:
        return wrong_order(state, "hollow-screw.clamped", screw=action.screw)
    change_mm = change_for_turn_mm(action.turn_deg, setup.size.screws.pitch_mm)
    height_mm = state.screw_height_mm[index] + change_mm
    changed = state._replace(screw_height_mm=_put(state.screw_height_mm, index, value=height_mm))
    codes = ("hollow-screw.end-of-thread", "hollow-screw.home", "hollow-screw.solid")
    too_far = beyond(setup, changed, change_mm, codes)
    if too_far:
        return not_possible(state, too_far, screw=action.screw)
    return seen(changed, "hollow-screw.turned", screw=action.screw, turn_deg=action.turn_deg)


def work_lever(setup: Setup, state: State, _: WorkLever) -> Outcome:
    """Return how the hand release feels, pulled and let go."""
    if not state.lever_on:
        return not_there(state, "lever.on-the-bench")
    if not state.body_on:
        return wrong_order(state, "lever.nothing-to-lift")
    returns = state.brake.release_lever_returns
    play_mm = lever_play_mm(setup, state) if returns else 0.0
    what = {
        "play": "some" if play_mm > 0 else "none",
        "play_mm": round(play_mm, 1),
        "returns": returns,
    }
    if state.load_landed:
        return seen(state, "lever.worked", **what)
    return harmed(state, "lever.worked", "load-ran-down", **what)


def set_lever(setup: Setup, state: State, action: SetLever) -> Outcome:
    """Return the brake with the play of its hand release set."""
    if not state.lever_on or not state.body_on:
        return wrong_order(state, "lever.not-on")
    part = in_the_way(state, "lever")
    if part:
        return wrong_order(state, "lever.nuts-in-the-way", part=part)
    gap_mm = gap_now(setup, state).plane.mean_mm
    beyond_mm = min(20.0, max(0.0, gap_mm + action.play_mm - setup.size.gap.setting_mm))
    changed = state._replace(brake=replace(state.brake, release_lever_play_mm=beyond_mm))
    return seen(changed, "lever.set", play_mm=action.play_mm)


def _taken_up_mm(setup: Setup, state: State, index: int) -> float:
    """Return the thread play that this locking takes up, mm: near the screw's own, never alike."""
    own_mm = setup.condition.take_up_mm[index]
    scatter_mm = TAKE_UP_REPEAT_MM * setup.draws.normal("take up", index, state.step)
    askew_mm = COCKED_MM if state.body_cocked and index == 0 else 0.0
    return min(1.0, max(0.0, own_mm + scatter_mm + askew_mm))


def _no_screw(state: State, screw: int) -> Outcome | None:
    """Return the refusal of whoever wants a screw of the magnet body and cannot, or None."""
    part = in_the_way(state, "screws")
    if part:
        return wrong_order(state, "screws.in-the-way", part=part)
    if not state.body_on:
        return wrong_order(state, "screws.body-off")
    return not_there(state, "lock.is-out", screw=screw) if state.drawn[screw - 1] else None


def _put(three: tuple[_One, _One, _One], index: int, *, value: _One) -> tuple[_One, _One, _One]:
    values = list(three)
    values[index] = value
    return values[0], values[1], values[2]
