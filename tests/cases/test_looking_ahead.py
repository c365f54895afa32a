"""The time until the next inspection counts: rule, date, question and cases say the same."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from quizzes.candidates.habits import CAREFUL
from quizzes.candidates.worker import work
from quizzes.cases.carrying import cannot_carry
from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from quizzes.cases.next_due import MONTH_DAYS, growth_until_next_mm, next_days
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import Standing, grade_evidence
from quizzes.questions.bank import the_bank
from quizzes.questions.posing import draw_question
from tests import strategies as any_
from widgets.bench.scene import fixed_scene
from widgets.bench.setup import Order, Start
from widgets.brake.judgement.rules import Outcome, Reading, conclude

CEDAR = any_.SHEET.size("Cedar-47")  # gap 0.30 to 0.80 mm, disc 11.0 to 9.0 mm
AHEAD = [name for name, family in FAMILIES.items() if family.ahead]
NOT_AHEAD = replace(CAREFUL, looks_ahead=False)


def gaps(mm: float) -> list[Reading]:
    return [Reading(45.0 * place, mm, 0.0086) for place in range(8)]


def discs(mm: float) -> list[Reading]:
    return [Reading(90.0 * place, mm, 0.030) for place in range(4)]


@pytest.mark.parametrize(
    ("gap_mm", "disc_mm", "growth_mm", "outcome"),
    [
        (0.60, 9.50, 0.00, Outcome.FIT),
        (0.60, 9.50, 0.10, Outcome.FIT),
        (0.60, 9.50, 0.30, Outcome.ADJUST),  # 0.90 mm by then, 0.80 allowed
        (0.40, 9.20, 0.30, Outcome.REPLACE),  # 8.90 mm by then, 9.0 asked for
        (0.60, 9.20, 0.30, Outcome.REPLACE),  # both: a gap is not set on a disc that will not last
        (0.90, 9.20, 0.30, Outcome.REPLACE),
    ],
)
def test_what_passes_a_limit_before_somebody_looks_again_is_dealt_with_today(
    gap_mm, disc_mm, growth_mm, outcome
):
    """Disc first, then gap. Common practice, no source; sums by hand."""
    found = conclude(CEDAR, gaps(gap_mm), discs(disc_mm), growth_mm)

    assert found.outcome is outcome
    assert not growth_mm or any("at-next-inspection" in one.code for one in found.reasons)


def test_what_lasts_until_today_only_is_no_danger_today():
    """Passing it is wrong and lets nothing fall: somebody may look sooner."""
    assert conclude(CEDAR, gaps(0.60), discs(9.20), 0.30).unsafe == frozenset()


ORDERS = st.builds(
    Order,
    stops_per_day=st.sampled_from((60.0, 240.0)),
    most_days=st.just(365),
    planned_days=st.integers(1, 365),
    grows_mm_per_month=st.none() | st.floats(0.01, 0.3),
)


@given(any_.SIZES, ORDERS, st.floats(0, 1), st.floats(0, 1))
def test_the_rule_passes_what_the_date_lets_last(size, order, gap_share, disc_share):
    """Fit exactly where the next date may be the planned one; never one without the other.

    The date keeps 2 u of a limit and the rule a little less: within half a u they may differ.
    """
    gap_mm = size.gap.setting_mm + gap_share * (size.gap.max_mm - size.gap.setting_mm)
    disc_mm = size.disc.min_mm + disc_share * (size.disc.new_mm - size.disc.min_mm)
    grows_mm = growth_until_next_mm(size, order)
    room_mm = min(size.gap.max_mm - gap_mm - 2 * 0.0086, disc_mm - size.disc.min_mm - 2 * 0.03)
    assume(room_mm > 0 and abs(room_mm - grows_mm) > 0.5 * 0.03)
    found = conclude(size, gaps(gap_mm), discs(disc_mm), grows_mm)
    days = next_days(size, order, gaps(gap_mm), discs(disc_mm))

    assert (found.outcome is Outcome.FIT) == (days == order.planned_days)
    assert days <= order.planned_days


def test_an_estimate_counts_twice_and_a_record_once():
    """Without records half of the calculated life is used. Common practice, no source."""
    order = Order(planned_days=60, grows_mm_per_month=0.06)

    assert growth_until_next_mm(CEDAR, replace(order, recorded=True)) == pytest.approx(0.12)
    assert growth_until_next_mm(CEDAR, order) == pytest.approx(0.24)
    assert MONTH_DAYS == 30
    assert growth_until_next_mm(CEDAR, Order()) == 0.0


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (
            {"planned_days": 200, "most_days": 180},
            "planned_days must be >= 1 and <= 180 days, got 200",
        ),
        ({"grows_mm_per_month": -0.1}, "grows_mm_per_month must be > 0 mm, got -0.1"),
        ({"recorded": True}, "recorded must be false where no grows_mm_per_month is given"),
        (
            {"load_hangs": True, "start": Start.OPEN},
            "load_hangs must be false where the job starts at 'open'",
        ),
    ],
)
def test_a_work_order_that_contradicts_itself_is_refused(wrong, says):
    """One sentence: what, and what was expected."""
    with pytest.raises(ValueError, match="must be") as refused:
        Order(**wrong)
    assert says in str(refused.value)


def worked(case, habits):
    recorder = Recorder(case)
    work(recorder.act, any_.SHEET, habits, case.order)
    return recorder.evidence()


@pytest.mark.parametrize("family", AHEAD)
@pytest.mark.parametrize("depth", Depth)
def test_who_looks_ahead_is_right_and_who_judges_today_alone_is_not(family, depth):
    """On every size that can carry it; where all lasts, both are right."""
    right = next(iter(FAMILIES[family].meant))
    for number, size in enumerate(any_.SHEET.sizes):
        if cannot_carry(family, size):
            continue
        case = draw_case(family, size, number.to_bytes(16), depth)
        careful, today_only = worked(case, CAREFUL), worked(case, NOT_AHEAD)

        assert careful.taken is right, size.name
        assert grade_evidence(careful).standing is Standing.RIGHT, size.name
        assert today_only.taken is Outcome.FIT, size.name
        wanted = Standing.RIGHT if right is Outcome.FIT else Standing.NOT_YET
        assert grade_evidence(today_only).standing is wanted, size.name


def test_four_sizes_or_more_can_carry_them():
    """A family that no size carries would be no family."""
    for family in AHEAD:
        assert sum(not cannot_carry(family, size) for size in any_.SHEET.sizes) >= 4


def test_the_order_says_the_date_and_the_growth_and_nothing_tells_the_three_apart():
    """Date and growth stand in words and on the hand-over panel, whatever is right."""
    for family in AHEAD:
        case = draw_case(family, CEDAR, bytes(16))
        shown = fixed_scene(case.setup(), any_.SHEET, case.work_order)

        assert f"planned in {case.order.planned_days} days" in case.work_order
        assert f"grows by {case.order.grows_mm_per_month:.2f} mm in 30 days" in case.work_order
        assert shown["planned_days"] == case.order.planned_days


@given(any_.SEEDS)
def test_the_question_keys_what_the_rule_concludes(seed):
    """`lasts-till-inspection`: its verdict and `conclude` are of one mind."""
    bank = the_bank()
    values = draw_question(bank.item("lasts-till-inspection"), seed, any_.SHEET).hidden
    size, drawn = values.size, values.values
    found = conclude(size, gaps(drawn["gap_mm"]), discs(drawn["disc_mm"]), drawn["growth_mm"])

    # The question's readings are exact: the guard band of a reading does not come into it.
    assert str(found.outcome) == drawn["verdict"] or _guarded(size, drawn)


def _guarded(size, drawn) -> bool:
    gap_room_mm = size.gap.max_mm - drawn["gap_mm"] - drawn["growth_mm"]
    disc_room_mm = drawn["disc_mm"] - drawn["growth_mm"] - size.disc.min_mm
    return 0 <= gap_room_mm < 0.0172 or 0 <= disc_room_mm < 0.06
