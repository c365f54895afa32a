"""The caliper: what it shows of a disc."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.draws import Draws
from widgets.instruments.caliper import Caliper, budget, caliper

DRAWS = Draws(bytes(range(32)))


def test_readings_scatter_as_the_budget_says():
    """10,000 instruments: their errors have the standard deviation of the budget.

    Such a standard deviation has a standard error of 0.7 %; four of them are allowed.
    """
    errors = []
    for number in range(10_000):
        draws = DRAWS.child("budget", number)
        true_mm = 9 + (11 - 9) * draws.uniform("true")
        errors.append(caliper(draws).read_mm(true_mm, draws, "a") - true_mm)
    stated = budget().combined

    assert statistics.pstdev(errors) == pytest.approx(stated, rel=0.028)
    assert abs(statistics.fmean(errors)) < 4 * stated / 100


@given(st.floats(0, 150), st.integers(0, 1000))
def test_the_display_moves_in_hundredths(true_mm, number):
    """Every reading is a whole number of 0.01 mm, written with no stray digits."""
    shown = caliper(DRAWS).read_mm(true_mm, DRAWS, number)

    assert shown == round(shown, 2)
    assert shown == pytest.approx(true_mm, abs=0.25)


def test_out_of_square_reads_high():
    """Outside check: 10 mm at 10 degrees spans 10 / cos 10 = 10.154 mm, five-figure tables."""
    straight = Caliper().read_mm(10.0, DRAWS, "a")
    askew = Caliper().read_mm(10.0, DRAWS, "a", tilt_deg=10)

    assert askew - straight == pytest.approx(0.154, abs=0.011)  # two roundings to 0.01 mm


def test_a_zero_error_is_seen_before_measuring_and_can_be_keyed_away():
    """What the instrument shows at zero is what it reads too much."""
    off = Caliper(zero_error_mm=0.12)
    plain = Caliper()

    assert off.closed_mm() == 0.12
    assert off.zeroed().closed_mm() == 0.0
    assert off.read_mm(10.0, DRAWS, "a") == pytest.approx(plain.read_mm(10.0, DRAWS, "a") + 0.12)
    assert off.zeroed().read_mm(10.0, DRAWS, "a") == plain.read_mm(10.0, DRAWS, "a")


def test_one_place_read_once_reads_the_same_again():
    """The labels of a reading fix its noise; other labels give another."""
    first = [Caliper().read_mm(10.0, DRAWS, "a", i) for i in range(30)]

    assert first == [Caliper().read_mm(10.0, DRAWS, "a", i) for i in range(30)]
    assert len(set(first)) > 3


@pytest.mark.parametrize("bad_mm", [-0.1, 151.0, math.nan, math.inf])
def test_what_it_cannot_span_is_refused(bad_mm):
    """A length is 0 to 150 mm."""
    with pytest.raises(ValueError, match=r"thickness_mm must be >= 0 and <= 150 mm"):
        Caliper().read_mm(bad_mm, DRAWS)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Caliper().read_mm(10.0, DRAWS, tilt_deg=-1), "tilt_deg must be >= 0"),
        (lambda: Caliper(zero_error_mm=math.nan), "zero_error_mm must be"),
        (lambda: Caliper(scale_error_mm=2.0), "scale_error_mm must be"),
        (lambda: budget(-0.03), "value of 'declared error of the"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """The sentence names the argument and what it may be."""
    with pytest.raises(ValueError, match=words):
        call()
