"""Numbers of the models against calculations by hand and against the outside."""

import math
from statistics import fmean

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.questions.models import MODELS
from quizzes.questions.models.drawn import DrawAgainError, Drawn
from quizzes.questions.scales import leaf_stack_mm, vernier_marks_mm
from tests.questions.bank_texts import KEY, SHEET
from widgets.brake.draws import Draws
from widgets.brake.gap.profile import SCREW_ANGLES_DEG

CEDAR = SHEET.size("Cedar-47")
SIZES = st.sampled_from(SHEET.sizes)
KEYS = st.binary(min_size=16, max_size=16)


def computed(name: str, size=CEDAR, key: bytes = KEY, **numbers: object) -> dict:
    """Return what a model makes of a draw; further draws of the same numbers if it asks."""
    for attempt in range(60):
        draws = Draws(key).child(attempt)
        try:
            return dict(MODELS[name].compute(Drawn(size, numbers, draws), SHEET))
        except DrawAgainError:
            continue
    pytest.fail("these numbers make no question")


def test_a_spring_of_eight_is_an_eighth_of_the_torque():
    """Outside check: one of n equal springs in parallel carries 1/n; 8 springs, 12.5 %."""
    dogwood = next(size for size in SHEET.sizes if size.springs.count == 8)

    assert computed("broken_spring", dogwood)["loss_percent"] == pytest.approx(12.5)


@given(SIZES, st.sampled_from([0.4, 0.6, 0.8, 1.0]))
def test_force_and_torque_follow_by_hand(size, share):
    """Outside check: F = n (F1 - k dg) (Hooke), M = 2 mu F (ri + ro)/2 (Shigley ch. 16, uniform wear)."""
    got = computed("clamping", size, gap_share=share)
    growth_mm = got["gap_mm"] - size.gap.setting_mm
    springs, lining = size.springs, size.lining
    force_n = springs.count * (springs.force_each_n - springs.rate_each_n_per_mm * growth_mm)
    force_n = round(force_n)  # as it is printed
    radius_m = (lining.inner_radius_mm + lining.outer_radius_mm) / 2000

    assert got["force_n"] == pytest.approx(force_n)
    assert got["torque_nm"] == pytest.approx(2 * lining.friction * force_n * radius_m, rel=6e-4)
    assert got["torque_one_face_nm"] == pytest.approx(got["torque_nm"] / 2)


def test_a_hot_coil_has_three_tenths_more():
    """Outside check: IEC 60028, 0.393 % a kelvin, so 1.314 times at 100 °C."""
    got = computed("coil_hot", coil_c=100)

    assert got["hot_ohm"] / CEDAR.coil.resistance_20_ohm == pytest.approx(1.3144, abs=1e-4)
    assert got["cold_a"] / got["hot_a"] == pytest.approx(1.3144, abs=1e-4)


@pytest.mark.parametrize("coil_c", [60, 80, 100, 120])
def test_temperature_by_resistance_agrees_with_the_rule_for_machines(coil_c):
    """Outside check: IEC 60034-1, R2/R1 = (235 + t2)/(235 + t1); the two books differ by 0.4 K."""
    got = computed("coil_temperature", coil_c=coil_c)
    by_rule_c = got["measured_ohm"] / CEDAR.coil.resistance_20_ohm * (235 + 20) - 235

    assert got["found_c"] == pytest.approx(by_rule_c, abs=0.5)
    assert got["found_c"] == pytest.approx(coil_c, abs=0.3)  # rounding of the ohmmeter's display


def test_a_release_voltage_goes_with_the_resistance():
    """Outside check: ampere-turns decide, so U_hot / U_cold is the ratio of copper, 1.3144."""
    got = computed("hot_release", share_percent=60, coil_c=20)

    assert got["hot_v"] / got["measured_v"] == pytest.approx(1.3144, abs=1e-4)


def test_rectified_mains_are_the_book_values():
    """Outside check: 0.900 and 0.450 of 230 V are 207 V and 104 V, mean of a rectified sine."""
    got = computed("rectifier", supply_v=230, found_percent=100)

    assert got["bridge_v"] == pytest.approx(207, abs=0.5)
    assert got["half_wave_v"] == pytest.approx(103.5, abs=0.5)
    assert got["open_diode_v"] == pytest.approx(got["bridge_v"] / 2, abs=0.3)


def test_a_longer_delay_costs_the_speed_times_the_delay_and_more():
    """Law: the load only gains speed before the brake bites, so it goes further than v dt."""
    got = computed("stopping", delay_ms=40, delay_long_ms=250)

    assert got["at_speed_mm"] == pytest.approx(got["speed_mm_per_s"] * 0.210)
    assert got["more_mm"] > got["at_speed_mm"]


def test_an_even_gap_is_closed_by_the_pitch():
    """Outside check by hand: Cedar-47, pitch 1.5 mm, 0.30 mm too wide is a fifth of a turn, 72°."""
    got = computed("even_turn", gap_share=0.6)

    assert got["change_mm"] == pytest.approx(0.30)
    assert got["turn_deg"] == pytest.approx(72.0)
    assert got["flat_mm"] == pytest.approx(0.25)  # M10 coarse, ISO 261: 1.5 mm / 6


@given(KEYS, st.sampled_from([0.5, 0.8, 1.1]), st.sampled_from([1.0, 1.4, 2.0]))
def test_the_screws_turns_level_what_was_read(key, gap_share, tilt_share):
    """Outside check: a plane through the readings by numpy's own fit, put to the three screws."""
    got = computed("levelling", key=key, gap_share=gap_share, tilt_share=tilt_share)
    angles = np.radians([reading.angle_deg for reading in got["gaps"]])
    values = np.array([reading.value_mm for reading in got["gaps"]])
    design = np.column_stack([np.ones(8), np.cos(angles), np.sin(angles)])
    mean, cos, sin = np.linalg.lstsq(design, values, rcond=None)[0]
    screws = np.radians(SCREW_ANGLES_DEG)
    ratio = CEDAR.screws.gauging_circle_mm / CEDAR.screws.pitch_circle_mm
    needed = mean - CEDAR.gap.setting_mm + (cos * np.cos(screws) + sin * np.sin(screws)) / ratio

    assert got["most_screw"] == int(needed.argmax()) + 1
    assert got["most_in_deg"] == pytest.approx(360 * needed.max() / CEDAR.screws.pitch_mm)


@given(SIZES, KEYS, st.sampled_from([0.8, 1.6, 2.4]))
def test_a_round_has_the_mean_and_the_spread_of_its_list(size, key, tilt_share):
    """Outside check: mean and range of the printed list, as a person works them out."""
    got = computed("round_the_rim", size, key, gap_share=0.6, tilt_share=tilt_share)
    values = [float(text) for text in got["listed"].split(", ")]

    assert got["mean_mm"] == pytest.approx(fmean(values), abs=5.1e-4)  # three decimals
    assert got["spread_mm"] == pytest.approx(max(values) - min(values))
    assert values[int(got["widest_deg"] / 45)] == max(values)


def test_the_shaft_turned_by_half_parts_body_from_disc():
    """Outside check by hand: 0.30 and 0.10 mm of spread add in one position, subtract in the other."""
    got = computed("reversal", body_um=50, disc_um=150)

    assert got["top_one_mm"] - got["bottom_one_mm"] == pytest.approx(0.40)
    assert abs(got["top_two_mm"] - got["bottom_two_mm"]) == pytest.approx(0.20)
    assert got["disc_spread_mm"] == pytest.approx((0.40 + 0.20) / 2)
    assert got["body_spread_mm"] == pytest.approx((0.40 - 0.20) / 2)


def test_a_bracket_of_five_hundredths_has_the_uncertainty_of_the_books():
    """Outside check: 0.025/√3 from the step (JCGM 100, 4.3.7) is the most of u, and less than u."""
    got = computed("bracket", go_mm=0.4, step_mm=0.05)

    assert got["middle_mm"] == pytest.approx(0.425)
    assert got["step_u_mm"] == pytest.approx(0.025 / math.sqrt(3), abs=5e-4)
    assert got["expanded_mm"] == pytest.approx(
        2 * math.sqrt(got["step_u_mm"] ** 2 + got["rest_u_mm"] ** 2)
    )
    assert 0.025 / math.sqrt(3) < got["u_mm"] < 1.3 * 0.025 / math.sqrt(3)


@given(SIZES, st.sampled_from([0.3, 0.5, 0.9]))
def test_both_linings_share_the_wear(size, share):
    """Outside check: plate plus twice the lining is the disc, before and after."""
    got = computed("lining_left", size, disc_share=share)
    plate_mm = size.disc.new_mm - 2 * size.disc.lining_new_mm

    assert plate_mm + 2 * got["lining_mm"] == pytest.approx(got["disc_mm"], abs=0.002)


def test_what_the_disc_loses_the_gap_gains():
    """Outside check by hand: a spare of two runs from setting to largest gap is two runs."""
    got = computed("runs_left", disc_share=0.5)
    run_mm = CEDAR.gap.max_mm - CEDAR.gap.setting_mm

    assert got["runs"] == pytest.approx((got["disc_mm"] - CEDAR.disc.min_mm) / run_mm)


def test_the_days_to_the_next_inspection_follow_by_hand():
    """Outside check by hand: half of (room less U) over growth a day; half by common practice."""
    got = computed("days_left", gap_share=0.4, growth_um=0.02, stops_per_day=240, u_mm=0.04)
    room_mm = CEDAR.gap.max_mm - got["gap_mm"] - 0.04

    assert got["days"] == pytest.approx(0.5 * room_mm / (0.02e-3 * 240))


def test_growth_between_two_readings_goes_on_as_before():
    """Outside check by hand: a straight line through two readings."""
    got = computed("growth_rate", gap_share=0.5, then_share=0.2, days_between=60)
    per_day = (got["now_mm"] - got["then_mm"]) / 60

    assert got["days"] == pytest.approx((CEDAR.gap.max_mm - got["now_mm"]) / per_day)


def test_the_record_leads_one_to_expect_a_thickness():
    """Outside check by hand: new less both runs of growth."""
    got = computed("record_check", found_one_share=1.0, found_two_share=0.8, mismatch_mm=-0.3)
    grown = got["found_one_mm"] + got["found_two_mm"] - 2 * CEDAR.gap.setting_mm

    assert got["expected_mm"] == pytest.approx(CEDAR.disc.new_mm - grown)
    assert got["mismatch_mm"] == pytest.approx(0.3)


# ---- drawn scales ----


@given(st.integers(20, 1000), st.sampled_from([10, 20]))
def test_the_vernier_line_that_meets_a_mark_is_the_reading(steps, divisions):
    """Outside check: principle of the vernier, reading = whole mm + line / divisions."""
    value_mm = steps / divisions
    marks, meets = vernier_marks_mm(value_mm, divisions)

    assert math.floor(value_mm + 1e-9) + meets / divisions == pytest.approx(value_mm)
    assert marks[meets] == pytest.approx(round(marks[meets]))
    assert marks[0] == pytest.approx(value_mm)


@given(st.integers(33, 98), KEYS)
def test_a_drawn_stack_adds_up(hundredths, key):
    """The marks on the drawn leaves sum to the value, and no leaf is there twice."""
    stack = leaf_stack_mm(hundredths / 100, Draws(key))

    assert sum(stack) == pytest.approx(hundredths / 100)
    assert 2 <= len(stack) == len(set(stack)) <= 3


def test_a_stack_that_no_leaves_make_is_refused():
    """Two thinnest leaves are 0.07 mm together; less cannot be drawn."""
    with pytest.raises(ValueError, match=r"0\.04 mm"):
        leaf_stack_mm(0.04, Draws(KEY))
