"""Habits that no misunderstanding is named after: the grade is right, and its words are fair.

Each is somebody careful but for one thing; whole forms are worked and judged as they would be.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from typing import Any

import pytest

from quizzes.analysis.quality.enough import enough
from quizzes.candidates.worker import CAREFUL, Habits, work
from quizzes.cases.case import Case, Depth
from quizzes.forms.blueprint import READY, load_blueprint
from quizzes.forms.drawing import draw_form
from quizzes.grading.evidence.gathering import Evidence, Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from quizzes.grading.outcome import COMPETENT, judge_sitting
from quizzes.grading.words import sentences
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.remark import remark
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .jobs import (
    CEDAR,
    FOUR,
    bench_case,
    bench_job,
    brake,
    codes,
    element,
    gauge_truly,
    looks,
    said,
    work_order,
)

# What somebody does in place of an action: other ones, or nothing.
Instead = Callable[[do.Action, Case, int], list[do.Action]]
EVERY_NAME = tuple(finding.value for finding in list(Finding)[:8])


def as_planned(action: do.Action, _: Case, __: int) -> list[do.Action]:
    return [action]


def without(*kinds: str) -> Instead:
    return lambda action, _, __: [] if action.kind in kinds else [action]


def twice(action: do.Action, _: Case, __: int) -> list[do.Action]:
    """Everything is measured again after it was read, and the first is written down."""
    measured = action.kind in {"gauge_gap", "measure_disc", "measure_coil"}
    return [action, action] if measured else [action]


def named(*names: str) -> Instead:
    """Write the same findings under every decision."""

    def instead(action: do.Action, _: Case, __: int) -> list[do.Action]:
        if isinstance(action, do.Decide):
            return [replace(action, found=names)]
        return [action]

    return instead


def undecided_every_other(action: do.Action, _: Case, place: int) -> list[do.Action]:
    return [] if action.kind == "decide" and place % 2 else [action]


def refers_what_is_hard(action: do.Action, case: Case, _: int) -> list[do.Action]:
    if isinstance(action, do.Decide) and case.stratum is not None:
        return [replace(action, outcome="refer")]
    return [action]


def due_in(days: int) -> Instead:
    def instead(action: do.Action, _: Case, __: int) -> list[do.Action]:
        if isinstance(action, do.HandOver) and action.into_service:
            return [replace(action, next_days=days)]
        return [action]

    return instead


def looks_only_at(*places: str) -> Instead:
    def instead(action: do.Action, _: Case, __: int) -> list[do.Action]:
        return [] if isinstance(action, do.Look) and action.at not in places else [action]

    return instead


def tries_by_tightening(action: do.Action, case: Case, _: int) -> list[do.Action]:
    """Put the torque wrench on each retaining screw before anything is measured."""
    if isinstance(action, do.TryLock):
        return [do.TightenLock(action.screw, case.size.screws.retaining_torque_nm), action]
    return [action]


def worked(case: Case, instead: Instead, place: int = 0, habits: Habits = CAREFUL) -> Evidence:
    """Return a case worked by somebody with a habit."""
    recorder = Recorder(case)

    def act(action: do.Action) -> Observation:
        seen = [recorder.act(one) for one in instead(action, case, place)]
        # The first is what a person who measures twice uses.
        if action.kind in {"gauge_gap", "measure_disc", "measure_coil"} and seen:
            return seen[0]
        return seen[-1] if seen else Observation(False, "not.done")

    work(act, any_.SHEET, habits, case.order)
    return recorder.evidence()


@lru_cache(maxsize=1)
def cases() -> tuple[Case, ...]:
    return draw_form(load_blueprint(READY["full"]), any_.SHEET, bytes(range(32))).cases


def sat(instead: Instead, habits: Habits = CAREFUL) -> tuple[dict[str, Any], list[CaseGrade]]:
    """Return the outcome of a whole sitting without questions, and the grades of its cases."""
    grades = [
        grade_evidence(worked(case, instead, place, habits)) for place, case in enumerate(cases())
    ]
    kept = [grade.to_json() for grade in grades]
    return judge_sitting(kept, len(kept), enough=enough), grades


@pytest.mark.parametrize("instead", [as_planned, twice, without("find_release")])
def test_a_careful_way_of_ones_own_is_competent(instead):
    """Measuring everything twice, or leaving out what no rule asks for, costs nothing."""
    outcome, grades = sat(instead)

    assert outcome["outcome"] == COMPETENT
    assert outcome["misconceptions"] == []
    assert all(grade.standing is Standing.RIGHT for grade in grades)


NOT_COMPETENT: dict[str, tuple[Instead, Habits, str]] = {
    "leaves every other case undecided": (undecided_every_other, CAREFUL, "too few"),
    "refers every hard case": (refers_what_is_hard, CAREFUL, "too few"),
    "refers every case": (
        as_planned,
        replace(CAREFUL, always=Outcome.REFER),
        "too few",
    ),
    "gauges only between the screws": (
        as_planned,
        replace(CAREFUL, places=(60.0, 180.0, 300.0)),
        "at 3 places",
    ),
    "gauges one half": (
        as_planned,
        replace(CAREFUL, places=tuple(25.0 * place for place in range(8))),
        "One side of the rim was left out",
    ),
    "measures the disc at two places": (
        as_planned,
        replace(CAREFUL, disc_places=(0.0, 180.0)),
        "at 2 places",
    ),
    "names every fault there is": (named(*EVERY_NAME), CAREFUL, "Findings: "),
    "names none": (named("nothing"), CAREFUL, "Findings: "),
    "never measures a coil": (without("measure_coil"), CAREFUL, "Coil measured: "),
    "looks at the edge only": (
        looks_only_at("outside", "running", "edge"),
        CAREFUL,
        "Kept in use without looking at: the springs, hub and spline, leads and terminals.",
    ),
    "writes any date": (due_in(1000), CAREFUL, "next date"),
    "hands over without the load test": (
        as_planned,
        replace(CAREFUL, proves=False),
        "without a load test",
    ),
}


@pytest.mark.parametrize("who", NOT_COMPETENT)
def test_another_habit_is_not_competent_and_is_told_why(who):
    """The reason names what was left out, not something else."""
    instead, habits, why = NOT_COMPETENT[who]
    outcome, _ = sat(instead, habits=habits)

    assert outcome["outcome"] != COMPETENT
    reasons = sentences(outcome["reasons"])
    assert any(why in reason for reason in reasons), reasons


def struck_out(*lines: int, again: bool = False) -> Evidence:
    """Return a wedge measured at four places, some lines struck through, and passed as fit."""
    wedge = Disc(9.15, 0.35, 180.0)  # thickest 9.50, thinnest 8.80 of 9.00 mm
    tapered = sound_condition(CEDAR, gap=Plane(0.5), disc=wedge)
    recorder = Recorder(bench_case(tapered, "taper"))
    for action in looks():
        recorder.act(action)
    gauge_truly(recorder)
    for angle_deg in FOUR:
        shown_mm = recorder.act(do.MeasureDisc(angle_deg)).facts["shown_mm"]
        recorder.act(do.WriteDisc(angle_deg, shown_mm))
    for line in lines:
        recorder.act(do.StrikeOut("disc", line))
        if again:
            shown_mm = recorder.act(do.MeasureDisc(FOUR[line])).facts["shown_mm"]
            recorder.act(do.WriteDisc(FOUR[line], shown_mm))
    recorder.act(do.Decide("fit", "Cedar-47", "", ("nothing",)))
    return recorder.evidence()


def test_striking_out_the_least_reading_does_not_thicken_the_disc():
    """It was read there, and not read again: it counts, and a remark says so."""
    evidence = struck_out(0)
    grade = grade_evidence(evidence)
    line = remark("reading.struck", what="disc", angle_deg=0.0)

    assert grade.own_readings_support == "replace"
    assert "unsafe-decision" in codes(grade)
    assert line in element(grade, "M4").lines


def test_a_reading_taken_again_takes_the_place_of_the_one_struck_out():
    """Whoever doubts a reading reads it once more; then the first one is no evidence."""
    grade = grade_evidence(struck_out(0, again=True))

    assert "reading.struck" not in said(element(grade, "M4").lines)
    assert grade.own_readings_support == "replace"


def test_a_tight_screw_tried_with_the_wrench_is_no_work():
    """Its torque, and so the gap, is what it was."""
    tight = [one for one in cases() if not one.faults and one.depth is not Depth.READING]
    for case in tight[:1] + [one for one in cases() if one.family == "gap too large"]:
        evidence = worked(case, tries_by_tightening)
        assert grade_evidence(evidence).standing is Standing.RIGHT


def test_a_loose_screw_tightened_before_measuring_is_called_by_its_name():
    """The gap as it was found is lost, though it was read: the fault says after which step."""
    loose = work_order(brake(0.95, lock_share=(1.0, 0.0, 1.0)))
    evidence = worked(loose, tries_by_tightening)
    faults = grade_evidence(evidence).faults
    turned = next(s for s in evidence.steps if s.action.kind == "tighten_lock" and s.done
                  and s.before.lock_nm != s.after.lock_nm)  # fmt: skip

    assert faults[0].what == remark("gap.read-too-late", step=turned.number + 1)


def test_six_places_all_round_are_enough_and_six_on_one_side_are_not():
    """The same number of readings, each as good."""
    for places, reached in (
        (tuple(60.0 * place for place in range(6)), True),
        (tuple(30.0 * place for place in range(6)), False),
    ):
        grade = grade_evidence(
            worked(work_order(brake(0.95)), as_planned, habits=replace(CAREFUL, places=places))
        )
        assert element(grade, "M2").reached is reached


def test_a_look_missed_once_costs_marks_and_fails_nobody():
    """Hub not looked at: said in the findings, and the case is right; two places, and it is not."""
    for left_out, standing in (
        (("hub",), Standing.RIGHT),
        (("hub", "springs"), Standing.NOT_YET),
    ):
        job = bench_job(bench_case(brake()), "fit", "nothing", looked=looks(*left_out))
        last = element(job, "D2").lines[-1]
        assert last.code == "findings.kept-unseen"
        assert "hub" in dict(last.facts)["places"]
        assert job.standing is standing


def test_a_brake_that_is_referred_or_taken_apart_needs_no_look_at_everything():
    """Who sees a broken spring may stop looking; a new disc lays hub and springs bare."""
    broken = bench_case(brake(springs_intact=7), "spring-broken")
    referred = bench_job(broken, "refer", "springs", looked=[do.Look("springs")])
    worn = bench_case(brake(0.30, 8.7), "disc-spent-gap-set")
    replaced = bench_job(worn, "replace", "disc-worn", looked=[do.Look("edge")])

    for grade in (referred, replaced):
        assert grade.standing is Standing.RIGHT
        assert "findings.kept-unseen" not in said(element(grade, "D2").lines)
