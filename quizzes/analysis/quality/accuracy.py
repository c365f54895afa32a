"""How often a cut on marks decides as the true scores would (Livingston and Lewis)."""

import math
from dataclasses import dataclass

import numpy as np

from quizzes.analysis.counts import whole
from quizzes.analysis.people.mastery import Beliefs
from widgets.brake.ranges import in_range

from .consistency import MOST_ITEMS, Consistency, two_forms


@dataclass(frozen=True, slots=True)
class Accuracy:
    """How often a form decides as the true scores would.

    Attributes
    ----------
    accuracy : float
        Share of people judged correctly, 0 to 1.
    false_pass, false_fail : float
        Shares of people who pass and should not, and who should and do not.
    consistency : Consistency
        Two such forms against each other.
    effective_items : int
        Right-or-wrong items that would measure as well as the scores do.
    """

    accuracy: float
    false_pass: float
    false_fail: float
    consistency: Consistency
    effective_items: int


def effective_length(
    mean: float, variance: float, reliability: float, low: float = 0.0, high: float = 100.0
) -> int:
    """Return how many right-or-wrong items would measure as well as these scores do.

    Parameters
    ----------
    mean, variance : float
        Of the scores, marks and marks squared.
    reliability : float
        Of the scores, above 0 and below 1.
    low, high : float
        Least and largest mark possible.

    Raises
    ------
    ValueError
        If a number is impossible, or the length comes out below 1 or above 2000.

    Notes
    -----
    Source: Livingston & Lewis, J. Educ. Meas. 32 (1995) 179 (from memory).

    Examples
    --------
    >>> effective_length(80.0, 100.0, reliability=0.85)
    101
    """
    in_range("low", low, "marks")
    in_range("high", high, "marks", above=low)
    in_range("mean", mean, "marks", above=low, below=high)
    most = (mean - low) * (high - mean)
    in_range("variance", variance, "marks squared", above=0, high=most)
    in_range("reliability", reliability, "", above=0, below=1)
    exact = (most - reliability * variance) / (variance * (1 - reliability))
    return whole("effective length", round(exact), low=1, high=MOST_ITEMS)


def livingston_lewis(
    mean: float,
    variance: float,
    reliability: float,
    cut: float,
    *,
    low: float = 0.0,
    high: float = 100.0,
) -> Accuracy:
    """Return accuracy and consistency of a cut on marks, with a Beta for the true scores.

    Parameters
    ----------
    mean, variance : float
        Of the marks, and marks squared.
    reliability : float
        Of the marks, above 0 and below 1.
    cut : float
        Marks that must be reached, above `low` and below `high`.
    low, high : float
        Least and largest mark possible.

    Raises
    ------
    ValueError
        If a number is impossible.

    Notes
    -----
    The Beta has the mean of the marks and their variance times the
    reliability. The cut of the effective form is rounded up to a whole item.

    Source: Livingston & Lewis, J. Educ. Meas. 32 (1995) 179 (from memory),
    with two parameters in place of four.

    Examples
    --------
    >>> found = livingston_lewis(80.0, 100.0, reliability=0.85, cut=75.0)
    >>> round(found.accuracy, 3), round(found.false_pass, 3)
    (0.899, 0.048)
    """
    items = effective_length(mean, variance, reliability, low, high)
    in_range("cut", cut, "marks", above=low, below=high)
    share, asked = (mean - low) / (high - low), (cut - low) / (high - low)
    spread = reliability * variance / (high - low) ** 2
    size = share * (1 - share) / spread - 1
    if size <= 0:
        raise ValueError(
            f"variance {variance:g} with reliability {reliability:g} spreads the true scores "
            "further than any Beta distribution does"
        )
    needed = math.ceil(asked * items - 1e-9)
    rights, wrongs = size * share, size * (1 - share)
    consistency = two_forms(items, rights, wrongs, needed, reliability)
    false_pass = _passing_below(asked, items, rights, wrongs, needed)
    should_pass = Beliefs(rights, wrongs).chance_above(asked)
    false_fail = should_pass - (consistency.pass_rate - false_pass)
    return Accuracy(1 - false_pass - false_fail, false_pass, false_fail, consistency, items)


def _passing_below(asked: float, items: int, rights: float, wrongs: float, needed: int) -> float:
    """Return the share of people below the true cut who pass all the same.

    After x right of n the true rate is Beta(a + x, b + n - x): sum the part
    of it below the cut over all x that pass.
    """
    from scipy.special import betainc  # noqa: PLC0415 (a page opens faster without SciPy)
    from scipy.stats import betabinom  # noqa: PLC0415 (a page opens faster without SciPy)

    right = np.arange(needed, items + 1)
    below = betainc(rights + right, wrongs + items - right, asked)
    return float(betabinom.pmf(right, items, rights, wrongs) @ below)
