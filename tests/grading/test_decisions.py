"""Cases on notes and cases at an open brake: decision, findings, and what was not looked at."""

import pytest

from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.evidence.truth import true_need
from quizzes.grading.grade import Standing, grade_evidence
from widgets.bench import actions as do
from widgets.bench.notes import Line
from widgets.bench.starts import at_start
from widgets.brake.judgement.remark import remark

from .jobs import (
    CEDAR,
    EIGHT,
    FOUR,
    bench_case,
    bench_evidence,
    bench_job,
    brake,
    codes,
    decided,
    disc_truly,
    do_all,
    element,
    gauge_truly,
    kinds,
    looks,
    names,
    reading_case,
    said,
)

WORN = (8.7, 8.7, 8.7, 8.7)
WIDE = ((0.95, 0.96),) * 8
SPRING = Line("noted.symptom", "spring-splinter")


# ---- on notes: decision and findings only ----


def test_a_case_on_notes_scores_the_decision_and_the_findings_only():
    """Nobody could make safe, measure or prove anything."""
    grade = decided(reading_case(), "fit", "nothing")

    assert {one.id for one in grade.elements} == {"K3", "D1", "D2"}
    assert (grade.standing, grade.marks) == (Standing.RIGHT, 100)
    assert grade.depth == "reading"


@pytest.mark.parametrize(
    ("case", "right", "found"),
    [
        (reading_case(), "fit", "nothing"),
        (reading_case(WIDE), "adjust", "gap-large"),
        (reading_case(discs_mm=WORN), "replace", "disc-worn"),
        (reading_case(lines=(SPRING,)), "refer", "springs"),
        (reading_case(coil_ohm=500.0, coil_c=20.0), "refer", "coil"),
        (reading_case(voltage_v=90.0), "refer", "rectifier"),
        (reading_case(insulation_mohm=0.2), "refer", "coil"),
    ],
)
def test_notes_are_judged_by_readings_words_and_meter_together(case, right, found):
    """Cedar-47: gap to 0.80 mm, disc from 9.0 mm, coil 623 ohm, 180 V."""
    grade = decided(case, right, found)

    assert grade.standing is Standing.RIGHT
    assert grade.own_readings_support == right
    assert element(grade, "D2").score == 1.0
    assert (grade.critical, grade.misconceptions, grade.faults) == ((), (), ())


def test_passing_a_brake_with_a_broken_spring_in_the_notes_is_critical():
    """The gap is normal; the colleague wrote what was seen."""
    grade = decided(reading_case(lines=(SPRING,)), "fit", "nothing")

    assert grade.standing is Standing.NOT_YET
    assert codes(grade) == {"unsafe-decision"}
    assert names(grade) == {"normal-gap-means-good-brake"}
    assert kinds(grade) == {"decision"}


def test_passing_a_worn_disc_in_the_notes_is_critical():
    """Every reading lies 0.3 mm under the least: who calls that fit does not believe readings.

    Who sets the gap over it keeps a worn disc.
    """
    case = reading_case(discs_mm=WORN)
    evidence = do_all(case, [do.Decide("fit", CEDAR.name, "", ())])
    passed, adjusted = grade_evidence(evidence), decided(case, "adjust")

    assert codes(passed) == codes(adjusted) == {"unsafe-decision"}
    assert names(passed) == {"nothing-is-ever-wrong"}
    assert names(adjusted) == {"worn-disc-kept"}


def test_passing_a_disc_that_is_only_near_its_least_is_no_habit_of_passing_everything():
    """9.02 of 9.00 mm is within the uncertainty: not right, and nothing is read into it."""
    grade = decided(reading_case(discs_mm=(9.02,) * 4), "fit")

    assert grade.standing is Standing.NOT_YET
    assert names(grade).isdisjoint({"nothing-is-ever-wrong", "worn-disc-kept"})


def test_a_false_alarm_costs_and_does_not_fail():
    """A sound brake referred: no critical error, fewer marks, counted as a false alarm."""
    grade = decided(reading_case(), "refer", "nothing")

    assert grade.standing is Standing.FALSE_ALARM
    assert grade.critical == ()
    assert grade.marks < 100


def test_a_decision_that_can_be_argued_is_right():
    """Gap at 0.785 mm of 0.80, 1.7 u inside: ISO 14253-1 passes it (1.645), JCGM 106 acts (2)."""
    near = reading_case(((0.78, 0.79),) * 8)
    passed, adjusted = decided(near, "fit"), decided(near, "adjust", "gap-large")

    assert passed.own_readings_support == adjusted.own_readings_support == "fit"
    assert passed.standing is adjusted.standing is Standing.RIGHT
    assert passed.marks == adjusted.marks == 100
    assert names(passed) == names(adjusted) == set()


def test_a_brake_passed_inside_the_guard_band_is_not_right():
    """0.795 mm of 0.80, 0.6 u inside: neither standard passes it; critical it is not."""
    grade = decided(reading_case(((0.79, 0.80),) * 8), "fit")

    assert grade.standing is Standing.NOT_YET
    assert not grade.critical
    assert grade.faults[0].what.code == "fault.in-guard-band"


def test_a_finding_that_nothing_speaks_for_is_named_and_costs():
    """Share right less a quarter for each false one."""
    case = reading_case(lines=(SPRING,))
    grade = decided(case, "refer", "springs", "oil")

    assert element(grade, "D2").score == 0.75
    assert remark("findings.not-there", finding="oil") in element(grade, "D2").lines
    assert element(decided(case, "refer", "nothing"), "D2").score == 0.0


def test_the_limits_of_another_size_are_their_own_error():
    """By the row of a larger brake a gap of 0.95 mm is fit: unsafe, and named."""
    grade = decided(reading_case(WIDE), "fit", row="Elm-140")

    assert codes(grade) == {"unsafe-wrong-row"}
    assert names(grade) == {"wrong-row"}
    assert not element(grade, "K3").reached


def test_no_reading_can_be_invented_on_a_colleagues_notes():
    """A line added where nobody was at the brake was never taken."""
    added = [do.WriteDisc(0.0, 10.9), do.Decide("fit", CEDAR.name)]
    grade = grade_evidence(do_all(reading_case(discs_mm=WORN), added))

    assert "reading-made-up" in codes(grade)


# ---- at an open brake: measuring and deciding ----


def test_a_case_at_an_open_brake_scores_measuring_and_deciding():
    """Neither making safe nor closing up; right in every part."""
    first = [*looks(), do.CheckTool("leaves"), do.CheckTool("caliper")]
    grade = bench_job(bench_case(brake()), "fit", "nothing", looked=first)

    assert {one.id for one in grade.elements} == {"K3", "M1", "M2", "M4", "M5", "D1", "D2"}
    assert (grade.standing, grade.marks) == (Standing.RIGHT, 100)
    assert (grade.critical, grade.misconceptions, grade.faults) == ((), (), ())


@pytest.mark.parametrize("looked_over", [(), ("leaves",), ("caliper",)])
def test_instruments_not_looked_over_first_cost_marks_and_nothing_else(looked_over):
    """Of sound instruments nobody is endangered: the decision stays right, M1 falls short."""
    first = [*looks(), *(do.CheckTool(tool) for tool in looked_over)]
    grade = bench_job(bench_case(brake()), "fit", "nothing", looked=first)

    assert (grade.standing, grade.critical, grade.faults) == (Standing.RIGHT, (), ())
    assert grade.marks < 100
    assert [one.id for one in grade.elements if one.score < 1] == ["M1"]
    assert not element(grade, "M1").reached  # again and again, and a sitting falls short of M1


@pytest.mark.parametrize(("late", "reached"), [("caliper", True), ("leaves", False)])
def test_an_instrument_is_looked_over_before_its_own_first_reading(late, reached):
    """A caliper set to zero when the gap is done serves as well; leaves bent by then do not."""

    def before(recorder):
        recorder.act(do.CheckTool("caliper" if late == "leaves" else "leaves"))
        gauge_truly(recorder)
        recorder.act(do.CheckTool(late))

    # What is gauged again afterwards counts in place of the first; four of eight places are not.
    grade = bench_job(bench_case(brake()), "fit", "nothing", before=before, places=FOUR)

    assert element(grade, "M1").reached is reached


def test_lines_quote_what_was_done_and_read():
    """With the numbers of the steps, so that a candidate can dispute them."""
    grade = bench_job(bench_case(brake()), "fit", "nothing")

    assert "from_step" in dict(element(grade, "M2").lines[0].facts)
    assert "step" in dict(element(grade, "D1").lines[0].facts)
    assert "findings.looked-at" in said(element(grade, "D2").lines)


def test_not_looking_at_the_springs_is_an_error_of_procedure():
    """Readings and decision agree; the look was left out, and the brake passed: critical."""
    case = bench_case(brake(springs_intact=7), "spring-broken")
    # The splinter lies where edge and dust are looked at as well.
    grade = bench_job(case, "fit", "nothing", looked=looks("springs", "edge", "dust"))

    assert kinds(grade) == {"procedure"}
    assert names(grade) == {"normal-gap-means-good-brake"}
    assert any("springs" in dict(one.facts)["places"] for one in grade.overlooked)
    assert codes(grade) == {"unsafe-decision"}
    assert grade.standing is Standing.NOT_YET


def test_looking_and_not_believing_is_an_error_of_decision():
    """The splinter was seen, the brake passed."""
    grade = bench_job(bench_case(brake(springs_intact=7), "spring-broken"), "fit")

    assert kinds(grade) == {"decision"}
    assert names(grade) == {"normal-gap-means-good-brake"}
    assert grade.overlooked == ()


def test_overlooking_what_lets_no_load_fall_is_not_critical():
    """Shorted turns release today: the fault row calls no decision critical."""
    shorted = brake(resistance_factor=0.8, turns_factor=0.8)
    case = bench_case(shorted, "coil-shorted-turns")
    grade = bench_job_without_meter(case)

    assert codes(grade) == set()
    assert grade.standing is Standing.NOT_YET
    assert kinds(grade) == {"procedure"}


def bench_job_without_meter(case):

    recorder = Recorder(case)
    for action in looks("outside", "leads"):
        recorder.act(action)
    gauge_truly(recorder)
    disc_truly(recorder)
    recorder.act(do.Decide("fit", CEDAR.name, "", ("nothing",)))
    return grade_evidence(recorder.evidence())


def test_a_broken_spring_is_referred_without_a_single_reading():
    """Nobody has to gauge it: neither gap nor disc nor coil is asked for."""
    case = bench_case(brake(springs_intact=7), "spring-broken")
    acts = [do.Look("springs"), do.Decide("refer", CEDAR.name, "", ("springs",))]
    grade = grade_evidence(do_all(case, acts))

    assert grade.standing is Standing.RIGHT
    assert not [one for one in grade.elements if one.channel == "M"]


def test_a_reading_error_is_told_from_a_decision_error():
    """A gap of 0.95 mm written down 0.40 mm too tight; "fit" follows: the fault is the reading."""
    recorder = Recorder(bench_case(brake(0.95)))
    for action in looks():
        recorder.act(action)
    for angle_deg in EIGHT:
        recorder.act(do.GaugeGap(angle_deg, (0.55,)))
        recorder.act(do.WriteGap(angle_deg, 0.54, 0.55))
    disc_truly(recorder)
    recorder.act(do.Decide("fit", CEDAR.name))
    grade = grade_evidence(recorder.evidence())

    assert kinds(grade) == {"reading"}
    assert element(grade, "D1").score == 1.0
    assert codes(grade) == {"unsafe-reading"}


def test_a_truth_that_nobody_could_read_is_no_error():
    """Over its largest by 5 µm where nobody gauges: fair readings support fit, and fit is right.

    Waves of 0.03 mm between the eight places; the mean lies 0.025 mm inside.
    """
    case = bench_case(brake(CEDAR.gap.max_mm - 0.025, texture_mm=((8, 0.03, 180.0),)))
    grade = bench_job(case, "fit", "nothing")
    setup = case.setup()

    assert true_need(setup, at_start(setup)) == "adjust"
    assert grade.own_readings_support == "fit"
    assert grade.standing is Standing.RIGHT
    assert grade.critical == ()


def test_a_decision_right_by_luck_is_no_right_decision():
    """Own readings say replace, decided fit, on a brake that is fit."""
    recorder = Recorder(bench_case(brake()))
    for action in looks():
        recorder.act(action)
    gauge_truly(recorder)
    for angle_deg in FOUR:
        recorder.act(do.MeasureDisc(angle_deg, "rule"))
        recorder.act(do.WriteDisc(angle_deg, 8.0, "rule"))
    recorder.act(do.Decide("fit", CEDAR.name))
    grade = grade_evidence(recorder.evidence())

    assert any(dict(one.what.facts)["lucky"] for one in grade.faults if one.kind == "decision")
    assert grade.standing is Standing.NOT_YET


def test_without_a_decision_nothing_is_right():
    """However well it was measured."""
    assert grade_evidence(do_all(bench_case(brake()), looks())).standing is Standing.NOT_YET


def test_what_endangers_nobody_is_not_critical_when_it_is_overlooked():
    """Shorted turns on a brake of which no fault row is known."""
    grade = bench_job_without_meter(bench_case(brake(resistance_factor=0.8, turns_factor=0.8)))

    assert grade.overlooked
    assert codes(grade) == set()


def test_a_reading_that_is_not_what_was_felt_is_no_reading():
    """0.40 goes and 0.60 will not; written 0.49 and 0.51: near the truth, and not felt."""
    recorder = Recorder(bench_case(brake(0.5)))
    for angle_deg in EIGHT:
        recorder.act(do.GaugeGap(angle_deg, (0.4,)))
        recorder.act(do.GaugeGap(angle_deg, (0.6,)))
        recorder.act(do.WriteGap(angle_deg, 0.49, 0.51))
    recorder.act(do.Decide("fit", CEDAR.name))
    measured = element(grade_evidence(recorder.evidence()), "M2")

    assert measured.score == 0
    assert "reading.not-as-felt" in said(measured.lines)


def test_a_meter_that_read_just_inside_its_tolerance_was_used_all_the_same():
    """The coil is 6 to 7 % off, the display says a little less: measured, so not overlooked."""
    seen = []
    for permille in range(925, 942):
        evidence = bench_evidence(bench_case(brake(resistance_factor=permille / 1000)), "fit")
        off = any("coil" in one.places for one in evidence.true_signs)
        if off and not evidence.own_signs:
            seen.append(evidence.overlooked)

    assert seen
    assert set(seen) == {()}


def test_a_new_disc_for_what_a_disc_cannot_cure_earns_little():
    """The hook sags by the wiring: a new disc leaves the sag. Common practice, no source."""
    case = reading_case(lines=(Line("noted.symptom", "hook-sags"),))
    grade = decided(case, "replace", "ac-side")

    assert not element(grade, "D1").reached
    assert grade.standing is Standing.NOT_YET
    assert names(grade) == {"good-disc-replaced"}
