"""Numbers of the models on opening up, fitting and proving, against calculations by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.questions.models import MODELS
from quizzes.questions.models.drawn import DrawAgainError, Drawn
from tests.questions.bank_texts import KEY, SHEET
from tests.questions.test_models import CEDAR, SIZES, computed
from widgets.brake.draws import Draws


def test_the_springs_push_as_many_kilograms_as_by_hand():
    """Outside check: weight W = m g with g = 9.81 m/s² (ISO 80000-3); energy F²/2k (Hooke)."""
    got = computed("spring_push")
    springs = CEDAR.springs
    force_n = springs.count * springs.force_each_n

    assert got["force_n"] == pytest.approx(force_n)
    assert got["hangs_kg"] == pytest.approx(force_n / 9.81, rel=1e-3)
    assert got["energy_j"] == pytest.approx(
        force_n**2 / (2 * springs.count * springs.rate_each_n_per_mm) / 1000
    )


@given(SIZES)
def test_test_loads_are_those_of_the_standard(size):
    """Outside check: ISO 4310, 1.25 times the rated load at rest, 1.1 times moving (from memory)."""
    static, dynamic = (
        computed("load_test", size, ordered_percent=percent, ready_percent=100)
        for percent in (125, 110)
    )

    assert static["ordered_kg"] == pytest.approx(1.25 * size.hoist.load_kg, rel=5e-4)
    assert dynamic["ordered_kg"] == pytest.approx(1.1 * size.hoist.load_kg, rel=5e-4)
    assert static["verdict"] == "as ordered"


def test_a_lever_without_play_takes_its_rate_times_the_distance():
    """Outside check by hand: 3 kN/mm (common practice, no source) times what lies beyond the play."""
    got = computed("lever_play", gap_share=0.8, play_share=0.6)

    assert got["verdict"] == "touches"
    assert got["over_mm"] == pytest.approx(got["gap_mm"] - CEDAR.gap.setting_mm - got["play_mm"])
    assert got["taken_n"] == pytest.approx(3000 * got["over_mm"], abs=0.5)  # force told in newtons
    assert got["needed_play_mm"] == pytest.approx(0.50)  # Cedar-47: 0.80 less 0.30 mm


def test_a_new_disc_asks_for_the_screws_to_come_out():
    """Outside check by hand: the stack of plate, disc and gap is as thick after as the screws say."""
    got = computed("new_disc", gap_share=0.8, disc_share=1.0)
    before_mm = got["disc_mm"] + got["gap_mm"]
    after_mm = CEDAR.disc.new_mm + CEDAR.gap.setting_mm

    assert got["out_mm"] == pytest.approx(after_mm - before_mm)
    assert got["out_turns"] == pytest.approx((after_mm - before_mm) / 1.5)  # M10 coarse, ISO 261


def test_what_locking_took_the_pitch_gives_back():
    """Outside check by hand: 0.05 mm on a pitch of 1.5 mm (M10 coarse, ISO 261) is 12°."""
    got = computed("locking", shift_mm=0.05)

    assert got["locked_mm"] == pytest.approx(CEDAR.gap.setting_mm - 0.05)
    assert got["out_deg"] == pytest.approx(12.0)


@given(SIZES)
def test_a_plate_left_out_is_in_the_gap(size):
    """Outside check by hand: what is not in the stack is missing between plate and magnet."""
    got = computed("plate_left_out", size)

    assert got["without_mm"] - got["plate_mm"] == pytest.approx(size.gap.setting_mm)
    assert got["without_mm"] > size.gap.max_mm


def test_without_its_wear_plate_a_brake_shows_a_gap_that_no_wear_makes():
    """Outside check: DOMAIN D 19, Cedar-47 with its plate of 2.0 mm missing reads 2.3 mm."""
    assert computed("plate_left_out")["without_mm"] == pytest.approx(2.3)


def test_a_disc_that_is_too_thin_has_lost_that_much_of_its_life():
    """Outside check by hand: Cedar-47 is 11.0 mm new and 9.0 at least; 0.6 short leaves 1.4 mm."""
    got = computed("odd_disc", short_mm=0.6)

    assert got["shown_mm"] == pytest.approx(10.4)
    assert got["spare_mm"] == pytest.approx(1.4)


@given(SIZES, st.sampled_from([0.0, 0.3, 0.6, 0.9]))
def test_a_lining_on_the_scale_lies_between_new_and_least(size, share):
    """A question shows a lining that can be: no thicker than new, hardly thinner than its least."""
    got = computed("lining_on_scale", size, lining_share=share) if _shows(size, share) else None

    assert got is None or (
        size.disc.lining_min_mm - 0.05 <= got["value_mm"] <= size.disc.lining_new_mm + 0.05
    )


def _shows(size, share: float) -> bool:
    try:
        MODELS["lining_on_scale"].compute(Drawn(size, {"lining_share": share}, Draws(KEY)), SHEET)
    except DrawAgainError:
        return False
    return True


def test_closed_jaws_show_the_zero_error_and_nothing_else():
    """What is drawn is what the scale is asked to show."""
    assert computed("closed_jaws", zero_mm=0.15)["value_mm"] == 0.15


@given(SIZES, st.sampled_from([-0.15, 0.1, 0.2]))
def test_a_zero_error_is_taken_off(size, zero_mm):
    """Outside check: correction of a systematic error, JCGM 200, 2.53: true = shown - error."""
    got = computed("zero_error", size, disc_share=0.5, zero_mm=zero_mm)

    assert got["shown_mm"] - zero_mm == pytest.approx(got["true_mm"])
