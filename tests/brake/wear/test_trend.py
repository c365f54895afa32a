"""The line through a history of readings: against statsmodels, and by its laws."""

import datetime as dt
import math

import numpy as np
import pytest
import scipy.stats
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st

from widgets.brake.wear.trend import DatedGap, fit_trend, inspection_from_history

START = dt.date(2025, 1, 6)


def history(days, gaps_mm, u_mm, adjusted=()):
    """Return readings on days after START; `adjusted` are the places after an adjustment."""
    u_mm = np.broadcast_to(u_mm, len(days))
    return [
        DatedGap(START + dt.timedelta(days=int(day)), float(gap), float(u), place in adjusted)
        for place, (day, gap, u) in enumerate(zip(days, gaps_mm, u_mm, strict=True))
    ]


# (days, gaps mm, u mm, places after an adjustment): one level; two levels; three
# levels of which one has a single reading; unequal uncertainties throughout.
HISTORIES = [
    ([0, 30, 61, 92, 120, 150], [0.30, 0.36, 0.40, 0.47, 0.52, 0.57], 0.0163, ()),
    (
        [0, 40, 90, 130, 130, 170, 210],
        [0.31, 0.45, 0.62, 0.74, 0.30, 0.47, 0.55],
        [0.0163, 0.0163, 0.0086, 0.0086, 0.0086, 0.0163, 0.0086],
        (4,),
    ),
    (
        [0, 30, 60, 90, 90, 100, 130, 160, 200],
        [0.30, 0.44, 0.50, 0.66, 0.30, 0.41, 0.40, 0.58, 0.70],
        [0.01, 0.02, 0.01, 0.02, 0.01, 0.01, 0.02, 0.01, 0.01],
        (4, 5),
    ),
]


def reference(days, gaps_mm, u_mm, adjusted):
    """Return the statsmodels fit: a column for each level, and the days since the last reading."""
    level = np.cumsum([place in adjusted for place in range(len(days))])
    design = np.column_stack(
        [(level == number).astype(float) for number in range(level[-1] + 1)]
        + [np.array(days, dtype=float) - days[-1]]
    )
    weights = 1 / np.broadcast_to(u_mm, len(days)) ** 2
    return design, sm.WLS(np.array(gaps_mm), design, weights=weights)


@pytest.mark.parametrize(("days", "gaps_mm", "u_mm", "adjusted"), HISTORIES)
def test_line_and_covariance_agree_with_statsmodels(days, gaps_mm, u_mm, adjusted):
    """Level, slope, their covariance and the residual scatter.

    Outside check: statsmodels WLS. Where the readings scatter less than they
    state, statsmodels is told to take the stated uncertainty as it is.
    """
    _, model = reference(days, gaps_mm, u_mm, adjusted)
    free = model.fit()
    fit = free if free.scale > 1 else model.fit(cov_type="fixed scale")
    trend = fit_trend(history(days, gaps_mm, u_mm, adjusted))

    assert trend.level_mm == pytest.approx(fit.params[-2], rel=1e-9)
    assert trend.slope_mm_per_day == pytest.approx(fit.params[-1], rel=1e-9)
    assert trend.covariance == pytest.approx(fit.cov_params()[-2:, -2:], rel=1e-8, abs=1e-15)
    assert trend.scatter == pytest.approx(max(1.0, free.scale), rel=1e-9)
    assert trend.spare_readings == free.df_resid


@pytest.mark.parametrize(("days", "gaps_mm", "u_mm", "adjusted"), HISTORIES)
@pytest.mark.parametrize("ahead", [0, 30, 365])
def test_upper_bound_agrees_with_statsmodels(days, gaps_mm, u_mm, adjusted, ahead):
    """One-sided 95 % prediction bound of one more reading.

    Outside check: `get_prediction` of statsmodels, whose two-sided 90 % interval
    has the same upper end, where the scatter is more than stated; else its fixed
    scale with Student's t of scipy.
    """
    design, model = reference(days, gaps_mm, u_mm, adjusted)
    point = np.zeros(design.shape[1])
    point[-2:] = 1.0, ahead
    last_u = np.broadcast_to(u_mm, len(days))[-1]
    free = model.fit()
    trend = fit_trend(history(days, gaps_mm, u_mm, adjusted))
    ours = float(trend.upper_mm(ahead, 0.95))

    if free.scale > 1:
        interval = free.get_prediction(point, weights=1 / last_u**2).conf_int(obs=True, alpha=0.1)
        assert ours == pytest.approx(interval[0, 1], rel=1e-9)
    else:
        fixed = model.fit(cov_type="fixed scale")
        spread = math.sqrt(point @ fixed.cov_params() @ point + last_u**2)
        student = scipy.stats.t.ppf(0.95, free.df_resid)
        assert ours == pytest.approx(point @ fixed.params + student * spread, rel=1e-9)


def test_both_kinds_of_scatter_are_among_the_histories():
    """One history scatters more than it states and one less, so that both branches are checked."""
    scales = [reference(*row)[1].fit().scale for row in HISTORIES]

    assert min(scales) < 1 < max(scales)


def test_the_bound_stands_at_the_limit_on_the_day_found():
    """The day is where the upper bound, not the line, crosses; the line crosses later."""
    days, gaps_mm, u_mm, adjusted = HISTORIES[1]
    trend = fit_trend(history(days, gaps_mm, u_mm, adjusted))
    until = trend.days_until(0.80, 0.95)

    assert float(trend.upper_mm(until, 0.95)) == pytest.approx(0.80, abs=1e-6)
    assert until < (0.80 - trend.level_mm) / trend.slope_mm_per_day


def test_adjustments_do_not_bend_the_line():
    """A brake worn by 1 µm a day and set back twice: the slope comes out whole.

    Without the adjustments being told, the same readings would show next to
    no wear.
    """
    days = np.arange(0, 1200, 100)
    gaps = 0.30 + 0.001 * (days % 400)
    told = fit_trend(history(days, gaps, 0.01, adjusted=(4, 8)))
    untold = fit_trend(history(days, gaps, 0.01))

    assert told.slope_mm_per_day == pytest.approx(0.001)
    assert told.level_mm == pytest.approx(0.60)
    assert untold.slope_mm_per_day < 0.0003


@settings(max_examples=30)
@given(
    seed=st.integers(0, 10_000),
    low=st.floats(0.6, 0.9),
    higher=st.floats(0.01, 0.09),
    wider=st.floats(0.01, 0.5),
)
def test_more_confidence_and_less_room_bring_the_day_nearer(seed, low, higher, wider):
    """Surer means sooner; a larger limit means later."""
    days = np.arange(0, 200, 25)
    noise = 0.01 * np.random.default_rng(seed).standard_normal(days.size)
    trend = fit_trend(history(days, 0.30 + 0.002 * days + noise, 0.01))

    assert trend.days_until(0.90, low + higher) <= trend.days_until(0.90, low)
    assert trend.days_until(0.90 + wider, low) >= trend.days_until(0.90, low)


@settings(max_examples=20)
@given(seed=st.integers(0, 10_000))
def test_shifting_all_days_shifts_nothing_else(seed):
    """The line does not depend on when the calendar begins."""
    days = np.arange(0, 160, 20)
    gaps = 0.3 + 0.002 * days + 0.01 * np.random.default_rng(seed).standard_normal(days.size)
    here, later = fit_trend(history(days, gaps, 0.01)), fit_trend(history(days + 5000, gaps, 0.01))

    assert later.days_until(0.80, 0.95) == pytest.approx(here.days_until(0.80, 0.95))


def test_the_bound_holds_as_often_as_stated():
    """Of 1500 simulated histories, 95 % of the readings to come lie below their bound.

    Outside check: Monte Carlo, seed 7, noise as large as stated. The scatter is
    never taken below the stated one, so the share may lie above 95 % but not
    below by more than three standard deviations, 1.7 %.
    """
    draw = np.random.default_rng(7)
    days = np.array([0, 30, 60, 90, 120, 150])
    below = 0
    for _ in range(1500):
        gaps = 0.30 + 0.002 * days + 0.015 * draw.standard_normal(6)
        coming = 0.30 + 0.002 * 200 + 0.015 * draw.standard_normal()
        trend = fit_trend(history(days, gaps, 0.015))
        below += coming <= float(trend.upper_mm(50, 0.95))

    assert 0.95 - 0.017 <= below / 1500 <= 0.99


def test_the_date_comes_from_the_bound_or_from_the_code():
    """A worn brake is due by wear, a hardly worn one at the end of the code interval."""
    days = [0, 30, 61, 92, 120, 150]
    worn = inspection_from_history(history(days, HISTORIES[0][1], 0.0163), 0.80)
    idle = inspection_from_history(history(days, [0.3] * 6, 0.0163), 0.80)
    over = inspection_from_history(history(days, HISTORIES[0][1], 0.0163), 0.55)

    last = START + dt.timedelta(days=150)
    assert worn.by_wear
    assert last < worn.on < last + dt.timedelta(days=(0.80 - 0.57) / 0.0018)
    assert not idle.by_wear
    assert idle.on == last + dt.timedelta(days=365)
    assert over.on == last


def test_a_gap_that_shrinks_has_no_day():
    """A line that falls faster than its band widens never meets the limit."""
    days = np.arange(0, 100, 10)
    trend = fit_trend(history(days, 0.6 - 0.002 * days, 0.001))

    assert trend.days_until(0.80, 0.95) == math.inf


REFUSED = [
    ([], r"readings must be at least 4 to show a trend, got none"),
    (history([0, 30, 60], [0.3, 0.4, 0.5], 0.01), r"at least 4 with 0 adjustments .* got 3"),
    (
        history([0, 30, 60, 60], [0.3, 0.4, 0.5, 0.3], 0.01, adjusted=(3,)),
        r"at least 5 with 1 adjustments .* got 4",
    ),
    (history([0, 30, 20, 60], [0.3, 0.4, 0.5, 0.6], 0.01), r"in order of time, got readings\[2\]"),
    (history([5] * 4, [0.3, 0.4, 0.5, 0.6], 0.01), r"on different days between adjustments"),
]


@pytest.mark.parametrize(("readings", "message"), REFUSED)
def test_too_few_or_muddled_readings_are_refused(readings, message):
    """A clear sentence in place of a date that means nothing."""
    with pytest.raises(ValueError, match=message):
        fit_trend(readings)


def test_two_points_are_never_a_trend():
    """However far apart, two readings leave nothing to judge the line by."""
    with pytest.raises(ValueError, match="to say how sure the date is, got 2"):
        inspection_from_history(history([0, 300], [0.3, 0.6], 0.01), 0.80)


def test_impossible_readings_and_questions_are_refused():
    """A reading without uncertainty, a negative gap, a certainty of 1."""
    trend = fit_trend(history(*HISTORIES[0][:3]))

    with pytest.raises(ValueError, match="u_mm must be > 0 mm, got 0"):
        DatedGap(START, 0.3, 0.0)
    with pytest.raises(ValueError, match="gap_mm must be >= 0 mm, got -1"):
        DatedGap(START, -1.0, 0.01)
    with pytest.raises(ValueError, match=r"confidence must be >= 0\.5 and < 1, got 1"):
        trend.upper_mm(10, 1.0)
    with pytest.raises(ValueError, match=r"days\[1\] must be a finite number of days, got nan"):
        trend.upper_mm([1.0, math.nan], 0.95)
    with pytest.raises(ValueError, match="gap_max_mm must be > 0 mm, got 0"):
        trend.days_until(0.0, 0.95)
