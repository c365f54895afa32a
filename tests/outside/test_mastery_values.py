"""Mastery, test lengths, cut scores and consistency against published values and other libraries.

Tables marked "scheme" are the project's worked assessment tables (ASSESS.md 1.4 to 1.9 and its
data files), computed there apart from this code; each is recomputed here with scipy.stats or
statsmodels as well, so that neither the table nor our code is its own witness.
"""

import itertools
import math

import numpy as np
import pytest
from scipy import integrate, stats
from statsmodels.regression.linear_model import OLS
from statsmodels.stats.inter_rater import cohens_kappa
from statsmodels.stats.proportion import proportion_confint

from quizzes.analysis.people.calibration import MARKS, MEANT, quadratic_score
from quizzes.analysis.people.mastery import (
    JEFFREYS,
    SCEPTICAL,
    UNIFORM,
    Beliefs,
    cases_needed,
    chance_above,
)
from quizzes.analysis.people.performance import performance, wald_mean_cases
from quizzes.analysis.people.retention import chance_still_above, faded_rate, kept_share
from quizzes.analysis.people.sequential import SequentialTest, Verdict
from quizzes.analysis.quality.accuracy import effective_length, livingston_lewis
from quizzes.analysis.quality.consistency import beta_binomial, kr21, subkoviak
from quizzes.analysis.quality.cut_score import angoff, cut_in_use, ebel
from quizzes.analysis.quality.judgements import EbelCell, Judgements
from quizzes.analysis.quality.lengths import pass_chance, pass_chance_without_miss, shortest_form
from quizzes.analysis.quality.parallel import form_spread, spread_from_chances
from quizzes.analysis.rates import (
    cases_without_miss,
    exact_rate,
    upper_bound,
)

# Scheme, ASSESS.md 1.5 and binomial_test_length.csv: rates, error rates, cases, right, exact errors
FORMS = [
    (0.5, 0.8, 0.05, 0.05, 28, 19, 0.043579, 0.039071),
    (0.5, 0.8, 0.05, 0.1, 23, 16, 0.04657, 0.071506),
    (0.5, 0.8, 0.05, 0.2, 18, 13, 0.048126, 0.132916),
    (0.5, 0.8, 0.1, 0.1, 19, 13, 0.083534, 0.0676),
    (0.5, 0.8, 0.01, 0.1, 35, 25, 0.008337, 0.074709),
    (0.5, 0.9, 0.05, 0.05, 13, 10, 0.046143, 0.034161),
    (0.5, 0.9, 0.05, 0.1, 11, 9, 0.032715, 0.089562),
    (0.5, 0.9, 0.05, 0.2, 8, 7, 0.035156, 0.186895),
    (0.5, 0.9, 0.1, 0.1, 9, 7, 0.089844, 0.052972),
    (0.5, 0.9, 0.01, 0.1, 17, 14, 0.006363, 0.082641),
    (0.6, 0.8, 0.05, 0.05, 60, 43, 0.041288, 0.042697),
    (0.6, 0.8, 0.05, 0.1, 45, 33, 0.044631, 0.099454),
    (0.6, 0.8, 0.05, 0.2, 36, 27, 0.044897, 0.16758),
    (0.6, 0.8, 0.1, 0.1, 36, 26, 0.090363, 0.088913),
    (0.6, 0.8, 0.01, 0.1, 70, 52, 0.008906, 0.092539),
    (0.6, 0.85, 0.05, 0.05, 33, 25, 0.04442, 0.049479),
    (0.6, 0.85, 0.05, 0.1, 27, 21, 0.042093, 0.098573),
    (0.6, 0.85, 0.05, 0.2, 21, 17, 0.036956, 0.197471),
    (0.6, 0.85, 0.1, 0.1, 21, 16, 0.09574, 0.082735),
    (0.6, 0.85, 0.01, 0.1, 42, 33, 0.008846, 0.088586),
    (0.6, 0.9, 0.05, 0.05, 24, 19, 0.039971, 0.027658),
    (0.6, 0.9, 0.05, 0.1, 17, 14, 0.046423, 0.082641),
    (0.6, 0.9, 0.05, 0.2, 14, 12, 0.039792, 0.15836),
    (0.6, 0.9, 0.1, 0.1, 15, 12, 0.090502, 0.055556),
    (0.6, 0.9, 0.01, 0.1, 25, 21, 0.009471, 0.097994),
    (0.7, 0.9, 0.05, 0.05, 41, 34, 0.045826, 0.047663),
    (0.7, 0.9, 0.05, 0.1, 37, 31, 0.043967, 0.071085),
    (0.7, 0.9, 0.05, 0.2, 28, 24, 0.047427, 0.142112),
    (0.7, 0.9, 0.1, 0.1, 25, 21, 0.090472, 0.097994),
    (0.7, 0.9, 0.01, 0.1, 53, 45, 0.009955, 0.078454),
    (0.7, 0.95, 0.05, 0.05, 24, 21, 0.042398, 0.029782),
    (0.7, 0.95, 0.05, 0.1, 19, 17, 0.046224, 0.066546),
    (0.7, 0.95, 0.05, 0.2, 14, 13, 0.047476, 0.152986),
    (0.7, 0.95, 0.1, 0.1, 16, 14, 0.09936, 0.042938),
    (0.7, 0.95, 0.01, 0.1, 30, 27, 0.009317, 0.060772),
    (0.8, 0.95, 0.05, 0.05, 50, 45, 0.048027, 0.037776),
    (0.8, 0.95, 0.05, 0.1, 44, 40, 0.04401, 0.067476),
    (0.8, 0.95, 0.05, 0.2, 30, 28, 0.044179, 0.187821),
    (0.8, 0.95, 0.1, 0.1, 32, 29, 0.093093, 0.073805),
    (0.8, 0.95, 0.01, 0.1, 62, 57, 0.009047, 0.089058),
    (0.8, 0.98, 0.05, 0.05, 30, 28, 0.044179, 0.021718),
    (0.8, 0.98, 0.05, 0.1, 22, 21, 0.047962, 0.070957),
    (0.8, 0.98, 0.05, 0.2, 22, 21, 0.047962, 0.070957),
    (0.8, 0.98, 0.1, 0.1, 18, 17, 0.099079, 0.049509),
    (0.8, 0.98, 0.01, 0.1, 39, 37, 0.009481, 0.042863),
    (0.85, 0.95, 0.05, 0.05, 93, 85, 0.049633, 0.043214),
    (0.85, 0.95, 0.05, 0.1, 76, 70, 0.049713, 0.085589),
    (0.85, 0.95, 0.05, 0.2, 59, 55, 0.046908, 0.171867),
    (0.85, 0.95, 0.1, 0.1, 60, 55, 0.096799, 0.078719),
    (0.85, 0.95, 0.01, 0.1, 121, 112, 0.009274, 0.082069),
    (0.9, 0.98, 0.05, 0.05, 89, 85, 0.049698, 0.033402),
    (0.9, 0.98, 0.05, 0.1, 76, 73, 0.046973, 0.066257),
    (0.9, 0.98, 0.05, 0.2, 61, 59, 0.049118, 0.123129),
    (0.9, 0.98, 0.1, 0.1, 52, 50, 0.096633, 0.085934),
    (0.9, 0.98, 0.01, 0.1, 113, 109, 0.009413, 0.077145),
    (0.9, 0.99, 0.05, 0.05, 61, 59, 0.049118, 0.023408),
    (0.9, 0.99, 0.05, 0.1, 46, 45, 0.048004, 0.077531),
    (0.9, 0.99, 0.05, 0.2, 46, 45, 0.048004, 0.077531),
    (0.9, 0.99, 0.1, 0.1, 38, 37, 0.095295, 0.055455),
    (0.9, 0.99, 0.01, 0.1, 81, 79, 0.009831, 0.047996),
]


@pytest.mark.parametrize("row", FORMS, ids=str)
def test_the_shortest_form_is_that_of_the_published_table(row):
    """Length, mark to pass and both exact error rates, to the six digits of the table."""
    p0, p1, alpha, beta, cases, right, actual_alpha, actual_beta = row
    form = shortest_form(p0, p1, alpha, beta)

    assert (form.cases, form.pass_at_least) == (cases, right)
    assert form.false_pass == pytest.approx(actual_alpha, abs=6e-7)
    assert form.false_fail == pytest.approx(actual_beta, abs=6e-7)


@pytest.mark.parametrize("row", FORMS, ids=str)
def test_no_shorter_form_keeps_both_error_rates(row):
    """Every shorter length and every mark to pass, tried one by one with scipy.stats.binom."""
    p0, p1, alpha, beta, cases, *_ = row
    length, right = np.mgrid[1:cases, 0 : cases + 1]
    keeps = stats.binom.sf(right - 1, length, p0) <= alpha
    keeps &= stats.binom.cdf(right - 1, length, p1) <= beta

    assert not keeps[right <= length].any()


# Scheme, ASSESS.md 1.5: cases, right asked, true rate, chance of passing (4 digits)
PASSING = [
    *((15, 13, rate, chance) for rate, chance in [(0.6, 0.0271), (0.7, 0.1268), (0.8, 0.3980)]),
    *((15, 13, rate, chance) for rate, chance in [(0.9, 0.8159), (0.95, 0.9638)]),
    *((20, 17, rate, chance) for rate, chance in [(0.7, 0.1071), (0.9, 0.8670), (0.95, 0.9841)]),
    *((24, 21, rate, chance) for rate, chance in [(0.7, 0.0424), (0.8, 0.2639)]),
    *((24, 21, rate, chance) for rate, chance in [(0.9, 0.7857), (0.95, 0.9702)]),
]


@pytest.mark.parametrize(("cases", "right", "rate", "chance"), PASSING)
def test_the_chance_of_passing_is_the_published_one(cases, right, rate, chance):
    """To four digits, and as the binomial coefficients say term by term."""
    ours = pass_chance(rate, cases, right)
    terms = [
        math.comb(cases, k) * rate**k * (1 - rate) ** (cases - k) for k in range(right, cases + 1)
    ]

    assert ours == pytest.approx(chance, abs=5.1e-5)
    assert ours == pytest.approx(math.fsum(terms), rel=1e-11)


@pytest.mark.parametrize(
    ("rate", "miss_rate", "chance"),
    # Scheme, ASSESS.md 1.5: 21 of 24 right and none of 10 unsafe brakes let through
    [
        *((0.70, 0.10, 0.0285), (0.80, 0.05, 0.2025), (0.90, 0.02, 0.6733)),
        *((0.95, 0.005, 0.9263), (0.98, 0.002, 0.9791)),
    ],
)
def test_a_rule_against_misses_lowers_the_chance_as_published(rate, miss_rate, chance):
    """To four digits, and as the multinomial of right, missed and otherwise wrong has it."""
    ours = pass_chance_without_miss(rate, miss_rate, 24, 21, 10)
    unsafe = stats.multinomial(10, [rate, miss_rate, 1 - rate - miss_rate])
    both = sum(
        unsafe.pmf([k, 0, 10 - k]) * stats.binom.pmf(j, 14, rate)
        for k, j in itertools.product(range(11), range(15))
        if k + j >= 21
    )

    assert ours == pytest.approx(chance, abs=5.1e-5)
    assert ours == pytest.approx(both, rel=1e-9)


@pytest.mark.parametrize(
    ("confidence", "reliability", "cases"),
    # Zero-failure demonstration, well-known figures (22, 59, 299 from memory); ASSESS.md 1.5
    [
        *((0.90, 0.90, 22), (0.95, 0.90, 29), (0.90, 0.95, 45), (0.95, 0.95, 59)),
        *((0.99, 0.90, 44), (0.99, 0.95, 90), (0.95, 0.99, 299), (0.99, 0.99, 459)),
    ],
)
def test_cases_without_a_miss_are_the_well_known_ones(confidence, reliability, cases):
    """And one case fewer would not do: reliability^n <= 1 - confidence."""
    assert cases_without_miss(1 - reliability, confidence) == cases
    assert reliability**cases <= 1 - confidence < reliability ** (cases - 1)


@pytest.mark.parametrize(("cases", "percent"), [(10, 26.0), (20, 13.9), (29, 9.8), (59, 5.0)])
def test_a_run_without_a_miss_leaves_the_published_bound(cases, percent):
    """ASSESS.md section 0: 26, 13.9, 9.8 and 5.0 %; Clopper-Pearson of statsmodels agrees."""
    bound = upper_bound(0, cases)
    _, high = proportion_confint(0, cases, alpha=0.10, method="beta")  # two-sided 90: one-sided 95

    assert 100 * bound == pytest.approx(percent, abs=0.12 if percent == 26 else 0.05)
    assert bound == pytest.approx(high, rel=1e-10)


@pytest.mark.parametrize(
    ("right", "cases", "lower"),
    # Scheme, ASSESS.md 1.5 and reference_values.json
    [
        *((15, 15, 0.8189637), (20, 20, 0.8608917), (19, 20, 0.7838938)),
        *((29, 30, 0.8514039), (59, 59, 0.9504924)),
    ],
)
def test_the_one_sided_lower_bound_is_the_published_one(right, cases, lower):
    """Clopper-Pearson, 95 %, to seven digits; the binomial tail there is 5 % exactly."""
    ours = 1 - upper_bound(cases - right, cases)

    assert ours == pytest.approx(lower, abs=6e-8)
    assert stats.binom.sf(right - 1, cases, ours) == pytest.approx(0.05, rel=1e-9)


@pytest.mark.parametrize(("count", "cases"), [(0, 10), (1, 10), (5, 10), (490, 500), (500, 500)])
@pytest.mark.parametrize("confidence", [0.90, 0.95, 0.99])
def test_the_exact_interval_is_that_of_statsmodels(count, cases, confidence):
    """Which takes the beta distribution where SciPy's test looks for the root of its tail."""
    found = exact_rate(count, cases, confidence)
    low, high = proportion_confint(count, cases, alpha=1 - confidence, method="beta")

    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9, abs=1e-11)


# Scheme, beta_bernoulli.csv: prior, cases, wrong, P(>.70), P(>.80), P(>.90), P(>.95), lower 95 %
POSTERIORS = [
    (UNIFORM, 10, 0, 0.980227, 0.914101, 0.686189, 0.431200, 0.761596),
    (UNIFORM, 15, 2, 0.900640, 0.648156, 0.210751, 0.042938, 0.656175),
    (UNIFORM, 20, 0, 0.999441, 0.990777, 0.890581, 0.659438, 0.867054),
    (UNIFORM, 20, 1, 0.994415, 0.942354, 0.635270, 0.283028, 0.793275),
    (UNIFORM, 20, 2, 0.972871, 0.821297, 0.351591, 0.084918, 0.729448),
    (UNIFORM, 30, 0, 0.999984, 0.999010, 0.961848, 0.796093, 0.907886),
    (UNIFORM, 30, 1, 0.999775, 0.991334, 0.830435, 0.463403, 0.855910),
    (UNIFORM, 60, 3, 0.999999, 0.999150, 0.871037, 0.364211, 0.877769),
    (JEFFREYS, 10, 0, 0.993178, 0.967613, 0.858447, 0.694938, 0.829227),
    (JEFFREYS, 25, 3, 0.981958, 0.841989, 0.339811, 0.068005, 0.743205),
    (JEFFREYS, 60, 1, 1.000000, 0.999993, 0.994387, 0.894516, 0.936695),
    (SCEPTICAL, 10, 3, 0.644833, 0.301810, 0.044133, 0.004173, 0.534343),
    (SCEPTICAL, 20, 1, 0.997838, 0.966943, 0.707523, 0.339183, 0.817108),
    (SCEPTICAL, 40, 2, 0.999970, 0.996128, 0.829631, 0.378625, 0.863741),
]


@pytest.mark.parametrize("row", POSTERIORS, ids=lambda r: f"{r[0].rights:g}:{r[1]}-{r[2]}")
def test_the_posterior_is_that_of_the_published_table(row):
    """Four bars and the lower credible bound, six digits; and as scipy.stats.beta has them."""
    prior, cases, wrong, *chances, lower = row
    known = prior.after(cases - wrong, wrong)
    reference = stats.beta(prior.rights + cases - wrong, prior.wrongs + wrong)
    bars = [0.70, 0.80, 0.90, 0.95]

    assert [known.chance_above(bar) for bar in bars] == pytest.approx(chances, abs=6e-7)
    assert [known.chance_above(bar) for bar in bars] == pytest.approx(reference.sf(bars), rel=1e-9)
    assert chance_above(cases - wrong, wrong, bars, prior) == pytest.approx(chances, abs=6e-7)
    assert known.lower() == pytest.approx(lower, abs=6e-7)
    assert known.upper(0.9) == pytest.approx(reference.ppf(0.9), rel=1e-9)


@pytest.mark.parametrize(
    ("bar", "published"),
    # Scheme, ASSESS.md 1.5: cases for P(p > bar) >= .95 with 0, 1, 2, 3 wrong, uniform prior
    [(0.90, [28, 45, 60, 75]), (0.80, [13, 21, 29, 36])],
)
def test_the_cases_needed_to_be_sure_are_the_published_ones(bar, published):
    """And scipy.stats.beta says that one case fewer is not enough."""
    assert [cases_needed(wrong, bar, 0.95) for wrong in range(4)] == published
    for wrong, cases in enumerate(published):
        assert stats.beta.sf(bar, cases - wrong + 1, wrong + 1) >= 0.95
        assert stats.beta.sf(bar, cases - wrong, wrong + 1) < 0.95


# Scheme, ASSESS.md 1.5: rates, +right, -wrong, slope, earliest pass and fail, Wald's mean lengths
WALD = [
    (0.60, 0.85, 0.3483, -0.9808, 0.7379, 9, 3, 10.88, 15.95, 19.05),
    (0.70, 0.90, 0.2513, -1.0986, 0.8138, 12, 3, 12.98, 20.43, 23.57),
    (0.80, 0.95, 0.1719, -1.3863, 0.8897, 17, 2, 14.27, 25.29, 27.31),
]


@pytest.mark.parametrize("row", WALD, ids=lambda r: f"{r[0]}-{r[1]}")
def test_the_sequential_test_has_the_published_constants(row):
    """Both boundaries, steps, slope, earliest ends and Wald's mean lengths to printed digits."""
    p0, p1, right, wrong, slope, earliest_pass, earliest_fail, *means = row
    test = SequentialTest(p0, p1, 0.05, 0.10)

    assert (test.pass_log, test.fail_log) == pytest.approx((2.890372, -2.251292), abs=6e-7)
    assert (test.right_log, test.wrong_log, test.slope) == pytest.approx(
        (right, wrong, slope), abs=6e-5
    )
    assert (test.earliest_pass, test.earliest_fail) == (earliest_pass, earliest_fail)
    assert [wald_mean_cases(test, p) for p in (p0, p1, test.slope)] == pytest.approx(
        means, abs=6e-3
    )


# Scheme, sprt_boundaries_p0_0.70_p1_0.90_a0.05_b0.10.csv: pass at least, fail at most, n = 1 to 40
PASS_AT_LEAST = [None] * 11 + [
    *(12, 13, 14, 15, 16, 16, 17, 18, 19, 20, 21, 21, 22, 23, 24),
    *(25, 25, 26, 27, 28, 29, 29, 30, 31, 32, 33, 34, 34, 35),
]
FAIL_AT_MOST = [
    *(None, None),
    *(0, 1, 2, 3, 4, 4, 5, 6, 7, 8, 8, 9, 10, 11, 12, 12, 13, 14, 15),
    *(16, 17, 17, 18, 19, 20, 21, 21, 22, 23, 24, 25, 26, 26, 27, 28, 29, 30, 30),
]


def test_every_boundary_up_to_the_cut_is_the_published_one():
    """Forty rows, and each decided independently from the likelihood ratio itself."""
    test = SequentialTest(0.70, 0.90, 0.05, 0.10, 40)
    found = test.boundaries()

    assert [one.pass_at_least for one in found] == PASS_AT_LEAST
    assert [one.fail_at_most for one in found] == FAIL_AT_MOST
    for n in range(1, 40):
        for right in range(n + 1):
            log_ratio = stats.binom.logpmf(right, n, 0.9) - stats.binom.logpmf(right, n, 0.7)
            wanted = Verdict.GO_ON
            if log_ratio >= math.log(0.90 / 0.05):
                wanted = Verdict.COMPETENT
            elif log_ratio <= math.log(0.10 / 0.95):
                wanted = Verdict.NOT_YET
            assert test.decide(right, n - right) is wanted


def test_the_lines_are_those_of_the_textbook_sampling_plan():
    """Item-by-item acceptance sampling, p1 .01, p2 .06, alpha .05, beta .10.

    Outside check: Montgomery, *Introduction to Statistical Quality Control*, sequential sampling
    (from memory): k = .80066, h1 = 1.22, h2 = 1.57, s = .028. There defectives are counted, so a
    defective is our wrong decision, accepting our pass.
    """
    test = SequentialTest(0.94, 0.99, false_pass=0.10, false_fail=0.05)

    assert (test.right_log - test.wrong_log) / math.log(10) == pytest.approx(0.80066, abs=5e-6)
    assert test.pass_intercept == pytest.approx(1.22, abs=5e-3)
    assert test.fail_intercept == pytest.approx(1.57, abs=5e-3)
    assert 1 - test.slope == pytest.approx(0.028, abs=5e-4)


# Scheme, ASSESS.md 1.5 and reference_values.json: rates, cut, true rate, pass, cut unresolved, mean
EXACT = [
    (0.70, 0.90, 40, 0.70, 0.04282791174876478, 0.052652479847337536, 15.122900424472451),
    (0.70, 0.90, 40, 0.8138, 0.3500899303475351, 0.21723972086893226, 23.6996592),
    (0.70, 0.90, 40, 0.90, 0.8504883413825496, 0.08603759038801906, 21.24867536581018),
    (0.70, 0.90, 40, 0.99, 0.9999619225431211, 1.1951893242399192e-06, 12.642773809673264),
    (0.80, 0.95, 60, 0.80, 0.047317419956803664, 0.02095843658664881, 16.990461460392474),
    (0.80, 0.95, 60, 0.95, 0.8858038648879886, 0.04781033581457108, 26.597692534044192),
    (0.80, 0.95, 60, 0.99, 0.9986502126341869, 8.660480915403162e-05, 18.64142124247873),
    (0.60, 0.85, 25, 0.60, 0.03570951120990176, 0.11081789149175765, 12.254816798562107),
    (0.60, 0.85, 25, 0.85, 0.7669763840871882, 0.17552964639128024, 16.08957772503607),
]


@pytest.mark.parametrize("row", EXACT, ids=lambda r: f"{r[0]}-{r[1]}-{r[3]:.2f}")
def test_the_exact_course_is_the_published_one(row):
    """Chance of passing, of being cut, and mean length; near the slope as well."""
    p0, p1, most, rate, passing, cut, mean = row
    curve = performance(SequentialTest(p0, p1, 0.05, 0.10, most), rate)

    assert curve.competent[0] == pytest.approx(passing, rel=1e-9)
    assert curve.cut[0] == pytest.approx(cut, rel=1e-9)
    assert curve.mean_cases[0] == pytest.approx(mean, rel=3e-9)


def test_the_exact_course_is_what_counting_every_path_gives():
    """All 4096 courses of twelve cases one by one, sharing no recursion with the code."""
    test = SequentialTest(0.5, 0.9, 0.10, 0.10, 12)
    rate, chances, mean = 0.8, dict.fromkeys(Verdict, 0.0), 0.0
    up, down = math.log(0.9 / 0.5), math.log(0.1 / 0.5)
    for path in itertools.product([True, False], repeat=12):
        weight = math.prod(rate if right else 1 - rate for right in path)
        walk = np.cumsum([up if right else down for right in path])
        out = np.flatnonzero(np.abs(walk) >= math.log(9))
        last = out[0] if out.size else 11
        chances[Verdict.COMPETENT if walk[last] >= math.log(9) else Verdict.NOT_YET] += weight
        mean += weight * (last + 1)
    curve = performance(test, rate)

    assert curve.competent[0] == pytest.approx(chances[Verdict.COMPETENT], rel=1e-12)
    assert curve.not_yet[0] == pytest.approx(chances[Verdict.NOT_YET], rel=1e-12)
    assert curve.mean_cases[0] == pytest.approx(mean, rel=1e-12)


# Scheme, angoff_example_constructed.csv (constructed): five judges, ten items
ANGOFF = (
    (0.9, 0.7, 0.8, 0.6, 0.95, 0.75, 0.85, 0.7, 0.65, 0.9),
    (0.85, 0.65, 0.75, 0.7, 0.9, 0.7, 0.8, 0.75, 0.6, 0.85),
    (0.95, 0.8, 0.85, 0.65, 0.95, 0.8, 0.9, 0.7, 0.7, 0.9),
    (0.8, 0.6, 0.7, 0.55, 0.9, 0.65, 0.8, 0.65, 0.55, 0.85),
    (0.9, 0.75, 0.8, 0.6, 0.95, 0.7, 0.85, 0.75, 0.65, 0.9),
)
JUDGEMENTS = Judgements(tuple("12345"), tuple(f"i{n}" for n in range(1, 11)), ANGOFF)


def test_the_angoff_cut_and_its_errors_are_the_published_ones():
    """ASSESS.md 1.6: cut, spread, three components and both standard errors."""
    found = angoff(JUDGEMENTS)

    assert found.judge_cuts == pytest.approx((7.80, 7.55, 8.20, 7.05, 7.85), abs=1e-9)
    assert (found.cut, found.judge_sd) == pytest.approx((7.69, 0.426321), abs=6e-7)
    assert found.judge_variance == pytest.approx(0.00171389, abs=6e-9)
    assert found.item_variance == pytest.approx(0.01178056, abs=6e-9)
    assert found.residual_variance == pytest.approx(0.00103611, abs=6e-9)
    assert found.se_items_fixed == pytest.approx(0.190657, abs=6e-7)
    assert found.se_items_random == pytest.approx(0.392626, abs=6e-7)
    assert cut_in_use(found.cut, found.se_items_fixed, 10) == 8


def test_the_angoff_components_are_those_of_an_analysis_of_variance():
    """Two-way without repetition: nested least squares by statsmodels, mean squares by hand."""
    chances = np.array(ANGOFF).ravel()
    judges, items = np.repeat(np.eye(5), 10, axis=0), np.tile(np.eye(10), (5, 1))

    def left_over(*columns):
        return OLS(chances, np.hstack(columns)).fit().ssr

    both = left_over(judges, items[:, 1:])
    judge = (left_over(items) - both) / 4
    item, rest = (left_over(judges) - both) / 9, both / 36
    found = angoff(JUDGEMENTS)

    assert found.residual_variance == pytest.approx(rest, rel=1e-9)
    assert found.judge_variance == pytest.approx((judge - rest) / 10, rel=1e-9)
    assert found.item_variance == pytest.approx((item - rest) / 5, rel=1e-9)


def test_the_ebel_cut_is_the_published_one():
    """ASSESS.md 1.6 (constructed): nine cells, thirty items, 23.45 of them, 78.17 %."""
    table = [
        ("essential", (6, 4, 2), (0.95, 0.9, 0.8)),
        ("important", (4, 4, 2), (0.85, 0.75, 0.6)),
    ]
    table.append(("acceptable", (3, 3, 2), (0.75, 0.6, 0.45)))
    cells = [
        EbelCell(relevance, difficulty, n, chance)
        for relevance, counts, chances in table
        for difficulty, n, chance in zip(("easy", "medium", "hard"), counts, chances, strict=True)
    ]
    found = ebel(cells)

    assert found.items == 30
    assert found.cut == pytest.approx(23.45, abs=1e-9)
    assert 100 * found.share == pytest.approx(78.17, abs=5e-3)


def test_the_quadratic_score_is_the_published_one():
    """ASSESS.md 1.4: .70, .25, .05 with the second true gives .4725; Brier's own sum agrees."""
    stated, truth = np.array([0.70, 0.25, 0.05]), np.array([0, 1, 0])

    assert quadratic_score([0.70, 0.25, 0.05], 1) == pytest.approx(0.4725, abs=1e-12)
    assert quadratic_score([0.70, 0.25, 0.05], 1) == pytest.approx(
        1 - ((stated - truth) ** 2).sum() / 2, rel=1e-12
    )


def test_the_words_of_confidence_change_where_the_marks_do():
    """ASSESS.md 1.4: the mark scheme turns at 2/3 and 4/5; found here from expected marks."""

    def expected(step, rate):
        right, wrong = MARKS[step]
        return rate * right + (1 - rate) * wrong

    for lower, upper in [("guess", "think"), ("think", "sure")]:
        turn = MEANT[upper][0]
        assert expected(lower, turn) == pytest.approx(expected(upper, turn), abs=1e-12)
        assert expected(lower, turn - 0.01) > expected(upper, turn - 0.01)
        assert expected(lower, turn + 0.01) < expected(upper, turn + 0.01)
        assert MEANT[lower][1] == turn
    assert (MEANT["think"][0], MEANT["sure"][0]) == pytest.approx((2 / 3, 0.8), abs=1e-12)


def test_the_beta_binomial_consistency_is_the_published_one():
    """ASSESS.md 1.8, Huynh: n 20, mean 16, variance 9, cut 16; six digits, quadrature there.

    The chance of passing is .62512952 by scipy.stats.betabinom and .62512951 in the table, whose
    quadrature is good to 2e-8: hence 1e-6.
    """
    found = beta_binomial(20, 16.0, 9.0, 16)
    rights, wrongs = 7.586207, 1.896552

    assert kr21(20, 16.0, 9.0) == pytest.approx(0.678363, abs=6e-7)
    assert found.reliability == pytest.approx(0.678363, abs=6e-7)
    assert found.pass_rate == pytest.approx(0.625129, abs=1e-6)
    assert found.agreement == pytest.approx(0.762464, abs=1e-6)
    assert found.kappa == pytest.approx(0.493186, abs=1e-6)
    assert found.pass_rate == pytest.approx(stats.betabinom.sf(15, 20, rights, wrongs), abs=1e-6)


def test_consistency_is_that_of_two_forms_integrated_over_the_true_rates():
    """Both pass given the rate, under scipy.integrate.quad; kappa from statsmodels's table."""
    rights, wrongs = 16 * (1 / kr21(20, 16.0, 9.0) - 1), 4 * (1 / kr21(20, 16.0, 9.0) - 1)

    def mean_of(function):
        weight = stats.beta(rights, wrongs).pdf
        return integrate.quad(lambda t: function(t) * weight(t), 0, 1, epsabs=1e-12)[0]

    one = mean_of(lambda t: stats.binom.sf(15, 20, t))
    both = mean_of(lambda t: stats.binom.sf(15, 20, t) ** 2)
    joint = np.array([[both, one - both], [one - both, 1 - 2 * one + both]])
    found = beta_binomial(20, 16.0, 9.0, 16)

    assert found.agreement == pytest.approx(np.trace(joint), abs=1e-9)
    assert found.kappa == pytest.approx(cohens_kappa(joint, return_results=False), abs=1e-8)


def test_subkoviaks_coefficients_are_the_published_ones():
    """ASSESS.md 1.8: twenty scores of reference_values.json, twenty items, sixteen to pass."""
    scores = [20, 19, 19, 18, 18, 17, 17, 17, 16, 16, 16, 15, 15, 14, 13, 12, 11, 10, 18, 17]
    found = subkoviak(scores, 20, 16)

    assert found.reliability == pytest.approx(0.568703, abs=6e-7)
    assert found.agreement == pytest.approx(0.668891, abs=6e-7)
    assert found.kappa == pytest.approx(0.302972, abs=6e-7)


def test_the_effective_length_and_accuracy_are_the_published_ones():
    """ASSESS.md 1.8: mean 80 of 100, deviation 10, reliability .85, cut 75; five digits."""
    found = livingston_lewis(80.0, 100.0, 0.85, 75.0)

    assert effective_length(80.0, 100.0, 0.85) == found.effective_items == 101
    assert found.accuracy == pytest.approx(0.89897, abs=6e-6)
    assert found.consistency.agreement == pytest.approx(0.85867, abs=6e-6)
    assert found.consistency.kappa == pytest.approx(0.64613, abs=6e-6)
    assert found.false_pass == pytest.approx(0.04805, abs=6e-6)
    assert found.false_fail == pytest.approx(0.05299, abs=6e-6)


def test_accuracy_is_the_integral_over_true_scores_on_either_side_of_the_cut():
    """By scipy.integrate.quad, where the code sums posteriors."""
    size = 0.8 * 0.2 / 0.0085 - 1
    true = stats.beta(0.8 * size, 0.2 * size)
    passing = stats.binom.sf
    low, _ = integrate.quad(lambda t: passing(75, 101, t) * true.pdf(t), 0, 0.75, epsabs=1e-12)
    high, _ = integrate.quad(lambda t: stats.binom.cdf(75, 101, t) * true.pdf(t), 0.75, 1)
    found = livingston_lewis(80.0, 100.0, 0.85, 75.0)

    assert found.false_pass == pytest.approx(low, abs=1e-9)
    assert found.false_fail == pytest.approx(high, abs=1e-9)


def test_a_skill_fades_as_published():
    """ASSESS.md 1.9: .08 standard deviations a month on a probit, three digits."""
    published = {0.95: {3: 0.920, 6: 0.878, 12: 0.753, 18: 0.581}}
    published[0.98] = {3: 0.965, 6: 0.942, 12: 0.863, 18: 0.730}
    for rate, course in published.items():
        for months, expected in course.items():
            assert faded_rate(rate, months) == pytest.approx(expected, abs=6e-4)
            shifted = stats.norm.cdf(stats.norm.ppf(rate), loc=0.08 * months)
            assert faded_rate(rate, months) == pytest.approx(shifted, rel=1e-12)


@pytest.mark.parametrize(
    ("right", "course"),
    # Scheme, ASSESS.md 1.9: P(p > .80), uniform prior, counts aged by .898851 a month
    [
        (30, {0: 0.9990, 6: 0.9766, 12: 0.8757, 24: 0.5234}),
        (28, {0: 0.9626, 6: 0.8697, 12: 0.7273}),
    ],
)
def test_what_is_known_fades_as_published(right, course):
    """Four digits, and scipy.stats.beta on counts aged month by month."""
    assert kept_share(1.0) == pytest.approx(0.898851, abs=6e-7)
    for months, expected in course.items():
        found = chance_still_above(UNIFORM.after(right, 30 - right), months)
        kept = math.prod([0.5 ** (1 / 6.5)] * months)
        assert found == pytest.approx(expected, abs=5.1e-5)
        assert found == pytest.approx(
            stats.beta.sf(0.8, 1 + kept * right, 1 + kept * (30 - right)), rel=1e-9
        )


def test_the_spread_of_drawn_forms_is_the_one_they_were_drawn_with():
    """Forms of random cases: the interval for the deviation covers the true one as often as it says.

    Outside check: 400 sets of 20 forms from a normal with deviation .80 (the published spread of
    forms drawn at random, ASSESS.md 1.7). Coverage 95 % with a binomial error of 1.1 %: 4 of them.
    """
    draws = np.random.default_rng(20261125).normal(11.0, 0.80, (400, 20))
    spreads = [form_spread(scores, sem=1.5) for scores in draws]
    covered = sum(one.sd_low <= 0.80 <= one.sd_high for one in spreads) / 400

    assert covered == pytest.approx(0.95, abs=0.044)


def test_the_error_of_measurement_is_that_of_the_poisson_binomial():
    """The score of independent cases, its distribution built by convolution, has that deviation."""
    chances = np.array([0.95, 0.9, 0.8, 0.6, 0.5])
    pmf = np.array([1.0])
    for chance in chances:
        pmf = np.convolve(pmf, [1 - chance, chance])
    score = np.arange(6)
    mean = pmf @ score
    found = spread_from_chances([chances, chances[::-1]])

    assert found.mean == pytest.approx(mean, rel=1e-12)
    assert found.sem == pytest.approx(math.sqrt(pmf @ (score - mean) ** 2), rel=1e-12)
    assert found.ratio == pytest.approx(0.0, abs=1e-12)


def test_the_mean_of_beliefs_is_laplaces_rule_of_succession():
    """(s + 1) / (n + 2), Laplace, *Essai philosophique sur les probabilités* (from memory)."""
    assert Beliefs().after(9, 1).mean == pytest.approx(10 / 12, rel=1e-12)
