"""A rate from a count, with the interval that so few cases leave open."""

import math
from dataclasses import dataclass

from .counts import counted, open_rate, whole

CONFIDENCE = 0.95  # for every bound that a page states; common practice, no source


@dataclass(frozen=True, slots=True)
class Rate:
    """A share that was counted, and its two-sided interval.

    Attributes
    ----------
    count, cases : int
        How many, of how many.
    low, high : float
        Ends of the interval, 0 to 1.
    confidence : float
        Of the interval as a whole, 0 to 1.
    """

    count: int
    cases: int
    low: float
    high: float
    confidence: float

    @property
    def share(self) -> float:
        """The share that was counted, 0 to 1."""
        return self.count / self.cases


def exact_rate(count: int, cases: int, confidence: float = CONFIDENCE) -> Rate:
    """Return a counted share with its Clopper-Pearson interval, never too narrow.

    Parameters
    ----------
    count, cases : int
        How many, of how many; at least one case.
    confidence : float
        Two-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If there is no case, more are counted than there were, or the
        confidence is not a share.

    Notes
    -----
    Source: Clopper & Pearson, Biometrika 26 (1934) 404.

    Examples
    --------
    >>> rate = exact_rate(24, 24)
    >>> round(rate.low, 3), rate.high
    (0.858, 1.0)
    """
    low, high = _exact(count, cases, confidence, "two-sided")
    return Rate(int(count), int(cases), low, high, confidence)


def upper_bound(count: int, cases: int, confidence: float = CONFIDENCE) -> float:
    """Return the rate that the true one is not above, one-sided, exact.

    Parameters
    ----------
    count, cases : int
        How many, of how many; at least one case.
    confidence : float
        One-sided, above 0 and below 1.

    Returns
    -------
    float
        0 to 1; 1 where everything was counted.

    Raises
    ------
    ValueError
        As `exact_rate`.

    Examples
    --------
    Ten unsafe brakes, none let through:

    >>> round(upper_bound(0, 10), 3)
    0.259
    """
    return _exact(count, cases, confidence, "less")[1]


def cases_without_miss(rate: float, confidence: float = CONFIDENCE) -> int:
    """Return how many cases without a miss bring the bound on the miss rate to `rate`.

    Parameters
    ----------
    rate : float
        Miss rate to be shown, above 0 and below 1.
    confidence : float
        One-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If either is not a share, or more cases than anybody can sit would be needed.

    Examples
    --------
    >>> cases_without_miss(0.05)
    59
    """
    exact = math.log1p(-open_rate("confidence", confidence)) / math.log1p(-open_rate("rate", rate))
    # A whole number met exactly must not become the next one by rounding.
    return whole("cases needed", max(1, math.ceil(exact - 1e-9)))


def _exact(count: int, cases: int, confidence: float, side: str) -> tuple[float, float]:
    """Return the ends of a Clopper-Pearson interval, quantiles of two beta distributions.

    With the side "less" only the upper counts.
    """
    from scipy.special import betaincinv  # noqa: PLC0415 (a page opens faster without SciPy)

    whole("cases", cases, low=1)
    count, cases = counted("count", count, "cases", cases)
    both = side == "two-sided"
    beyond = (1 - open_rate("confidence", confidence)) / (2 if both else 1)
    low = float(betaincinv(count, cases - count + 1, beyond)) if both and count else 0.0
    high = float(betaincinv(count + 1, cases - count, 1 - beyond)) if count < cases else 1.0
    return low, high
