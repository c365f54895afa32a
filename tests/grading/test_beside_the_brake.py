"""What lies beside the brake: a second one, a clutch, water, a record of another, wear with a cause."""

from dataclasses import replace

import pytest

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.worker import work
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from quizzes.cases.next_due import growth_mm
from quizzes.cases.on_record import believed
from quizzes.grading.coach.hints import open_points
from quizzes.grading.coach.work import Work
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from tests import strategies as any_
from tests.grading.jobs import CEDAR, brake, codes, element, said
from widgets.bench import actions as do
from widgets.bench.handlers.load_test import held_by
from widgets.bench.machine import Bench
from widgets.bench.notes import Record
from widgets.bench.scene import fixed_scene, scene
from widgets.bench.setup import TASKS, Order, Start
from widgets.brake.around import NOTHING_ELSE, WET, Around
from widgets.brake.behaviour import HOT_COIL_C, release_share, supply_share
from widgets.brake.condition import gap_field
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import LEAST_INSULATION_MOHM, LEAST_SUPPLY

BESIDE = [name for name, family in FAMILIES.items() if family.beside]
SEED = bytes([2]) * 16
BOTH = ("two brakes, this one carries little", "two brakes, the other carries nothing")
_NEW_DISC = {"instead_of": {Outcome.REFER: Outcome.REPLACE}}
# Somebody who does what was rewarded before there was anything beside the brake.
AS_BEFORE = {
    BOTH[0]: {"each_brake": False},
    BOTH[1]: {"each_brake": False},
    "said to slip, the clutch does": {"heeds_signs": False, "always": Outcome.ADJUST},
    "said to slip, glazed": {"heeds_signs": False, "always": Outcome.ADJUST},
    "water, dries out": {"heeds_water": False, "proves": False, "always": Outcome.FIT},
    "water, disc rusted": {"heeds_water": False, **_NEW_DISC},
    "water, coil stays damp": {"heeds_water": False, "heeds_signs": False},
    "record of another size": {"doubts_records": False, "proves": False},
    "record older than the brake": {"doubts_records": False},
    "worn too fast, low voltage": _NEW_DISC,
    "worn too fast, switched on the AC side": _NEW_DISC,
    "worn too fast, lever without play": {"heeds_signs": False, "always": Outcome.ADJUST},
}


def worked(family: str, seed: bytes = SEED, **changes) -> tuple[CaseGrade, Recorder]:
    case = draw_case(family, CEDAR, seed)
    case = replace(case, order=replace(case.order, may=TASKS, ends_with="static"))
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, replace(CAREFUL, **changes), case.order)
    return grade_evidence(recorder.evidence()), recorder


@pytest.mark.parametrize("family", BESIDE)
def test_the_careful_one_comes_to_the_right_end(family):
    """Right, no critical error; out of service where the family says so or it was referred."""
    grade, recorder = worked(family)
    kind = FAMILIES[family]

    assert (grade.standing, grade.critical) == (Standing.RIGHT, ())
    assert grade.decided in kind.meant
    assert recorder.state.into_service is (not kind.ends_out and grade.decided != "refer")


@pytest.mark.parametrize("family", AS_BEFORE)
def test_whoever_does_what_was_rewarded_before_is_wrong(family):
    """The same brake, and what there is beside it not looked at."""
    grade, _ = worked(family, **AS_BEFORE[family])

    assert grade.standing is Standing.NOT_YET


def test_there_is_a_wrong_way_for_each_but_the_sound_ones():
    """A family that nobody can get wrong teaches nothing; two are there as the other side."""
    assert set(BESIDE) - set(AS_BEFORE) == {"two brakes, both sound", "record of this brake"}


# ---- two brakes ----


def two(this: float = 1.0, other: float = 1.8) -> Bench:
    """Return a closed brake of two with its supply on, its friction by a share of the proper."""
    found = brake(dust_mm=0.0, around=Around(other_hold=other))
    found = replace(found, friction=this * found.friction)
    one = Bench(CEDAR, found, bytes(16), Order(brakes=2))
    one.act(do.LandLoad())
    return one


def test_a_good_brake_hides_a_bad_one_in_a_load_test():
    """Both together hold the sum; alone one holds what it holds. By hand: 1.9 x 0.3 + 1.8 > 1.25."""
    one = two(this=0.3)
    alone = held_by(one.setup, one.state, "this")

    assert one.act(do.TestHold()).facts["holds"]
    assert not one.act(do.TestHold(on="this")).facts["holds"]
    assert one.act(do.TestHold(on="other")).facts["holds"]
    assert alone < CEDAR.hoist.test_static < alone + 1.8
    assert held_by(one.setup, one.state, "both") == pytest.approx(alone + 1.8)


def test_a_brake_that_fails_alone_is_caught_by_the_one_held_open():
    """A hand's breadth over a cleared floor: let the other close, and it stops; no alarm."""
    seen = two(this=0.1).act(do.TestHold(on="this"))

    assert (seen.code, seen.alarm) == ("test-hold.alone-sinks", "")


def test_a_hoist_with_one_brake_has_no_other_to_hold_open():
    """Refused, and nothing has changed."""
    one = Bench(CEDAR, brake(), bytes(16))
    one.act(do.LandLoad())

    assert one.act(do.TestHold(on="this")).code == "test-hold.one-brake"


@pytest.mark.parametrize("on", ["both", "this"])
def test_one_test_of_two_is_not_enough(on):
    """T2 asks for each alone; both sound, nobody is hurt, and still nothing is shown."""
    case = draw_case("two brakes, both sound", CEDAR, SEED)
    recorder = Recorder(case)

    def act(wish: do.Action):
        return recorder.act(replace(wish, on=on) if wish.kind == "test_hold" else wish)

    work(act, any_.SHEET, CAREFUL, case.order)
    grade = grade_evidence(recorder.evidence())

    assert not element(grade, "T2").reached
    assert grade.standing is Standing.NOT_YET


def test_the_coach_asks_which_of_two_held():
    """After a test on both he does not say that it is enough."""
    one = two()
    did = [do.Energise(), do.TestRun(), do.TestHold()]
    done = one.state._replace(decision="fit", cover_on=True, box_on=True, tested=("test_run",))
    coach = Work(CEDAR, one.setup.order, done, did)

    assert "Each must hold the load alone" in " ".join(hint.why for hint in open_points(coach))


# ---- the clutch ----


def test_where_the_clutch_slips_the_load_sinks_and_the_shaft_stands_still():
    """What tells it from a brake that slips: there the shaft turns. Common practice, no source."""
    one = Bench(CEDAR, brake(around=Around(clutch_hold=1.1)), bytes(16))
    one.act(do.LandLoad())
    seen = one.act(do.TestHold())

    assert (seen.facts["holds"], seen.facts["shaft"]) == (False, "still")
    assert "clutch-marks-apart" in one.act(do.Look("outside")).facts["symptoms"]


@pytest.mark.parametrize("found", ["said to slip, the clutch does", "said to slip, glazed"])
def test_the_words_of_the_order_say_nothing_of_whose_fault_it_is(found):
    """The same note over a clutch and over a brake."""
    assert "Brake slips" in draw_case(found, CEDAR, SEED).work_order


# ---- water ----


def wet(*actions: do.Action, **more) -> Bench:
    """Return an open, wet brake under a leak, after some actions."""
    found = brake(dust_mm=0.0, surface=WET, around=Around(water_comes=True), **more)
    one = Bench(CEDAR, found, bytes(16), Order(start=Start.OPEN))
    one.replay(actions)
    return one


def shown_mohm(one: Bench) -> float:
    return one.act(do.MeasureCoil("insulation")).facts["shown_mohm"]


def test_dried_before_the_source_is_stopped_it_is_wet_again():
    """The source first: an hour of warm air, and the next drops."""
    assert wet(do.DryOut()).state.brake.surface == WET
    assert wet(do.StopWater(), do.DryOut()).state.brake.surface == "bedded"


def test_a_wet_coil_has_no_insulation_and_a_dry_one_has_it_back():
    """Least 1 MΩ at 500 V: IEC 60204-1 clause 18.3; damp lowers it, drying restores it: IEEE 43.

    Both from memory.
    """
    assert shown_mohm(wet()) < LEAST_INSULATION_MOHM == 1.0
    assert shown_mohm(wet(do.StopWater(), do.DryOut())) > LEAST_INSULATION_MOHM
    assert shown_mohm(wet(do.StopWater(), do.DryOut(), insulation_mohm=0.3)) < 1.0


def test_a_reading_of_a_wet_coil_condemns_nobodys_coil():
    """Referred for what was read wet: more than the brake needs, and no danger."""
    grade, _ = worked("water, dries out", heeds_water=False)

    assert (grade.standing, grade.decided) == (Standing.FALSE_ALARM, "refer")


def test_a_wet_brake_in_service_is_dangerous_and_could_be_seen():
    """Nothing of it is luck."""
    grade, _ = worked("water, dries out", **AS_BEFORE["water, dries out"])

    assert "left.wet" in said(grade.left_wrong)
    assert "left-dangerous" in codes(grade)


# ---- a record, and the plate ----


@pytest.mark.parametrize(
    ("record", "fits"),
    [
        (Record(2020, 47.0, 0.8), True),
        (Record(2018, 47.0, 0.8), True),  # of the year in which it was built
        (Record(2017, 47.0, 0.8), False),
        (Record(2020, 75.0, 1.2), False),
    ],
)
def test_a_record_fits_the_plate_by_torque_and_year(record, fits):
    """A brake has no record from before it was built, and one torque. Common practice, no source."""
    order = Order(record=record, grows_mm_per_month=0.01, recorded=True)
    plate = {"torque_nm": 47.0, "built": 2018}

    assert record.fits(47.0, 2018) is fits
    assert believed(order, plate).recorded is fits


def test_by_another_brakes_record_it_would_last():
    """By hand: 0.02 mm in sixty days by the record; by the duty of the hoist many times that."""
    case = draw_case("record older than the brake", CEDAR, SEED)
    order = case.order
    by_duty_mm = 2 * growth_mm(CEDAR) * order.stops_per_day * order.planned_days
    widest_mm = max(gap_field(CEDAR, case.condition).round_mm(72))

    assert widest_mm + 0.02 < CEDAR.gap.max_mm < widest_mm + by_duty_mm


def test_the_plate_believed_and_nobody_told_is_half_a_job():
    """Adjusted as it should be, and the record left to mislead the next one."""
    case = draw_case("record of another size", CEDAR, SEED)
    recorder = Recorder(case)

    def act(wish: do.Action):
        if wish.kind == "decide":
            wish = replace(wish, found=tuple(one for one in wish.found if one != "record"))
        return recorder.act(wish)

    work(act, any_.SHEET, CAREFUL, case.order)
    grade = grade_evidence(recorder.evidence())

    assert grade.decided == "adjust"
    assert (grade.standing, element(grade, "D2").needed) == (Standing.NOT_YET, True)


# ---- wear with a cause ----


def test_low_voltage_lifts_cold_and_drags_hot():
    """Why it wears: at 20 °C it releases, at 100 °C it does not. Below 0.85 it is named."""
    brake_now = draw_case("worn too fast, low voltage", CEDAR, SEED).condition
    gap_mm = gap_field(CEDAR, brake_now).plane.mean_mm
    supply = supply_share(brake_now)

    assert release_share(CEDAR, brake_now, gap_mm) < supply < LEAST_SUPPLY
    assert release_share(CEDAR, brake_now, gap_mm, HOT_COIL_C) > supply


@pytest.mark.parametrize("cause", ["low voltage", "switched on the AC side", "lever without play"])
def test_the_order_says_how_fast_and_how_fast_it_should_be(cause):
    """Four times its duty or more, by the same rate that dates use."""
    order = draw_case(f"worn too fast, {cause}", CEDAR, SEED).order

    assert order.grows_mm_per_month > 3.5 * growth_mm(CEDAR) * order.stops_per_day * 30


# ---- what stays in the kernel ----


@pytest.mark.parametrize("family", BESIDE)
def test_nothing_beside_the_brake_is_told_before_it_is_seen(family):
    """Neither scene nor fixed part holds the other brake's hold, the clutch, the water, the year."""
    case = draw_case(family, CEDAR, SEED)
    bench = Bench(CEDAR, case.condition, SEED, case.order)
    told = str(scene(bench.setup, bench.state)) + str(
        fixed_scene(bench.setup, any_.SHEET, case.work_order)
    )
    around = case.condition.around

    for hidden in (around.other_hold, around.clutch_hold, around.built, case.condition.friction):
        assert not hidden or str(hidden) not in told
    assert family not in told
    dry = replace(case.condition, around=NOTHING_ELSE, surface="bedded")
    other = Bench(CEDAR, dry, SEED, case.order)
    assert told == str(scene(other.setup, other.state)) + str(
        fixed_scene(other.setup, any_.SHEET, case.work_order)
    )
