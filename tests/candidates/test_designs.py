"""Each design worked to the right end by a careful person, and wrong by what was rewarded before.

The right ends are common practice, no source; that a gap which nothing sets follows the disc, and
that a ring levels nothing, is geometry.
"""

from dataclasses import replace
from functools import lru_cache

import pytest

from quizzes.candidates.habits import CAREFUL, Habits
from quizzes.candidates.worker import work
from quizzes.cases.carrying import cannot_carry, meant_for
from quizzes.cases.case import Case
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, grade_evidence
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.bench.setup import Order, Start
from widgets.bench.words import said
from widgets.brake.condition import sound_condition
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.sheet import four_designs

SHEET = four_designs()
HAZEL, MAPLE, ROWAN, WILLOW = SHEET.sizes
# What was rewarded before: every brake has three hollow screws, and every wide gap is adjusted.
AS_BEFORE = replace(CAREFUL, heeds_design=False)
WIDE, ROUND_AGAIN = "gap too large", "gap outgrows its largest before the next inspection"


@lru_cache(maxsize=32)
def job(family: str, size_name: str, habits: str = "careful") -> tuple[Case, Recorder, CaseGrade]:
    case = draw_case(family, SHEET.size(size_name), bytes([3]) * 16)
    who: Habits = CAREFUL if habits == "careful" else AS_BEFORE
    recorder = Recorder(case)
    work(recorder.act, SHEET, who, case.order)
    return case, recorder, grade_evidence(recorder.evidence())


@pytest.mark.parametrize("size", SHEET.sizes, ids=lambda one: one.design.value)
@pytest.mark.parametrize("family", [WIDE, ROUND_AGAIN, "in limits", "glazed"])
def test_a_careful_person_brings_each_design_to_its_right_end(family, size):
    """Nothing refused, nothing against them, and what they decide is right for the design."""
    _, recorder, grade = job(family, size.name)
    kinds = {step.action.kind for step in recorder.steps}

    assert grade.decided in meant_for(FAMILIES[family], size)
    assert [step.observation.code for step in recorder.steps if not step.observation.done] == []
    assert not grade.critical
    assert not grade.faults
    assert [one.id for one in grade.elements if one.score < 0.9] == []
    assert not kinds & OF_OTHERS[size.design]


OF_OTHERS = {
    Design.HOLLOW_SCREWS: {"change_shim", "turn_adjusting_ring"},
    Design.SHIMS: {"turn_screw", "turn_adjusting_ring"},
    Design.ADJUSTING_RING: {"turn_screw", "change_shim"},
    Design.FIXED: {"turn_screw", "change_shim", "turn_adjusting_ring"},
}


@pytest.mark.parametrize("size", [MAPLE, ROWAN, WILLOW], ids=lambda one: one.design.value)
def test_who_looks_for_screws_on_another_design_does_not_bring_it_back(size):
    """Every turn is refused; the brake is left out of service, or the decision was wrong."""
    _, recorder, grade = job(WIDE, size.name, "as before")
    refused = {step.observation.code for step in recorder.steps if not step.observation.done}

    assert "hollow-screw.none-of-this-design" in refused or size is WILLOW
    assert not recorder.state.into_service
    assert [one for one in grade.elements if one.id == "A1" and one.score >= 0.9] == []


def test_who_adjusts_what_cannot_be_adjusted_has_decided_unsafely():
    """The gap stays beyond its largest: no score makes up for it."""
    _, _, right = job(WIDE, WILLOW.name)
    _, _, wrong = job(WIDE, WILLOW.name, "as before")

    assert (right.decided, wrong.decided) == (Outcome.REPLACE, Outcome.ADJUST)
    assert "unsafe-decision" in {one.code for one in wrong.critical}
    assert wrong.standing is not right.standing


def test_a_replaced_disc_shows_no_adjusting_where_nothing_is_set():
    """A1 is not judged on it; how the screws are tightened and the last round of readings are."""
    shown = {one.id for one in job(WIDE, WILLOW.name)[2].elements}

    assert "A1" not in shown
    assert shown >= {"A2", "A3", "R1", "R2", "R3", "R4"}


def opened(size) -> Bench:
    return Bench(size, sound_condition(size), bytes(16), Order(start=Start.OPEN))


SLACK = [do.LoosenLock(screw) for screw in (1, 2, 3)]
REFUSED = [
    (MAPLE, [], do.TurnScrew(1, -30.0), "hollow-screw.none-of-this-design"),
    (WILLOW, SLACK, do.TurnScrew(1, -30.0), "hollow-screw.none-of-this-design"),
    (WILLOW, SLACK, do.ChangeShim(1, 0.05), "shim.none-of-this-design"),
    (HAZEL, [], do.LoosenAdjustingRing(), "adjusting-ring.none-of-this-design"),
    (MAPLE, [], do.ChangeShim(1, -0.05), "shim.clamped"),
    (MAPLE, SLACK, do.ChangeShim(1, -0.03), "shim.no-such-thickness"),
    (MAPLE, SLACK, do.ChangeShim(1, 0.0), "shim.no-such-thickness"),
    (MAPLE, SLACK, do.ChangeShim(1, 0.5), "shim.no-room"),
    (MAPLE, SLACK, do.ChangeShim(1, -2.0), "shim.solid"),
    (ROWAN, [], do.TurnAdjustingRing(-2), "adjusting-ring.locked"),
    (ROWAN, [do.LoosenAdjustingRing()], do.TurnAdjustingRing(-50), "adjusting-ring.solid"),
    (ROWAN, [do.LoosenAdjustingRing()], do.TurnAdjustingRing(400), "adjusting-ring.end"),
    (ROWAN, [do.LoosenAdjustingRing()], do.TurnAdjustingRing(0), "adjusting-ring.no-notch"),
    (ROWAN, [], do.LockAdjustingRing(), "adjusting-ring.already-locked"),
]  # fmt: skip


@pytest.mark.parametrize(("size", "before", "act", "code"), REFUSED)
def test_what_a_design_has_not_or_does_not_let_be_done_is_refused(size, before, act, code):
    """By a code with a sentence, and nothing has changed."""
    bench = opened(size)
    assert all(seen.done for seen in bench.replay(before))
    state = bench.state
    seen = bench.act(act)

    assert (seen.done, seen.code) == (False, code)
    assert bench.state is state
    assert len(said(seen)) > 20


def test_a_shim_moves_the_gap_at_its_place_and_a_ring_all_round():
    """By the shim's thickness; by so many notches: the geometry of the stack."""
    shims, ring = opened(MAPLE), opened(ROWAN)
    shims.replay([*SLACK, do.ChangeShim(2, 0.05), do.ChangeShim(3, -0.10)])
    ring.replay([do.LoosenAdjustingRing(), do.TurnAdjustingRing(3), do.LockAdjustingRing()])
    before = (sound_condition(one).screw_height_mm for one in (MAPLE, ROWAN))
    moved = [
        [now - was for now, was in zip(bench.state.screw_height_mm, old, strict=True)]
        for bench, old in zip((shims, ring), before, strict=True)
    ]

    assert moved[0] == pytest.approx([0.0, 0.05, -0.10])
    assert moved[1] == pytest.approx([0.12, 0.12, 0.12])


def test_a_ring_left_loose_and_handed_over_is_dangerous():
    """It walks: in service with it, nobody is competent."""
    case = draw_case(WIDE, ROWAN, bytes([3]) * 16)
    recorder = Recorder(case)

    def forgetful(wish):
        return recorder.act(do.Look("outside") if wish.kind == "lock_adjusting_ring" else wish)

    work(forgetful, SHEET, replace(CAREFUL, rounds=1, gives_up=False), case.order)
    grade = grade_evidence(recorder.evidence())

    assert recorder.state.ring_loose
    if recorder.state.into_service or recorder.state.awaits_test:
        assert "lock-loose" in {one.code for one in grade.critical}
    else:
        assert grade.elements


def test_no_family_is_drawn_that_a_design_cannot_show():
    """A ring takes no tilt out, and a gap that nothing sets was never set badly; the rest is drawn."""
    can = {
        size: [name for name in FAMILIES if not cannot_carry(name, size)] for size in SHEET.sizes
    }

    assert "gap-tilted" in can[MAPLE]
    assert {"gap-tilted", "not-remeasured"}.isdisjoint(can[ROWAN])
    assert {"gap-tilted", "disc-spent-gap-set", "adjusting range used up"}.isdisjoint(can[WILLOW])
    assert all({WIDE, "in limits", "near the largest gap", "spring-broken"} <= set(can[one]) for one in can)  # fmt: skip
