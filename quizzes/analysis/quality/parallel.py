"""Are the forms of one blueprint equally hard? Their spread beside the error of measurement."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from quizzes.analysis.counts import open_rate
from quizzes.analysis.rates import CONFIDENCE
from widgets.brake.ranges import in_range

EQUAL_ENOUGH = 0.5  # standard errors of measurement; asked of this scheme


@dataclass(frozen=True, slots=True)
class FormSpread:
    """How far forms of one blueprint lie apart for one and the same candidate.

    Attributes
    ----------
    forms : int
        How many were compared.
    mean : float
        Expected score over all forms, in the unit of the scores.
    sd, sd_low, sd_high : float
        Standard deviation of the expected score between forms, and its
        two-sided interval for normally spread forms.
    widest : float
        Largest less smallest expected score.
    sem : float
        Standard error of measurement of one form.
    """

    forms: int
    mean: float
    sd: float
    sd_low: float
    sd_high: float
    widest: float
    sem: float

    @property
    def ratio(self) -> float:
        """Standard deviation between forms, in standard errors of measurement."""
        return self.sd / self.sem

    @property
    def equal_enough(self) -> bool:
        """Whether forms lie within half a standard error of measurement, with what is uncertain."""
        return self.sd_high <= EQUAL_ENOUGH * self.sem


def form_spread(expected: ArrayLike, sem: float, confidence: float = CONFIDENCE) -> FormSpread:
    """Return the spread of forms whose expected scores are known, from a model.

    Parameters
    ----------
    expected : array_like of shape (n_forms,)
        Expected score of one and the same candidate on each form; two forms or more.
    sem : float
        Standard error of measurement of one form, above 0, in the same unit.
    confidence : float
        Of the interval of the standard deviation, two-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If there are fewer than two forms, or a number is impossible.

    Notes
    -----
    The interval is the one of chi square: sd² (n - 1) / σ².

    Examples
    --------
    >>> spread = form_spread([11.8, 12.0, 12.2], sem=1.5)
    >>> round(spread.sd, 3), round(spread.ratio, 3)
    (0.2, 0.133)
    """
    scores = np.atleast_1d(np.asarray(in_range("expected", expected, ""), dtype=np.float64)).ravel()
    if scores.size < 2:
        raise ValueError(f"expected must hold two forms or more, got {scores.size}")
    in_range("sem", sem, "", above=0)
    sd = float(scores.std(ddof=1))
    low, high = _sd_factors(scores.size - 1, confidence)
    return FormSpread(
        forms=int(scores.size),
        mean=float(scores.mean()),
        sd=sd,
        sd_low=low * sd,
        sd_high=high * sd,
        widest=float(np.ptp(scores)),
        sem=sem,
    )


def spread_from_chances(chances: ArrayLike, confidence: float = CONFIDENCE) -> FormSpread:
    """Return the spread of forms from the chance of a right decision in each of their cases.

    Parameters
    ----------
    chances : array_like of shape (n_forms, n_cases)
        For one and the same candidate, 0 to 1; two forms or more.
    confidence : float
        Two-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If the shape is another, a chance is none, or every case is certain.

    Notes
    -----
    A case with chance p adds p to the expected score and p (1 - p) to the
    variance of the score, cases being independent. The standard error of
    measurement is the root of that variance, mean over forms.

    Examples
    --------
    >>> spread = spread_from_chances([[0.9, 0.5], [0.8, 0.6]])
    >>> spread.sd < 1e-9, round(spread.sem, 3)
    (True, 0.608)
    """
    table = _table("chances", chances, low=0.0, high=1.0)
    variance = float((table * (1 - table)).sum(axis=1).mean())
    if not variance:
        raise ValueError("chances are all 0 or 1: for this candidate there is nothing to measure")
    return form_spread(table.sum(axis=1), math.sqrt(variance), confidence)


def spread_from_sittings(scores: ArrayLike, confidence: float = CONFIDENCE) -> FormSpread:
    """Return the spread of forms from sittings of one and the same kind of candidate.

    Parameters
    ----------
    scores : array_like of shape (n_forms, n_sittings)
        Two forms or more, each sat twice or more.
    confidence : float
        Two-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If the shape is another, or sittings of one form never differ.

    Notes
    -----
    Means of forms differ by the luck of the sittings too. That part is taken
    off: components of variance, one way, with a negative estimate kept as 0.
    The interval of the standard deviation is Tukey and Williams's (from
    memory: Williams, Biometrika 49 (1962) 278).

    Examples
    --------
    >>> spread = spread_from_sittings([[12, 14], [13, 11]])
    >>> spread.sd, round(spread.sem, 3)
    (0.0, 1.414)
    """
    table = _table("scores", scores)
    forms, sittings = table.shape
    if sittings < 2:
        raise ValueError("scores must hold two sittings or more of each form, got 1")
    within = float(table.var(axis=1, ddof=1).mean())
    if not within:
        raise ValueError("scores of one form never differ: there is no error of measurement")
    between = sittings * float(table.mean(axis=1).var(ddof=1))
    low, high = _between_interval(between, within, forms, sittings, confidence)
    return FormSpread(
        forms=forms,
        mean=float(table.mean()),
        sd=math.sqrt(max(0.0, between - within) / sittings),
        sd_low=low,
        sd_high=high,
        widest=float(np.ptp(table.mean(axis=1))),
        sem=math.sqrt(within),
    )


def _between_interval(
    between: float, within: float, forms: int, sittings: int, confidence: float
) -> tuple[float, float]:
    from scipy.special import fdtri  # noqa: PLC0415 (a page opens faster without SciPy)

    side = (1 + open_rate("confidence", confidence)) / 2
    spare = forms * (sittings - 1)
    few, many = fdtri(forms - 1, spare, 1 - side), fdtri(forms - 1, spare, side)
    low_factor, high_factor = _sd_factors(forms - 1, confidence)
    low = max(0.0, between - many * within) * low_factor**2 / sittings
    high = max(0.0, between - few * within) * high_factor**2 / sittings
    return math.sqrt(low), math.sqrt(high)


def _sd_factors(spare: int, confidence: float) -> tuple[float, float]:
    """Return by what to multiply a standard deviation for the two ends of its interval."""
    from scipy.special import chdtri  # noqa: PLC0415 (a page opens faster without SciPy)

    outside = 1 - open_rate("confidence", confidence)
    low = math.sqrt(spare / float(chdtri(spare, outside / 2)))
    return low, math.sqrt(spare / float(chdtri(spare, 1 - outside / 2)))


def _table(
    name: str, value: ArrayLike, low: float = -math.inf, high: float = math.inf
) -> NDArray[np.float64]:
    table = np.asarray(in_range(name, value, "", low, high), dtype=np.float64)
    if table.ndim != 2 or table.shape[0] < 2 or table.shape[1] < 1:
        raise ValueError(f"{name} must be of shape (2 forms or more, n), got {table.shape}")
    return table
