"""The decision and the hand-over."""

from widgets.bench.actions import Decide, HandOver
from widgets.bench.observed import Outcome, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State

DECISION_WORDS = {
    "fit": "fit for service as it is",
    "adjust": "adjust the gap",
    "replace": "replace the friction disc",
    "refer": "take out of service and refer",
}


def decide(setup: Setup, state: State, action: Decide) -> Outcome:
    """Return the record with the decision on it; a later one stands below the earlier."""
    if not action.row.strip():
        return refused(state, "By which row of the limits sheet? Choose the size first.")
    words = f"Written on the record: {DECISION_WORDS[action.outcome]}, by the row {action.row}."
    changed = state._replace(
        decision=action.outcome,
        decision_row=action.row,
        decision_step=state.step,
        decision_found=action.found,
    )
    if setup.order.ends_at_decision:
        return seen(changed._replace(handed_over=True), f"{words} That was the question here.")
    return seen(changed, words)


def hand_over(_: Setup, state: State, action: HandOver) -> Outcome:
    """Return the finished job."""
    if not state.decision:
        return refused(state, "The record has no decision yet: what does this brake need?")
    if action.into_service and state.isolated:
        return refused(state, "Your lock is still on the switch: the hoist cannot go into service.")
    if not action.into_service and not state.isolated:
        return refused(state, "Out of service means locked and tagged: the switch is on.")
    if state.energised and not state.brake.coil_live:
        return refused(state, "The coil is still on test voltage: take it off first.")
    words = "The hoist goes back into service. You sign the record."
    if not action.into_service:
        words = "The hoist stays locked and tagged out of service. You sign the record."
    if action.next_days is not None:
        words += f" Next inspection in {action.next_days} days at the latest."
    changed = state._replace(
        handed_over=True, into_service=action.into_service, next_days=action.next_days
    )
    return seen(changed, words)
