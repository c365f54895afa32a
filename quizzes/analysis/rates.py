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
        confidence is no share.

    Notes
    -----
    Source: Clopper & Pearson, Biometrika 26 (1934) 404.

    Examples
    --------
    >>> rate = exact_rate(24, 24)
    >>> round(rate.low, 3), rate.high
    (0.858, 1.0)
    """
    count, cases = _rate_counts(count, cases)
    side = (1 + open_rate("confidence", confidence)) / 2
    low, high = lower_bound(count, cases, side), upper_bound(count, cases, side)
    return Rate(count, cases, low, high, confidence)


def wilson_rate(count: int, cases: int, confidence: float = CONFIDENCE) -> Rate:
    """Return a counted share with its Wilson interval, right on the mean of many uses.

    Parameters
    ----------
    count, cases : int
        How many, of how many; at least one case.
    confidence : float
        Two-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        As `exact_rate`.

    Notes
    -----
    Source: Wilson, J. Am. Stat. Assoc. 22 (1927) 209. Narrower than the exact
    one; for a rate on which safety hangs use `exact_rate`.

    Examples
    --------
    >>> rate = wilson_rate(490, 500)
    >>> round(rate.low, 4), round(rate.high, 4)
    (0.9636, 0.9891)
    """
    from scipy.special import ndtri  # noqa: PLC0415 (a page opens faster without SciPy)

    count, cases = _rate_counts(count, cases)
    z = float(ndtri((1 + open_rate("confidence", confidence)) / 2))
    share, spread = count / cases, z * z / cases
    middle = (share + spread / 2) / (1 + spread)
    half = z * math.sqrt(share * (1 - share) / cases + spread / (4 * cases)) / (1 + spread)
    # The ends are exact in algebra where nothing, or everything, was counted.
    low = max(0.0, middle - half) if count else 0.0
    high = min(1.0, middle + half) if count < cases else 1.0
    return Rate(count, cases, low, high, confidence)


def lower_bound(count: int, cases: int, confidence: float = CONFIDENCE) -> float:
    """Return the rate that the true one is not below, one-sided, exact.

    Parameters
    ----------
    count, cases : int
        How many, of how many; at least one case.
    confidence : float
        One-sided, above 0 and below 1.

    Returns
    -------
    float
        0 to 1; 0 where nothing was counted.

    Raises
    ------
    ValueError
        As `exact_rate`.

    Notes
    -----
    Source: Clopper & Pearson, Biometrika 26 (1934) 404, through the beta
    distribution.

    Examples
    --------
    Fifteen right of fifteen show no more than this:

    >>> round(lower_bound(15, 15), 3)
    0.819
    """
    from scipy.special import betaincinv  # noqa: PLC0415 (a page opens faster without SciPy)

    count, cases = _rate_counts(count, cases)
    tail = 1 - open_rate("confidence", confidence)
    return float(betaincinv(count, cases - count + 1, tail)) if count else 0.0


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
    count, cases = _rate_counts(count, cases)
    return 1 - lower_bound(cases - count, cases, confidence)


def zero_failure_bound(cases: int, confidence: float = CONFIDENCE) -> float:
    """Return the miss rate that so many cases without a miss leave open: 1 - alpha^(1/n).

    Parameters
    ----------
    cases : int
        Cases in which a miss was possible, none missed; at least one.
    confidence : float
        One-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If there is no case, or the confidence is no share.

    Notes
    -----
    Somebody who misses a share q shows no miss in n cases with chance
    (1 - q)^n. The bound is the q at which that chance has fallen to
    1 - confidence.

    Examples
    --------
    >>> [round(100 * zero_failure_bound(n), 1) for n in (10, 20, 29, 59)]
    [25.9, 13.9, 9.8, 5.0]
    """
    cases = whole("cases", cases, low=1)
    return -math.expm1(math.log1p(-open_rate("confidence", confidence)) / cases)


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
        If either is no share, or more cases than anybody can sit would be needed.

    Examples
    --------
    >>> cases_without_miss(0.05)
    59
    """
    exact = math.log1p(-open_rate("confidence", confidence)) / math.log1p(-open_rate("rate", rate))
    # A whole number met exactly must not become the next one by rounding.
    return whole("cases needed", max(1, math.ceil(exact - 1e-9)))


def _rate_counts(count: int, cases: int) -> tuple[int, int]:
    whole("cases", cases, low=1)
    return counted("count", count, "cases", cases)
