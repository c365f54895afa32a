"""What a sequential test really does, computed case by case; and Wald's approximations."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from quizzes.analysis.counts import open_rate
from widgets.brake.ranges import in_range

from .sequential import SequentialTest

_NO_DRIFT = 1e-9  # nearer to the slope than this, Wald's formula is 0/0 and its limit is taken


@dataclass(frozen=True, slots=True)
class Performance:
    """The exact course of a sequential test for people of known true rates.

    Attributes
    ----------
    rate : ndarray of shape (n,)
        True rates of right decisions, 0 to 1.
    competent, not_yet : ndarray of shape (n,)
        Chances of the two ends; together 1. Who is cut counts as not yet.
    cut : ndarray of shape (n,)
        Chance of coming to the cut without an answer; part of `not_yet`.
    mean_cases : ndarray of shape (n,)
        Expected number of cases.
    ending : ndarray of shape (most_cases, n)
        Chance that the test ends at each case.
    """

    rate: NDArray[np.float64]
    competent: NDArray[np.float64]
    not_yet: NDArray[np.float64]
    cut: NDArray[np.float64]
    mean_cases: NDArray[np.float64]
    ending: NDArray[np.float64]


def performance(test: SequentialTest, rate: ArrayLike) -> Performance:
    """Return the exact operating curve and mean length of a sequential test.

    Parameters
    ----------
    test : SequentialTest
        The rates and the cut.
    rate : array_like of shape (n,) or a number
        True rates of right decisions, 0 to 1.

    Raises
    ------
    ValueError
        If a rate is not between 0 and 1.

    Notes
    -----
    The chance of each count of right decisions is carried from case to case;
    what reaches a boundary leaves. Nothing is drawn and nothing approximated.

    Examples
    --------
    The default test: a 70 % person passes in 4.3 %, a 90 % person in 85 %.

    >>> curve = performance(SequentialTest(), [0.70, 0.90])
    >>> curve.competent.round(4).tolist(), curve.mean_cases.round(2).tolist()
    ([0.0428, 0.8505], [15.12, 21.25])
    """
    true = np.atleast_1d(np.asarray(in_range("rate", rate, "", 0, 1), dtype=np.float64)).ravel()
    going = np.zeros((test.most_cases + 1, true.size))
    going[0] = 1.0
    competent, failed = np.zeros_like(true), np.zeros_like(true)
    ending = np.zeros((test.most_cases, true.size))
    for row, (fail_at_most, pass_at_least) in enumerate(_lines(test)):
        moved = going * (1 - true)
        moved[1:] += going[:-1] * true
        passing, failing = moved[pass_at_least:].sum(axis=0), moved[: fail_at_most + 1].sum(axis=0)
        competent += passing
        failed += failing
        ending[row] = passing + failing
        moved[pass_at_least:] = 0.0
        moved[: fail_at_most + 1] = 0.0
        going = moved
    cut = going.sum(axis=0)
    ending[-1] += cut
    mean_cases = np.arange(1, test.most_cases + 1) @ ending
    return Performance(true, competent, failed + cut, cut, mean_cases, ending)


def wald_mean_cases(test: SequentialTest, rate: float) -> float:
    """Return Wald's approximate mean number of cases; it knows neither overshoot nor cut.

    Parameters
    ----------
    test : SequentialTest
        The rates; its cut is left aside.
    rate : float
        True rate of right decisions, above 0 and below 1.

    Raises
    ------
    ValueError
        If the rate is 0, 1 or beyond.

    Examples
    --------
    >>> test = SequentialTest()
    >>> [round(wald_mean_cases(test, rate), 2) for rate in (0.70, 0.90, test.slope)]
    [12.98, 20.43, 23.57]
    """
    rate = open_rate("rate", rate)
    if abs(rate - test.slope) < _NO_DRIFT:
        spread = rate * test.right_log**2 + (1 - rate) * test.wrong_log**2
        return -test.pass_log * test.fail_log / spread
    passing = wald_pass_chance(test, rate)
    drift = rate * test.right_log + (1 - rate) * test.wrong_log
    return (passing * test.pass_log + (1 - passing) * test.fail_log) / drift


def wald_pass_chance(test: SequentialTest, rate: float) -> float:
    """Return Wald's approximate chance of "competent", 0 to 1; no overshoot, no cut.

    Parameters
    ----------
    test : SequentialTest
        The rates; its cut is left aside.
    rate : float
        True rate of right decisions, above 0 and below 1.

    Raises
    ------
    ValueError
        If the rate is 0, 1 or beyond.

    Notes
    -----
    Source: Wald, *Sequential Analysis* (1947), ch. 3 (from memory): with h the
    other root of E[exp(h z)] = 1, the chance is (1 - e^{hB}) / (e^{hA} - e^{hB}).
    """
    rate = open_rate("rate", rate)
    if abs(rate - test.slope) < _NO_DRIFT:
        return -test.fail_log / (test.pass_log - test.fail_log)
    power = _other_root(test, rate)
    up, down = _exp(power * test.pass_log), _exp(power * test.fail_log)
    return (1 - down) / (up - down)


def _lines(test: SequentialTest) -> NDArray[np.int64]:
    """Return the boundaries, shape (most_cases, 2): fail at most, pass at least.

    Where nothing decides, the first is -1 and the second one more than the cases.
    """
    table = [
        (
            -1 if one.fail_at_most is None else one.fail_at_most,
            one.cases + 1 if one.pass_at_least is None else one.pass_at_least,
        )
        for one in test.boundaries()
    ]
    return np.array(table, dtype=np.int64)


def _exp(power: float) -> float:
    return math.exp(min(power, 700.0))  # beyond, a float overflows; it is large enough by then


def _other_root(test: SequentialTest, rate: float) -> float:
    from scipy.optimize import brentq  # noqa: PLC0415 (a page opens faster without SciPy)

    def excess(power: Any) -> float:  # noqa: ANN401 (brentq hands over what it likes)
        up, down = _exp(power * test.right_log), _exp(power * test.wrong_log)
        return rate * up + (1 - rate) * down - 1

    # Below the slope the root is positive, above it negative; `excess` is convex and 0 at 0.
    side = 1.0 if rate < test.slope else -1.0
    near = far = side
    while excess(near) > 0:
        near /= 2
    while excess(far) < 0:
        far *= 2
    return float(brentq(excess, near, far, xtol=1e-14))
