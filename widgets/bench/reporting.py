"""The decision and the hand-over."""

from dataclasses import replace

from .actions import Decide, HandOver
from .state import Observation, Outcome, Setup, State, refused

DECISION_WORDS = {
    "fit": "fit for service as it is",
    "adjust": "adjust the gap",
    "replace": "replace the friction disc",
    "refer": "take out of service and refer",
}


def decide(_: Setup, state: State, action: Decide) -> Outcome:
    """Return the record with the decision on it; a later one stands below the earlier."""
    words = f"Written on the record: {DECISION_WORDS[action.outcome]}, by the row {action.row}."
    changed = replace(state, decision=action.outcome, decision_row=action.row)
    return changed, Observation(done=True, words=words)


def hand_over(_: Setup, state: State, action: HandOver) -> Outcome:
    """Return the finished job."""
    if not state.decision:
        return refused(state, "The record has no decision yet: what does this brake need?")
    if action.into_service and state.isolated:
        return refused(state, "Your lock is still on the switch: the hoist cannot go into service.")
    if not action.into_service and not state.isolated:
        return refused(state, "Out of service means locked and tagged: the switch is on.")
    if state.energised:
        return refused(state, "The coil is still on test voltage: take it off first.")
    words = "The hoist goes back into service. You sign the record."
    if not action.into_service:
        words = "The hoist stays locked and tagged out of service. You sign the record."
    changed = replace(state, handed_over=True, into_service=action.into_service)
    return changed, Observation(done=True, words=words)
