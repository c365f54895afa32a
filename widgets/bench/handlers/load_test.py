"""The load test: on one brake, on both, or on each of two by itself."""

from widgets.bench.actions import TestHold
from widgets.bench.observed import Outcome, harmed, not_possible, seen
from widgets.bench.setup import Setup
from widgets.bench.standing import loose_locks
from widgets.bench.state import State

from .proving import cannot_run, draws_in, holding_ratio_now


def hold_test(setup: Setup, state: State, action: TestHold) -> Outcome:  # noqa: PLR0911 (one a finding)
    """Return what the test load does, lifted a hand's breadth and stopped; then lowered, if asked.

    How much it is stands on the limits sheet. With two brakes on the hoist the load hangs on
    both, unless one of them is held open for the test.
    """
    two, on = setup.order.brakes == 2, action.on
    if on != "both" and not two:
        return not_possible(state, "test-hold.one-brake")
    cannot = cannot_run(state)
    if cannot:
        return cannot
    if not draws_in(setup, state):
        return seen(state, "test-hold.stalls", holds=None)
    if on != "other" and loose_locks(setup, state):
        return harmed(state, "test-hold.slips", "test-load-slips", holds=False)
    ratio, hoist = held_by(setup, state, on), setup.size.hoist
    clutch = state.brake.around.clutch_hold
    if clutch is not None and clutch < min(ratio, hoist.test_static):
        return seen(state, "test-hold.shaft-still", holds=False, shaft="still")
    if ratio < hoist.test_static:
        return _sinks(state, ratio, on)
    share = hoist.test_dynamic if action.dynamic else hoist.test_static
    which = {"on": on} if two else {}
    facts = {"holds": True, "load_share": share, "dynamic": action.dynamic, **which}
    if not state.cover_on:
        return harmed(state, "test-hold.held", "fan-open", **facts)
    if not action.floor_clear:
        return harmed(state, "test-hold.held", "floor-not-clear", **facts)
    if not action.weighed:
        return harmed(state, "test-hold.held", "load-not-weighed", **facts)
    return seen(state, "test-hold.held", **facts)


def _sinks(state: State, ratio: float, on: str) -> Outcome:
    """Return what a load does that its brake does not hold; one held open is let close."""
    if on != "both":
        return seen(state, "test-hold.alone-sinks", holds=False, on=on)
    if ratio < 1.0:
        return harmed(state, "test-hold.runs-down", "test-load-runs-down", holds=False)
    return seen(state, "test-hold.creeps", holds=False)


def held_by(setup: Setup, state: State, on: str) -> float:
    """Return what holds the load in a test over its torque, dimensionless. For the kernel.

    A good brake beside a bad one hides it: what both hold is the sum.
    """
    this = 0.0 if on == "other" else holding_ratio_now(setup, state)
    other = 0.0 if on == "this" else state.brake.around.other_hold
    return this + other
