"""Uncertainty budgets and brackets against the GUM, its supplement, and other libraries."""

import math

import numpy as np
import pytest
from scipy import optimize, stats
from uncertainties import ufloat
from uncertainties.umath import tan

from widgets.instruments import caliper, feeler, steel_rule
from widgets.instruments.budget import (
    DIVISORS,
    Budget,
    Contribution,
    Distribution,
    normal,
    rectangular,
)
from widgets.instruments.feeler import GapReading, fit_brackets
from widgets.instruments.meter import ohm_budget, volt_budget
from widgets.instruments.steel_rule import parallax_mm

# half-width, distribution, standard uncertainty, tolerance, source
SHAPES = [
    # JCGM 100:2008, 4.3.7: a²/3. A bracket of 0.05 mm, and a declared error of 0.03 mm either way
    (0.025, Distribution.RECTANGULAR, 0.014434, 1e-6, "4.3.7, bracket 0.05"),
    (0.005, Distribution.RECTANGULAR, 0.0029, 2e-5, "4.3.7, bracket 0.01"),
    (0.03, Distribution.RECTANGULAR, 0.017321, 1e-6, "4.3.7, caliper"),
    # JCGM 100:2008, 4.3.7, example 2: a voltmeter within ± 15 µV has u = 8.7 µV; from memory
    (15.0, Distribution.RECTANGULAR, 8.7, 0.05, "4.3.7 ex. 2"),
    # JCGM 100:2008, F.2.2.1: resolution dx gives 0.29 dx, for dx = 1
    (0.5, Distribution.RECTANGULAR, 0.29, 0.005, "F.2.2.1"),
    # JCGM 100:2008, 4.3.9 and its note: triangular a²/6
    (1.0, Distribution.TRIANGULAR, 0.408248, 1e-6, "4.3.9"),
    # JCGM 101:2008, 6.4.6: arcsine on ± 1 has variance 1/2
    (1.0, Distribution.ARCSINE, 0.707107, 1e-6, "JCGM 101 6.4.6"),
]


@pytest.mark.parametrize("row", SHAPES, ids=lambda r: r[4])
def test_a_half_width_becomes_the_published_standard_uncertainty(row):
    """By the shape of its distribution."""
    half, shape, expected, tolerance, _ = row

    assert Contribution("x", half, "mm", shape, DIVISORS[shape]).standard_uncertainty == (
        pytest.approx(expected, abs=tolerance)
    )


@pytest.mark.parametrize(
    ("shape", "reference"),
    [
        (Distribution.NORMAL, stats.norm),
        (Distribution.RECTANGULAR, stats.uniform(-1, 2)),
        (Distribution.TRIANGULAR, stats.triang(0.5, -1, 2)),
        (Distribution.ARCSINE, stats.arcsine(-1, 2)),
    ],
)
def test_divisors_are_the_standard_deviations_of_scipy(shape, reference):
    """Each shape with half-width 1 has the standard deviation that SciPy gives it."""
    assert 1 / DIVISORS[shape] == pytest.approx(reference.std(), rel=1e-12)


# JCGM 100:2008, H.1, table H.1: end gauge, nm and degrees of freedom; from memory, recomputed
END_GAUGE = Budget(
    "end gauge",
    "nm",
    (
        normal("standard", 25.0, "nm", degrees_of_freedom=18),
        normal("difference", 9.7, "nm", degrees_of_freedom=25.6),
        normal("expansion", 2.9, "nm", degrees_of_freedom=50),
        normal("temperature", 16.6, "nm", degrees_of_freedom=2),
    ),
)


@pytest.mark.parametrize(
    ("got", "expected", "tolerance"),
    [
        (END_GAUGE.combined, 32.0, 0.5),  # H.1.4: 32 nm
        # H.1.6 prints 16.7 from unrounded lines; the printed lines give 16.76
        (END_GAUGE.effective_degrees_of_freedom, 16.7, 0.1),
        (END_GAUGE.coverage_factor(0.99), 2.92, 0.005),  # H.1.6: t99(16)
        (END_GAUGE.expanded(END_GAUGE.coverage_factor(0.99)), 93.0, 0.7),  # H.1.6, from 32 x 2.92
    ],
    ids=["u", "degrees of freedom", "t99", "U99"],
)
def test_the_end_gauge_of_the_gum_comes_out(got, expected, tolerance):
    """JCGM 100:2008, H.1."""
    assert got == pytest.approx(expected, abs=tolerance)


def test_the_voltmeter_of_the_gum_comes_out():
    """JCGM 100:2008, 5.1.5 example: 12 µV of scatter and 8.7 µV of the meter make 15 µV; from memory."""
    both = Budget("V", "µV", (normal("scatter", 12.0, "µV"), rectangular("meter", 15.0, "µV")))

    assert both.combined == pytest.approx(15.0, abs=0.5)


# JCGM 100:2008, table G.2: coverage, degrees of freedom, t
STUDENT = [
    (0.6827, 1, 1.84),
    (0.95, 1, 12.71),
    (0.9973, 2, 19.21),
    (0.9973, 5, 5.51),
    (0.90, 10, 1.81),
    (0.99, 11, 3.11),
    (0.90, 20, 1.72),
    (0.95, 20, 2.09),
    (0.9545, math.inf, 2.00),
    (0.99, math.inf, 2.576),
]


@pytest.mark.parametrize(("probability", "freedom", "t"), STUDENT)
def test_coverage_factors_are_those_of_table_g2(probability, freedom, t):
    """JCGM 100:2008, table G.2, printed to two decimals (infinity: three)."""
    line = Budget("x", "mm", (normal("x", 1.0, "mm", degrees_of_freedom=freedom),))

    assert line.coverage_factor(probability) == pytest.approx(t, abs=0.005)


def test_welch_satterthwaite_is_welchs_own_t_test():
    """SciPy's Welch test has the same degrees of freedom for two means of unequal scatter."""
    dice = np.random.default_rng(3)
    one, other = dice.normal(0, 1, 8), dice.normal(0, 3, 5)
    budget = Budget(
        "difference",
        "mm",
        (
            normal("one", stats.sem(one), "mm", degrees_of_freedom=7),
            normal("other", stats.sem(other), "mm", sensitivity=-1.0, degrees_of_freedom=4),
        ),
    )

    expected = stats.ttest_ind(one, other, equal_var=False).df
    assert budget.effective_degrees_of_freedom == pytest.approx(expected, rel=1e-12)


# Budgets of the trade: common practice, no source for the lines; the sums are worked by hand here,
# as the square root of the sum of squares. quantity, got, by hand, tolerance
TRADE = [
    # bracket 0.05/√12, leaf 0.005/√3, hand 0.007
    ("feeler, 0.05 steps, u", feeler.budget(0.05).combined, 0.0163, 1e-4),
    ("feeler, 0.05 steps, U", feeler.budget(0.05).expanded(), 0.033, 5e-4),
    # bracket 0.01/√12, two leaves, hand; 0.0086 without the film that our budget adds (0.003/√3)
    ("feeler, 0.01 stacks, u", feeler.budget(0.01, 2).combined, 0.0086, 2e-4),
    ("feeler, 0.01 stacks, U", feeler.budget(0.01, 2).expanded(), 0.017, 6e-4),
    # 0.03/√3, 0.01, 0.01, 0.02: 0.0300; the step of the display adds 0.0001
    ("caliper, u", caliper.budget().combined, 0.030, 2e-4),
    ("caliper, U", caliper.budget().expanded(), 0.060, 4e-4),
    # 0.25/√3, 0.2/√3, 0.1/√3, 0.08
    ("steel rule, u", steel_rule.budget().combined, 0.21, 2e-3),
    ("steel rule, U", steel_rule.budget().expanded(), 0.42, 4e-3),
    # two readings: √2 u
    ("two readings, 0.05 steps", math.sqrt(2) * feeler.budget(0.05).combined, 0.023, 5e-4),
    ("two readings, 0.01 stacks", math.sqrt(2) * feeler.budget(0.01, 2).combined, 0.012, 5e-4),
    # six of those against an evenness of 0.08 mm: 173 % and 91 %, so coarse leaves cannot judge it
    ("evenness, 0.05 steps", 6 * math.sqrt(2) * feeler.budget(0.05).combined / 0.08, 1.73, 0.01),
    (
        "evenness, 0.01 stacks",
        6 * math.sqrt(2) * feeler.budget(0.01, 2).combined / 0.08,
        0.91,
        0.03,
    ),
    # 623 ohm on 6000: 0.9 % = 5.607, 2 digits = 2, half a digit twice, 0.02; each over √3
    ("ohmmeter at 623 ohm, u", ohm_budget(623.0).combined, 3.461, 2e-3),
    # 180 V on 600: 0.5 % = 0.9, 2 digits = 0.2, half a digit = 0.05; each over √3
    ("voltmeter at 180 V, u", volt_budget(180.0).combined, 0.533, 1e-3),
]


@pytest.mark.parametrize("row", TRADE, ids=lambda r: r[0])
def test_a_budget_of_the_trade_adds_up(row):
    """By hand, with the lines named beside it."""
    _, got, expected, tolerance = row

    assert got == pytest.approx(expected, abs=tolerance)


def test_the_caliper_budget_agrees_with_uncertainties():
    """The uncertainties package, told the same five lines, has the same standard deviation."""
    lines = [0.03 / math.sqrt(3), 0.005 / math.sqrt(3), 0.01, 0.01, 0.02]
    reading = 10.0 + sum(ufloat(0.0, u) for u in lines)

    assert caliper.budget().combined == pytest.approx(reading.std_dev, rel=1e-12)


def test_the_feeler_budget_agrees_with_uncertainties():
    """So has a stack of two leaves and its film."""
    bracket, leaf = ufloat(0.345, 0.005 / math.sqrt(3)), 0.005 / math.sqrt(3)
    film, hand = ufloat(0.004, 0.003 / math.sqrt(3)), ufloat(0.0, math.hypot(0.0065, 0.0025))
    gap = bracket + ufloat(0.0, leaf) + ufloat(0.0, leaf) + film + hand

    assert feeler.budget(0.01, 2, mark_mm=0.20).combined == pytest.approx(gap.std_dev, rel=1e-12)


def test_the_rule_budget_agrees_with_monte_carlo():
    """JCGM 101: 400,000 trials of the rule's lines, through the tangent of the eye's angle.

    The standard error of such a standard deviation is 0.1 %; the tangent is bent
    by 1 % at 11 degrees, which the budget, being linear, leaves out.
    """
    dice, n = np.random.default_rng(5), 400_000
    eye = np.tan(np.radians(dice.uniform(-11.3, 11.3, n)))
    parts = dice.uniform(-0.25, 0.25, n) + dice.uniform(-0.1, 0.1, n) + dice.normal(0, 0.08, n)

    assert steel_rule.budget().combined == pytest.approx(np.std(eye + parts), rel=0.01)


def test_a_sensitivity_is_the_slope_uncertainties_finds():
    """Parallax at 20 degrees: the slope per degree that the uncertainties package works out."""
    shift = tan(ufloat(math.radians(20.0), math.radians(1.0)))
    slope = (parallax_mm(20.001) - parallax_mm(19.999)) / 0.002
    budget = Budget("parallax", "mm", (normal("eye", 1.0, "deg", sensitivity=slope),))

    assert budget.combined == pytest.approx(shift.std_dev, rel=1e-6)


# stand-off, eye, shift: four-figure tables of the tangent
@pytest.mark.parametrize(
    ("stand_off_mm", "eye_deg", "shift_mm"),
    [(1.0, 20.0, 0.3640), (1.0, 45.0, 1.0), (2.0, 10.0, 0.3527)],
)
def test_parallax_is_the_tangent(stand_off_mm, eye_deg, shift_mm):
    """Stand-off times the tangent of the eye's angle."""
    assert parallax_mm(eye_deg, stand_off_mm) == pytest.approx(shift_mm, abs=1e-4)


def test_a_blade_across_a_tilt_loses_eight_thousandths():
    """By hand: tilt of 0.09 mm on a radius of 76 mm, over half a blade of 13 mm, is 0.0077 mm."""
    across = feeler.blade_angles_deg(90.0, 152.0)
    gaps_mm = 0.60 + 0.09 * np.cos(np.radians(across))

    assert 0.60 - gaps_mm.min() == pytest.approx(0.008, abs=5e-4)


BRACKETS = [(0.30, 0.35), (0.35, 0.40), (0.30, 0.35), (0.35, 0.40), (0.40, 0.45), (0.25, 0.30)]


def readings(brackets):
    return [GapReading(go, no_go) for go, no_go in brackets]


def test_six_brackets_have_the_mean_and_scatter_of_scipy():
    """scipy.stats.norm.fit of CensoredData gives 0.35000 and 0.04558 on these six.

    Its simplex search stops within 2e-5 of the maximum, hence the tolerance.
    """
    fit = fit_brackets(readings(BRACKETS))
    mean, sigma = stats.norm.fit(stats.CensoredData(interval=BRACKETS))

    assert (fit.mean_mm, fit.sigma_mm) == pytest.approx((0.35000, 0.04558), abs=3e-5)
    assert (fit.mean_mm, fit.sigma_mm) == pytest.approx((mean, sigma), abs=3e-5)


@pytest.mark.parametrize("number", range(8))
def test_brackets_are_fitted_at_the_maximum_of_the_likelihood(number):
    """A tight search over SciPy's likelihood finds nothing better, for brackets of mixed width."""
    dice = np.random.default_rng(number)
    gaps = dice.normal(0.5, 0.06, 12)
    steps = np.where(np.arange(12) % 2, 0.05, 0.01)
    low = np.floor(gaps / steps) * steps
    brackets = np.column_stack([low, low + steps])

    def cost(place):
        high, low = (stats.norm.cdf(brackets[:, i], place[0], math.exp(place[1])) for i in (1, 0))
        return -np.log(high - low).sum()

    best = optimize.minimize(
        cost, [0.5, math.log(0.06)], method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-13}
    )
    fit = fit_brackets(readings(brackets.tolist()))

    assert (fit.mean_mm, fit.sigma_mm) == pytest.approx((best.x[0], math.exp(best.x[1])), abs=1e-6)
