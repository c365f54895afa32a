"""What a reading says about a limit, and what may be done on it."""

import math
import statistics

import numpy as np
import pytest
import scipy.special  # noqa: F401 -- loaded here, not within a timed example
from hypothesis import assume, given
from hypothesis import strategies as st

from widgets.brake.judgement import (
    ACCEPTABLE,
    Action,
    Prior,
    Zone,
    conformance_probability,
    distance,
    global_risks,
    guard_band,
    is_accepted,
    least_distance,
    specific_risks,
    zone,
)

GAPS_MM = st.floats(0.0, 2.0)
UNCERTAINTIES_MM = st.floats(0.001, 0.2)
LIMIT_MM = 0.80


@given(GAPS_MM, GAPS_MM, UNCERTAINTIES_MM)
def test_a_larger_gap_is_never_surer_to_keep_its_maximum(one_mm, other_mm, u_mm):
    """The probability falls as the reading comes nearer the limit and passes it."""
    near, far = max(one_mm, other_mm), min(one_mm, other_mm)

    assert conformance_probability(near, u_mm, upper=LIMIT_MM) <= conformance_probability(
        far, u_mm, upper=LIMIT_MM
    )


@given(GAPS_MM, UNCERTAINTIES_MM, UNCERTAINTIES_MM)
def test_a_better_gauge_makes_surer(reading_mm, one_mm, other_mm):
    """Inside the limit less uncertainty raises the probability, beyond it lowers it."""
    good, poor = sorted((one_mm, other_mm))
    sure = conformance_probability(reading_mm, good, upper=LIMIT_MM)
    unsure = conformance_probability(reading_mm, poor, upper=LIMIT_MM)

    assert sure >= unsure if reading_mm <= LIMIT_MM else sure <= unsure


@given(st.floats(-1, 1), UNCERTAINTIES_MM)
def test_upper_and_lower_limit_mirror_each_other(off_mm, u_mm):
    """A reading above a minimum is as sure as one as far below a maximum."""
    lower = conformance_probability(5 + off_mm, u_mm, lower=5.0)
    upper = conformance_probability(5 - off_mm, u_mm, upper=5.0)

    assert lower == pytest.approx(upper, abs=1e-9)


@given(st.floats(0, 3), UNCERTAINTIES_MM)
def test_two_limits_treat_both_sides_alike(off_mm, u_mm):
    """Between symmetric limits, a reading off to either side is equally sure."""
    up = conformance_probability(1 + off_mm, u_mm, lower=0.0, upper=2.0)
    down = conformance_probability(1 - off_mm, u_mm, lower=0.0, upper=2.0)

    assert up == pytest.approx(down, rel=1e-6, abs=1e-300)
    assert up <= conformance_probability(1 + off_mm, u_mm, upper=2.0)


@given(st.lists(st.floats(-3, 3), min_size=1, max_size=6), UNCERTAINTIES_MM)
def test_many_readings_at_once_are_as_one_by_one(readings_mm, u_mm):
    """The array form and the scalar form agree, far out in the tails as well."""
    together = conformance_probability(np.array(readings_mm), u_mm, lower=0.2, upper=0.8)
    alone = [conformance_probability(r, u_mm, lower=0.2, upper=0.8) for r in readings_mm]

    assert together == pytest.approx(alone, rel=1e-9, abs=1e-300)


@pytest.mark.parametrize("limits", [{"lower": 0.5}, {"upper": 0.5}, {"lower": 0.4, "upper": 0.5}])
def test_arrays_take_the_same_limits(limits):
    """One limit or two, readings and uncertainties side by side."""
    readings, u = np.array([0.42, 0.5, 0.58]), np.array([0.01, 0.02, 0.03])
    alone = [
        conformance_probability(float(r), float(s), **limits)
        for r, s in zip(readings, u, strict=True)
    ]

    assert conformance_probability(readings, u, **limits) == pytest.approx(alone, rel=1e-12)


@given(st.floats(0.5, 1000), st.floats(0.5, 1000))
def test_a_costlier_mistake_asks_for_more_room(one, other):
    """The worse an unsafe pass, the further inside its limit a reading must be."""
    assert least_distance(min(one, other)) <= least_distance(max(one, other))


@given(st.floats(1, 1000), st.floats(-4, 4))
def test_carrying_on_is_allowed_just_where_it_is_cheaper(cost_ratio, inside):
    """Zone CONTINUE begins where the expected cost of carrying on falls below that of acting."""
    u_mm = 0.02
    reading = LIMIT_MM - inside * u_mm
    good = conformance_probability(reading, u_mm, upper=LIMIT_MM)
    assume(abs(cost_ratio * (1 - good) - good) > 1e-9)
    cheaper = cost_ratio * (1 - good) < good

    assert (zone(reading, u_mm, upper=LIMIT_MM, cost_ratio=cost_ratio) is Zone.CONTINUE) == cheaper


def test_zones_follow_each_other_towards_the_limit_and_past_it():
    """At a cost ratio of 20, d* is 1.668: four zones, from safe to clearly beyond."""
    inside = {
        2.0: Zone.CONTINUE,
        1.5: Zone.GUARD,
        0.5: Zone.CLOSE,
        -1.0: Zone.CLOSE,
        -1.7: Zone.BEYOND,
    }
    got = {d: zone(LIMIT_MM - d * 0.02, 0.02, upper=LIMIT_MM) for d in inside}

    assert got == inside


def test_only_beyond_the_guard_band_may_one_carry_on():
    """To carry on is acceptable in one zone alone, and never where one must act."""
    may = [place for place, actions in ACCEPTABLE.items() if Action.CONTINUE in actions]

    assert may == [Zone.CONTINUE]
    assert ACCEPTABLE.keys() == set(Zone)
    assert ACCEPTABLE[Zone.BEYOND] == {Action.ACT}


@given(st.floats(0, 2), st.floats(0, 0.2))
def test_a_guard_band_only_ever_takes_away(reading_mm, guard_mm):
    """What is accepted with a guard band is accepted without."""
    guarded = is_accepted(reading_mm, guard_mm, lower=0.2, upper=0.8)

    assert not guarded or is_accepted(reading_mm, 0.0, lower=0.2, upper=0.8)


def test_guard_bands_that_meet_accept_nothing():
    """With limits 0.1 mm apart and a guard of 0.06 mm no reading is good enough."""
    assert not any(is_accepted(r / 100, 0.06, lower=0.3, upper=0.4) for r in range(100))


def test_distance_counts_to_the_nearer_limit():
    """0.25 mm between 0.2 and 0.8 mm is 5 uncertainties of 0.01 mm from the nearer one."""
    assert distance(0.25, 0.01, lower=0.2, upper=0.8) == pytest.approx(5.0)
    assert distance(0.85, 0.01, lower=0.2, upper=0.8) == pytest.approx(-5.0)


@given(st.floats(0.3, 0.9), st.floats(0.02, 0.3), st.floats(0.002, 0.05), st.floats(0, 2))
def test_a_wider_guard_moves_risk_from_the_user_to_the_fitter(mean_mm, sigma_mm, u_mm, k):
    """More guard: fewer bad brakes pass, more good ones are worked on."""
    prior = Prior(mean_mm, sigma_mm)
    bare = global_risks(prior, u_mm, upper=LIMIT_MM)
    guarded = global_risks(prior, u_mm, guard_band(u_mm, k), upper=LIMIT_MM)

    assert guarded.consumer <= bare.consumer + 1e-12
    assert guarded.producer >= bare.producer - 1e-12


@given(st.floats(0.3, 0.9), st.floats(0.02, 0.3), st.floats(0.002, 0.05))
def test_global_risks_mirror(mean, sigma, u):
    """Below a minimum and above a maximum the risks are the same, mirrored."""
    upper = global_risks(Prior(mean, sigma), u, 0.01, upper=0.8)
    lower = global_risks(Prior(-mean, sigma), u, 0.01, lower=-0.8)

    assert lower.consumer == pytest.approx(upper.consumer, rel=1e-6, abs=1e-12)
    assert lower.producer == pytest.approx(upper.producer, rel=1e-6, abs=1e-12)


@given(st.floats(0.3, 1.2), st.floats(1e-4, 10.0), st.floats(1e-4, 10.0), st.floats(0.0, 0.2))
def test_all_that_is_accepted_is_good_or_bad(mean, sigma, u, guard):
    """Share accepted = share good, less the good rejected, plus the bad accepted, for any scales.

    Outside: the accepted and the good share are normal distribution functions.
    """
    risks = global_risks(Prior(mean, sigma), u, guard, lower=0.3, upper=0.8)
    good = statistics.NormalDist(mean, sigma)
    read = statistics.NormalDist(mean, math.hypot(sigma, u))
    accepted = read.cdf(0.8 - guard) - read.cdf(0.3 + guard)

    assert good.cdf(0.8) - good.cdf(0.3) - risks.producer + risks.consumer == pytest.approx(
        accepted, abs=1e-10
    )


def test_global_risk_is_the_mean_of_the_specific_ones():
    """Integrating the specific risk over accepted readings gives the global one (JCGM 106, 9.4)."""
    from scipy.integrate import quad
    from scipy.stats import norm

    prior, u = Prior(0.60, 0.12), 0.0163
    readings = norm(prior.mean, math.hypot(prior.sigma, u))
    consumer, _ = quad(
        lambda y: readings.pdf(y) * specific_risks(y, u, prior, upper=0.8).consumer,
        0.0, 0.8, points=[0.7, 0.75], epsabs=1e-12,
    )  # fmt: skip

    assert global_risks(prior, u, upper=0.8).consumer == pytest.approx(consumer, rel=1e-6)


@given(st.floats(0.2, 1.2), st.floats(0.001, 0.2))
def test_specific_risks_share_out_all_that_can_be(reading_mm, u_mm):
    """A brake is either good or not: the two risks add up to one."""
    risks = specific_risks(reading_mm, u_mm, Prior(0.6, 0.12), upper=LIMIT_MM)

    assert risks.consumer + risks.producer == pytest.approx(1.0)


def test_a_vague_prior_leaves_the_reading_alone():
    """Knowing nothing beforehand, the specific risk is one less the conformance probability."""
    vague = Prior(0.6, 1e4)

    assert specific_risks(0.78, 0.0163, vague, upper=0.8).producer == pytest.approx(
        conformance_probability(0.78, 0.0163, upper=0.8), abs=1e-6
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: conformance_probability(0.5, 0.0, upper=0.8), "uncertainty must be > 0"),
        (lambda: conformance_probability(0.5, -0.1, upper=0.8), "uncertainty must be > 0"),
        (lambda: conformance_probability(math.nan, 0.1, upper=0.8), "measured must be a finite"),
        (lambda: conformance_probability(0.5, 0.1), "lower or upper must be given"),
        (lambda: conformance_probability(0.5, 0.1, lower=0.8, upper=0.2), "lower must be < upper"),
        (lambda: conformance_probability([0.5, 0.5], [0.1, 0.0], upper=1), r"uncertainty\[1\]"),
        (lambda: conformance_probability([0.5, math.inf], 0.1, upper=1), r"measured\[1\]"),
        (lambda: guard_band(-1.0), "uncertainty must be >= 0"),
        (lambda: guard_band(1.0, -2.0), "coverage_factor must be >= 0"),
        (lambda: is_accepted(0.5, -0.1, upper=0.8), "guard must be >= 0"),
        (lambda: least_distance(0.0), "cost_ratio must be > 0"),
        (lambda: zone(0.5, 0.1, upper=0.8, cost_ratio=0.5), "cost_ratio must be >= 1"),
        (lambda: distance(0.5, math.inf, upper=0.8), "uncertainty must be > 0"),
        (lambda: Prior(0.6, 0.0), "prior sigma must be > 0"),
        (lambda: global_risks(Prior(0.6, 0.1), 0.0, upper=0.8), "uncertainty must be > 0"),
        (lambda: global_risks(Prior(0.6, 0.1), 0.1, 0.5, lower=0, upper=0.8), "guard must leave"),
        (lambda: specific_risks(0.5, 0.0, Prior(0.6, 0.1), upper=0.8), "uncertainty must be > 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """The sentence names the argument and what it may be."""
    with pytest.raises(ValueError, match=words):
        call()
