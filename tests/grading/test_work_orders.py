"""Whole jobs: what was asked for, how the brake was left, and what cannot be made up for."""

import pytest

from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from widgets.bench import actions as do
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.remark import remark

from .jobs import (
    CEDAR,
    brake,
    close_up,
    codes,
    disc_truly,
    element,
    finish,
    gauge_truly,
    inspected,
    names,
    prove_and_hand_over,
    said,
    set_to_setting,
    tagged_out,
    work_order,
)

WIDE = brake(0.95)


def adjusted(condition=WIDE, *, again: bool = True, torque_nm: float = 9.5, staged: bool = True):
    """Return a careful job on a wide gap, up to closing up."""
    recorder = inspected(work_order(condition, "gap-too-large"), "adjust", "gap-large")
    set_to_setting(recorder, torque_nm, staged=staged)
    if again:
        gauge_truly(recorder)
    return recorder


def left_with(*instead: do.Action, without: str = "") -> CaseGrade:
    """Return the grade of a careful adjustment closed up otherwise than it should be."""
    acts = [one for one in (*close_up(), *prove_and_hand_over()) if one.kind != without]
    for one in instead:
        place = next((i for i, act in enumerate(acts) if act.kind == one.kind), None)
        if place is None:
            acts.insert(0, one)
        else:
            acts[place] = one
    return finish(adjusted(), acts)


def test_a_sound_brake_passed_and_proved_is_right():
    """Everything that the job asked for is scored, and reached."""
    grade = finish(inspected(work_order(brake()), "fit", "nothing"),
                   [*close_up(), *prove_and_hand_over()])  # fmt: skip

    assert (grade.standing, grade.critical, grade.faults) == (Standing.RIGHT, (), ())
    assert {"S1", "S2", "S4", "K3", "M1", "M2", "M4", "M5", "D1", "D2", "D3", "R4", "T1", "T2",
            "W1", "W2"} == {one.id for one in grade.elements}  # fmt: skip
    assert grade.marks >= 96  # nobody looked the instruments over: M1 by half


def test_a_wide_gap_set_and_proved_is_right():
    """With the three elements of adjusting."""
    grade = finish(adjusted(), [*close_up(), *prove_and_hand_over()])

    assert (grade.standing, grade.critical, grade.left_wrong) == (Standing.RIGHT, (), ())
    assert all(element(grade, name).score == 1.0 for name in ("A1", "A2", "A3", "R4", "T1", "T2"))
    assert names(grade) == set()


def test_a_fault_that_is_referred_ends_locked_and_tagged():
    """A broken spring: nothing is adjusted, nothing tested, the tag counts."""
    case = work_order(brake(springs_intact=7), "spring-broken")
    grade = finish(inspected(case, "refer", "springs"), tagged_out())

    assert grade.standing is Standing.RIGHT
    assert element(grade, "W2").score == 1.0
    assert element(grade, "T2") is None


# ---- how the brake was left ----


@pytest.mark.parametrize(
    ("badly", "code"),
    [
        ([do.RefitSeal(seated=False)], "seal-lip"),
        ([do.RefitFan(on_key=False)], "fan-without-key"),
        ([do.ConnectLeads(side="ac")], "leads-on-ac-side"),
        ([do.SetLever(0.1)], "lever-without-play"),
    ],
)
def test_what_was_fitted_badly_is_said_in_a_line(badly, code):
    """From the true state, whatever the candidate believes."""
    grade = left_with(*badly)

    assert f"fitted-badly.{code}" in said(element(grade, "R4").lines)
    assert element(grade, "R4").score < 1.0


def test_a_fan_without_its_ring_is_said_in_a_line():
    """The ring was never snapped in."""
    grade = left_with(without="refit_ring")

    assert "fitted-badly.fan-without-ring" in said(element(grade, "R4").lines)


def test_screws_tightened_in_one_go_cost_and_do_not_fail():
    """Two or three stages, in turn: common practice, no source."""
    grade = finish(adjusted(staged=False), [*close_up(), *prove_and_hand_over()])

    assert element(grade, "A2").reached
    assert element(grade, "A2").score < 1.0
    assert "lock.in-one-go" in said(element(grade, "A2").lines)


def test_screws_below_their_torque_are_critical_and_dangerous():
    """5.7 of 9.5 N·m at all three."""
    grade = finish(adjusted(torque_nm=5.7), [*close_up(), *prove_and_hand_over()])

    assert {"lock-loose", "left-dangerous"} <= codes(grade)
    assert "lock-not-to-torque" in names(grade)
    assert not element(grade, "A2").reached


def test_a_gap_not_measured_again_is_critical():
    """Set well by luck: nobody read it after the last screw was tight."""
    grade = finish(adjusted(again=False), [*close_up(), *prove_and_hand_over()])

    assert codes(grade) == {"not-measured-again"}
    assert names(grade) == {"not-measured-again"}


def test_a_tilt_turned_by_equal_amounts_is_left_uneven():
    """Mean right, tilt as it was: named, and dangerous by the true gap."""
    tilted = brake(Plane(0.95, 0.10))
    recorder = inspected(work_order(tilted, "gap-tilted"), "adjust", "gap-large", "gap-uneven")
    for screw in (1, 2, 3):
        recorder.act(do.LoosenLock(screw))
    for screw in (1, 2, 3):
        recorder.act(do.TurnScrew(screw, -150.0))
    for screw in (1, 2, 3, 1, 2, 3):
        recorder.act(do.TightenLock(screw, 9.5))
    gauge_truly(recorder)
    grade = finish(recorder, [*close_up(), *prove_and_hand_over()])

    assert names(grade) == {"equal-turns-on-a-tilted-gap"}
    assert "setting.uneven" in said(element(grade, "A1").lines)
    assert grade.standing is Standing.NOT_YET


def test_adjusting_without_having_measured_the_disc_is_critical():
    """A worn-out disc can have a perfect gap."""
    recorder = adjusted()
    acts = [s.action for s in recorder.steps if s.action.kind not in {"measure_disc", "write_disc"}]
    again = Recorder(recorder.case)
    for act in acts:
        again.act(act)
    grade = finish(again, [*close_up(), *prove_and_hand_over()])

    assert "disc-not-measured" in codes(grade)
    assert "gap-judged-without-the-disc" in names(grade)


def test_a_decision_to_adjust_that_nobody_carried_out_is_not_right():
    """Locked out with no word of why."""
    grade = finish(inspected(work_order(WIDE, "gap-too-large"), "adjust", "gap-large"),
                   tagged_out())  # fmt: skip

    assert element(grade, "A1").needed
    assert not element(grade, "A1").reached
    assert grade.standing is Standing.NOT_YET


# ---- replacing the disc ----

BODY_OFF = [
    do.DisconnectLeads(), do.RemoveLever(), do.HoldBody(),
    *(do.LoosenLock(n) for n in (1, 2, 3)), *(do.DrawLock(n) for n in (1, 2, 3)),
    do.RemoveBody(), do.RemoveDisc(), do.Look("faces"), do.Look("hub"), do.Look("wear_plate"),
    do.Clean("damp_wipe"), do.CleanSpline(), do.Look("new_disc"),
]  # fmt: skip
BODY_ON = [
    do.HoldBody(), do.FitBody(), *(do.StartLock(n) for n in (1, 2, 3)),
    *(do.TurnScrew(n, 620.0) for n in (1, 2, 3)),
]  # fmt: skip


def replaced(off=BODY_OFF, disc: do.FitDisc = do.FitDisc("Cedar-47"), bed_in: bool = True):  # noqa: B008
    """Return a job that fits a new disc on a brake whose disc is at 8.7 mm, gap just set."""
    recorder = inspected(work_order(brake(0.30, 8.7), "disc-spent-gap-set"), "replace", "disc-worn")
    for act in (*off, disc, *BODY_ON):
        recorder.act(act)
    for share in (0.5, 1.0):
        for screw in (1, 2, 3):
            recorder.act(do.TightenLock(screw, 9.5 * share))
    set_to_setting(recorder)
    gauge_truly(recorder)
    acts = [do.RefitLever(), do.SetLever(0.8), do.ConnectLeads("dc"), *close_up(),
            *prove_and_hand_over()]  # fmt: skip
    if bed_in:
        acts.insert(-3, do.BedIn())
    return finish(recorder, acts)


def test_a_disc_replaced_in_order_and_proved_is_right():
    """All four elements of replacing, and those of adjusting after it."""
    grade = replaced()

    assert (grade.standing, grade.critical, grade.faults) == (Standing.RIGHT, (), ())
    assert {"S3", "S5", "R1", "R2", "R3", "R4", "A1", "A2", "A3"} <= {e.id for e in grade.elements}
    assert all(element(grade, name).score == 1.0 for name in ("R1", "R2", "R3", "R4", "S3"))
    assert names(grade) == set()


def test_a_disc_the_wrong_way_round_is_left_dangerous():
    """The hub carries the springs: next to no torque, and it fails R3 whatever else was good."""
    grade = replaced(disc=do.FitDisc("Cedar-47", reversed=True))

    assert not element(grade, "R3").reached
    assert grade.standing is Standing.NOT_YET


def test_a_new_lining_that_was_not_bedded_in_is_said_in_a_line():
    """It may give only 60 to 80 % of its torque. Common practice, no source."""
    grade = replaced(bed_in=False)

    assert "fitted-badly.not-bedded" in said(element(grade, "R4").lines)


def test_the_old_disc_put_back_is_no_new_disc():
    """Decided to replace it, and it went back on."""
    grade = replaced(disc=do.FitDisc("old"))

    assert not element(grade, "R3").reached
    assert "left-dangerous" in codes(grade)


def test_a_body_that_nobody_held_is_critical():
    """The last screw lets go and the springs throw it off."""
    grade = replaced(off=[one for one in BODY_OFF if one.kind != "hold_body"])

    assert "harm" in codes(grade)
    assert element(grade, "S3").score == 0.0
    assert "parts-in-the-wrong-order" in names(grade)


def test_leads_left_on_tear_and_cost_the_order():
    """A lead that was still connected tears from its terminal."""
    grade = replaced(off=[one for one in BODY_OFF if one.kind != "disconnect_leads"])

    assert element(grade, "R1").score < 1.0
    assert "parts-in-the-wrong-order" in names(grade)
    assert grade.standing is Standing.NOT_YET


def test_the_play_of_the_lever_comes_after_the_gap():
    """Set first and not again, it is taken away or given by the gap that is set after it."""
    recorder = inspected(work_order(WIDE, "gap-too-large"), "adjust", "gap-large")
    recorder.act(do.SetLever(0.8))
    set_to_setting(recorder)
    gauge_truly(recorder)
    grade = finish(recorder, [*close_up(), *prove_and_hand_over()])

    assert names(grade) == {"parts-in-the-wrong-order"}


def test_a_disc_that_was_to_be_replaced_and_was_not_is_not_right():
    """Locked out without a word of why it was not done."""
    recorder = inspected(work_order(brake(0.30, 8.7), "disc-spent-gap-set"), "replace", "disc-worn")
    grade = finish(recorder, tagged_out())

    assert element(grade, "R3").score == 0.0
    assert grade.standing is Standing.NOT_YET


# ---- the record ----


def test_a_next_date_beyond_what_wear_allows_costs():
    """Set to 0.30 of 0.80 mm at 240 stops a day: weeks, not a thousand days.

    Nobody looks before it is worn out: not right.
    """
    recorder = adjusted()
    grade = finish(recorder, [*close_up(), *prove_and_hand_over(days=1000)])

    assert element(grade, "W2").score == 0.0
    assert grade.standing is Standing.NOT_YET
    assert grade.faults[0].what == remark("fault.left-out", elements=["W2"])


def test_a_month_fails_nobody_however_little_is_left():
    """0.75 of 0.80 mm allows days; the usual month costs marks, and the job is right."""
    case = work_order(brake(0.75))
    grade = finish(inspected(case, "fit", "nothing"), [*close_up(), *prove_and_hand_over(31)])

    assert element(grade, "W2").score == 0.3
    assert grade.standing is Standing.RIGHT


def test_no_next_date_is_no_record():
    """The next person would not know when."""
    grade = finish(adjusted(), [*close_up(), *prove_and_hand_over(days=None)])

    assert element(grade, "W2").score == 0.0


def test_a_hand_over_that_contradicts_the_decision_is_not_right():
    """Decided to refer a sound brake, and put it back into service all the same."""
    grade = finish(inspected(work_order(brake()), "refer"), [*close_up(), *prove_and_hand_over()])

    assert not element(grade, "W1").reached
    assert grade.standing is Standing.NOT_YET


def test_an_unlucky_truth_in_service_is_no_verdict_and_no_failure():
    """Fair readings all support fit; it is over by 5 µm where nobody gauges.

    Never right, because it is unsafe; never critical, because nobody could know.
    """
    case = work_order(brake(0.775, texture_mm=((8, 0.03, 180.0),)))
    grade = finish(inspected(case, "fit", "nothing"), [*close_up(), *prove_and_hand_over()])

    assert grade.left_wrong
    assert grade.standing is Standing.NO_VERDICT
    assert grade.critical == ()


@pytest.mark.parametrize("carelessly", ["refit_cover", "refit_seal", "test_hold"])
def test_bad_luck_does_not_excuse_what_could_be_seen(carelessly):
    """A part left off, or no test, is no bad luck, not even on such a brake."""
    case = work_order(brake(0.775, texture_mm=((8, 0.03, 180.0),)))
    acts = [one for one in (*close_up(), *prove_and_hand_over()) if one.kind != carelessly]

    assert finish(inspected(case, "fit", "nothing"), acts).standing is Standing.NOT_YET


def test_a_job_without_a_hand_over_is_not_yet():
    """Nothing is right before it is finished."""
    recorder = inspected(work_order(brake()), "fit", "nothing")

    assert grade_evidence(recorder.evidence()).standing is Standing.NOT_YET


def test_a_job_given_up_with_nothing_against_it_is_a_false_alarm():
    """Set well, measured, and then referred all the same."""
    recorder = adjusted()
    disc_truly(recorder)
    later = do.Decide("refer", CEDAR.name, "", ("gap-uneven",))
    grade = finish(recorder, [later, *tagged_out()])

    assert grade.standing is Standing.FALSE_ALARM
