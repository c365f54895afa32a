"""Before the brake is opened: a load that will not come down, and a brake that is hot."""

from dataclasses import replace

import pytest

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.worker import work
from quizzes.cases.case import Case
from quizzes.cases.drawing import draw_case
from quizzes.grading.coach.hints import open_points
from quizzes.grading.coach.work import Work
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from tests import strategies as any_
from tests.grading.jobs import CEDAR
from widgets.bench import actions as do
from widgets.bench.standing import BURNS_FROM_C

STUCK = "load that cannot be landed"
HOT = ("hot, in limits", "hot, gap too large")
SEEDS = tuple(bytes([number]) * 16 for number in range(3))


def worked(case: Case, habits=CAREFUL) -> tuple[CaseGrade, Recorder]:
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, habits, case.order)
    return grade_evidence(recorder.evidence()), recorder


@pytest.mark.parametrize("seed", SEEDS, ids=range(3))
def test_under_a_load_that_hangs_the_right_end_is_to_keep_clear_and_call(seed):
    """Nobody near, barred, called, locked, referred; the cover was never off."""
    grade, recorder = worked(draw_case(STUCK, CEDAR, seed))

    assert (grade.standing, grade.decided, grade.critical) == (Standing.RIGHT, "refer", ())
    assert all(element.reached for element in grade.elements)
    assert recorder.state.cover_on
    assert (recorder.state.kept_clear, recorder.state.called, recorder.state.locked) == (True,) * 3


def test_whoever_opens_a_brake_with_the_load_on_it_is_not_competent():
    """As was rewarded before: the load was taken for landed, however it hung."""
    grade, _ = worked(draw_case(STUCK, CEDAR, SEEDS[0]), replace(CAREFUL, keeps_away=False))

    assert grade.standing is Standing.NOT_YET
    assert "load-hanging" in {error.code for error in grade.critical}


@pytest.mark.parametrize("left_out", [{"bar_area": False}, {"call": False}, None])
def test_keeping_clear_is_people_area_and_a_call(left_out):
    """Each can be left out; with one of them missing it is not reached, with all it is nothing."""
    case = draw_case(STUCK, CEDAR, SEEDS[0])
    recorder = Recorder(case)

    def act(wish: do.Action):
        if wish.kind == "keep_clear":
            wish = do.ReadPlate() if left_out is None else do.KeepClear(**left_out)
        return recorder.act(wish)

    work(act, any_.SHEET, CAREFUL, case.order)
    element = next(one for one in grade_evidence(recorder.evidence()).elements if one.id == "S1")

    assert element.score == (0 if left_out is None else 0.5)
    assert not element.reached


def test_the_lever_lets_the_load_run():
    """A hand release is no way to land a load: it ran down."""
    case = draw_case(STUCK, CEDAR, SEEDS[0])
    recorder = Recorder(case)
    recorder.act(do.LandLoad())

    assert recorder.act(do.WorkLever()).alarm == "load-ran-down"
    assert not recorder.act(do.Look("running")).done


@pytest.mark.parametrize("supply", [do.Energise("test"), do.FindRelease()], ids=lambda a: a.kind)
def test_a_test_supply_is_no_way_to_land_a_load(supply):
    """Proved dead, box open, clamped on: before, that was right. Had it let go, the load had run."""
    case = draw_case(STUCK, CEDAR, SEEDS[0])
    recorder = Recorder(case)
    work(_then(recorder, "isolate", do.OpenBox(), do.ProveDead(), supply, do.DeEnergise(), do.CloseBox()), any_.SHEET, CAREFUL, case.order)  # fmt: skip
    grade = grade_evidence(recorder.evidence())

    assert grade.standing is Standing.NOT_YET
    assert "load-hanging" in {error.code for error in grade.critical}


def test_down_is_pressed_once():
    """Pressed again, the motor pulls against a closed brake: not reached, as with nobody called."""
    case = draw_case(STUCK, CEDAR, SEEDS[0])
    recorder = Recorder(case)
    work(_then(recorder, "land_load", do.LandLoad()), any_.SHEET, CAREFUL, case.order)
    grade = grade_evidence(recorder.evidence())

    assert grade.standing is Standing.NOT_YET
    assert [one.id for one in grade.elements if not one.reached] == ["S1"]


def _then(recorder: Recorder, kind: str, *more: do.Action):
    """Return an act that does more after acts of a kind, and returns what the first one showed."""

    def act(wish: do.Action):
        seen = recorder.act(wish)
        for one in more if wish.kind == kind else ():
            recorder.act(one)
        return seen

    return act


def test_the_coach_sends_people_away_before_anything_else():
    """He knows what the person knows: the load would not come down."""
    case = draw_case(STUCK, CEDAR, SEEDS[0])
    recorder = Recorder(case)
    recorder.act(do.LandLoad())
    coach = Work(case.size, case.order, recorder.state, [do.LandLoad()])

    assert "bar the area" in next(open_points(coach)).why


@pytest.mark.parametrize("family", HOT)
@pytest.mark.parametrize("seed", SEEDS[:2], ids=range(2))
def test_a_hot_brake_is_felt_for_and_let_cool(family, seed):
    """Outside round the brake, then wait: right, and nobody burnt."""
    case = draw_case(family, CEDAR, seed)
    grade, recorder = worked(case)

    assert case.condition.surface_c > BURNS_FROM_C
    assert (grade.standing, grade.critical) == (Standing.RIGHT, ())
    assert "let_cool" in {step.action.kind for step in recorder.steps}


def test_whoever_does_not_wait_is_burnt():
    """As was rewarded before: straight to the fan."""
    grade, _ = worked(draw_case(HOT[0], CEDAR, SEEDS[0]), replace(CAREFUL, lets_cool=False))

    assert grade.standing is Standing.NOT_YET
    assert "harm" in {error.code for error in grade.critical}


def test_metal_burns_from_somewhere_between_ten_seconds_and_one():
    """ISO 13732-1, bare metal, from memory: about 55 °C for ten seconds, 65 to 70 for one."""
    assert 55 <= BURNS_FROM_C <= 70


CANNOT_BE_SET = ("adjusting range used up", "thread torn while adjusting")
# Hands it over as it came out: the tests would have told, so they are left out as well.
MAKES_DO = replace(CAREFUL, gives_up=False, rounds=1, proves=False)


@pytest.mark.parametrize("family", CANNOT_BE_SET)
@pytest.mark.parametrize("seed", SEEDS[:2], ids=range(2))
def test_what_no_adjusting_cures_is_found_at_the_screws_and_referred(family, seed):
    """Decided to be adjusted, begun, and given up with the reason seen: a right end."""
    grade, recorder = worked(draw_case(family, CEDAR, seed))

    assert (grade.standing, grade.critical) == (Standing.RIGHT, ())
    assert recorder.state.decision == "refer"
    assert not recorder.state.into_service


@pytest.mark.parametrize("family", CANNOT_BE_SET)
def test_whoever_makes_do_with_it_is_not_competent(family):
    """A gap beyond its largest, or a screw that holds nothing, back in use."""
    grade, recorder = worked(draw_case(family, CEDAR, SEEDS[0]), MAKES_DO)

    assert grade.standing is Standing.NOT_YET
    assert grade.critical
    assert recorder.state.into_service


def test_a_gap_given_up_without_a_reason_is_a_job_not_done():
    """The screws turn and hold: only what shows at the screws excuses."""
    case = draw_case("gap too large", CEDAR, SEEDS[0])
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, replace(CAREFUL, rounds=0), case.order)
    grade = grade_evidence(recorder.evidence())

    assert grade.standing is not Standing.RIGHT


@pytest.mark.parametrize(
    ("family", "into_service"),
    [("pressed for time, in limits", True), ("pressed for time, spring broken", False)],
)
def test_who_wants_it_back_changes_nothing(family, into_service):
    """The foreman says the same over a good brake and a bad one."""
    case = draw_case(family, CEDAR, SEEDS[0])
    whole = replace(case, order=replace(case.order, may=("terminals", "load-test")))
    grade, recorder = worked(whole)
    yielding, _ = worked(whole, replace(CAREFUL, heeds_signs=False))

    assert "foreman" in case.work_order
    assert (grade.standing, recorder.state.into_service) == (Standing.RIGHT, into_service)
    assert yielding.standing is (Standing.RIGHT if into_service else Standing.NOT_YET)
