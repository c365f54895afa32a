"""Would the same people pass again on another form? Decision consistency from one sitting."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from quizzes.analysis.counts import counted, whole, whole_array
from widgets.brake.ranges import in_range

from .lengths import pass_chance

CONSISTENT_ENOUGH = 0.85  # before any certificate; a choice of this scheme
MOST_ITEMS = 2000  # of a form, counted or effective
_HARDLY = 1e-12  # a spread of passes below this is none


@dataclass(frozen=True, slots=True)
class Consistency:
    """How often two forms of one kind would come to the same decision.

    Attributes
    ----------
    agreement : float
        Share of people judged alike by both forms, 0 to 1.
    kappa : float
        The same beyond what chance gives; at most 1, and 0 where everybody
        passes or nobody does.
    pass_rate : float
        Share of people who pass one form, 0 to 1.
    reliability : float
        From which it was worked out, 0 to 1.
    """

    agreement: float
    kappa: float
    pass_rate: float
    reliability: float

    @property
    def enough(self) -> bool:
        """Whether the form is consistent enough to certify by; if not, make it longer."""
        return self.agreement >= CONSISTENT_ENOUGH


def kr21(items: int, mean: float, variance: float) -> float:
    """Return the reliability of a form of equally hard items, from mean and variance alone.

    Parameters
    ----------
    items : int
        Length of the form, 2 or more.
    mean : float
        Mean of the scores, items, above 0 and below `items`.
    variance : float
        Variance of the scores, items squared, above 0 (divided by n, not n - 1).

    Returns
    -------
    float
        At most 1; 0 or less if the scores spread no more than chance would.

    Raises
    ------
    ValueError
        If a number is impossible.

    Notes
    -----
    Source: Kuder & Richardson, Psychometrika 2 (1937) 151, formula 21.

    Examples
    --------
    >>> round(kr21(20, mean=16.0, variance=9.0), 4)
    0.6784
    """
    items = whole("items", items, low=2, high=MOST_ITEMS)
    in_range("mean", mean, "items", above=0, below=items)
    in_range("variance", variance, "items squared", above=0, high=mean * (items - mean) + 1e-9)
    return items / (items - 1) * (1 - mean * (items - mean) / (items * variance))


def beta_binomial(items: int, mean: float, variance: float, pass_at_least: int) -> Consistency:
    """Return decision consistency where true rates follow a Beta distribution (Huynh).

    Parameters
    ----------
    items : int
        Length of the form, 2 or more.
    mean, variance : float
        Of the scores, items and items squared.
    pass_at_least : int
        Items that must be right.

    Raises
    ------
    ValueError
        If a number is impossible, or the scores spread no more than chance.

    Notes
    -----
    Source: Huynh, J. Educ. Meas. 13 (1976) 253 (from memory). The joint
    distribution of two forms is integrated exactly, not approximated.

    Examples
    --------
    >>> found = beta_binomial(20, mean=16.0, variance=9.0, pass_at_least=16)
    >>> round(found.agreement, 4), round(found.kappa, 4)
    (0.7625, 0.4932)
    """
    pass_at_least, items = counted("pass_at_least", pass_at_least, "items", items)
    reliability = _positive(kr21(items, mean, variance))
    rights = mean * (1 / reliability - 1)
    wrongs = (items - mean) * (1 / reliability - 1)
    return two_forms(items, rights, wrongs, pass_at_least, reliability)


def subkoviak(scores: ArrayLike, items: int, pass_at_least: int) -> Consistency:
    """Return decision consistency from the scores of one class, person by person.

    Parameters
    ----------
    scores : array_like of shape (n_people,)
        Items right, whole numbers; two people or more.
    items : int
        Length of the form, 2 or more.
    pass_at_least : int
        Items that must be right.

    Raises
    ------
    ValueError
        If a score is impossible, or the scores spread no more than chance.

    Notes
    -----
    Each person's true rate is drawn towards the mean of the class by KR-21.

    Source: Subkoviak, J. Educ. Meas. 13 (1976) 265 (from memory).

    Examples
    --------
    >>> found = subkoviak([20, 19, 18, 17, 16, 15, 12, 10], items=20, pass_at_least=16)
    >>> found.enough
    False
    """
    pass_at_least, items = counted("pass_at_least", pass_at_least, "items", items)
    right = whole_array("scores", scores).ravel()
    if right.size < 2:
        raise ValueError(f"scores must hold two people or more, got {right.size}")
    in_range("scores", right, "items", 0, items)
    if right.min() == right.max():
        raise ValueError(f"Everybody has {right[0]:g}: equal scores say nothing of consistency")
    mean = float(right.mean())
    reliability = _positive(kr21(items, mean, float(right.var())))
    true = (reliability * right + (1 - reliability) * mean) / items
    passing = pass_chance(true, items, pass_at_least)
    return _consistency(float(passing.mean()), float((passing**2).mean()), reliability)


def two_forms(
    items: int, rights: float, wrongs: float, pass_at_least: int, reliability: float
) -> Consistency:
    """Return the consistency of two forms where true rates follow a given Beta distribution.

    Parameters
    ----------
    items, pass_at_least : int
        Length of each form, and how many must be right.
    rights, wrongs : float
        The two counts of the Beta distribution, above 0.
    reliability : float
        Carried into the result, 0 to 1.

    Notes
    -----
    Given the rate the forms are independent, so the joint chance of x and y
    right is C(n,x) C(n,y) B(a+x+y, b+2n-x-y) / B(a,b), summed over both passing.
    """
    from scipy.special import betaln, gammaln  # noqa: PLC0415 (a page opens faster without SciPy)

    right = np.arange(pass_at_least, items + 1)
    ways = gammaln(items + 1) - gammaln(right + 1) - gammaln(items - right + 1)
    alone = ways + betaln(rights + right, wrongs + items - right) - betaln(rights, wrongs)
    total = right[:, None] + right[None, :]
    joint = betaln(rights + total, wrongs + 2 * items - total) - betaln(rights, wrongs)
    both = float(np.exp(ways[:, None] + ways[None, :] + joint).sum())
    return _consistency(float(np.exp(alone).sum()), both, reliability)


def _consistency(pass_rate: float, both: float, reliability: float) -> Consistency:
    agreement = 1 + 2 * (both - pass_rate)
    room = 2 * pass_rate * (1 - pass_rate)  # what chance alone leaves apart
    kappa = 1 - (1 - agreement) / room if room > _HARDLY else 0.0
    return Consistency(agreement, kappa, pass_rate, reliability)


def _positive(reliability: float) -> float:
    if reliability <= 0:
        raise ValueError(
            f"KR-21 is {reliability:.3f}: the scores spread no more than chance would, "
            "and nothing can be said of consistency"
        )
    if reliability >= 1 - _HARDLY:
        raise ValueError("KR-21 is 1: the scores are all or nothing, and no form is needed")
    return reliability
