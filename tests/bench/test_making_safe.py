"""Making safe: each part can be left out or done with the wrong tester, and each has its price."""

import pytest

from quizzes.candidates.worker import work
from quizzes.grading.elements.proving import FELT, HEARD
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from tests import strategies as any_
from tests.grading.jobs import (
    brake,
    close_up,
    coil_truly,
    disc_truly,
    gauge_truly,
    looks,
    prove_and_hand_over,
    safe_and_open,
    work_order,
)  # fmt: skip
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.brake.condition import sound_condition

CEDAR = any_.SHEET.size("Cedar-47")
WRONG_TESTS = {
    "tester.pen": do.ProveDead("contactless"),
    "tester.silent-not-proved": do.ProveDead(known_source=False),
    "tester.one-side-only": do.ProveDead(sides="ac"),
}


def bench(*actions: do.Action, **more) -> Bench:
    one = Bench(CEDAR, sound_condition(CEDAR, **more), bytes(16))
    one.replay(actions)
    return one


def test_all_of_it_in_three_presses_leaves_the_brake_safe():
    """Landed, unhooked, slack, barred; off, locked, tried, waited; proved, tested, proved again."""
    state = bench(do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead()).state

    assert (state.load_landed, state.area_barred) == (True, True)
    assert (state.isolated, state.locked, state.start_tried, state.waited) == (True,) * 4
    assert state.proved_dead


@pytest.mark.parametrize("code", WRONG_TESTS)
def test_the_wrong_test_stays_dark_and_proves_nothing(code):
    """A contactless tester, one that nothing has proved, one side only.

    Common practice; IEC 61243-3 names two-pole detectors (from memory).
    """
    one = bench(do.LandLoad(), do.Isolate(), do.OpenBox())
    seen = one.act(WRONG_TESTS[code])

    assert (seen.done, seen.code, seen.facts["live"]) == (True, code, False)
    assert not one.state.proved_dead


def test_a_load_left_on_the_hook_or_a_rope_nobody_looked_at_is_not_landed():
    """Then the brake still holds it; doing the rest makes it so."""
    one = bench(do.LandLoad(unhook=False, prove_slack=False))
    assert not one.state.load_landed
    one.act(do.LandLoad(prove_slack=False))
    assert not one.state.load_landed
    one.act(do.LandLoad())
    assert one.state.load_landed


def test_without_waiting_the_tester_finds_what_is_stored():
    """Dead only once the drive has given back its energy; waiting can be made up for."""
    one = bench(do.LandLoad(), do.Isolate(wait=False), do.OpenBox())

    assert one.act(do.ProveDead()).code == "tester.still-charged"
    assert one.act(do.Isolate()).done
    assert one.act(do.ProveDead()).code == "tester.dead"


def test_a_restored_supply_has_to_be_made_safe_from_the_start():
    """Lock, try and test belong to one switching off."""
    state = bench(
        do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead(), do.RestoreSupply()
    ).state

    assert not (state.isolated)
    assert not (state.locked)
    assert not (state.start_tried)
    assert not state.waited
    assert not state.proved_dead


def graded(**instead: do.Action):
    """Return the grade of a careful whole job with some first steps done otherwise."""
    recorder = Recorder(work_order(brake()))
    for action in safe_and_open():
        recorder.act(instead.get(action.kind, action))
    for action in looks():
        recorder.act(action)
    for screw in (1, 2, 3):
        recorder.act(do.TryLock(screw))
    recorder.act(do.WorkLever())
    gauge_truly(recorder)
    disc_truly(recorder)
    coil_truly(recorder)
    recorder.act(do.Decide("fit", "Cedar-47", "", ("nothing",)))
    for action in (*close_up(), *prove_and_hand_over(30)):
        recorder.act(action)
    evidence = recorder.evidence()
    return grade_evidence(evidence)


LEFT_OUT = {
    "area not barred": ("S1", {"land_load": do.LandLoad(bar_area=False)}),
    "nobody tried to start": ("S2", {"isolate": do.Isolate(try_start=False)}),
    "no lock": ("S2", {"isolate": do.Isolate(lock=False)}),
    "no mask": ("S4", {"remove_cover": do.RemoveCover(protected=False)}),
}


def test_the_whole_of_it_is_right():
    """Done in full, it costs nobody anything."""
    assert graded().standing is Standing.RIGHT


@pytest.mark.parametrize("left_out", LEFT_OUT)
def test_with_a_part_left_out_its_element_is_not_reached(left_out):
    """Everything else is right, and the case is not."""
    element, instead = LEFT_OUT[left_out]
    new = graded(**instead)

    assert new.standing is Standing.NOT_YET
    assert [one.id for one in new.elements if one.needed and not one.reached] == [element]


@pytest.mark.parametrize("code", WRONG_TESTS)
def test_a_cover_taken_off_after_the_wrong_test_was_never_proved_dead(code):
    """A critical error, whatever follows."""
    new = graded(prove_dead=WRONG_TESTS[code])
    assert "not-proved-dead" in {one.code for one in new.critical}


def test_five_hundred_volts_through_the_rectifier_destroy_it():
    """The coil's leads left on: afterwards the hoist's supply gives half. With them lifted, all.

    A bridge with one diode open gives half of its voltage. Source: any text on rectifiers.
    """
    for lifted, share in ((False, 0.5), (True, 1.0)):
        one = bench(do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead(), *any_.OPENED)
        one.act(do.MeasureCoil("insulation", leads_lifted=lifted))
        one.replay([do.RestoreSupply(), do.Energise()])
        shown_v = one.act(do.MeasureCoil("voltage")).facts["shown_v"]

        assert shown_v == pytest.approx(share * CEDAR.coil.voltage_v, rel=0.03)


# ---- what came of it in a whole job ----


def worked(instead) -> CaseGrade:
    """Return the grade of a sound brake, worked as the careful one does but for some acts.

    `instead` is given an action and which of its kind it is, from 1; of several acts that it
    returns the last one answers.
    """
    case, times = work_order(brake(0.5)), dict[str, int]()
    recorder = Recorder(case)

    def act(wish: do.Action):
        times[wish.kind] = times.get(wish.kind, 0) + 1
        acts = instead(wish, times[wish.kind])
        return [recorder.act(one) for one in (acts if isinstance(acts, list) else [acts])][-1]

    work(act, any_.SHEET, order=case.order)
    return grade_evidence(recorder.evidence())


AGAIN = {
    "not-isolated": ("isolate", do.Isolate(lock=False)),
    "not-proved-dead": ("prove_dead", do.ReadPlate()),
    "": ("isolate", do.Isolate(try_start=False)),
}


@pytest.mark.parametrize("critical", AGAIN)
def test_after_the_supply_was_on_it_is_made_safe_again_before_a_hand_goes_to_coil_or_shaft(
    critical,
):
    """A test supply is clamped to terminals and a shaft is turned by hand: both ask for all of it."""
    kind, left_out = AGAIN[critical]
    grade = worked(lambda wish, n: left_out if (wish.kind, n) == (kind, 2) else wish)

    assert grade.standing is Standing.NOT_YET
    assert [one.code for one in grade.critical] == [critical] * bool(critical)
    assert [one.id for one in grade.elements if one.needed and not one.reached] == ["S2"]


@pytest.mark.parametrize("what", ["resistance", "insulation"])
def test_with_the_coils_leads_on_nothing_is_known_of_the_coil(what):
    """A sound brake condemned by it: before, that was right. 500 V have cost a rectifier as well."""

    def with_leads_on(wish: do.Action, _: int) -> do.Action:
        same = isinstance(wish, do.MeasureCoil) and wish.what == what
        return do.MeasureCoil(what, leads_lifted=False) if same else wish

    grade = worked(with_leads_on)

    assert grade.decided == "refer"
    assert grade.standing is (Standing.FALSE_ALARM if what == "resistance" else Standing.NOT_YET)
    assert not next(one for one in grade.elements if one.id == "M5").reached


@pytest.mark.parametrize("act", [do.BedIn(), do.TestHold()], ids=lambda act: act.kind)
def test_nothing_runs_with_its_fan_in_the_open(act):
    """Bedding in and lifting run the motor as the run without load does."""
    one = bench(do.LandLoad())
    assert one.act(act).alarm == ""
    assert bench(do.LandLoad(), do.RemoveCover()).act(act).alarm == "fan-open"


def test_a_load_lifted_on_a_brake_not_tried_empty_costs_the_run():
    """Order of proving: empty first. The run that comes after the load proves nothing any more."""
    grade = worked(lambda wish, _: [do.TestHold(), wish] if wish.kind == "test_run" else wish)
    release = next(one for one in grade.elements if one.id == "T1")

    assert "run.after-the-load" in {line.code for line in release.lines}
    assert release.score == pytest.approx(HEARD + FELT)
