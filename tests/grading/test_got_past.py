"""What once got past the grading, each by itself: a check left out, or a reading made to suit.

Who does it on a whole form stands in `quizzes.candidates.people`. What is right here is common
practice, no source.
"""

from dataclasses import replace

import pytest

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.people.everybody import ALL_HABITS, HONEST
from quizzes.candidates.people.stranger import acting
from quizzes.candidates.worker import work
from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.given import SYMPTOM
from quizzes.forms.blueprint import BlueprintError, load_blueprint
from quizzes.forms.drawing import draw_form
from quizzes.grading.elements.deciding import KEPT_UNSEEN
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.evidence.readings import JudgedDisc, JudgedGap
from quizzes.grading.evidence.shown import Shown, discs_in_evidence, gaps_in_evidence
from quizzes.grading.grade import Standing, grade_evidence
from quizzes.grading.outcome import COMPETENT, NOT_YET, judge_sitting
from quizzes.grading.words import sentences
from tests import strategies as any_
from tests.grading.jobs import (
    CEDAR,
    bench_case,
    bench_job,
    brake,
    codes,
    decided,
    element,
    looks,
    names,
    reading_case,
    said,
)
from widgets.bench import actions as do
from widgets.bench.notes import Line
from widgets.brake.judgement.remark import remark
from widgets.brake.judgement.rules import Reading, conclude
from widgets.instruments.written import disc_reading, gap_reading

SEED = bytes([7]) * 16


def worked(family: str, who, depth: Depth = Depth.BENCH):
    """Return the grade of somebody at one case of a family."""
    case = draw_case(family, CEDAR, SEED, depth)
    recorder = Recorder(case)
    act = who.hands(recorder.act, case) if who.hands else acting(recorder.act, case, who.instead)
    work(act, any_.SHEET, who.habits, case.order)
    return grade_evidence(recorder.evidence())


# ---- what was shown counts, however often it was tried ----


def test_of_a_disc_measured_again_and_again_the_mean_counts():
    """8.93 to 9.06 mm with 9.00 written: the mean is under the least, whatever was picked."""
    shown = [Shown(disc_reading(0.0, mm), step) for step, mm in enumerate((8.93, 8.95, 9.06))]
    written = JudgedDisc(9, disc_reading(0.0, 9.06), "caliper")

    (counts,) = discs_in_evidence([written], shown)
    (alone,) = discs_in_evidence([written], shown[2:])

    assert counts.value_mm == pytest.approx((8.93 + 8.95 + 9.06) / 3)
    assert alone.value_mm == 9.06


@pytest.mark.parametrize(("thickest_mm", "counts_mm"), [(0.78, 0.765), (0.85, 0.855)])
def test_a_stack_that_went_in_has_proved_the_gap(thickest_mm, counts_mm):
    """0.76 to 0.77 as written; 0.85 had gone in there without force, so it is no less than that."""
    written = JudgedGap(5, gap_reading(0.0, 0.76, 0.77), 0.76, 0.01)
    told = Shown(gap_reading(0.0, 0.85, 0.86), 4, 0.0, thickest_mm)

    (counts,) = gaps_in_evidence([written], [told])

    assert counts.value_mm == pytest.approx(counts_mm, abs=1e-3)


def test_a_leaf_tried_before_cleaning_spoils_no_reading_after_it():
    """Dust is found, taken out, and the gap is gauged: nobody measured through dust."""
    grade = worked("in limits", HONEST["a leaf before cleaning"], Depth.WORK_ORDER)

    assert grade.standing is Standing.RIGHT
    assert names(grade) == set()


def test_a_value_that_no_meter_showed_costs_the_coil():
    """Rated ohms and 500 megohm written, other figures shown: not measured by that note."""
    case = bench_case(brake(insulation_mohm=40.0))

    def write(recorder: Recorder) -> None:
        recorder.act(do.MeasureCoil("insulation"))
        recorder.act(do.WriteValue("insulation_mohm", 500.0))

    grade = bench_job(case, "fit", "nothing", before=write)

    assert "value.not-as-shown" in said(element(grade, "M5").lines)
    assert not element(grade, "M5").reached


def test_a_coil_without_its_insulation_is_not_measured():
    """Resistance and temperature alone stay short of the element."""
    grade = worked("in limits", ALL_HABITS["insulation never measured"])

    assert element(grade, "M5").score == pytest.approx(0.55)


# ---- what was looked at, and with what ----


def test_a_wrench_that_was_never_tried_shows_no_torque_and_fails_no_case():
    """The job is right; the element is not shown by it."""
    grade = worked("gap too large", ALL_HABITS["wrench never tried"], Depth.WORK_ORDER)

    assert grade.standing is Standing.RIGHT
    assert "lock.wrench-untried" in said(element(grade, "A2").lines)
    assert not element(grade, "A2").reached


@pytest.mark.parametrize("family", ["bent leaves, gap too large", "caliper off at zero, disc worn"])
def test_a_bad_instrument_by_hand_is_changed_or_spoils_the_readings(family):
    """Whoever looks it over and uses it all the same has read nothing, whatever they decide."""
    used = worked(family, ALL_HABITS["instruments looked over, and used as they are"])

    assert worked(family, HONEST["careful"]).standing is Standing.RIGHT
    assert used.standing is Standing.NOT_YET
    assert "fault.too-little" in [fault.what.code for fault in used.faults]


def unlooked(place: str) -> dict:
    """Return the kept grade of a brake kept in use, nobody having looked at one place."""
    return bench_job(bench_case(brake()), "fit", "nothing", looked=looks(place)).to_json()


def test_one_place_not_looked_at_is_a_slip_and_twice_is_a_habit():
    """No single case is wrong for it; a second brake kept in use so says it."""
    one = unlooked("springs")
    whole = bench_job(bench_case(brake()), "fit", "nothing").to_json()
    enough = {"enough": lambda right, made: True}

    assert KEPT_UNSEEN in str(one)
    once = judge_sitting([one, whole, whole], 3, **enough)
    twice = judge_sitting([one, one, whole], 3, **enough)

    assert not any("kept in use" in why for why in sentences(once["reasons"]))
    assert "2 brakes kept in use without looking at the springs." in sentences(twice["reasons"])
    assert twice["outcome"] == NOT_YET


# ---- what a single case cannot tell ----


def kept(depth: str, score: float, *faults: str) -> dict:
    """Return the kept grade of a right case, with one element and codes of faults."""
    return {
        "standing": "right", "marks": 90, "depth": depth, "critical": [], "misconceptions": [],
        "elements": [{"id": "D2", "channel": "D", "score": score}],
        "faults": [{"kind": "reading", "what": remark(code).to_json()} for code in faults],
    }  # fmt: skip


def test_what_is_shown_on_notes_is_not_shown_by_hand():
    """Findings named on twenty sheets of notes, and never at five brakes."""
    grades = [kept("reading", 1.0)] * 20 + [kept("bench", 0.2)] * 5
    told = judge_sitting(grades, 25, enough=lambda right, made: True)

    assert sentences(told["reasons"]) == (
        "Findings: 20 % reached on average, 60 % required, over 5 cases by hand.",
    )


@pytest.mark.parametrize(("times", "outcome"), [(0, COMPETENT), (1, COMPETENT), (2, NOT_YET)])
def test_too_little_measured_once_is_a_slip_and_twice_is_a_habit(times, outcome):
    """Enough decisions were right all the same."""
    grades = [kept("bench", 1.0, "fault.too-little")] * times + [kept("bench", 1.0)] * 3

    assert judge_sitting(grades, len(grades), enough=lambda r, m: True)["outcome"] == outcome


def test_a_new_disc_does_not_put_right_what_others_must():
    """The same oil comes again: a leak, a disc replaced."""
    leak = decided(reading_case(lines=(Line(SYMPTOM, "wet-trace"),)), "replace", "oil")
    edge = decided(reading_case(lines=(Line(SYMPTOM, "dark-shiny-edge"),)), "replace", "oil")

    assert "unsafe-decision" in codes(leak)
    assert edge.standing is Standing.RIGHT


# ---- what the form asks for ----

WHO_TESTS = """
id = "t"
title = "T"
edition = "1"
minutes = 120
[[cases]]
depth = "work order"
count = 1
families = ["glazed"]
"""


@pytest.mark.parametrize(
    ("line", "may"), [("own_test = true", ("load-test",)), ("others_test = true", ("terminals",))]
)
def test_a_line_says_who_tests_and_who_opens_the_terminals(tmp_path, line, may):
    """One is the candidate's and the other is left to others, with a static test at the end."""
    file = tmp_path / "t.toml"
    file.write_text(WHO_TESTS + line, encoding="utf-8")
    (case,) = draw_form(load_blueprint(file), any_.SHEET, SEED).cases

    assert (case.order.may, case.order.ends_with) == (may, "static")


def test_a_test_that_is_the_candidates_and_others_is_refused(tmp_path):
    """With file, line and key."""
    file = tmp_path / "t.toml"
    file.write_text(WHO_TESTS + "own_test = true\nothers_test = true\n", encoding="utf-8")

    with pytest.raises(BlueprintError, match="others_test: expected one of own_test and others"):
        load_blueprint(file)


@pytest.mark.parametrize("number", range(6))
def test_a_disc_that_only_the_date_asks_for_is_good_today(number):
    """On the smallest size, whose growth till then is least: its readings ask nothing today."""
    size = any_.SHEET.sizes[0]
    family = "disc passes its least before the next inspection"
    order = draw_case(family, size, bytes([number]) * 16, Depth.READING).order
    gaps = [gap_reading(n.angle_deg, n.go_mm, n.no_go_mm) for n in order.gap_notes]
    discs = [disc_reading(n.angle_deg, n.value_mm) for n in order.disc_notes]

    assert conclude(size, gaps, discs).outcome == "fit"
    assert conclude(size, gaps, [*discs, Reading(0.0, size.disc.min_mm - 0.5, 0.03)]).outcome == (
        "replace"
    )


def test_a_tagged_hoist_that_was_not_run_is_not_called_in_service():
    """Left for others to test: its run is missing, and nobody put it into service untested."""
    case = draw_case("disc worn", CEDAR, SEED)
    case = replace(case, order=replace(case.order, may=("terminals",), ends_with="static"))
    recorder = Recorder(case)
    act = acting(recorder.act, case, ALL_HABITS["no run"].instead)
    work(act, any_.SHEET, CAREFUL, case.order)
    grade = grade_evidence(recorder.evidence())

    assert recorder.state.awaits_test
    assert grade.critical == ()


# ---- instruments and notes that suit ----


@pytest.mark.parametrize("tool", ["leaves", "caliper"])
def test_nobody_stands_on_readings_of_an_instrument_seen_to_be_wrong(tool):
    """Looked over, seen to be bent or off at zero, and used: critical, whatever came of it."""
    family = {"leaves": "bent leaves, gap too large", "caliper": "caliper off at zero, disc worn"}
    habit = {"leaves": "bent leaves kept", "caliper": "caliper off at zero kept"}
    used, changed = (
        worked(family[tool], who) for who in (ALL_HABITS[habit[tool]], HONEST["careful"])
    )

    assert "bad-instrument" in codes(used)
    assert changed.critical == ()


@pytest.mark.parametrize(("written_mm", "hidden"), [(9.4, True), (8.75, False)])
def test_a_rule_bears_no_reading_of_the_caliper_out(written_mm, hidden):
    """The caliper shows 8.75 mm of 9.00, the rule what it likes: only the first may stand there."""
    case = bench_case(brake(disc_mm=8.75))

    def rule_too(recorder: Recorder) -> None:
        for angle_deg in (45.0, 135.0, 225.0):
            recorder.act(do.MeasureDisc(angle_deg))
            recorder.act(do.MeasureDisc(angle_deg, "rule"))
            recorder.act(do.WriteDisc(angle_deg, written_mm))

    grade = bench_job(case, "replace", "disc-worn", before=rule_too)

    assert ("reading-hidden" in codes(grade)) is hidden


def test_a_disc_kept_in_its_guard_band_once_is_a_slip_and_twice_a_habit():
    """Adjusted where the disc was due: 9.02 mm of 9.00 is within its uncertainty, no danger yet."""
    near = reading_case(((0.85, 0.86),) * 8, discs_mm=(9.02,) * 4)
    grade = decided(near, "adjust", "gap-large").to_json()
    one, two = (judge_sitting([grade] * times, times, enough=lambda r, m: True) for times in (1, 2))

    assert [fault["what"]["code"] for fault in grade["faults"]] == ["fault.disc-kept"]
    assert one["outcome"] == COMPETENT
    assert sentences(two["reasons"]) == ("2 times: Adjusted, where the disc was to be renewed.",)
