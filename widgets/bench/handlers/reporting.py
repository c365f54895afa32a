"""The decision and the hand-over."""

from widgets.bench.actions import Decide, HandOver
from widgets.bench.observed import Outcome, not_possible, seen, wrong_order
from widgets.bench.setup import Setup
from widgets.bench.state import State


def decide(setup: Setup, state: State, action: Decide) -> Outcome:
    """Return the record with the decision on it; a later one stands below the earlier."""
    if not action.row.strip():
        return wrong_order(state, "record.no-row")
    changed = state._replace(
        decision=action.outcome,
        decision_row=action.row,
        decision_step=state.step,
        decision_found=action.found,
    )
    if setup.order.ends_at_decision:
        changed = changed._replace(handed_over=True)
    return seen(
        changed,
        "record.decided",
        outcome=action.outcome,
        row=action.row,
        ends=setup.order.ends_at_decision,
    )


def hand_over(_: Setup, state: State, action: HandOver) -> Outcome:
    """Return the finished job."""
    if not state.decision:
        return wrong_order(state, "record.no-decision")
    if action.into_service and action.awaits_test:
        return not_possible(state, "record.both-ways")
    if action.into_service and state.isolated:
        return wrong_order(state, "record.still-locked")
    if not action.into_service and not state.isolated:
        return wrong_order(state, "record.not-locked")
    if state.energised and not state.brake.coil_live:
        return wrong_order(state, "record.coil-on")
    changed = state._replace(
        handed_over=True,
        into_service=action.into_service,
        next_days=action.next_days,
        awaits_test=action.awaits_test,
    )
    return seen(
        changed,
        "record.signed",
        into_service=action.into_service,
        next_days=action.next_days,
        awaits_test=action.awaits_test,
    )
