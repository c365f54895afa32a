"""How many cases a form of fixed length needs, and how many of them right."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from quizzes.analysis.counts import counted, open_rate, whole
from widgets.brake.ranges import in_range

MOST_CASES = 5000  # a longer form nobody sits
LOOK_AT = ((1, 100), (101, 600), (601, MOST_CASES))  # lengths, a part at a time: most are short


@dataclass(frozen=True, slots=True)
class FixedForm:
    """A form of fixed length, and its two error rates as they really are.

    Attributes
    ----------
    cases, pass_at_least : int
        How many, and how many of them must be right.
    false_pass : float
        Chance of passing at the rate that must not, 0 to 1.
    false_fail : float
        Chance of not passing at the rate that should, 0 to 1.
    """

    cases: int
    pass_at_least: int
    false_pass: float
    false_fail: float


def pass_chance(rate: ArrayLike, cases: int, pass_at_least: int) -> NDArray[np.float64]:
    """Return the chance of at least so many right, for people of known true rates.

    Parameters
    ----------
    rate : array_like
        True rates of right decisions, 0 to 1.
    cases, pass_at_least : int
        How many, and how many of them must be right.

    Returns
    -------
    ndarray
        0 to 1, in the shape of `rate`.

    Raises
    ------
    ValueError
        If a rate is not a share, or more right are asked than there are cases.

    Examples
    --------
    Thirteen of fifteen lets one in eight through who is right in 70 % only.

    >>> pass_chance([0.70, 0.90, 0.95], 15, 13).round(4).tolist()
    [0.1268, 0.8159, 0.9638]
    """
    from scipy.special import bdtrc  # noqa: PLC0415 (a page opens faster without SciPy)

    true = in_range("rate", rate, "", 0, 1)
    whole("cases", cases, low=1, high=MOST_CASES)
    pass_at_least, cases = counted("pass_at_least", pass_at_least, "cases", cases)
    return np.asarray(bdtrc(pass_at_least - 1, cases, true), dtype=np.float64)


def shortest_form(
    not_yet_rate: float,
    competent_rate: float,
    false_pass: float = 0.05,
    false_fail: float = 0.10,
) -> FixedForm:
    """Return the shortest form that keeps both error rates.

    Parameters
    ----------
    not_yet_rate, competent_rate : float
        Rate of right decisions that must not pass, and that should.
    false_pass, false_fail : float
        Largest chance of a wrong "competent" at the first, of a wrong "not
        yet" at the second.

    Raises
    ------
    ValueError
        If a rate is not between 0 and 1, the two are the wrong way round, or
        they are so near that more than 5000 cases would be needed.

    Examples
    --------
    >>> form = shortest_form(0.70, 0.90)
    >>> form.cases, form.pass_at_least
    (37, 31)
    """
    _check(not_yet_rate, competent_rate, false_pass, false_fail)
    for first, last in LOOK_AT:
        cases = np.arange(first, last + 1)
        form = _first_that_fits(cases, not_yet_rate, competent_rate, false_pass, false_fail)
        if form is not None:
            return form
    raise ValueError(
        f"{not_yet_rate:g} and {competent_rate:g} lie too near for the error rates "
        f"{false_pass:g} and {false_fail:g}: more than {MOST_CASES} cases would be needed"
    )


def _first_that_fits(
    cases: NDArray[np.int_],
    not_yet_rate: float,
    competent_rate: float,
    false_pass: float,
    false_fail: float,
) -> FixedForm | None:
    from scipy.stats import binom  # noqa: PLC0415 (a page opens faster without SciPy)

    # isf gives the least k with sf(k) <= false_pass; k + 1 right or more is then rare enough.
    least = binom.isf(false_pass, cases, not_yet_rate) + 1
    failing = binom.cdf(least - 1, cases, competent_rate)
    fits = (least <= cases) & (failing <= false_fail)
    if not fits.any():
        return None
    at = int(np.argmax(fits))
    return FixedForm(
        cases=int(cases[at]),
        pass_at_least=int(least[at]),
        false_pass=float(binom.sf(least[at] - 1, cases[at], not_yet_rate)),
        false_fail=float(failing[at]),
    )


def pass_chance_without_miss(
    rate: float, miss_rate: float, cases: int, pass_at_least: int, unsafe_cases: int
) -> float:
    """Return the chance of enough right and not one unsafe brake let through.

    Parameters
    ----------
    rate : float
        True rate of right decisions, 0 to 1, the same for every case.
    miss_rate : float
        Share of unsafe brakes let through; at most 1 - `rate`, as a miss is
        never right.
    cases, pass_at_least, unsafe_cases : int
        How many, how many must be right, how many of them are unsafe.

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    ValueError
        If a number is impossible, or more is missed than wrong.

    Examples
    --------
    >>> round(pass_chance_without_miss(0.70, 0.10, 24, 21, 10), 4)
    0.0285
    """
    from scipy.stats import binom  # noqa: PLC0415 (a page opens faster without SciPy)

    in_range("rate", rate, "", 0, 1)
    in_range("miss_rate", miss_rate, "", 0, 1 - rate + 1e-12)
    whole("cases", cases, low=1, high=MOST_CASES)
    pass_at_least, cases = counted("pass_at_least", pass_at_least, "cases", cases)
    unsafe_cases, cases = counted("unsafe_cases", unsafe_cases, "cases", cases)
    if miss_rate >= 1:
        return float(unsafe_cases == 0 and pass_at_least == 0)
    without = (1 - miss_rate) ** unsafe_cases
    safe_cases = cases - unsafe_cases
    given = min(1.0, rate / (1 - miss_rate))  # right on an unsafe brake, if it is not missed
    unsafe_right = binom.pmf(np.arange(unsafe_cases + 1), unsafe_cases, _not_minute(given))
    safe_right = binom.pmf(np.arange(safe_cases + 1), safe_cases, _not_minute(rate))
    return float(without * np.convolve(unsafe_right, safe_right)[pass_at_least:].sum())


def _not_minute(rate: float) -> float:
    return rate if rate > 1e-15 else 0.0  # SciPy 1.17 overflows at rates near the least float


def _check(
    not_yet_rate: float, competent_rate: float, false_pass: float, false_fail: float
) -> None:
    open_rate("not_yet_rate", not_yet_rate)
    open_rate("false_pass", false_pass)
    open_rate("false_fail", false_fail)
    if open_rate("competent_rate", competent_rate) <= not_yet_rate:
        raise ValueError(
            f"competent_rate must be above not_yet_rate, which is {not_yet_rate:g}; "
            f"got {competent_rate:g}"
        )
