"""Wear, records and inspection dates: laws and refusals."""

import datetime as dt
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from widgets.brake.wear.duty import (
    DUTY_GROUPS,
    LOAD_SPECTRA,
    full_load_hours_used,
    next_inspection,
    rule_of_thumb_days,
    stops_per_day,
    stops_with_confidence,
)
from widgets.brake.wear.growth import (
    Visit,
    adjustments_left,
    check_record,
    energy_per_mm_mj,
    gap_growth_per_stop_mm,
    recorded_growth_mm,
    stops_until,
)

FIRST_OF_MARCH = dt.date(2026, 3, 1)


@given(energy_j=st.floats(1, 1e5), area=st.floats(100, 1e5), wear=st.floats(10, 300))
def test_what_wears_off_is_the_volume_of_both_faces(energy_j, area, wear):
    """Growth times area is the wear volume; growth times energy per millimetre is the energy."""
    growth = gap_growth_per_stop_mm(energy_j, area, wear)

    assert growth * area == pytest.approx(energy_j * wear / 1e6)
    assert growth * energy_per_mm_mj(area, wear) == pytest.approx(energy_j / 1e6)


@given(gap=st.floats(0.1, 0.79), growth=st.floats(1e-6, 1e-4))
def test_after_the_stops_that_are_left_the_gap_is_at_its_limit(gap, growth):
    """Going on for that many stops ends exactly at the limit."""
    assert gap + growth * stops_until(gap, 0.80, growth) == pytest.approx(0.80)


def test_a_gap_beyond_its_limit_has_no_stops_left():
    """Never a negative number of stops, alone or in an array."""
    assert stops_until(0.95, 0.80, 1e-5) == 0.0
    assert stops_until(np.array([0.7, 0.9]), 0.80, 1e-5) == pytest.approx([10_000, 0])


def test_a_spent_disc_has_no_adjustments_left():
    """8.9 mm of a least 9.0 mm; a new one of 11.0 mm has four runs of 0.5 mm."""
    assert adjustments_left(8.9, 9.0, 0.30, 0.80) == 0.0
    assert adjustments_left(np.array([11.0, 8.9]), 9.0, 0.30, 0.80) == pytest.approx([4.0, 0.0])


def test_growth_is_added_up_across_adjustments():
    """0.30 to 0.70, set to 0.30, to 0.75, set to 0.32, to 0.50: 0.40 + 0.45 + 0.18 mm."""
    visits = [Visit(0.70, 0.30), Visit(0.75, 0.32), Visit(0.50, 0.50)]

    assert recorded_growth_mm(0.30, visits) == pytest.approx(1.03)
    assert recorded_growth_mm(0.30, []) == 0.0


@given(
    steps=st.lists(st.tuples(st.floats(0, 0.5), st.booleans()), max_size=12),
    first=st.floats(0.2, 0.4),
)
def test_a_true_record_always_agrees_with_the_disc(steps, first):
    """However often it was adjusted, what the gap gained the disc has lost."""
    gap, thickness, visits = first, 20.0, []
    for growth, adjusted in steps:
        thickness -= growth
        found = gap + growth
        gap = first if adjusted else found
        visits.append(Visit(found, gap))

    check = check_record(20.0, thickness, recorded_growth_mm(first, visits))
    assert check.agrees
    assert check.mismatch_mm == pytest.approx(0, abs=1e-9)


# Common practice, no source: more than 0.1 mm of mismatch means that something
# is wrong. (measured mm of 11.0 new and 1.0 grown, agrees, word in the sentence)
RECORDS = [
    (10.0, True, "as thick as"),
    (10.1, True, "as thick as"),
    (9.9, True, "as thick as"),
    (10.4, False, "0.40 mm thicker"),
    (9.85, False, "0.15 mm thinner"),
]


@pytest.mark.parametrize(("measured_mm", "agrees", "words"), RECORDS)
def test_a_mismatch_of_more_than_a_tenth_is_told(measured_mm, agrees, words):
    """A disc too thick or too thin for its record is pointed out, and by how much."""
    check = check_record(11.0, measured_mm, 1.0)

    assert check.agrees is agrees
    assert words in check.sentence


@settings(max_examples=40)
@given(
    cv=st.floats(0, 2),
    u_mm=st.floats(0, 0.05),
    low=st.floats(0.5, 0.98),
    higher=st.floats(0.005, 0.019),
)
def test_more_confidence_allows_fewer_stops(cv, u_mm, low, higher):
    """To be surer, look earlier."""
    sure = stops_with_confidence(0.18, 1e-5, cv, gap_u_mm=u_mm, confidence=low + higher)

    assert sure <= stops_with_confidence(0.18, 1e-5, cv, gap_u_mm=u_mm, confidence=low) + 1e-6


@settings(max_examples=40)
@given(cv=st.floats(0, 2), u_mm=st.floats(0.001, 0.05), room=st.floats(0.1, 0.5))
def test_a_poorer_reading_allows_no_more_stops(cv, u_mm, room):
    """At 95 %, uncertainty of the gap only takes stops away."""
    assert (
        stops_with_confidence(room, 1e-5, cv, gap_u_mm=u_mm)
        <= stops_with_confidence(room, 1e-5, cv) * (1 + 1e-6) + 1e-6
    )


def test_without_any_uncertainty_the_stops_are_room_over_growth():
    """0.18 mm at 10 nm a stop: 18 000, at any confidence."""
    assert stops_with_confidence(0.18, 1e-5, 0.0, confidence=0.99) == pytest.approx(18_000)


def test_a_gap_at_its_limit_allows_no_stops():
    """No room, or less room than the reading is uncertain: look at once."""
    assert stops_with_confidence(-0.05, 1e-5, 0.3) == 0.0
    assert stops_with_confidence(0.01, 1e-5, 0.3, gap_u_mm=0.02) == 0.0
    assert stops_with_confidence(0.01, 1e-5, 0.0, gap_u_mm=0.02) == 0.0


def test_the_date_is_never_later_than_the_code_interval():
    """Wear that allows 31.9 days gives 31; one that allows years gives the interval."""
    soon = next_inspection(31.9, FIRST_OF_MARCH, confidence=0.95)
    late = next_inspection(math.inf, FIRST_OF_MARCH, confidence=0.95, code_interval_days=90)

    assert (soon.on, soon.days, soon.by_wear) == (dt.date(2026, 4, 1), 31, True)
    assert "1 April 2026" in soon.sentence
    assert "95%" in soon.sentence
    assert (late.on, late.days, late.by_wear) == (dt.date(2026, 5, 30), 90, False)
    assert "code interval" in late.sentence


@given(days=st.floats(0, 1e6), interval=st.integers(1, 3660))
def test_the_date_obeys_wear_and_code_alike(days, interval):
    """Whichever is sooner, in whole days."""
    plan = next_inspection(days, FIRST_OF_MARCH, confidence=0.9, code_interval_days=interval)

    assert plan.days <= min(days, interval)
    assert plan.days > min(days, interval) - 1


def test_a_harder_duty_group_stops_more_often():
    """Along the groups, starts, duty and life grow; a 3m hoist stops 2400 times in 8 hours."""
    groups = list(DUTY_GROUPS.values())
    lives = [group.full_load_life_h for group in groups if group.full_load_life_h]

    assert stops_per_day(DUTY_GROUPS["3m"], 8) == 2400
    for name in ("starts_per_hour", "duty_percent"):
        column = [getattr(group, name) for group in groups]
        assert column == sorted(set(column))
    assert lives == sorted(set(lives))


BAD = [
    (lambda: gap_growth_per_stop_mm(-1, 1e4), r"energy_j must be >= 0 J, got -1"),
    (lambda: gap_growth_per_stop_mm(1, [1e4, 0]), r"face_area_mm2\[1\] must be > 0 mm², got 0"),
    (lambda: energy_per_mm_mj(1e4, 0), r"wear_mm3_per_mj must be > 0 mm³/MJ, got 0"),
    (lambda: stops_until(0.3, 0.8, 0), r"growth_mm must be > 0 mm, got 0"),
    (lambda: adjustments_left(11, 9, 0.8, 0.3), r"less gap_setting_mm must be > 0 mm, got -0\.5"),
    (lambda: Visit(-0.1, 0.3), r"found_mm must be >= 0 mm, got -0\.1"),
    (lambda: check_record(11, 10, 12), r"growth_mm must be >= -11 and <= 11 mm, got 12"),
    (lambda: recorded_growth_mm(0, []), r"set_when_new_mm must be > 0 mm, got 0"),
    (
        lambda: stops_with_confidence(0.1, 1e-5, 0.3, confidence=1.0),
        r"confidence must be >= 0\.5 and < 1, got 1",
    ),
    (lambda: stops_with_confidence(0.1, 1e-5, -0.3), r"growth_cv must be >= 0 and <= 3, got -0\.3"),
    (lambda: rule_of_thumb_days(100, 0), r"stops_per_day must be > 0 1/day, got 0"),
    (
        lambda: next_inspection(-1, FIRST_OF_MARCH, confidence=0.9),
        r"days_by_wear must be >= 0 days, got -1",
    ),
    (
        lambda: next_inspection(math.nan, FIRST_OF_MARCH, confidence=0.9),
        r"days_by_wear must be >= 0 days, got nan",
    ),
    (lambda: stops_per_day(DUTY_GROUPS["3m"], 25), r"hours_per_day must be >= 0 and <= 24 h"),
    (lambda: full_load_hours_used(LOAD_SPECTRA["heavy"], -1), r"running_h must be >= 0 h, got -1"),
]


@pytest.mark.parametrize(("call", "message"), BAD)
def test_impossible_wear_is_refused(call, message):
    """The sentence names the argument, the range and the value."""
    with pytest.raises(ValueError, match=message):
        call()
