"""What the work order lets a person do: the terminal box, and the test with a load."""

from dataclasses import replace

import pytest

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.worker import work
from quizzes.cases.case import Case
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from tests import strategies as any_
from tests.grading.jobs import CEDAR, brake, inspected, safe_and_open, work_order
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.bench.setup import TASKS, Order
from widgets.brake.condition import sound_condition
from widgets.brake.sizes.size import Hoist

PUSHING = replace(CAREFUL, heeds_authority=False)  # as was rewarded before: does it all alone


def case_of(**order) -> Case:
    """Return a gap too large under a work order."""
    return replace(work_order(brake(0.95)), order=Order(**order))


def worked(case: Case, habits=CAREFUL) -> tuple[CaseGrade, Recorder]:
    """Return the grade of somebody's work."""
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, habits, case.order)
    return grade_evidence(recorder.evidence()), recorder


@pytest.mark.parametrize("may", [TASKS, ("terminals",), ("load-test",), ()])
@pytest.mark.parametrize("ends_with", ["run", "static", "dynamic"])
def test_whoever_keeps_to_the_order_ends_right_by_every_order(may, ends_with):
    """Tagged and left for an authorised load test is a right end where one may not test."""
    grade, recorder = worked(case_of(may=may, ends_with=ends_with))
    waits = "load-test" not in may and ends_with != "run"

    assert (grade.standing, grade.critical) == (Standing.RIGHT, ())
    assert recorder.state.awaits_test is waits
    assert recorder.state.into_service is not waits
    assert all(element.reached for element in grade.elements if element.needed)


@pytest.mark.parametrize("left_to_others", TASKS)
def test_whoever_does_what_the_order_leaves_to_others_is_not_competent(left_to_others):
    """Done well, by who may not: before, this was right."""
    may = tuple(task for task in TASKS if task != left_to_others)
    grade, _ = worked(case_of(may=may), PUSHING)

    assert grade.standing is Standing.NOT_YET
    assert [error.code for error in grade.critical] == ["beyond-authority"]


def test_a_load_test_is_not_left_to_others_by_who_may_do_it():
    """The order asks for it and lets it be done: waiting is a job not done."""
    evidence = inspected(case_of(), "adjust", "gap-large")
    evidence.act(do.HandOver(into_service=False, awaits_test=True))
    grade = grade_evidence(evidence.evidence())

    assert grade.standing is Standing.NOT_YET
    assert "T2" in {one.id for one in grade.elements if not one.reached}


def closed(*then: do.Action) -> Bench:
    """Return a sound brake, its load landed, with some actions done."""
    one = Bench(CEDAR, sound_condition(CEDAR), bytes(16))
    one.replay([do.LandLoad(), *then])
    return one


@pytest.mark.parametrize(
    ("lift", "alarm"),
    [
        (do.TestHold(), ""),
        (do.TestHold(weighed=False), "load-not-weighed"),
        (do.TestHold(floor_clear=False), "floor-not-clear"),
    ],
)
def test_a_load_is_weighed_and_the_floor_cleared_before_it_is_lifted(lift, alarm):
    """Common practice, no source; 29 CFR 1926.1431 asks for a cleared area, from memory."""
    assert closed().act(lift).alarm == alarm


def test_the_load_of_the_test_is_that_of_the_limits_sheet():
    """A sheet that asks for more than the usual quarter has its own load lifted."""
    size = replace(CEDAR, hoist=replace(CEDAR.hoist, test_static=1.5, test_dynamic=1.2))
    one = Bench(size, sound_condition(size), bytes(16))
    one.act(do.LandLoad())

    assert one.act(do.TestHold()).facts["load_share"] == 1.5
    assert one.act(do.TestHold(dynamic=True)).facts["load_share"] == 1.2


def test_a_sheet_cannot_ask_for_more_in_motion_than_at_rest():
    """A dynamic test above the static one contradicts itself: said with its field."""
    with pytest.raises(ValueError, match="test_dynamic"):
        Hoist(2500, 8, 1450, 0.035, 30, test_static=1.1, test_dynamic=1.25)


@pytest.mark.parametrize(("name", "value"), [("may", ("fly",)), ("ends_with", "hope")])
def test_an_order_that_asks_for_what_there_is_not_is_refused(name, value):
    """One sentence with field, what it may hold, and what it held."""
    with pytest.raises(ValueError, match=name):
        Order(**{name: value})


# ---- the terminal box ----


@pytest.mark.parametrize(
    "wish",
    [do.ProveDead(), do.MeasureCoil("resistance"), do.DisconnectLeads(), do.FindRelease(),
     do.Energise("test"), do.Look("leads")],
    ids=lambda wish: wish.kind,
)  # fmt: skip
def test_nothing_gets_at_the_terminals_through_the_cover_of_their_box(wish):
    """The box has a cover of its own; that of the fan has nothing to do with it."""
    one = closed(do.Isolate(), do.RemoveCover())
    refused = one.act(wish)
    one.act(do.OpenBox())

    assert (refused.done, refused.code) == (False, "terminals.box-shut")
    assert one.act(wish).code != "terminals.box-shut"


def test_a_box_opened_under_supply_lays_live_terminals_bare():
    """Also by the electrician: first off, then open."""
    assert closed().act(do.OpenBox()).alarm == "live-terminals-bare"
    assert not closed(do.Isolate()).act(do.OpenBox()).alarm


def test_a_box_left_open_endangers_whoever_comes_by():
    """Whole job, well done, but for its cover."""
    case, recorder = work_order(brake(0.5)), None
    recorder = Recorder(case)

    def act(wish: do.Action):
        return recorder.act(do.ReadPlate() if wish.kind == "close_box" else wish)

    work(act, any_.SHEET)
    grade = grade_evidence(recorder.evidence())

    assert grade.standing is Standing.NOT_YET
    assert "left-dangerous" in {error.code for error in grade.critical}


def test_ohms_with_the_leads_on_make_a_sound_coil_look_burnt():
    """What lies beside the coil is measured with it; its leads lifted, the coil stands alone."""
    one = closed(do.Isolate(), do.OpenBox(), do.ProveDead())
    alone = one.act(do.MeasureCoil("resistance")).facts["shown_ohm"]
    beside = one.act(do.MeasureCoil("resistance", leads_lifted=False)).facts["shown_ohm"]

    assert alone == pytest.approx(623, rel=0.02)  # Cedar-47 at 20 °C, from its sheet
    assert beside < 0.94 * alone  # beyond the tolerance of 6 %: it would be referred


def test_a_meter_at_terminals_that_nobody_proved_dead_is_an_error():
    """Isolated, box open, meter on: before, only a supply that was on counted."""
    recorder = Recorder(work_order(brake(0.5)))
    for action in safe_and_open():
        if action.kind == "prove_dead":
            recorder.act(do.MeasureCoil("resistance"))
        recorder.act(action)

    assert "not-proved-dead" in {one.code for one in grade_evidence(recorder.evidence()).critical}
