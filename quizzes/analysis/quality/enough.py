"""How many right decisions are enough: the fixed rule that a form is judged by."""

from functools import lru_cache

from widgets.brake.ranges import in_range

from .lengths import pass_chance

NOT_GOOD_ENOUGH = 0.70  # rate of right decisions of somebody who must not pass; of this scheme
MOST_FALSE_PASS = 0.05  # chance that such a person passes; of this scheme


@lru_cache(maxsize=512)
def right_needed(
    made: int, rate: float = NOT_GOOD_ENOUGH, most_false: float = MOST_FALSE_PASS
) -> int | None:
    """Return how many of `made` decisions must be right, or None if no number is enough.

    Parameters
    ----------
    made : int
        Decisions that count, zero or more.
    rate : float
        Rate of right decisions of a person who must not pass, above 0, below 1.
    most_false : float
        Largest chance that this person passes all the same, above 0, below 1.

    Notes
    -----
    The smallest c with P(X >= c) at most `most_false` for X binomial(made, rate).

    Examples
    --------
    >>> right_needed(24), right_needed(5)
    (21, None)
    >>> right_needed(0) is None
    True
    """
    in_range("made", made, "decisions", low=0, high=100_000)
    for needed in range(1, made + 1):  # none right is enough of nothing
        if float(pass_chance(rate, made, needed)) <= most_false:
            return needed
    return None


def enough(right: int, made: int) -> bool | None:
    """Return whether right decisions are enough to pass; None if too few were made to tell."""
    needed = right_needed(made)
    return None if needed is None else right >= needed
