"""Verdicts of the models: what is right follows from the numbers that a person reads."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.questions.answers import conclusion, right_answer
from quizzes.questions.bank import the_bank
from quizzes.questions.models import MODELS
from quizzes.questions.models.drawn import DrawAgainError, Drawn
from quizzes.questions.models.forces import PITCH_MM
from quizzes.questions.posing import draw_question
from tests.questions.bank_texts import KEY, SHEET
from tests.questions.test_models import CEDAR, KEYS, SIZES, computed
from widgets.brake.draws import Draws
from widgets.brake.gap.profile import Plane

BANK = the_bank()


def numbers(text: str) -> list[float]:
    """Return the numbers of a question as somebody reads them, the size's name left out."""
    plain = re.sub(r"[A-Z][a-z]+-\d+", "", text)
    return [float(one) for one in re.findall(r"\d+(?:\.\d+)?", plain)]


def asked(name: str, key: bytes, size: str = "") -> tuple[str, list[float], str]:
    """Return text, numbers and right answer of a draw."""
    posed = draw_question(BANK.item(name), key, SHEET, size)
    text = str(posed.shown["text"])
    return text, numbers(text), right_answer(posed.hidden)


@given(KEYS, SIZES)
def test_a_hot_afternoon_follows_from_the_printed_voltages(key, size):
    """By hand: less than low mains give is enough on any day, less than full mains on a good one."""
    _, (full, _cold, _hot_c, needed, low), right = asked("hot-afternoon", key, size.name)

    if needed < low:
        assert right.startswith("It opens, even")
    elif needed < full:
        assert right.startswith("It opens on full mains")
    else:
        assert right.startswith("It stays shut")


@given(KEYS, SIZES)
def test_a_release_is_good_if_the_printed_hot_voltage_is_below_that_of_low_mains(key, size):
    """By hand, from the two numbers of the question."""
    _, (_cold, hot, low), right = asked("pick-up-too-high", key, size.name)

    assert (right == "The release is good") is (hot < low)


@given(KEYS, SIZES)
def test_a_reading_is_clear_of_its_limit_by_more_than_its_uncertainty(key, size):
    """JCGM 106:2012, 8.3.2, w = U: never asked between 1.645 and 2 standard uncertainties."""
    _, (limit, reading, expanded, _), right = asked("near-the-limit", key, size.name)
    inside = (limit - reading) / (expanded / 2)

    assert not 1.645 <= abs(inside) <= 2
    assert right == ("Yes" if inside > 2 else "No" if inside < -2 else "These readings cannot tell")


@given(st.sampled_from([one for one in BANK if one.kind == "decide"]), KEYS)
def test_no_decision_is_asked_where_either_can_be_defended(item, key):
    """Widest gap and thinnest disc lie clear of 1.645 to 2 standard uncertainties of their limits."""
    hidden = draw_question(item, key, SHEET).hidden
    gaps, discs, size = hidden.values["gaps"], hidden.values["discs"], hidden.size
    widest, thinnest = max(gaps, key=lambda r: r.value_mm), min(discs, key=lambda r: r.value_mm)
    inside = (
        (size.gap.max_mm - widest.value_mm) / widest.u_mm,
        (thinnest.value_mm - size.disc.min_mm) / thinnest.u_mm,
    )

    assert all(not 1.6449 <= abs(one) <= 2 for one in inside)
    assert conclusion(hidden).arguable == frozenset()


@given(KEYS, SIZES)
def test_what_lasts_until_the_next_inspection_follows_by_hand(key, size):
    """What the gap gains the disc loses; the disc decides first."""
    _, found, right = asked("lasts-till-inspection", key, size.name)
    gap, gap_max, disc, disc_min, growth = found

    if disc - growth < disc_min:
        assert right == "Replace the disc"
    else:
        assert right == ("Adjust" if gap + growth > gap_max else "Leave it as it is")


@given(KEYS)
def test_the_plate_says_which_limit_counts(key):
    """By hand: the reading against the row that the plate names; without a plate, no row."""
    text, (reading, *_), right = asked("row-of-this-size", key)
    rows = dict(zip(re.findall(r"size (\S+?)[ .]", text), numbers(text)[1:], strict=True))
    plate = re.search(r"The nameplate says (\S+)\.", text)

    if plate is None:
        assert right.startswith("Nothing yet")
    else:
        within = reading < rows[plate[1]]
        assert right == ("It is within its limit" if within else "It is beyond its limit")


@given(KEYS)
def test_what_turns_is_told_from_what_stays_by_the_printed_readings(key):
    """By hand: half of the sum of both differences stays, half of their difference turns."""
    _, (top, bottom, top_two, bottom_two), right = asked("moved-to-the-other-side", key)
    stays, turns = (abs((top - bottom) + sign * (top_two - bottom_two)) / 2 for sign in (1, -1))

    if turns > 3 * stays:
        assert right.startswith("Something that turns")
    else:
        assert right.startswith("The magnet body" if stays > 3 * turns else "Both")


@given(SIZES, st.sampled_from([0.25, 0.5]))
def test_a_slack_screw_lets_the_body_rise_by_its_pitch(size, share):
    """Outside check: coarse pitches of ISO 261, M4 0.7, M5 0.8, M6 1.0, M8 1.25 mm (from memory)."""
    pitch_mm = {"M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25}[size.screws.retaining_thread]

    assert computed("slack_screws", size, turn_share=share)["lift_mm"] == share * pitch_mm


def test_coarse_pitches_are_those_of_the_standard():
    """Outside check: ISO 261, coarse series, M10 1.5, M12 1.75, M16 2, M20 2.5 mm (from memory)."""
    assert (PITCH_MM["M10"], PITCH_MM["M12"]) == (1.5, 1.75)
    assert (PITCH_MM["M16"], PITCH_MM["M20"]) == (2.0, 2.5)


def test_a_screw_is_turned_by_the_plane_and_not_by_the_reading_beside_it():
    """By hand: a tilt towards 0° asks most of screw 1, at 0°, and less of the other two."""
    seen = set()
    for number in range(60):
        drawn = Drawn(
            CEDAR, {"gap_share": 0.8, "tilt_share": 1.6}, Draws(number.to_bytes(16, "big"))
        )
        try:
            got = MODELS["levelling"].compute(drawn, SHEET)
        except DrawAgainError:
            continue
        widest = max(got["gaps"], key=lambda reading: reading.value_mm).angle_deg
        if widest == 0:
            assert got["verdict"] == ("more" if got["asked_screw"] == 1 else "less")
            seen.add(got["asked_screw"])
    assert seen


@pytest.mark.parametrize(("found_percent", "verdict"), [(100, "sound"), (50, "diode"), (0, "dead")])
def test_half_of_nine_tenths_is_an_open_diode(found_percent, verdict):
    """Outside check: a bridge with one diode open is a half-wave rectifier, half of the mean."""
    got = computed("rectifier", supply_v=230, found_percent=found_percent)

    assert got["verdict"] == verdict
    assert got["half_wave_v"] / got["bridge_v"] == pytest.approx(0.5, abs=0.002)


@pytest.mark.parametrize(("off", "verdict"), [(-20, "low"), (0, "sound"), (30, "high")])
def test_a_coil_is_compared_at_its_own_temperature(off, verdict):
    """Outside check: at 100 °C copper has 1.314 of its cold resistance, IEC 60028."""
    got = computed("coil_reading", coil_c=100, off_percent=off)

    assert got["verdict"] == verdict
    assert got["sound_ohm"] == pytest.approx(1.3144 * CEDAR.coil.resistance_20_ohm, rel=1e-3)


@pytest.mark.parametrize(
    ("share", "verdict"), [(-0.4, "tight"), (0.0, "fine"), (0.8, "fine"), (1.8, "wide")]
)
def test_a_gap_lies_below_between_or_beyond_its_limits(share, verdict):
    """By hand: Cedar-47, 0.20 least, 0.30 setting, 0.80 mm largest."""
    assert computed("set_gap", gap_share=share)["verdict"] == verdict


@pytest.mark.parametrize(("short", "verdict"), [(0.0, "right"), (0.6, "thin"), (-0.5, "thick")])
def test_a_disc_of_another_thickness_is_another_disc(short, verdict):
    """By hand: off by more than a caliper can be."""
    assert computed("odd_disc", short_mm=short)["verdict"] == verdict


@pytest.mark.parametrize(
    ("gap", "play", "verdict"), [(0.4, 1.3, "free"), (0.4, 0.7, "later"), (0.9, 0.5, "touches")]
)
def test_play_is_used_up_by_wear(gap, play, verdict):
    """By hand: play less growth, now and at the largest gap."""
    assert computed("lever_play", gap_share=gap, play_share=play)["verdict"] == verdict


def test_a_new_disc_without_its_wear_plate_comes_out_nearly_right():
    """What `came-right-by-itself` says, by hand: 2 mm of wear and a plate of 2 mm cancel."""
    worn_mm = plate_mm = 2.0
    stand_off_mm = CEDAR.disc.new_mm - worn_mm + CEDAR.gap.setting_mm + plate_mm

    assert stand_off_mm - CEDAR.disc.new_mm == pytest.approx(CEDAR.gap.setting_mm)
    assert Plane(CEDAR.gap.setting_mm).at_mm(90) == CEDAR.gap.setting_mm


def test_a_verdict_that_the_numbers_do_not_bear_is_drawn_again():
    """A situation asks for a verdict; numbers that come to another are never shown."""
    item = BANK.item("lasts-till-inspection")
    for one in item.settled():
        for number in range(20):
            hidden = draw_question(one, bytes([number]) * 16, SHEET).hidden
            assert hidden.values["verdict"] == one.when
    assert KEY
