"""Critical errors and misunderstandings: each has a log that shows it, and one that does not."""

from collections.abc import Callable

import pytest

from quizzes.candidates.worker import HABITS, work
from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from quizzes.grading.misconceptions import catalogue as misconceptions
from quizzes.grading.words import SAYS
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap.profile import Plane

from .jobs import (
    CEDAR,
    FOUR,
    bench_case,
    bench_job,
    brake,
    close_up,
    codes,
    disc_truly,
    do_all,
    finish,
    gauge_truly,
    inspected,
    looks,
    names,
    prove_and_hand_over,
    safe_and_open,
    said,
    set_to_setting,
    work_order,
)

PLACES = tuple(any_.SHEET.sizes)


def worked(family: str, habit: str, depth: Depth = Depth.WORK_ORDER, number: int = 0) -> CaseGrade:
    """Return the grade of a virtual candidate with a habit."""
    seed = bytes([number]) * 32
    case = draw_case(family, PLACES[number % len(PLACES)], seed, depth)
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, HABITS[habit], case.order)
    return grade_evidence(recorder.evidence())


# Where each misunderstanding can be seen; a family of the case bank, and the depth.
WHERE: dict[str, tuple[str, Depth]] = {
    "one-place-only": ("in limits", Depth.BENCH),
    "mean-disc-not-least": ("taper", Depth.BENCH),
    "wrong-row": ("gap too large", Depth.READING),
    "not-measured-again": ("gap too large", Depth.WORK_ORDER),
    "equal-turns-on-a-tilted-gap": ("gap-tilted", Depth.WORK_ORDER),
    "gap-judged-without-the-disc": ("in limits", Depth.BENCH),
    "measured-energised": ("in limits", Depth.BENCH),
    "step-taken-as-exact": ("near the largest gap", Depth.BENCH),
    "leaf-forced": ("in limits", Depth.BENCH),
    "measured-through-dust": ("in limits", Depth.WORK_ORDER),
    "dust-blown-out": ("in limits", Depth.WORK_ORDER),
    "good-disc-replaced": ("gap too large", Depth.BENCH),
    "normal-gap-means-good-brake": ("spring-broken", Depth.BENCH),
    "isolation-skipped": ("in limits", Depth.WORK_ORDER),
    "load-left-hanging": ("in limits", Depth.WORK_ORDER),
    "not-proved-dead": ("in limits", Depth.WORK_ORDER),
    "readings-made-up": ("in limits", Depth.BENCH),
    "parts-in-the-wrong-order": ("disc worn", Depth.WORK_ORDER),
    "lock-not-to-torque": ("gap too large", Depth.WORK_ORDER),
    "tests-skipped": ("in limits", Depth.WORK_ORDER),
    "left-open": ("in limits", Depth.WORK_ORDER),
    "rule-for-the-disc": ("in limits", Depth.BENCH),
    "worn-disc-kept": ("disc worn", Depth.READING),
    "nothing-is-ever-wrong": ("gap too large", Depth.READING),
    "every-brake-is-adjusted": ("in limits", Depth.READING),
    "solvent-on-the-lining": ("in limits", Depth.WORK_ORDER),
}


def test_every_misunderstanding_has_a_habit_and_a_sentence():
    """The names are those that the virtual candidates have, and no other."""
    assert set(misconceptions.NAMES) == set(HABITS) - {"careful"} == set(WHERE)
    assert all(len(SAYS[name]) > 40 for name in misconceptions.NAMES)


@pytest.mark.parametrize("name", misconceptions.NAMES)
def test_a_misunderstanding_is_named_where_its_log_shows_it_and_in_no_careful_one(name):
    """Somebody with the habit on a brake where it shows; the careful one on the same brake."""
    family, depth = WHERE[name]
    shown = [name in names(worked(family, name, depth, number)) for number in range(6)]
    careful = [names(worked(family, "careful", depth, number)) for number in range(6)]

    assert any(shown)
    assert careful == [set()] * 6
    if name not in {"step-taken-as-exact", "mean-disc-not-least"}:  # only where it changes a word
        assert all(shown)


@pytest.mark.parametrize("depth", list(Depth))
@pytest.mark.parametrize("family", FAMILIES)
def test_the_careful_candidate_is_right_everywhere(family, depth):
    """Every family at every depth: right, nothing critical, nothing named, nothing at fault."""
    if depth not in FAMILIES[family].depths:
        return
    for number in range(2):
        grade = worked(family, "careful", depth, number)

        assert grade.standing is Standing.RIGHT, grade.faults
        assert (grade.critical, grade.misconceptions, grade.left_wrong) == ((), (), ())
        assert grade.marks >= 85


# ---- critical errors, by hand ----


def without(kind: str, actions: list[do.Action]) -> list[do.Action]:
    return [one for one in actions if one.kind != kind]


def opened_without(kind: str) -> CaseGrade:
    acts = [*without(kind, safe_and_open()), *looks()]
    return grade_evidence(do_all(work_order(brake()), acts))


@pytest.mark.parametrize(
    ("left_out", "code", "name"),
    [
        ("land_load", "load-hanging", "load-left-hanging"),
        ("isolate", "not-isolated", "isolation-skipped"),
        ("prove_dead", "not-proved-dead", "not-proved-dead"),
    ],
)
def test_a_hand_in_an_unsafe_brake_is_critical(left_out, code, name):
    """One step of making safe left out; the facts say which act, at which step."""
    grade = opened_without(left_out)
    what = next(error.what for error in grade.critical if error.code == code)

    assert {"act", "step"} <= set(dict(what.facts))
    assert name in names(grade)
    assert code not in codes(grade_evidence(do_all(work_order(brake()), safe_and_open())))


def measured(acts: Callable[[Recorder], None]) -> CaseGrade:
    """Return the grade of a bench case in which some more was done before measuring."""
    return bench_job(bench_case(brake()), "fit", "nothing", before=acts)


def test_a_reading_that_was_never_taken_is_critical():
    """A gap, a disc and a meter reading, each with no instrument near; nothing makes up for it."""
    for line in (do.WriteGap(22.0, 0.5, 0.51), do.WriteDisc(45.0, 10.5)):
        grade = measured(lambda r, line=line: r.act(line))
        assert codes(grade) == {"reading-made-up"}
        assert grade.standing is Standing.NOT_YET
        assert all(one.reached for one in grade.elements if one.needed)
    written = measured(lambda r: r.act(do.WriteValue("release_percent", 60.0)))

    assert codes(written) == {"reading-made-up"}
    assert names(written) == {"readings-made-up"}


def test_a_line_struck_through_before_deciding_is_no_evidence_either_way():
    """Written by mistake, struck, then done properly: nothing is held against it."""

    def slip(recorder: Recorder) -> None:
        recorder.act(do.WriteGap(0.0, 0.9, 0.91))
        recorder.act(do.StrikeOut("gap", 0))

    grade = measured(slip)

    assert grade.critical == ()
    assert grade.standing is Standing.RIGHT
    assert grade.own_readings_support == "fit"


def test_striking_a_made_up_line_after_deciding_saves_nothing():
    """It stood when the decision was made."""
    recorder = inspected(work_order(brake()), "fit", "nothing")
    acts = [s.action for s in recorder.steps]
    acts.insert(-1, do.WriteGap(22.0, 0.5, 0.51))
    acts.append(do.StrikeOut("gap", 8))
    grade = grade_evidence(do_all(recorder.case, acts))

    assert "reading-made-up" in codes(grade)


def test_passing_without_readings_is_critical():
    """A guess."""
    grade = grade_evidence(do_all(bench_case(brake()), [*looks(), do.Decide("fit", CEDAR.name)]))

    assert codes(grade) == {"unsafe-decision"}


@pytest.mark.parametrize("method", ["air_blast", "dry_brush"])
def test_dust_blown_into_the_air_is_critical(method):
    """Somebody breathes it."""
    acts = [*without("clean", safe_and_open()), do.Clean(method)]
    grade = grade_evidence(do_all(work_order(brake()), acts))

    assert "harm" in codes(grade)
    assert "dust-blown-out" in names(grade)


def test_solvent_on_the_lining_spoils_the_case_and_is_no_harm_to_people():
    """It is named, costs S5, and the case is not right."""
    grade = measured(lambda r: r.act(do.Clean("solvent")))

    assert "harm" not in codes(grade)
    assert "solvent-on-the-lining" in names(grade)
    assert grade.standing is Standing.NOT_YET


def test_into_service_after_work_without_any_test_is_critical():
    """An adjustment that nobody proved."""
    recorder = inspected(work_order(brake(0.95)), "adjust", "gap-large")
    set_to_setting(recorder)
    gauge_truly(recorder)
    acts = [one for one in (*close_up(), *prove_and_hand_over())
            if one.kind not in {"test_run", "test_hold"}]  # fmt: skip
    grade = finish(recorder, acts)

    assert codes(grade) == {"not-tested"}
    assert names(grade) == {"tests-skipped"}


def test_a_brake_that_does_not_hold_is_left_dangerous_whoever_passed_it():
    """Oil on the lining, seen and passed, into service without the load test."""
    recorder = inspected(work_order(brake(surface="oiled"), "oiled"), "fit", "nothing")
    acts = [one for one in (*close_up(), *prove_and_hand_over()) if one.kind != "test_hold"]
    grade = finish(recorder, acts)

    assert {"unsafe-decision", "left-dangerous"} <= codes(grade)
    assert "left.not-holding" in said(grade.left_wrong)


def test_coarse_leaves_at_eight_places_are_enough_for_a_clear_case():
    """Nobody is told that a step was taken as exact where it made no difference."""
    grade = bench_job(bench_case(brake(0.5)), "fit", "nothing", step_mm=0.05)

    assert names(grade) == set()
    assert grade.standing is Standing.RIGHT


def test_a_leaf_taken_for_the_gap_itself_is_named_at_a_limit():
    """0.75 goes and 0.80 will not: by the leaf fit, by the bracket too near to tell."""
    grade = bench_job(bench_case(brake(0.775)), "fit", "nothing", step_mm=0.05)

    assert names(grade) == {"step-taken-as-exact"}


def test_the_mean_of_a_tapered_disc_is_named():
    """8.8 to 9.6 mm: the mean keeps 9.0 mm, the least does not."""
    wedge = Disc(9.2, 0.4, 0.0)
    recorder = Recorder(bench_case(sound_condition(CEDAR, gap=Plane(0.5), disc=wedge)))
    for action in looks():
        recorder.act(action)
    gauge_truly(recorder)
    for angle_deg in FOUR:
        mm = recorder.act(do.MeasureDisc(angle_deg)).facts["shown_mm"]
        recorder.act(do.WriteDisc(angle_deg, mm))
    recorder.act(do.Decide("fit", CEDAR.name))

    assert "mean-disc-not-least" in names(grade_evidence(recorder.evidence()))


def test_reading_by_rule_is_not_enough_for_the_disc():
    """± 0.4 mm of a wear of 2 mm: named, and M4 is not reached."""
    recorder = Recorder(bench_case(brake()))
    for action in looks():
        recorder.act(action)
    gauge_truly(recorder)
    disc_truly(recorder, "rule")
    recorder.act(do.Decide("fit", CEDAR.name, "", ("nothing",)))
    grade = grade_evidence(recorder.evidence())

    assert names(grade) == {"rule-for-the-disc"}
    assert grade.standing is Standing.NOT_YET
