"""Release and hold: what the coil does, how the shaft feels, whether the load stays up."""

from dataclasses import replace

from widgets.bench.actions import BedIn, DeEnergise, Energise, TestRun, TurnShaft
from widgets.bench.observed import (
    Outcome,
    already,
    harmed,
    not_possible,
    seen,
    wrong_order,
)
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.state import State
from widgets.bench.symptoms import LEAK, symptoms_at
from widgets.brake.behaviour import load_ratio, release_share, supply_share
from widgets.brake.gap.clearance import rubs

SHAFT_LIVE = "hand-on-live-shaft"


def holding_ratio_now(setup: Setup, state: State) -> float:
    """Return braking torque over load torque as the brake stands, dimensionless. For the kernel."""
    if not (state.body_on and state.disc_on):
        return 0.0
    return load_ratio(setup.size, state.brake, _mean_gap_mm(setup, state))


def release_share_now(setup: Setup, state: State, coil_c: float | None = None) -> float:
    """Return the voltage that pulls the plate in over the rated one. For the kernel."""
    return release_share(setup.size, state.brake, _mean_gap_mm(setup, state), coil_c)


def _mean_gap_mm(setup: Setup, state: State) -> float:
    return max(0.0, gap_now(setup, state).plane.mean_mm)


def draws_in(setup: Setup, state: State) -> bool:
    """Return whether the coil on its own supply pulls the plate in."""
    fed = state.leads == "dc" and state.body_on
    return fed and release_share_now(setup, state) <= supply_share(state.brake)


def energise(setup: Setup, state: State, action: Energise) -> Outcome:
    """Return what the plate does when the coil gets its voltage.

    The test supply is clamped to the coil itself, the motor locked off: rectifier and switching
    have no part in it, and a hand on the shaft is safe.
    """
    test = action.supply == "test"
    obstacle = _no_test_supply(state) if test else _no_hoist_supply(state)
    if obstacle:
        return obstacle
    if state.energised:
        return already(state, "coil.already-on")
    connected = state.leads != "torn" if test else state.leads not in {"off", "torn"}
    if not connected or not state.body_on:
        return not_possible(state, "coil.not-connected")
    released = release_share_now(setup, state) <= 1.0 if test else draws_in(setup, state)
    changed = state._replace(energised=True, released=released)
    if not released:
        code = "coil.chatters" if state.leads == "ac" and not test else "coil.hums"
        return seen(changed, code, released=False)
    if state.load_landed:
        return seen(changed, "coil.drawn-in", released=True)
    return harmed(changed, "coil.drawn-in", "load-runs-down", released=True)


def _no_hoist_supply(state: State) -> Outcome | None:
    return not_possible(state, "coil.supply-off") if state.isolated else None


def _no_test_supply(state: State) -> Outcome | None:
    """Return why a test supply is not clamped on, or None."""
    if state.box_on:
        return wrong_order(state, "terminals.box-shut")
    return None if state.isolated else wrong_order(state, "release.not-isolated")


def de_energise(setup: Setup, state: State, __: DeEnergise) -> Outcome:
    """Return the brake with the coil off."""
    if not state.energised:
        return already(state, "coil.already-off")
    if state.brake.coil_live:
        return not_possible(state, "coil.fed-from-elsewhere")
    changed = state._replace(energised=False, released=False)
    if not state.released:
        return seen(changed, "coil.hum-stops", released=False)
    running = {symptom.code for symptom in symptoms_at(setup, state, "running")}
    if "late-dull-tap" in running:
        return seen(changed, "coil.applied-late", applied="late")
    return seen(changed, "coil.applied", applied="prompt")


def turn_shaft(setup: Setup, state: State, action: TurnShaft) -> Outcome:
    """Return how the shaft feels when it is turned by hand.

    With the hoist's supply on, anybody's button turns it with the hand on it.
    """
    if state.cover_on:
        return wrong_order(state, "shaft.behind-cover")
    felt_state, felt = _felt_at_shaft(setup, state, action)
    if state.isolated:
        return felt_state, felt
    return harmed(felt_state, felt.code, SHAFT_LIVE, **felt.facts)


def _felt_at_shaft(setup: Setup, state: State, action: TurnShaft) -> Outcome:
    free = state.released or not state.body_on or not state.brake.release_lever_returns
    if not free:
        return seen(state, "shaft.held", turns="not")
    shaft_deg = (state.shaft_deg + action.turn_deg) % 360
    changed = state._replace(shaft_deg=shaft_deg, place_deg=-1.0)
    if not state.body_on:
        return seen(changed, "shaft.free-of-the-brake", turns="freely")
    if state.brake.static_over_dynamic > 1.1:
        return seen(changed, "shaft.jerks", turns="jerks")
    if _rubs(setup, changed):
        return seen(changed, "shaft.rubs", turns="rubs")
    return seen(changed, "shaft.free", turns="freely")


def _rubs(setup: Setup, state: State) -> bool:
    gap = gap_now(setup, state)
    least_mm = setup.size.gap.min_mm
    narrow = gap.plane.mean_mm - gap.plane.tilt_mm < least_mm or rubs(gap, least_mm)
    catches = state.disc_part != "old" and not state.spline_cleaned
    return narrow or catches or not state.plate_smooth_to_disc or state.disc_reversed


def bed_in(setup: Setup, state: State, _: BedIn) -> Outcome:
    """Return the brake with its lining bedded in, or the result."""
    cannot = cannot_run(state)
    if cannot:
        return cannot
    if not draws_in(setup, state):
        return seen(state, "bedding.stalls", turns=False)
    surface, code = state.brake.surface, "bedding.no-change"
    if LEAK in state.brake.marks:
        surface, code = "oiled", "bedding.oil-again"
    elif surface == "unbedded":
        surface, code = "bedded", "bedding.done"
    changed = state._replace(brake=replace(state.brake, surface=surface))
    if not state.cover_on:
        return harmed(changed, code, "fan-open", turns=True)
    return seen(changed, code, turns=True)


def run_test(setup: Setup, state: State, _: TestRun) -> Outcome:
    """Return what is seen and heard up, down and in an emergency stop without load."""
    cannot = cannot_run(state)
    if cannot:
        return cannot
    if not state.cover_on:
        return harmed(state, "test-run.open", "fan-open", symptoms=[])
    codes = [symptom.code for symptom in symptoms_at(setup, state, "running")]
    fan = "ok" if state.fan_on and state.fan_keyed and state.ring_on else "rattles"
    if not state.fan_on:
        fan = "off"
    rubs_now = _rubs(setup, state)
    found = [*codes, *(["fan-rattles"] if fan != "ok" else [])]
    found += ["smell-of-lining"] if rubs_now else []
    return seen(state, "test-run.done", symptoms=found, running=codes, fan=fan, rubs=rubs_now)


def cannot_run(state: State) -> Outcome | None:
    """Return the refusal of a run or a lift that cannot begin, or None."""
    if state.isolated:
        return not_possible(state, "test.supply-off")
    if state.energised:
        return wrong_order(state, "test.coil-on")
    if not state.body_on or not state.disc_on:
        return wrong_order(state, "test.in-pieces")
    return None if state.load_landed else wrong_order(state, "test.load-on-hook")
