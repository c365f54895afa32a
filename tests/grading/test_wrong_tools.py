"""Instruments that are wrong: looking them over first is what makes the decision right."""

from dataclasses import replace

import pytest

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.worker import work
from quizzes.cases.drawing import draw_case
from quizzes.cases.on_the_job.wrong_tools import WRONG_TOOLS
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from tests import strategies as any_
from tests.grading.jobs import CEDAR
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.brake.condition import sound_condition
from widgets.brake.tools import Tools

TRUSTING = replace(CAREFUL, checks_tools=False)  # as was rewarded before
SEEDS = tuple(bytes([number]) * 16 for number in range(2))
SAFE = (do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead(), *any_.OPENED,
        do.Clean(method="vacuum"))  # fmt: skip


def worked(family: str, seed: bytes, habits) -> CaseGrade:
    case = draw_case(family, CEDAR, seed)
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, habits, case.order)
    return grade_evidence(recorder.evidence())


@pytest.mark.parametrize("family", WRONG_TOOLS, ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS, ids=range(2))
def test_whoever_looks_first_is_right_and_whoever_trusts_is_not(family, seed):
    """The same brake, the same hands: only the look at the instruments is between them."""
    careful, trusting = worked(family.name, seed, CAREFUL), worked(family.name, seed, TRUSTING)

    assert (careful.standing, careful.critical) == (Standing.RIGHT, ())
    assert careful.decided in family.meant
    assert trusting.standing is Standing.NOT_YET
    assert trusting.critical


def test_looking_over_is_worth_marks_also_where_nothing_was_wrong():
    """M1 is whole with the look and half without: once fails nobody, never misses the element."""
    by_habit = {}
    for name, habits in (("looks", CAREFUL), ("trusts", TRUSTING)):
        grade = worked("in limits", SEEDS[0], habits)
        by_habit[name] = next(one.score for one in grade.elements if one.id == "M1")
        assert grade.standing is Standing.RIGHT

    assert by_habit == {"looks": 1.0, "trusts": 0.5}


def opened(**off) -> Bench:
    one = Bench(CEDAR, replace(sound_condition(CEDAR), tools=Tools(**off)), bytes(16))
    one.replay(SAFE)
    return one


def test_bent_leaves_read_low_until_others_are_taken():
    """A stack of the gap's own thickness does not enter any more; common practice, no source."""
    one = opened(leaf_kink_mm=0.05)
    wish = do.GaugeGap(0.0, (0.25, 0.03))

    assert one.act(do.CheckTool("leaves")).facts["straight"] is False
    assert one.act(wish).facts["feel"] == "will-not-enter"
    one.act(do.ChangeTool("leaves"))
    assert one.act(wish).facts["feel"] != "will-not-enter"


def test_a_caliper_off_at_zero_is_off_everywhere_by_the_same():
    """What it shows closed it shows too much over the disc."""
    one = opened(caliper_zero_mm=0.2)

    assert one.act(do.CheckTool("caliper")).facts["zero_mm"] == 0.2
    high_mm = one.act(do.MeasureDisc(0.0)).facts["shown_mm"]
    one.act(do.ChangeTool("caliper"))
    assert high_mm - one.act(do.MeasureDisc(0.0)).facts["shown_mm"] == pytest.approx(0.2, abs=0.1)


def test_a_wrench_that_clicks_early_leaves_the_screw_short():
    """It clicks at what it is set to, as far as anybody hears."""
    one = opened(wrench_share=0.6)
    one.act(do.LoosenLock(1))
    heard = one.act(do.TightenLock(1, 9.5))

    assert heard.facts["torque_nm"] == 9.5
    assert one.state.lock_nm[0] == pytest.approx(5.7)
    assert one.act(do.CheckTool("wrench")).facts == {
        "tool": "wrench",
        "set_nm": 9.5,
        "clicks_nm": 5.7,
    }
