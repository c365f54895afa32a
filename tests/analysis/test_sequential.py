"""The sequential test: boundaries, decisions and its exact course."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.analysis.people.performance import performance, wald_mean_cases, wald_pass_chance
from quizzes.analysis.people.sequential import SequentialTest, Verdict, run, standing
from quizzes.analysis.quality.lengths import pass_chance, pass_chance_without_miss, shortest_form


@st.composite
def sequential_tests(draw):
    """Draw any two rates a little apart, two error rates and a cut."""
    low = draw(st.floats(0.2, 0.85))
    high = draw(st.floats(low + 0.08, 0.985))
    errors = [draw(st.floats(0.01, 0.25)) for _ in range(2)]
    return SequentialTest(low, high, *errors, draw(st.integers(1, 80)))


@given(sequential_tests())
def test_boundaries_never_fall_and_never_meet(test):
    """With each case both marks rise by 0 or 1, and what passes is above what fails."""
    found = test.boundaries()
    passing = [one.pass_at_least for one in found if one.pass_at_least is not None]
    failing = [one.fail_at_most for one in found if one.fail_at_most is not None]

    assert set(np.diff(passing)) <= {0, 1}
    assert set(np.diff(failing)) <= {0, 1}
    for one in found:
        if one.pass_at_least is not None and one.fail_at_most is not None:
            assert one.fail_at_most < one.pass_at_least


@given(sequential_tests(), st.integers(0, 80), st.integers(0, 80))
def test_a_right_in_place_of_a_wrong_never_makes_it_worse(test, rights, wrongs):
    """Not yet, go on, competent is an order, and it rises with right decisions."""
    if rights + wrongs >= test.most_cases:
        return
    order = [Verdict.NOT_YET, Verdict.GO_ON, Verdict.COMPETENT]
    better = order.index(test.decide(rights + 1, wrongs))
    worse = order.index(test.decide(rights, wrongs + 1))

    assert better >= worse


@given(sequential_tests())
def test_the_chances_of_all_ends_are_one(test):
    """Competent and not yet; and the test ends somewhere between its first case and its cut."""
    curve = performance(test, [0.0, 0.3, test.not_yet_rate, test.competent_rate, 1.0])

    assert curve.competent + curve.not_yet == pytest.approx(1, abs=1e-12)
    assert curve.ending.sum(axis=0) == pytest.approx(1, abs=1e-12)
    assert (curve.cut <= curve.not_yet + 1e-12).all()
    assert ((curve.mean_cases >= 1 - 1e-12) & (curve.mean_cases <= test.most_cases + 1e-9)).all()


@given(sequential_tests())
def test_a_better_candidate_passes_more_often(test):
    """The exact operating curve never falls."""
    curve = performance(test, np.linspace(0, 1, 41))

    assert (np.diff(curve.competent) >= -1e-12).all()


@given(sequential_tests())
def test_the_exact_false_pass_keeps_walds_bound_whatever_the_cut(test):
    """Wald's inequality: P(pass | p0) <= alpha / (1 - beta); the cut only ever lowers it.

    Source: Wald, *Sequential Analysis* (1947), 3.2 (from memory). Likewise
    P(crossed the lower line | p1) <= beta / (1 - alpha).
    """
    curve = performance(test, [test.not_yet_rate, test.competent_rate])

    assert curve.competent[0] <= test.false_pass / (1 - test.false_fail) + 1e-12
    failed = curve.not_yet[1] - curve.cut[1]
    assert failed <= test.false_fail / (1 - test.false_pass) + 1e-12


@pytest.mark.parametrize("rates", [(0.6, 0.85, 25), (0.7, 0.9, 40), (0.8, 0.95, 60)])
def test_the_exact_false_pass_of_the_tests_in_use_is_within_the_nominal_one(rates):
    """The three tests of the scheme pass at most 5 % of those who must not pass."""
    test = SequentialTest(*rates[:2], most_cases=rates[2])

    assert performance(test, rates[0]).competent[0] <= 0.05


@given(sequential_tests())
def test_a_later_cut_never_passes_fewer(test):
    """Truncation costs passes and never gives any."""
    later = SequentialTest(
        test.not_yet_rate,
        test.competent_rate,
        test.false_pass,
        test.false_fail,
        test.most_cases + 10,
    )
    rates = [0.5, test.not_yet_rate, test.competent_rate]

    assert (performance(later, rates).competent >= performance(test, rates).competent - 1e-12).all()


def test_the_exact_course_agrees_with_sittings_drawn_by_chance():
    """Forty thousand sittings; the tolerance is four standard errors of each share."""
    test, rng = SequentialTest(), np.random.default_rng(7)
    draws = rng.random((40_000, 40)) < 0.85
    steps = np.where(draws, math.log(0.9 / 0.7), math.log(0.1 / 0.3)).cumsum(axis=1)
    up, down = steps >= math.log(0.9 / 0.05), steps <= math.log(0.1 / 0.95)
    first = np.where((up | down).any(axis=1), (up | down).argmax(axis=1), 39)
    passed = up[np.arange(40_000), first]
    curve = performance(test, 0.85)

    assert curve.competent[0] == pytest.approx(passed.mean(), abs=4 * 0.5 / 200)
    assert curve.mean_cases[0] == pytest.approx((first + 1).mean(), abs=4 * 12 / 200)


@given(sequential_tests())
def test_walds_formulas_meet_the_nominal_error_rates(test):
    """At the two rates themselves the approximation gives alpha and 1 - beta exactly."""
    at = [wald_pass_chance(test, rate) for rate in (test.not_yet_rate, test.competent_rate)]

    assert at == pytest.approx([test.false_pass, 1 - test.false_fail], rel=1e-6)


@pytest.mark.parametrize("rate", [1e-300, 1e-9, 0.5, 1 - 1e-12])
def test_walds_formulas_hold_out_at_the_ends(rate):
    """No overflow where a rate is all but 0 or 1; a mean length is positive."""
    test = SequentialTest()

    assert 0 <= wald_pass_chance(test, rate) <= 1
    assert wald_mean_cases(test, rate) > 0


def test_walds_mean_length_is_smooth_over_the_slope():
    """The limit taken at the slope is what lies on either side of it."""
    test = SequentialTest()
    left, at, right = (wald_mean_cases(test, test.slope + d) for d in (-1e-5, 0, 1e-5))

    assert left == pytest.approx(at, rel=1e-3)
    assert right == pytest.approx(at, rel=1e-3)


@given(sequential_tests(), st.lists(st.booleans(), max_size=100))
def test_the_first_decision_stands_whatever_follows(test, decisions):
    """Cases after the deciding one change nothing but the count of what was left over."""
    result = run(test, decisions)
    counted = decisions[: result.cases]

    assert result.rights == sum(counted)
    assert result.cases + result.left_over == len(decisions)
    if result.left_over:
        assert result.verdict is not Verdict.GO_ON
        assert run(test, counted).verdict is result.verdict
    for shorter in range(result.cases):
        assert run(test, decisions[:shorter]).verdict is Verdict.GO_ON


@given(sequential_tests(), st.lists(st.booleans(), max_size=100))
def test_what_is_still_needed_is_just_enough(test, decisions):
    """That many more, all right, pass; one fewer does not; None where the cut leaves no way."""
    result = run(test, decisions)
    more = result.more_to_pass
    if result.verdict is not Verdict.GO_ON:
        return
    left = test.most_cases - result.cases
    if more is None:
        ends = {run(test, [*decisions, *[True] * n]).verdict for n in range(left + 1)}
        assert Verdict.COMPETENT not in ends
    else:
        assert run(test, [*decisions, *[True] * more]).verdict is Verdict.COMPETENT
        assert run(test, [*decisions, *[True] * (more - 1)]).verdict is Verdict.GO_ON


def test_undecided_at_the_cut_is_not_yet():
    """Thirty-four of forty lies between 30 and 35."""
    result = standing(SequentialTest(), 34, 6)

    assert result.verdict is Verdict.NOT_YET
    assert result.cut
    assert not standing(SequentialTest(), 0, 3).cut
    assert not standing(SequentialTest(), 12, 0).cut


def test_what_is_decided_needs_nothing_more():
    """Nought to the end that was reached, and no way to the other."""
    passed, failed = standing(SequentialTest(), 12, 0), standing(SequentialTest(), 0, 3)

    assert (passed.more_to_pass, passed.more_to_fail) == (0, None)
    assert (failed.more_to_pass, failed.more_to_fail) == (None, 0)


def test_nothing_is_decided_before_the_first_case():
    """No case: go on, twelve right to pass, three wrong to fail."""
    result = run(SequentialTest(), [])

    assert result.verdict is Verdict.GO_ON
    assert (result.more_to_pass, result.more_to_fail) == (12, 3)


@given(st.floats(0.3, 0.8), st.floats(0.12, 0.19), st.floats(0.02, 0.3), st.floats(0.02, 0.3))
def test_the_shortest_form_keeps_its_two_error_rates(low, apart, false_pass, false_fail):
    """Both, and one right fewer would let too many through."""
    form = shortest_form(low, low + apart, false_pass, false_fail)

    assert form.false_pass <= false_pass
    assert form.false_fail <= false_fail
    assert pass_chance(low, form.cases, form.pass_at_least - 1) > false_pass


@given(st.floats(0, 1), st.floats(0, 1), st.integers(1, 40), st.data())
def test_a_rule_against_misses_never_helps(rate, share, cases, data):
    """And without an unsafe case, or without misses, it changes nothing."""
    right = data.draw(st.integers(0, cases))
    unsafe = data.draw(st.integers(0, cases))
    plain = float(pass_chance(rate, cases, right))
    strict = pass_chance_without_miss(rate, share * (1 - rate), cases, right, unsafe)

    assert strict <= plain + 1e-9
    assert pass_chance_without_miss(rate, 0.0, cases, right, unsafe) == pytest.approx(plain)
    assert pass_chance_without_miss(rate, share * (1 - rate), cases, right, 0) == pytest.approx(
        plain
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: SequentialTest(0.9, 0.7), "competent_rate must be above not_yet_rate"),
        (lambda: SequentialTest(0.9, 0.9), "competent_rate must be above not_yet_rate"),
        (lambda: SequentialTest(0.7, 1.0), "competent_rate must be > 0 and < 1, got 1"),
        (lambda: SequentialTest(false_pass=0.6, false_fail=0.5), "together must be below 1"),
        (lambda: SequentialTest(most_cases=0), "most_cases must be >= 1"),
        (lambda: SequentialTest(most_cases=2000), "most_cases must be .*<= 1000"),
        (lambda: SequentialTest().decide(41, 0), "at most 40, where the test is cut; got 41"),
        (lambda: SequentialTest().decide(-1, 0), "rights must be >= 0"),
        (lambda: SequentialTest().boundary(41), "cases must be >= 1 and <= 40, got 41"),
        (lambda: performance(SequentialTest(), [0.5, 1.5]), r"rate\[1\] must be"),
        (lambda: wald_mean_cases(SequentialTest(), 1.0), "rate must be > 0 and < 1"),
        (lambda: shortest_form(0.5, 0.501), "more than 5000 cases would be needed"),
        (lambda: shortest_form(0.9, 0.5), "competent_rate must be above not_yet_rate"),
        (lambda: pass_chance(0.5, 10, 11), "pass_at_least must be at most cases"),
        (lambda: pass_chance_without_miss(0.9, 0.2, 10, 5, 5), "miss_rate must be"),
    ],
)
def test_an_impossible_test_is_refused_by_name(call, words):
    """One sentence with the name, the rule and the value."""
    with pytest.raises(ValueError, match=words):
        call()
