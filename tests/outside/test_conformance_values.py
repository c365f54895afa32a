"""Conformance, guard bands and risks against published values and other libraries."""

import math

import numpy as np
import pytest
from scipy import stats

from widgets.brake.judgement import (
    COVERAGE_FACTOR,
    ONE_SIDED_95,
    Prior,
    conformance_probability,
    distance,
    global_risks,
    guard_band,
    least_distance,
    specific_risks,
)

# reading, standard uncertainty, lower, upper, probability, tolerance, source
CONFORMANCE = [
    # JCGM 106:2012, 7.3.2, example 1 (breakdown of a diode), prints 0.92; from memory
    (-5.47, 0.05, None, -5.40, 0.92, 0.001, "JCGM 106 7.3.2 ex. 1"),
    # JCGM 106:2012, 7.3.2, example 2 (bursting vessel), prints 99 %; from memory
    (509.7, 8.6, 490.0, None, 0.989, 0.001, "JCGM 106 7.3.2 ex. 2"),
    # JCGM 106:2012, table 1, z for one limit, two decimals; from memory
    (-0.84, 1.0, None, 0.0, 0.80, 0.0015, "JCGM 106 table 1"),
    (-1.28, 1.0, None, 0.0, 0.90, 0.001, "JCGM 106 table 1"),
    (-1.64, 1.0, None, 0.0, 0.95, 0.001, "JCGM 106 table 1"),
    (-2.33, 1.0, None, 0.0, 0.99, 0.0002, "JCGM 106 table 1"),
    (-3.09, 1.0, None, 0.0, 0.999, 0.0001, "JCGM 106 table 1"),
    # JCGM 106:2012, 8.3.2 with w = U: Phi(2), any normal table
    (0.76, 0.02, None, 0.80, 0.97725, 1e-5, "JCGM 106 8.3.2, w = U"),
    # Phi(2.5) and Phi(0.5), any normal table, on a gap of 0.75 mm at most
    (0.70, 0.02, None, 0.75, 0.99379, 1e-5, "normal table"),
    (0.74, 0.02, None, 0.75, 0.69146, 1e-5, "normal table"),
    # the reading on the limit decides nothing
    (0.80, 0.0086, None, 0.80, 0.5, 1e-12, "symmetry"),
    # 2 u either side, GUM G.1.3 (95.45 %), and 1 and 3 u, any normal table
    (0.0, 1.0, -2.0, 2.0, 0.9545, 1e-4, "JCGM 100 table G.1"),
    (0.0, 1.0, -1.0, 1.0, 0.6827, 1e-4, "JCGM 100 table G.1"),
    (0.0, 1.0, -3.0, 3.0, 0.9973, 1e-4, "JCGM 100 table G.1"),
    # a maximum gap of 0.80 mm: normal tables to three decimals, worked independently with SciPy
    (0.78, 0.0086, None, 0.80, 0.990, 5e-4, "normal table"),
    (0.79, 0.0086, None, 0.80, 0.878, 5e-4, "normal table"),
    (0.78, 0.0163, None, 0.80, 0.890, 5e-4, "normal table"),
]


@pytest.mark.parametrize("row", CONFORMANCE, ids=lambda r: f"{r[0]:g}_{r[6]}")
def test_conformance_probability_is_the_published_one(row):
    """The chance that a limit is kept, as printed."""
    reading, u, lower, upper, expected, tolerance, _ = row

    got = conformance_probability(reading, u, lower=lower, upper=upper)

    assert got == pytest.approx(expected, abs=tolerance)


def test_conformance_agrees_with_scipy_over_a_grid():
    """SciPy's normal distribution, from deep inside to 8 uncertainties beyond, array and scalar."""
    readings = np.linspace(0.6, 1.0, 81)
    expected = stats.norm(readings, 0.025).cdf(0.8) - stats.norm(readings, 0.025).cdf(0.3)

    assert conformance_probability(readings, 0.025, lower=0.3, upper=0.8) == pytest.approx(
        expected, rel=1e-9, abs=1e-15
    )
    for reading, value in zip(readings, expected, strict=True):
        assert conformance_probability(float(reading), 0.025, lower=0.3, upper=0.8) == (
            pytest.approx(value, rel=1e-9, abs=1e-15)
        )


# cost ratio, least distance. Normal quantiles of C/(1 + C), as printed to four decimals and more in
# normal tables: 1.6449 for 0.95, 1.2816 for 0.90, 2.3263 for 0.99.
LEAST_DISTANCES = [(1, 0.0), (4, 0.8416), (9, 1.2816), (19, 1.6449), (39, 1.9600), (99, 2.3263)]


@pytest.mark.parametrize(("cost_ratio", "expected"), LEAST_DISTANCES)
def test_least_distance_is_a_normal_quantile(cost_ratio, expected):
    """A ratio of 19 asks for 95 % and so on, by normal tables of four decimals."""
    assert least_distance(cost_ratio) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize("cost_ratio", [1, 5, 10, 19, 20, 50, 100])
def test_least_distance_agrees_with_scipy(cost_ratio):
    """SciPy's quantile of the odds 1 to C."""
    assert least_distance(cost_ratio) == pytest.approx(
        stats.norm.isf(1 / (1 + cost_ratio)), abs=1e-12
    )


# reading, cost of carrying on, cost of acting: a limit of 0.60, u 0.02, cost ratio 20
@pytest.mark.parametrize(
    ("reading", "carry_on", "act"),
    [(0.565, 0.8012, 0.9599), (0.570, 1.3361, 0.9332), (0.600, 10.0, 0.5)],
)
def test_the_cheaper_action_is_the_one_allowed(reading, carry_on, act):
    """Expected costs by normal tables (Phi 1.75 = .95994, 1.5 = .93319): the cheaper one is taken."""
    good = conformance_probability(reading, 0.02, upper=0.60)

    assert 20 * (1 - good) == pytest.approx(carry_on, abs=5e-4)
    assert good == pytest.approx(act, abs=5e-5)
    assert (distance(reading, 0.02, upper=0.60) >= least_distance(20)) == (carry_on < act)


# ISO 14253-1:2017 takes 95 % as its default: 1.645 u for one limit; from memory. JCGM 106 w = U: 2 u.
@pytest.mark.parametrize(("factor", "w_mm"), [(ONE_SIDED_95, 0.0268), (COVERAGE_FACTOR, 0.0326)])
def test_guard_bands_follow_the_standards(factor, w_mm):
    """For a feeler with u = 0.0163 mm, by multiplication."""
    assert guard_band(0.0163, factor) == pytest.approx(w_mm, abs=5e-5)


# Deaver, "How to maintain your confidence (in a world of declining test uncertainty ratios)", NCSL
# Workshop 1993, p. 7 and p. 10; the figures were read in the tests of a public uncertainty library.
# half tolerance in process sigmas, test uncertainty ratio, share of tolerance accepted, consumer,
# producer, tolerance (as printed)
DEAVER = [
    (2.0, 4.0, 1.0, 0.008, 0.015, 0.0005),
    (2.5, 4.0, 1.0, 0.0025, None, 0.0001),
    (2.5, 1.0, 1.0, 0.005, None, 0.001),
    (2.0, 2.0, 0.91, 0.008, 0.066, 0.001),
]


@pytest.mark.parametrize("row", DEAVER, ids=lambda r: f"{r[0]}_{r[1]}_{r[2]}")
def test_global_risks_are_those_of_calibration_practice(row):
    """Two limits, a centred process, uncertainty as a share of the tolerance."""
    half, ratio, share, consumer, producer, tolerance = row
    u = (
        1 / ratio
    )  # the ratio: tolerance in sigmas of the test over tolerance in sigmas of the process

    risks = global_risks(Prior(0.0, 1.0), u, half * (1 - share), lower=-half, upper=half)

    assert risks.consumer == pytest.approx(consumer, abs=tolerance)
    assert producer is None or risks.producer == pytest.approx(producer, abs=tolerance)


# prior mean, sigma, u, guard in u, upper limit, consumer, producer, tolerance: worked beforehand with
# SciPy's bivariate normal distribution, printed to three figures or six decimals
RISKS = [
    (0.60, 0.12, 0.0163, 0.0, 0.80, 0.00468, 0.00621, 5e-6),
    (0.60, 0.12, 0.0163, 1.645, 0.80, 0.00026, 0.0288, 5e-5),
    (0.60, 0.12, 0.0163, 2.0, 0.80, 0.00011, 0.0358, 5e-5),
    (0.60, 0.12, 0.0086, 0.0, 0.80, 0.00264, 0.00307, 5e-6),
    (0.60, 0.12, 0.0086, 1.645, 0.80, 0.00014, 0.0136, 6e-5),
    (0.60, 0.12, 0.0086, 2.0, 0.80, 0.00006, 0.0166, 5e-5),
    (0.45, 0.08, 0.02, 0.0, 0.60, 0.005181, 0.009239, 1e-6),
    (0.45, 0.08, 0.02, 1.0, 0.60, 0.001168, 0.028229, 1e-6),
    (0.45, 0.08, 0.02, 1.645, 0.60, 0.000303, 0.047704, 1e-6),
    (0.45, 0.08, 0.02, 2.0, 0.60, 0.000125, 0.060840, 1e-6),
]


@pytest.mark.parametrize("row", RISKS, ids=lambda r: f"u{r[2]}_k{r[3]}")
def test_global_risks_are_those_of_the_bivariate_normal(row):
    """Against the printed table, and against SciPy's bivariate distribution function here."""
    mean, sigma, u, k, upper, consumer, producer, tolerance = row
    risks = global_risks(Prior(mean, sigma), u, guard_band(u, k), upper=upper)

    total = math.hypot(sigma, u)
    spread = [[sigma**2, sigma**2], [sigma**2, total**2]]
    both = stats.multivariate_normal.cdf(
        [upper, upper - k * u], [mean, mean], spread, abseps=1e-10, releps=1e-10
    )
    accepted = stats.norm(mean, total).cdf(upper - k * u)
    good = stats.norm(mean, sigma).cdf(upper)

    assert (risks.consumer, risks.producer) == pytest.approx((consumer, producer), abs=tolerance)
    assert (risks.consumer, risks.producer) == pytest.approx(
        (accepted - both, good - both), abs=1e-7
    )


def test_global_risks_agree_with_monte_carlo():
    """JCGM 101: a million brakes drawn and read; four standard errors of a share are allowed."""
    dice, n = np.random.default_rng(7), 1_000_000
    true = dice.normal(0.60, 0.12, n)
    read = true + dice.normal(0.0, 0.03, n)
    accepted = (read >= 0.35) & (read <= 0.75)
    good = (true >= 0.30) & (true <= 0.80)

    risks = global_risks(Prior(0.60, 0.12), 0.03, 0.05, lower=0.30, upper=0.80)

    for got, share in (
        (risks.consumer, np.mean(accepted & ~good)),
        (risks.producer, np.mean(~accepted & good)),
    ):
        assert got == pytest.approx(share, abs=4 * math.sqrt(share / n) + 1e-9)


# reading, probability of conformance: prior N(0.45, 0.08²), u 0.02, limit 0.60; worked beforehand
# with SciPy from the product of the two normal densities, printed to six decimals
@pytest.mark.parametrize(
    ("reading", "expected"),
    [(0.57, 0.971931), (0.59, 0.826346), (0.60, 0.675357), (0.61, 0.487907)],
)
def test_what_was_known_before_counts(reading, expected):
    """The specific risk against the printed table, and against integrating prior times likelihood."""
    from scipy.integrate import quad

    def weight(true):
        return stats.norm.pdf(true, 0.45, 0.08) * stats.norm.pdf(reading, true, 0.02)

    below, _ = quad(weight, 0.2, 0.6, points=[reading - 0.02, 0.59])
    above, _ = quad(weight, 0.6, 0.9, points=[0.61, 0.65])
    got = specific_risks(reading, 0.02, Prior(0.45, 0.08), upper=0.60)

    assert got.producer == pytest.approx(expected, abs=1e-6)
    assert got.consumer == pytest.approx(above / (below + above), abs=1e-7)
