"""The coach: hints that grow, follow the work, and know no more than the person does."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.grading.coach.steps import Work, next_hint
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import Bench, take
from widgets.bench.setup import Order, Setup, Start
from widgets.bench.starts import at_start
from widgets.brake.condition import sound_condition
from widgets.brake.gap.profile import Plane

SEED = bytes(range(16))
CEDAR = any_.SHEET.size("Cedar-47")
SAFE = (do.Look(at="running"), do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead())


def after(*actions, gap_mm=0.5, start=Start.WORK_ORDER) -> Work:
    one = Bench(CEDAR, sound_condition(CEDAR, gap=Plane(gap_mm)), SEED, Order(start=start))
    did = [action for action in actions if one.act(action).done]
    assert len(did) == len(actions)
    return Work(CEDAR, one.setup.order, one.state, did)


def round_of(go_mm: float) -> list[do.Action]:
    return [
        do.WriteGap(angle_deg=45.0 * place, go_mm=go_mm, no_go_mm=go_mm + 0.01)
        for place in range(8)
    ]


@pytest.mark.parametrize(
    ("did", "told"),
    [
        ((), "hook"),
        ((do.LandLoad(),), "without load"),
        ((do.LandLoad(), do.Look(at="running")), "main switch"),
        (SAFE[:3], "terminal box"),
        (SAFE[:4], "tester"),
        (SAFE, "cover"),
        ((*SAFE, do.RemoveCover()), "ring"),
        ((*SAFE, *any_.OPENED), "plate"),
    ],
)
def test_the_hint_is_for_the_first_step_that_is_open(did, told):
    """Outside check: land, watch, isolate, prove, open, plate: common practice, no source."""
    hint = next_hint(after(*did))

    assert told in f"{hint.question} {hint.where}".lower()


@given(any_.setups(), any_.action_lists(), st.integers(1, 3))
def test_there_is_always_a_hint_and_it_grows(setup, actions, level):
    """A question, then where to look, then why: each step keeps what was said before."""
    state, did = at_start(setup), []
    for action in actions:
        state, observation = take(setup, state, action)
        did += [action] if observation.done else []
    hint = next_hint(Work(setup.size, setup.order, state, did))

    assert len(hint.up_to(level)) == level
    assert hint.up_to(level) == hint.up_to(3)[:level]
    assert hint.question.endswith("?")


@given(any_.setups(), any_.action_lists(most=12))
def test_the_coach_does_not_know_the_brake(setup, actions):
    """Another hidden brake under the same work gets the same hint, word for word."""
    other = Setup.of(
        setup.size, sound_condition(setup.size), bytes(reversed(range(20))), setup.order
    )
    state, did = at_start(setup), []
    for action in actions:
        state, observation = take(setup, state, action)
        did += [action] if observation.done else []
    unlike = state._replace(brake=other.condition, dust_mm=0.0)

    assert next_hint(Work(setup.size, setup.order, state, did)) == next_hint(
        Work(setup.size, setup.order, unlike, did)
    )


def test_the_reasoning_about_a_decision_quotes_the_persons_own_readings():
    """0.91 to 0.92 mm written down: the reason names the largest gap allowed of the row, 0.8 mm."""
    work = after(
        *round_of(0.91),
        *(do.WriteDisc(angle_deg=120.0 * place, value_mm=10.9) for place in range(3)),
        do.WorkLever(),
        start=Start.OPEN,
    )
    hint = next_hint(work)

    assert "0.8 mm" in hint.why
    assert "beyond the limit" in hint.why


def test_a_turn_is_worked_out_from_the_persons_readings():
    """Outside check: 0.915 to 0.30 mm on a pitch of 1.5 mm is 0.615 / 1.5 of 360 degrees, 148."""
    work = after(*round_of(0.91), do.Decide(outcome="adjust", row="Cedar-47"), start=Start.OPEN)

    assert "148°" in next_hint(work).why


def test_nobody_is_told_to_gauge_what_is_not_there():
    """With the body off there is no gap: the hints before the decision speak of the disc."""
    discs = tuple(do.WriteDisc(angle_deg=120.0 * place, value_mm=8.8) for place in range(3))
    told = [next_hint(after(*discs[:many], start=Start.BODY_OFF)) for many in (0, 3)]
    bare = next_hint(after(do.RemoveDisc(), start=Start.BODY_OFF))

    assert "caliper" in told[0].where.lower()
    assert "there is no gap" in told[1].why.lower()
    assert "caliper" not in bare.where.lower()


@pytest.mark.parametrize(
    ("closing", "told"), [((), "gauge all round"), ((do.RefitSeal(),), "seal band")]
)
def test_a_leaf_is_only_advised_where_it_can_reach_the_gap(closing, told):
    """Set, locked and not gauged again: what covers the gap comes off before the leaf goes in."""
    screws = [do.LoosenLock(n) for n in (1, 2, 3)] + [do.TurnScrew(1, -20.0)]
    locks = [do.TightenLock(n, share * 9.5) for share in (0.5, 1.0) for n in (1, 2, 3)]
    decided = do.Decide(outcome="adjust", row="Cedar-47")
    hint = next_hint(after(decided, *screws, *locks, *closing, start=Start.OPEN))

    assert told in hint.where.lower()
