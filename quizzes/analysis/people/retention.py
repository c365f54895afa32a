"""How a skill that is not used fades, and when somebody must be seen again."""

import calendar
import datetime as dt
from collections.abc import Callable

from quizzes.analysis.counts import open_rate
from widgets.brake.ranges import in_range

from .mastery import BAR, UNIFORM, Beliefs

# Half of what was gained is gone after about 6.5 months without use, for accuracy.
# Source: Tatel & Ackerman, Psychological Bulletin, doi 10.1037/bul0000481 (abstract).
HALF_LIFE_MONTHS = 6.5
FADING_SD_PER_MONTH = 0.08  # of accuracy, standard deviations; the same source
SURE_ENOUGH = 0.90  # chance of still being above the bar; a choice of this scheme
MOST_MONTHS = 12.0  # however good somebody was; a choice of this scheme
MOST_MONTHS_UNUSED = 6.0  # without logged practice; a choice of this scheme
_STEP_MONTHS = 0.125
_NEAR_MONTHS = 1e-4  # a few minutes


def kept_share(months: float) -> float:
    """Return what a case still counts for after so many months, 0 or more: 1 down to 0.

    Raises
    ------
    ValueError
        If the months are negative.

    Examples
    --------
    >>> kept_share(6.5)
    0.5
    """
    return float(0.5 ** (in_range("months", months, "months", low=0) / HALF_LIFE_MONTHS))


def aged(beliefs: Beliefs, months: float, prior: Beliefs = UNIFORM) -> Beliefs:
    """Return what is still known after so many months without another case.

    Parameters
    ----------
    beliefs : Beliefs
        As they stood after the last case.
    months : float
        Since then, 0 or more.
    prior : Beliefs
        What was known before the first case; it does not age.

    Raises
    ------
    ValueError
        If the months are negative, or the beliefs hold less than the prior.

    Notes
    -----
    Each case counts as a part of itself that halves in 6.5 months. The
    translation from a fading skill to fading evidence is an assumption.

    Examples
    --------
    >>> old = aged(UNIFORM.after(30, 0), months=6.5)
    >>> round(old.rights, 9), old.wrongs
    (16.0, 1.0)
    """
    kept = kept_share(months)
    rights = in_range("rights beyond the prior", beliefs.rights - prior.rights, "", low=0)
    wrongs = in_range("wrongs beyond the prior", beliefs.wrongs - prior.wrongs, "", low=0)
    return prior.after(kept * rights, kept * wrongs)


def chance_still_above(
    beliefs: Beliefs, months: float, bar: float = BAR, prior: Beliefs = UNIFORM
) -> float:
    """Return the chance that somebody is still above the bar after so many months.

    Parameters
    ----------
    beliefs : Beliefs
        As they stood after the last case.
    months : float
        Since then, 0 or more.
    bar : float
        Rate of right decisions asked, 0 to 1.
    prior : Beliefs
        What was known before the first case.

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    ValueError
        As `aged`.

    Examples
    --------
    Thirty right of thirty: now, after half a year, one year, two.

    >>> known = UNIFORM.after(30, 0)
    >>> [round(chance_still_above(known, months), 3) for months in (0, 6, 12, 24)]
    [0.999, 0.977, 0.876, 0.523]
    """
    return aged(beliefs, months, prior).chance_above(bar)


def faded_rate(rate: float, months: float) -> float:
    """Return the rate of right decisions to be expected after so many months without use.

    Parameters
    ----------
    rate : float
        True rate at the start, above 0 and below 1.
    months : float
        Since then, 0 or more.

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    ValueError
        If the rate is not a share, or the months are negative.

    Notes
    -----
    The fading in standard deviations is taken on a probit of the rate: an
    assumption of this scheme.

    Examples
    --------
    >>> [round(faded_rate(0.95, months), 3) for months in (3, 6, 12, 18)]
    [0.92, 0.878, 0.753, 0.581]
    """
    from scipy.special import ndtr, ndtri  # noqa: PLC0415 (a page opens faster without SciPy)

    in_range("months", months, "months", low=0)
    return float(ndtr(ndtri(open_rate("rate", rate)) - FADING_SD_PER_MONTH * months))


def due_months(
    beliefs: Beliefs,
    *,
    bar: float = BAR,
    sure: float = SURE_ENOUGH,
    practised: bool = True,
    prior: Beliefs = UNIFORM,
) -> float:
    """Return after how many months somebody must be seen again.

    Parameters
    ----------
    beliefs : Beliefs
        As they stood after the last case.
    bar, sure : float
        Rate of right decisions asked, and how sure of it we want to stay.
    practised : bool
        Whether practice is logged in between; without it half a year is the most.
    prior : Beliefs
        What was known before the first case.

    Returns
    -------
    float
        Months, 0 (now) to 12.

    Raises
    ------
    ValueError
        As `aged`, or if a share is none.

    Notes
    -----
    The first moment at which the aged chance falls below `sure`. A period that
    the law or the maker sets goes before this one wherever it is shorter.

    Examples
    --------
    >>> round(due_months(UNIFORM.after(30, 0)), 1)
    11.0
    >>> due_months(UNIFORM.after(15, 5))
    0.0
    """
    open_rate("bar", bar)
    open_rate("sure", sure)
    most = MOST_MONTHS if practised else MOST_MONTHS_UNUSED

    def spare(months: float) -> float:
        return chance_still_above(beliefs, months, bar, prior) - sure

    if spare(0.0) < 0:
        return 0.0
    for step in range(1, int(most / _STEP_MONTHS) + 1):
        if spare(step * _STEP_MONTHS) < 0:
            return _crossing(spare, (step - 1) * _STEP_MONTHS, step * _STEP_MONTHS)
    return most


def _crossing(spare: Callable[[float], float], before: float, after: float) -> float:
    """Return the last month found at which there is still something to spare."""
    while after - before > _NEAR_MONTHS:
        middle = (before + after) / 2
        before, after = (middle, after) if spare(middle) >= 0 else (before, middle)
    return before


def due_date(last: dt.date, months: float) -> dt.date:
    """Return the day that lies so many months after another, never later.

    Parameters
    ----------
    last : date
        Day of the last case.
    months : float
        0 to 1200; a part of a month counts as that part of the month it falls in.

    Raises
    ------
    ValueError
        If the months are negative or too many, or the calendar ends before.

    Examples
    --------
    >>> due_date(dt.date(2026, 8, 31), months=6)
    datetime.date(2027, 2, 28)
    """
    number = in_range("months", months, "months", 0, 1200)
    there, part = _months_later(last, int(number)), number - int(number)
    if not part:
        return there
    return there + dt.timedelta(
        days=int(part * (_months_later(last, int(number) + 1) - there).days)
    )


def _months_later(day: dt.date, months: int) -> dt.date:
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if year > dt.MAXYEAR:
        raise ValueError(f"months must end before the year 10000, got {months} after {day}")
    last_day = calendar.monthrange(year, month + 1)[1]
    return dt.date(year, month + 1, min(day.day, last_day))
