"""The rule: from readings and limits to fit, adjust, replace or refer."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import strategies as any_
from widgets.brake.gap.profile import GapField, Plane
from widgets.brake.judgement.remark import remark
from widgets.brake.judgement.rules import Outcome, Reading, conclude

CEDAR = any_.SHEET.size("Cedar-47")  # gap 0.30 to 0.80 mm, evenness 0.08 mm
EIGHT = [45.0 * place for place in range(8)]
U_MM = 0.0086  # of a gap read with stacks in 0.01 mm
DISC_U_MM = 0.030
SERIOUS = [Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER]


def gaps(field: Plane | GapField, u_mm: float = U_MM) -> list[Reading]:
    return [Reading(angle, field.at_mm(angle), u_mm) for angle in EIGHT]


def discs(mm: float) -> list[Reading]:
    return [Reading(angle, mm, DISC_U_MM) for angle in (0.0, 120.0, 240.0)]


LEAST = CEDAR.disc.min_mm
WARPED = GapField(Plane(0.55), warp_mm=0.06, warp_deg=30)


@pytest.mark.parametrize(
    ("gap", "disc_mm", "outcome"),
    [
        (Plane(0.30), LEAST + 1, Outcome.FIT),
        (Plane(0.60), LEAST + 1, Outcome.FIT),
        (Plane(0.90), LEAST + 1, Outcome.ADJUST),
        (Plane(0.60, 0.08), LEAST + 1, Outcome.ADJUST),  # 0.16 mm from widest to narrowest
        (Plane(0.15), LEAST + 1, Outcome.ADJUST),  # too tight: the disc drags
        (Plane(0.30), LEAST - 0.2, Outcome.REPLACE),
        (Plane(0.90), LEAST - 0.2, Outcome.REPLACE),
        (Plane(0.60, 0.08), LEAST - 0.2, Outcome.REPLACE),
        (WARPED, LEAST + 1, Outcome.REFER),
        (WARPED, LEAST - 0.2, Outcome.REFER),
    ],
)
def test_the_order_is_refer_replace_adjust_fit(gap, disc_mm, outcome):
    """Far from every limit each fault has its outcome, and the graver one goes first.

    Common practice, no source.
    """
    found = conclude(CEDAR, gaps(gap), discs(disc_mm))

    assert found.outcome is outcome
    assert found.arguable == frozenset()
    assert outcome not in found.unsafe
    assert found.reasons


@pytest.mark.parametrize(
    ("gap", "disc_mm", "unsafe"),
    [
        (Plane(0.60), LEAST + 1, set()),
        (Plane(0.90), LEAST + 1, {Outcome.FIT}),
        (Plane(0.60), LEAST - 0.2, {Outcome.FIT, Outcome.ADJUST}),
        (WARPED, LEAST + 1, {Outcome.FIT}),
    ],
)
def test_what_could_let_a_load_fall_is_named(gap, disc_mm, unsafe):
    """Passing too wide a gap, passing or adjusting a worn disc. Common practice, no source."""
    assert conclude(CEDAR, gaps(gap), discs(disc_mm)).unsafe == unsafe


@given(st.floats(-3, 3))
def test_within_the_uncertainty_of_the_disc_limit_the_safe_side_is_taken(us):
    """From the limit up to 1.5 standard uncertainties clear of it a disc is replaced.

    Source: guarded acceptance, JCGM 106:2012, 8.3.2.
    """
    outcome = conclude(CEDAR, gaps(Plane(0.5)), discs(LEAST + us * DISC_U_MM)).outcome

    if us <= 1.5:
        assert outcome is Outcome.REPLACE
    if us >= 2.1:
        assert outcome is Outcome.FIT


@given(st.floats(-3, 3))
def test_within_the_uncertainty_of_the_largest_gap_the_safe_side_is_taken(us):
    """Beyond the limit, or nearer than 1.5 standard uncertainties: adjust."""
    gap = Plane(CEDAR.gap.max_mm - us * U_MM)
    outcome = conclude(CEDAR, gaps(gap), discs(LEAST + 1)).outcome

    if us <= 1.5:
        assert outcome is Outcome.ADJUST
    if us >= 2.1:
        assert outcome is Outcome.FIT


@given(st.floats(0.25, 1.2), st.floats(0, 0.4), st.floats(8, 12), st.floats(8, 12))
def test_a_thinner_disc_never_asks_for_less(mean_mm, wider_mm, one_mm, other_mm):
    """Same gap, less lining: the outcome is the same or graver. And a wider gap is no cure."""
    thin_mm, thick_mm = sorted((one_mm, other_mm))
    thin = conclude(CEDAR, gaps(Plane(mean_mm)), discs(thin_mm)).outcome
    thick = conclude(CEDAR, gaps(Plane(mean_mm)), discs(thick_mm)).outcome
    wider = conclude(CEDAR, gaps(Plane(mean_mm + wider_mm)), discs(thick_mm)).outcome

    assert SERIOUS.index(thin) >= SERIOUS.index(thick)
    assert SERIOUS.index(wider) >= SERIOUS.index(thick)


@given(st.permutations(range(8)), st.floats(0.25, 1.2), st.floats(0, 0.1))
def test_the_order_of_the_readings_does_not_matter(order, mean_mm, tilt_mm):
    """A person may go round either way."""
    readings = gaps(Plane(mean_mm, tilt_mm))
    shuffled = conclude(CEDAR, [readings[index] for index in order], discs(LEAST + 1))
    straight = conclude(CEDAR, readings, discs(LEAST + 1))

    assert shuffled.outcome is straight.outcome
    assert shuffled.unsafe == straight.unsafe


@given(any_.SIZES, st.floats(0.01, 3), st.floats(0, 0.3), st.floats(5, 20))
def test_the_outcome_itself_is_never_among_the_unsafe(size, mean_mm, tilt_mm, disc_mm):
    """Nor is anything both arguable and unsafe."""
    readings = gaps(Plane(mean_mm, min(tilt_mm, mean_mm)))
    found = conclude(size, readings, discs(disc_mm))

    assert found.outcome not in found.unsafe
    assert not found.arguable & found.unsafe


def test_one_bad_place_is_enough():
    """The widest reading and the thinnest place count, not the mean."""
    readings = gaps(Plane(0.5))
    readings[3] = Reading(135.0, 0.9, U_MM)
    thin = [*discs(LEAST + 1), Reading(60.0, LEAST - 0.2, DISC_U_MM)]

    assert conclude(CEDAR, readings, discs(LEAST + 1)).outcome is not Outcome.FIT
    assert conclude(CEDAR, readings, discs(LEAST + 1)).worst_gap_mm == 0.9
    assert conclude(CEDAR, gaps(Plane(0.5)), thin).outcome is Outcome.REPLACE
    assert conclude(CEDAR, gaps(Plane(0.5)), thin).thinnest_disc_mm == LEAST - 0.2


def test_without_readings_nothing_is_concluded_and_fit_cannot_be_defended():
    """No disc: not even adjusting is safe; no gap: passing is not."""
    nothing = conclude(CEDAR, [], [])
    no_disc = conclude(CEDAR, gaps(Plane(0.5)), [])
    no_gap = conclude(CEDAR, [], discs(LEAST + 1))

    assert [found.outcome for found in (nothing, no_disc, no_gap)] == [None] * 3
    assert {Outcome.FIT, Outcome.ADJUST} <= no_disc.unsafe
    assert Outcome.FIT in no_gap.unsafe
    assert math.isnan(nothing.worst_gap_mm)
    assert nothing.reasons[0] == remark("readings.missing", of=["gap", "disc"])


def test_two_places_say_nothing_of_evenness():
    """A plane needs three; two even readings are not enough to pass."""
    found = conclude(CEDAR, gaps(Plane(0.5))[:2], discs(LEAST + 1))

    assert found.outcome is not Outcome.FIT
    assert remark("gap.too-few-places") in found.reasons


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        ((0.0, -0.1, 0.01), "reading value_mm"),
        ((0.0, math.nan, 0.01), "reading value_mm"),
        ((math.inf, 0.5, 0.01), "reading angle_deg"),
        ((0.0, 0.5, 0.0), "reading u_mm must be > 0 mm"),
    ],
)
def test_a_reading_that_cannot_be_is_refused(reading, words):
    """By name and range."""
    with pytest.raises(ValueError, match=words):
        Reading(*reading)
