"""What to practise next, and on which day: soon what was weak, later what was strong."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, takewhile

from widgets.brake.days import day_words
from widgets.brake.ranges import in_range

from .mastery import UNIFORM, Beliefs
from .retention import due_date, kept_share

REACHED = 0.6  # share of an element that counts as shown; grading has its own for each edition
WHOLE = 0.995  # share from which nothing worth a word was lacking
WEAK_AGAIN_DAYS = 1  # sleep over it, then try again; a choice of this scheme
# After each good day in a row the next one lies further off: a week, then 1, 3 and 6 months.
# Equal or growing gaps end alike and growing ones keep the average higher (Kang 2014, from its
# abstract); the figures are a choice of this scheme.
FIRST_GOOD_DAYS = 7
LATER_GOOD_MONTHS = (1.0, 3.0, 6.0)
DAYS_PER_MONTH = 365.25 / 12


@dataclass(frozen=True, slots=True)
class ElementResult:
    """How one element of the competency came out in one case.

    Attributes
    ----------
    element : str
        Its identity, such as M2.
    on : date
        Day of the case.
    score : float
        Share of it that was shown, 0 to 1.
    critical : bool
        Whether a critical error fell under it.
    """

    element: str
    on: dt.date
    score: float
    critical: bool = False

    def __post_init__(self) -> None:
        if not self.element.strip():
            raise ValueError("element must be named")
        in_range(f"score of {self.element} on {self.on}", self.score, "", 0, 1)


@dataclass(frozen=True, slots=True)
class Practice:
    """One element to be practised.

    Attributes
    ----------
    element : str
        Its identity.
    on : date
        Day on which to do it; never before the day that asked.
    strength : float
        Expected share today, 0 to 1, with what has faded since.
    reason : str
        Why then, in a plain sentence.
    """

    element: str
    on: dt.date
    strength: float
    reason: str


def next_practice(
    results: Iterable[ElementResult], today: dt.date, reached: float = REACHED
) -> tuple[Practice, ...]:
    """Return what to practise, in order: the soonest first, of one day the weakest first.

    Parameters
    ----------
    results : iterable of ElementResult
        Of any number of cases, in any order.
    today : date
        Day that asks.
    reached : float
        Share of an element that counts as shown, 0 to 1: that of the edition
        which graded.

    Returns
    -------
    tuple of Practice
        One for each element that came up. A critical error makes it today.

    Raises
    ------
    ValueError
        If a result is from a day after `today`, or `reached` is not a share.

    Notes
    -----
    Cases of one day count as one occasion: what was just done is easily done
    again. A day is good if the element was reached on the mean and no
    critical error fell under it. Each good day in a row moves the next one
    further off; a bad day starts again.

    Examples
    --------
    >>> day = dt.date(2026, 3, 2)
    >>> weak, good = ElementResult("M2", day, 0.2), ElementResult("D1", day, 1.0)
    >>> [(one.element, one.on.isoformat()) for one in next_practice([good, weak], day)]
    [('M2', '2026-03-03'), ('D1', '2026-03-09')]
    """
    in_range("reached", reached, "", 0, 1)
    by_element: dict[str, list[ElementResult]] = {}
    for result in sorted(results, key=lambda one: one.on):
        if result.on > today:
            raise ValueError(
                f"Result of {result.element} is dated {result.on}, after today, {today}"
            )
        by_element.setdefault(result.element, []).append(result)
    days = {element: _days(found, reached) for element, found in by_element.items()}
    asked = [
        _practice(element, days[element], _strength(found, today).mean, today)
        for element, found in by_element.items()
    ]

    def order(one: Practice) -> tuple[dt.date, bool, float, str]:
        return one.on, not days[one.element][-1].critical, one.strength, one.element

    return tuple(sorted(asked, key=order))


@dataclass(frozen=True, slots=True)
class _Day:
    on: dt.date
    mean: float
    critical: bool
    good: bool


def _days(found: Sequence[ElementResult], reached: float) -> list[_Day]:
    days = []
    for on, group in groupby(found, key=lambda one: one.on):
        of_day = list(group)
        mean = sum(one.score for one in of_day) / len(of_day)
        critical = any(one.critical for one in of_day)
        days.append(_Day(on, mean, critical, mean >= reached and not critical))
    return days


def _practice(element: str, days: Sequence[_Day], strength: float, today: dt.date) -> Practice:
    last = days[-1]
    in_a_row = len(list(takewhile(lambda day: day.good, reversed(days))))
    due = _due(last, in_a_row, today)
    return Practice(
        element=element,
        on=max(due, today),
        strength=strength,
        reason=_reason(last, in_a_row, (today - due).days),
    )


def _due(last: _Day, in_a_row: int, today: dt.date) -> dt.date:
    if last.critical:
        return today
    if not in_a_row:
        return last.on + dt.timedelta(days=WEAK_AGAIN_DAYS)
    if in_a_row == 1:
        return last.on + dt.timedelta(days=FIRST_GOOD_DAYS)
    return due_date(last.on, LATER_GOOD_MONTHS[min(in_a_row - 1, len(LATER_GOOD_MONTHS)) - 1])


def _strength(found: Sequence[ElementResult], today: dt.date) -> Beliefs:
    known = UNIFORM
    for one in found:
        kept = kept_share((today - one.on).days / DAYS_PER_MONTH)
        known = known.after(kept * one.score, kept * (1 - one.score))
    return known


def _reason(last: _Day, in_a_row: int, days_late: int) -> str:
    if last.critical:
        return f"A critical error on {day_words(last.on)}: put it right before anything else."
    late = f" It is {_days_word(days_late)} overdue." if days_late > 0 else ""
    if not in_a_row:
        return f"Only {100 * last.mean:.0f} % of it was shown on {day_words(last.on)}.{late}"
    if in_a_row == 1:
        share = "All" if last.mean >= WHOLE else f"{100 * last.mean:.0f} %"
        return f"{share} of it was shown on {day_words(last.on)}. See whether it lasts.{late}"
    return f"Good on {in_a_row} days in a row, last on {day_words(last.on)}. Keep it fresh.{late}"


def _days_word(days: int) -> str:
    return "1 day" if days == 1 else f"{days} days"
