"""Release and hold: what the coil does, how the shaft feels, whether the load stays up."""

from dataclasses import replace

from widgets.brake.behaviour import load_ratio, release_share, supply_share

from .actions import DeEnergise, Energise, TestHold, TurnShaft
from .state import Observation, Outcome, Setup, State, gap_now, loose_locks, refused

TEST_LOAD = 1.25  # of the rated load, static test; ISO 4310:2009, from memory


def holding_ratio_now(setup: Setup, state: State) -> float:
    """Return braking torque over load torque as the brake stands, dimensionless. For the kernel."""
    return load_ratio(setup.size, setup.condition, _mean_gap_mm(setup, state))


def release_share_now(setup: Setup, state: State, coil_c: float | None = None) -> float:
    """Return the voltage that draws the plate in over the rated one. For the kernel."""
    return release_share(setup.size, setup.condition, _mean_gap_mm(setup, state), coil_c)


def _mean_gap_mm(setup: Setup, state: State) -> float:
    return max(0.0, gap_now(setup, state).plane.mean_mm)


def energise(setup: Setup, state: State, _: Energise) -> Outcome:
    """Return what the plate does when the coil gets its voltage."""
    if state.isolated:
        return refused(state, "Nothing happens: the supply is locked off.")
    if state.energised:
        return refused(state, "The coil has its voltage already.")
    released = release_share_now(setup, state) <= supply_share(setup.condition)
    changed = replace(state, energised=True, released=released)
    if not released:
        words = "The coil hums; the plate does not move. The brake stays on."
        return changed, Observation(done=True, words=words, seen={"released": False})
    words = "A clean clack: the plate is drawn in. The brake is open."
    if state.load_landed:
        return changed, Observation(done=True, words=words, seen={"released": True})
    alarm = "The load was on the hook: it runs down with nothing to hold it."
    changed = replace(changed, accidents=(*state.accidents, alarm))
    return changed, Observation(
        done=True, words=f"{words} {alarm}", seen={"released": True}, alarm=alarm
    )


def de_energise(_: Setup, state: State, __: DeEnergise) -> Outcome:
    """Return the brake with the coil off."""
    if not state.energised:
        return refused(state, "The coil is off already.")
    words = "A clack: the springs have the disc again." if state.released else "The hum stops."
    return replace(state, energised=False, released=False), Observation(
        done=True, words=words, seen={"released": False}
    )


def turn_shaft(setup: Setup, state: State, action: TurnShaft) -> Outcome:
    """Return how the shaft feels when it is turned by hand."""
    if state.cover_on:
        return refused(state, "You cannot get a hand on the shaft: the cover is on.")
    if not state.released:
        words = "The shaft does not move: the brake holds it."
        return state, Observation(done=True, words=words, seen={"turns": "not"})
    shaft_deg = (state.shaft_deg + action.turn_deg) % 360
    changed = replace(state, shaft_deg=shaft_deg, place_deg=-1.0)
    gap = gap_now(setup, state).plane
    if gap.mean_mm - gap.tilt_mm < setup.size.gap.min_mm:
        words = "The shaft turns, but the disc rubs; you feel it come and go."
        return changed, Observation(done=True, words=words, seen={"turns": "rubs"})
    return changed, Observation(
        done=True, words="The shaft turns freely.", seen={"turns": "freely"}
    )


def hold_test(setup: Setup, state: State, _: TestHold) -> Outcome:  # noqa: PLR0911 (one a finding)
    """Return what the test load does after it was lifted a hand's breadth and stopped."""
    if state.isolated:
        return refused(state, "The hoist will not lift: the supply is locked off.")
    if state.energised:
        return refused(state, "Take the test voltage off the coil first.")
    if not state.load_landed:
        return refused(state, "The job's own load is on the hook. Land it before a test load.")
    if release_share_now(setup, state) > supply_share(setup.condition):
        words = "The motor stalls against its own brake: nothing lifts. You let go of the button."
        return state, Observation(done=True, words=words, seen={"holds": None})
    if loose_locks(setup, state):
        alarm = "The magnet body shifts on its loose screws and the test load slips."
        changed = replace(state, accidents=(*state.accidents, alarm))
        return changed, Observation(done=True, words=alarm, seen={"holds": False}, alarm=alarm)
    if holding_ratio_now(setup, state) < TEST_LOAD:
        words = "The test load creeps down. You set it down at once."
        return state, Observation(done=True, words=words, seen={"holds": False})
    words = (
        f"Test load of {TEST_LOAD:g} times the rated load lifted, stopped, held. You set it down."
    )
    return state, Observation(done=True, words=words, seen={"holds": True})
