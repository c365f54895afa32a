"""Rates, beliefs and mastery: laws that any count keeps, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from quizzes.analysis.people.mastery import (
    SCEPTICAL,
    UNIFORM,
    Beliefs,
    Mastery,
    cases_needed,
    chance_above,
)
from quizzes.analysis.rates import (
    cases_without_miss,
    exact_rate,
    upper_bound,
)

COUNTS = st.integers(0, 200)
SHARES = st.floats(0.01, 0.99)


@st.composite
def counts_of(draw, least=1, most=300):
    """Draw how many of how many."""
    cases = draw(st.integers(least, most))
    return draw(st.integers(0, cases)), cases


@given(COUNTS, COUNTS, SHARES)
def test_one_more_right_decision_never_lowers_the_posterior(rights, wrongs, bar):
    """Nor does one more wrong decision ever raise it."""
    here, right, wrong = chance_above(
        [rights, rights + 1, rights], [wrongs, wrongs, wrongs + 1], bar
    )

    assert right >= here >= wrong


@given(COUNTS, COUNTS, SHARES)
def test_the_chances_above_and_below_a_bar_are_one(rights, wrongs, bar):
    """A rate is above the bar or below it."""
    known = UNIFORM.after(rights, wrongs)

    assert known.chance_above(bar) + known.chance_below(bar) == pytest.approx(1, abs=1e-12)
    assert known.lower(0.9) <= known.upper(0.9)


@given(COUNTS, COUNTS, COUNTS, COUNTS)
def test_beliefs_do_not_mind_the_order_of_cases(right, wrong, more_right, more_wrong):
    """Two sittings one after the other are one long one."""
    stepwise = UNIFORM.after(right, wrong).after(more_right, more_wrong)

    assert stepwise == UNIFORM.after(right + more_right, wrong + more_wrong)


def test_many_counts_at_once_are_the_single_ones():
    """A table of counts gives the table of chances, in its shape."""
    rights, wrongs = np.array([[10], [20]]), np.array([0, 1, 2])
    found = chance_above(rights, wrongs, 0.8)

    assert found.shape == (2, 3)
    assert found[1, 2] == UNIFORM.after(20, 2).chance_above(0.8)


@given(counts_of(), SHARES)
def test_the_exact_interval_holds_the_share_and_more_confidence_widens_it(counts, confidence):
    """It never leaves 0 to 1."""
    count, cases = counts
    found, wider = exact_rate(count, cases, confidence), exact_rate(count, cases, 0.995)

    assert 0 <= found.low <= found.share <= found.high <= 1
    assert wider.low <= found.low
    assert wider.high >= found.high


@pytest.mark.parametrize("rate", [0.05, 0.5, 0.9])
def test_the_exact_interval_covers_at_least_as_often_as_it_says(rate):
    """All counts of 24 cases, weighed by scipy.stats.binom: 95 % or more, never less."""
    covered = sum(
        stats.binom.pmf(count, 24, rate)
        for count in range(25)
        if exact_rate(count, 24).low <= rate <= exact_rate(count, 24).high
    )

    assert covered >= 0.95


@given(counts_of())
def test_a_one_sided_bound_is_an_end_of_the_wider_interval(counts):
    """95 % on one side is the upper end of 90 % on both, and rights mirror wrongs."""
    count, cases = counts
    both, mirrored = exact_rate(count, cases, 0.90), exact_rate(cases - count, cases, 0.90)

    assert upper_bound(count, cases) == pytest.approx(both.high, abs=1e-9)
    assert both.low == pytest.approx(1 - mirrored.high, abs=1e-9)


@given(st.integers(1, 5000), SHARES)
def test_the_cases_for_a_bound_just_reached_are_those(cases, confidence):
    """A miss rate q shows no miss in n cases with the chance (1 - q)^n; one case more tightens."""
    bound = -math.expm1(math.log1p(-confidence) / cases)

    assert cases_without_miss(bound, confidence) == cases
    assert upper_bound(0, cases, confidence) == pytest.approx(bound, abs=1e-9)
    assert upper_bound(0, cases + 1, confidence) < upper_bound(0, cases, confidence)


@given(st.integers(0, 20), st.floats(0.5, 0.95), st.floats(0.5, 0.99))
def test_the_cases_needed_are_just_enough(wrongs, bar, sure):
    """One case fewer does not make us sure, and one more wrong never needs fewer."""
    cases = cases_needed(wrongs, bar, sure)

    assert chance_above(cases - wrongs, wrongs, bar) >= sure
    if cases > max(1, wrongs):
        assert chance_above(cases - 1 - wrongs, wrongs, bar) < sure
    assert cases_needed(wrongs + 1, bar, sure) >= cases


def test_a_bar_that_nobody_could_show_is_refused():
    """A rate above 99.99 % needs some thirty thousand cases."""
    with pytest.raises(ValueError, match="No form of 10000 cases or fewer"):
        cases_needed(0, 0.9999, 0.95)


def test_mastery_counts_misses_of_unsafe_cases_only():
    """Ten unsafe of twenty-four, none missed: 26 % may be; nothing is known without any."""
    one = Mastery(22, 24, misses=0, unsafe_cases=10)

    assert one.wrongs == 2
    assert one.miss_bound() == pytest.approx(1 - 0.05**0.1, rel=1e-12)
    assert Mastery(24, 24).miss_bound() == 1.0
    assert one.miss_rate == Beliefs(1.0, 11.0)


def test_a_sceptical_start_expects_misses_as_it_expects_wrongs():
    """Four right to one wrong before the first case is one miss to four before the first."""
    one = Mastery(10, 10, 0, 5, prior=SCEPTICAL)

    assert one.right_rate == Beliefs(14.0, 1.0)
    assert one.miss_rate == Beliefs(1.0, 9.0)


def test_sittings_add_up():
    """Counts are added; what was known before the first counts once."""
    both = Mastery(10, 12, 1, 5) + Mastery(11, 12, 0, 6)

    assert both == Mastery(21, 24, 1, 11)
    assert both.right_rate == Beliefs(22.0, 4.0)
    with pytest.raises(ValueError, match="start from the same beliefs"):
        both + Mastery(1, 1, prior=SCEPTICAL)


@given(counts_of(most=60))
def test_the_cases_that_are_still_needed_are_enough(counts):
    """With that many more, all right, we are sure; with one fewer we are not."""
    rights, cases = counts
    one = Mastery(rights, cases)
    more = one.more_cases_at_least(0.8, 0.95)
    after = one.right_rate.after(more, 0)

    assert after.chance_above(0.8) >= 0.95
    if more:
        assert one.right_rate.after(more - 1, 0).chance_above(0.8) < 0.95


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Mastery(25, 24), "rights must be at most cases, which is 24; got 25"),
        (lambda: Mastery(20, 24, 3, 2), "misses must be at most unsafe_cases, which is 2; got 3"),
        (lambda: Mastery(20, 24, 0, 25), "unsafe_cases must be at most cases"),
        (lambda: Mastery(22, 24, 3, 10), "misses must be at most the 2 wrong decisions, got 3"),
        (lambda: Mastery(-1, 24), "rights must be >= 0"),
        (lambda: Mastery(1.5, 24), "rights must be a whole number, got 1.5"),
        (lambda: Mastery(True, 24), "rights must be a whole number, got True"),
        (lambda: Mastery(math.nan, 24), "rights must be >= 0"),
        (lambda: Beliefs(0, 1), "rights must be > 0, got 0"),
        (lambda: UNIFORM.after(-1, 0), "rights must be >= 0, got -1"),
        (lambda: UNIFORM.chance_above(1.2), "bar must be >= 0 and <= 1, got 1.2"),
        (lambda: UNIFORM.lower(1.0), "confidence must be > 0 and < 1, got 1"),
        (lambda: chance_above([3, 2.5], 0), r"rights\[1\] must be a whole number, got 2.5"),
        (lambda: chance_above([3, -2], 0), r"rights\[1\] must be >= 0"),
        (lambda: exact_rate(0, 0), "cases must be >= 1"),
        (lambda: exact_rate(3, 2), "count must be at most cases, which is 2; got 3"),
        (lambda: exact_rate(1, 2, 95), "confidence must be > 0 and < 1, got 95"),
        (lambda: upper_bound(0, 0), "cases must be >= 1"),
        (lambda: cases_without_miss(0.0), "rate must be > 0 and < 1, got 0"),
    ],
)
def test_impossible_counts_are_refused_by_name(call, words):
    """One sentence with the name, the rule and the value."""
    with pytest.raises(ValueError, match=words):
        call()
