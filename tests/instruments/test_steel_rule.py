"""The steel rule: too coarse for a lining."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.draws import Draws
from widgets.instruments.steel_rule import SteelRule, budget, parallax_mm, steel_rule

DRAWS = Draws(bytes(range(32)))


def test_readings_scatter_as_the_budget_says():
    """10,000 rules and eyes: their errors have the standard deviation of the budget.

    Such a standard deviation has a standard error of 0.7 %; four of them are allowed.
    """
    errors = []
    for number in range(10_000):
        draws = DRAWS.child("budget", number)
        true_mm = 9 + 2 * draws.uniform("true")
        errors.append(steel_rule(draws).read_mm(true_mm, draws, "a") - true_mm)

    assert statistics.pstdev(errors) == pytest.approx(budget().combined, rel=0.028)


@given(st.floats(0, 300), st.integers(0, 1000))
def test_it_reads_to_half_a_millimetre(true_mm, number):
    """Each reading is one of the graduations, and none is below zero."""
    shown = SteelRule().read_mm(true_mm, DRAWS, number)

    assert (2 * shown).is_integer()
    assert shown >= 0


@given(st.floats(-80, 80))
def test_parallax_mirrors_with_the_eye(eye_deg):
    """An eye as far to the other side shifts the reading as far the other way."""
    assert parallax_mm(eye_deg) == -parallax_mm(-eye_deg)


def test_an_eye_from_the_side_reads_another_graduation():
    """At 45 degrees the 1 mm stand-off shifts the reading by two graduations."""
    straight = [SteelRule().read_mm(10.0, DRAWS, i, eye_deg=0.0) for i in range(50)]
    slanted = [SteelRule().read_mm(10.0, DRAWS, i, eye_deg=45.0) for i in range(50)]

    assert [s + 1.0 for s in straight] == slanted


def test_a_worn_end_shifts_every_reading():
    """A rule that reads 0.5 mm too much does so at any length."""
    for true_mm in (2.0, 10.0, 100.0):
        sound = SteelRule().read_mm(true_mm, DRAWS, 1, eye_deg=0.0)
        assert SteelRule(0.5).read_mm(true_mm, DRAWS, 1, eye_deg=0.0) == sound + 0.5


def test_a_rule_cannot_judge_a_lining():
    """Its expanded uncertainty is as large as the whole wear of a lining of 0.35 to 0.70 mm."""
    assert budget().expanded() > 0.35


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: SteelRule().read_mm(-1.0, DRAWS), "thickness_mm must be >= 0"),
        (lambda: SteelRule().read_mm(math.nan, DRAWS), "thickness_mm must be >= 0"),
        (lambda: SteelRule().read_mm(1.0, DRAWS, eye_deg=90.0), "eye_deg must be >= -80"),
        (lambda: SteelRule(math.inf), "zero_error_mm must be"),
        (lambda: parallax_mm(10.0, -1.0), "stand_off_mm must be >= 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """The sentence names the argument and what it may be."""
    with pytest.raises(ValueError, match=words):
        call()
