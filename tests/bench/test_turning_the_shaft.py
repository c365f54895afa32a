"""A hand is on the shaft only while the motor is locked off: the coil has its own test supply."""

from dataclasses import replace

import pytest

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.worker import work
from quizzes.cases.drawing import draw_case
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import Standing, grade_evidence
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.bench.words import said
from widgets.brake.condition import sound_condition

CEDAR = any_.SHEET.size("Cedar-47")
SAFE = (do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead(), *any_.OPENED)
HOIST, TEST, TURN = do.Energise("hoist"), do.Energise("test"), do.TurnShaft(90.0)


def bench(*actions: do.Action, **more) -> Bench:
    one = Bench(CEDAR, replace(sound_condition(CEDAR), **more), bytes(16))
    one.replay(actions)
    return one


def test_with_the_supply_restored_a_hand_on_the_shaft_is_an_alarm():
    """It turns, and it could have hurt. Common practice, no source: the motor stays locked off."""
    one = bench(*SAFE, do.RestoreSupply(), HOIST)
    felt = one.act(TURN)

    assert (felt.done, felt.facts["turns"], felt.alarm) == (True, "freely", "hand-on-live-shaft")
    assert one.state.accidents == ("hand-on-live-shaft",)
    assert "turned the shaft under the hand" in said(felt)


def test_on_the_test_supply_with_the_motor_locked_off_the_shaft_turns_and_nothing_can_happen():
    """The brake lets go and the hoist is dead."""
    one = bench(*SAFE)

    assert one.act(TURN).facts["turns"] == "not"
    assert one.act(TEST).facts["released"] is True
    assert (felt := one.act(TURN)).facts["turns"] == "freely"
    assert felt.alarm == ""
    assert one.state.accidents == ()


@pytest.mark.parametrize(
    ("before", "action", "code"),
    [
        ((), TEST, "terminals.box-shut"),
        (
            (do.LandLoad(), do.Isolate(), do.OpenBox(), do.RestoreSupply()),
            TEST,
            "release.not-isolated",
        ),
        ((*SAFE, TEST), TEST, "coil.already-on"),
        ((*SAFE, TEST), do.RestoreSupply(), "supply.test-supply-on"),
        ((*SAFE, TEST), do.HandOver(into_service=False), "hand-over.coil-on-test"),
    ],
)
def test_the_test_supply_is_refused_where_it_would_meet_another(before, action, code):
    """Cover on, hoist's supply on, twice, or forgotten before the supply comes back."""
    one = bench(*before)
    seen = one.act(action)

    assert not seen.done
    assert seen.code == code or code.startswith("hand-over")


def test_the_test_supply_does_not_prove_the_rectifier():
    """Half the voltage by the hoist's own supply; all of it by the test supply."""
    by_test = (
        bench(*SAFE, TEST, rectifier_diode_open=True)
        .act(do.MeasureCoil("voltage"))
        .facts["shown_v"]
    )
    one = bench(*SAFE, do.RestoreSupply(), HOIST, rectifier_diode_open=True)
    by_hoist = one.act(do.MeasureCoil("voltage")).facts["shown_v"]

    assert by_hoist == pytest.approx(0.5 * CEDAR.coil.voltage_v, rel=0.03)
    assert by_test == pytest.approx(CEDAR.coil.voltage_v, rel=0.03)


def graded(habits):
    case = draw_case("in limits", CEDAR, bytes(16))
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, habits, case.order)
    return recorder.evidence()


def test_who_turns_it_with_the_supply_on_is_not_yet_competent():
    """A hand on a shaft that the motor can turn is a critical error, however free it felt."""
    evidence = graded(replace(CAREFUL, turns_locked_off=False))
    grade = grade_evidence(evidence)

    assert grade.standing is Standing.NOT_YET
    assert [one.code for one in grade.critical] == ["harm"]
    assert grade_evidence(graded(CAREFUL)).standing is Standing.RIGHT
