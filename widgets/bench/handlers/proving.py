"""Release and hold: what the coil does, how the shaft feels, whether the load stays up."""

from dataclasses import replace

from widgets.bench.actions import BedIn, DeEnergise, Energise, TestHold, TestRun, TurnShaft
from widgets.bench.observed import Outcome, harmed, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now, loose_locks
from widgets.bench.state import State
from widgets.bench.symptoms import LEAK, SIGHT_WORDS, sights_at
from widgets.brake.behaviour import load_ratio, release_share, supply_share
from widgets.brake.gap.clearance import rubs

TEST_LOAD = 1.25  # of the rated load, static test; ISO 4310:2009, from memory


def holding_ratio_now(setup: Setup, state: State) -> float:
    """Return braking torque over load torque as the brake stands, dimensionless. For the kernel."""
    if not (state.body_on and state.disc_on):
        return 0.0
    return load_ratio(setup.size, state.brake, _mean_gap_mm(setup, state))


def release_share_now(setup: Setup, state: State, coil_c: float | None = None) -> float:
    """Return the voltage that draws the plate in over the rated one. For the kernel."""
    return release_share(setup.size, state.brake, _mean_gap_mm(setup, state), coil_c)


def _mean_gap_mm(setup: Setup, state: State) -> float:
    return max(0.0, gap_now(setup, state).plane.mean_mm)


def _draws_in(setup: Setup, state: State) -> bool:
    """Return whether the coil on its own supply draws the plate in."""
    fed = state.leads == "dc" and state.body_on
    return fed and release_share_now(setup, state) <= supply_share(state.brake)


def energise(setup: Setup, state: State, _: Energise) -> Outcome:
    """Return what the plate does when the coil gets its voltage."""
    if state.isolated:
        return refused(state, "Nothing happens: the supply is locked off.")
    if state.energised:
        return refused(state, "The coil has its voltage already.")
    if state.leads in {"off", "torn"} or not state.body_on:
        return refused(state, "Nothing happens: the coil is not connected.")
    released = _draws_in(setup, state)
    changed = state._replace(energised=True, released=released)
    if not released:
        words = "The coil hums; the plate does not move. The brake stays on."
        if state.leads == "ac":
            words = "A loud rattle: the plate chatters and is not drawn in. It smells warm."
        return seen(changed, words, released=False)
    words = "A clean clack: the plate is drawn in. The brake is open."
    if state.load_landed:
        return seen(changed, words, released=True)
    alarm = "The load was on the hook: it runs down with nothing to hold it."
    return harmed(changed, words, alarm, released=True)


def de_energise(setup: Setup, state: State, __: DeEnergise) -> Outcome:
    """Return the brake with the coil off."""
    if not state.energised:
        return refused(state, "The coil is off already.")
    if state.brake.coil_live:
        return refused(state, "You switch off; the hum goes on. Something else feeds this coil.")
    changed = state._replace(energised=False, released=False)
    if not state.released:
        return seen(changed, "The hum stops.", released=False)
    running = {sight.code for sight in sights_at(setup, state, "running")}
    if "late dull tap" in running:
        return seen(changed, "A pause, then a dull tap: the springs have the disc.", applied="late")
    return seen(changed, "A clack: the springs have the disc again.", applied="prompt")


def turn_shaft(setup: Setup, state: State, action: TurnShaft) -> Outcome:
    """Return how the shaft feels when it is turned by hand."""
    if state.cover_on:
        return refused(state, "You cannot get a hand on the shaft: the cover is on.")
    free = state.released or not state.body_on or not state.brake.release_lever_returns
    if not free:
        return seen(state, "The shaft does not move: the brake holds it.", turns="not")
    shaft_deg = (state.shaft_deg + action.turn_deg) % 360
    changed = state._replace(shaft_deg=shaft_deg, place_deg=-1.0)
    if not state.body_on:
        return seen(changed, "The shaft turns freely; the brake is off it.", turns="freely")
    if state.brake.static_over_dynamic > 1.1:
        return seen(changed, "The shaft sticks, then breaks away with a jerk.", turns="jerks")
    if _rubs(setup, changed):
        words = "The shaft turns, but the disc rubs; you feel it come and go."
        return seen(changed, words, turns="rubs")
    return seen(changed, "The shaft turns freely.", turns="freely")


def _rubs(setup: Setup, state: State) -> bool:
    gap = gap_now(setup, state)
    least_mm = setup.size.gap.min_mm
    narrow = gap.plane.mean_mm - gap.plane.tilt_mm < least_mm or rubs(gap, least_mm)
    catches = state.disc_part != "old" and not state.spline_cleaned
    return narrow or catches or not state.plate_smooth_to_disc or state.disc_reversed


def bed_in(setup: Setup, state: State, _: BedIn) -> Outcome:
    """Return the brake with its lining bedded in, or what came of trying."""
    obstacle = _cannot_run(state)
    if obstacle:
        return refused(state, obstacle)
    if not _draws_in(setup, state):
        return seen(state, "The motor stalls against its own brake: you stop at once.", turns=False)
    surface = state.brake.surface
    words = "Light stops without load, as prescribed: the lining has bedded in."
    if surface != "unbedded":
        words = "Light stops without load. Nothing changes."
    if LEAK in state.brake.marks:
        surface, words = "oiled", "After a few stops a dark wet film stands on the lining again."
    elif surface == "unbedded":
        surface = "bedded"
    return seen(state._replace(brake=replace(state.brake, surface=surface)), words, turns=True)


def run_test(setup: Setup, state: State, _: TestRun) -> Outcome:
    """Return what is seen and heard up, down and in an emergency stop without load."""
    obstacle = _cannot_run(state)
    if obstacle:
        return refused(state, obstacle)
    if not state.cover_on:
        return harmed(
            state, "It runs.", "The hoist was run with its fan open to the hand.", sights=[]
        )
    codes = [sight.code for sight in sights_at(setup, state, "running")]
    words = [SIGHT_WORDS[code] for code in codes]
    if not (state.fan_on and state.fan_keyed and state.ring_on):
        codes.append("fan rattles")
        words.append("No air comes from the cover." if not state.fan_on else "The fan rattles.")
    if _rubs(setup, state):
        codes.append("smell of lining")
        words.append("The disc rubs and smells warm.")
    if not words:
        words = ["It lifts, lowers and stops as it should; no smell, no drag."]
    return seen(state, "Up, down, emergency stop, hook empty. " + " ".join(words), sights=codes)


def _cannot_run(state: State) -> str:
    if state.isolated:
        return "The hoist will not run: the supply is locked off."
    if state.energised:
        return "Take the test voltage off the coil first."
    if not state.body_on or not state.disc_on:
        return "The brake is in pieces: nothing is run without it."
    return "" if state.load_landed else "The job's own load is on the hook. Land it first."


def hold_test(setup: Setup, state: State, _: TestHold) -> Outcome:
    """Return what the test load does after it was lifted a hand's breadth and stopped."""
    obstacle = _cannot_run(state)
    if obstacle:
        return refused(state, obstacle.replace("run", "lift"))
    if not _draws_in(setup, state):
        words = "The motor stalls against its own brake: nothing lifts. You let go of the button."
        return seen(state, words, holds=None)
    if loose_locks(setup, state):
        alarm = "The magnet body shifts on its loose screws and the test load slips."
        return harmed(state, "", alarm, holds=False)
    ratio = holding_ratio_now(setup, state)
    if ratio < 1.0:
        return harmed(state, "", "The test load runs down until it hits the floor.", holds=False)
    if ratio < TEST_LOAD:
        return seen(state, "The test load creeps down. You set it down at once.", holds=False)
    words = (
        f"Test load of {TEST_LOAD:g} times the rated load lifted, stopped, held. You set it down."
    )
    return seen(state, words, holds=True)
