"""How long a sitting has taken so far, and how long it is expected to take."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

# A longer pause is time away from the work, a break or a closed page. A choice of this scheme.
LONGEST_THOUGHT_MINUTES = 10.0


@dataclass(frozen=True, slots=True)
class Pace:
    """Where a sitting stands: cases done, of how many; minutes so far, and expected for all."""

    done: int
    of: int
    minutes: float
    expected_minutes: float

    @property
    def words(self) -> str:
        """The same as a sentence for the person who sits."""
        said = f"{self.done} of {self.of} cases done, {minutes(self.minutes)} so far"
        return f"{said}; about {minutes(self.expected_minutes)} for the whole form."


def minutes(time_minutes: float) -> str:
    """Return a time in whole minutes, in words.

    Examples
    --------
    >>> minutes(1.2), minutes(18.0), minutes(0.3)
    ('1 minute', '18 minutes', 'less than a minute')
    """
    whole = round(time_minutes)
    if whole == 0:
        return "less than a minute"
    return "1 minute" if whole == 1 else f"{whole} minutes"


def minutes_worked(moments: Iterable[dt.datetime]) -> float:
    """Return the time between moments, longer pauses than a thought left out, minutes.

    Parameters
    ----------
    moments : iterable of datetime
        When something was done, in any order.

    Examples
    --------
    >>> start = dt.datetime(2024, 5, 2, 8, 0)
    >>> minutes_worked(start + dt.timedelta(minutes=at) for at in (0, 4, 50, 53))
    7.0
    """
    steps = [(after - before).total_seconds() / 60 for before, after in pairwise(sorted(moments))]
    return sum(step for step in steps if step <= LONGEST_THOUGHT_MINUTES)
