"""What the cases so far say of a person: rate of right decisions, rate of critical misses."""

from bisect import bisect_left
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from quizzes.analysis.counts import counted, open_rate, whole, whole_array
from quizzes.analysis.rates import CONFIDENCE, upper_bound
from widgets.brake.ranges import in_range

BAR = 0.80  # rate of right decisions that is asked; a choice of this scheme
SURE = 0.95  # how sure of it the evidence must make us; a choice of this scheme
MOST_TO_LOOK_AT = 10_000  # cases


@dataclass(frozen=True, slots=True)
class Beliefs:
    """A Beta distribution over a rate: what is known before, or after, some cases.

    Attributes
    ----------
    rights, wrongs : float
        Its two counts, above 0. One and one: every rate as likely as another.
    """

    rights: float = 1.0
    wrongs: float = 1.0

    def __post_init__(self) -> None:
        in_range("rights", self.rights, "", above=0)
        in_range("wrongs", self.wrongs, "", above=0)

    @property
    def mean(self) -> float:
        """Expected rate, 0 to 1."""
        return self.rights / (self.rights + self.wrongs)

    def after(self, rights: float, wrongs: float) -> "Beliefs":
        """Return the beliefs after so many right and wrong, each 0 or more, parts allowed."""
        return Beliefs(
            self.rights + in_range("rights", rights, "", low=0),
            self.wrongs + in_range("wrongs", wrongs, "", low=0),
        )

    def chance_above(self, bar: float) -> float:
        """Return the chance that the rate lies above `bar`, both 0 to 1."""
        from scipy.special import betaincc  # noqa: PLC0415 (a page opens faster without SciPy)

        return float(betaincc(self.rights, self.wrongs, in_range("bar", bar, "", 0, 1)))

    def chance_below(self, bar: float) -> float:
        """Return the chance that the rate lies below `bar`, both 0 to 1."""
        from scipy.special import betainc  # noqa: PLC0415 (a page opens faster without SciPy)

        return float(betainc(self.rights, self.wrongs, in_range("bar", bar, "", 0, 1)))

    def lower(self, confidence: float = CONFIDENCE) -> float:
        """Return the rate above which the true one lies with chance `confidence`, 0 to 1."""
        return self._at(1 - open_rate("confidence", confidence))

    def upper(self, confidence: float = CONFIDENCE) -> float:
        """Return the rate below which the true one lies with chance `confidence`, 0 to 1."""
        return self._at(open_rate("confidence", confidence))

    def _at(self, share: float) -> float:
        from scipy.special import betaincinv  # noqa: PLC0415 (a page opens faster without SciPy)

        return float(betaincinv(self.rights, self.wrongs, share))


UNIFORM = Beliefs(1.0, 1.0)
JEFFREYS = Beliefs(0.5, 0.5)  # Jeffreys, Theory of Probability (from memory)
SCEPTICAL = Beliefs(4.0, 1.0)  # four right, one wrong before the first case; a choice


def chance_above(
    rights: ArrayLike, wrongs: ArrayLike, bar: ArrayLike = BAR, prior: Beliefs = UNIFORM
) -> NDArray[np.float64]:
    """Return the chance that the rate of right decisions lies above `bar`, for many at once.

    Parameters
    ----------
    rights, wrongs : array_like
        Whole numbers of 0 or more, of shapes that broadcast.
    bar : array_like
        Rate asked, 0 to 1.
    prior : Beliefs
        What was known before the first case.

    Returns
    -------
    ndarray
        0 to 1, in the broadcast shape.

    Raises
    ------
    ValueError
        If a count is not a whole number of 0 or more, or the bar is not a share.

    Examples
    --------
    Twenty cases: none wrong, one, two.

    >>> chance_above([20, 19, 18], [0, 1, 2]).round(3).tolist()
    [0.991, 0.942, 0.821]
    """
    from scipy.special import betaincc  # noqa: PLC0415 (a page opens faster without SciPy)

    right, wrong = whole_array("rights", rights), whole_array("wrongs", wrongs)
    asked = in_range("bar", bar, "", 0, 1)
    return np.asarray(betaincc(prior.rights + right, prior.wrongs + wrong, asked))


def cases_needed(
    wrongs: int, bar: float = BAR, sure: float = SURE, prior: Beliefs = UNIFORM
) -> int:
    """Return the least number of cases, `wrongs` of them wrong, that make us sure of the bar.

    Parameters
    ----------
    wrongs : int
        How many are wrong, 0 or more.
    bar, sure : float
        Rate asked, and the chance of it that is asked; above 0 and below 1.
    prior : Beliefs
        What was known before the first case.

    Raises
    ------
    ValueError
        If a number is impossible, or more than 10 000 cases would be needed.

    Examples
    --------
    >>> [cases_needed(wrong, bar=0.80) for wrong in range(4)]
    [13, 21, 29, 36]
    """
    wrongs = whole("wrongs", wrongs, high=MOST_TO_LOOK_AT)
    open_rate("bar", bar)
    open_rate("sure", sure)
    start = prior.after(0, wrongs)

    def enough(cases: int) -> bool:
        return start.after(cases - wrongs, 0).chance_above(bar) >= sure

    if not enough(MOST_TO_LOOK_AT):
        raise ValueError(
            f"No form of {MOST_TO_LOOK_AT} cases or fewer with {wrongs} wrong makes us "
            f"{100 * sure:g} % sure of a rate above {100 * bar:g} %: lower one of them"
        )
    # One more right never lowers the chance, so the first that is enough can be bisected.
    return bisect_left(range(MOST_TO_LOOK_AT), 1, lo=max(1, wrongs), key=enough)


@dataclass(frozen=True, slots=True)
class Mastery:
    """Decisions and critical misses of one person, over one sitting or many.

    Attributes
    ----------
    rights, cases : int
        Right decisions, of how many judged.
    misses, unsafe_cases : int
        Unsafe brakes let through, of how many that were shown.
    prior : Beliefs
        What was known of either rate before the first case.

    Notes
    -----
    Cases count as independent and equally hard. Cases of one brake are not:
    count such a brake once.
    """

    rights: int
    cases: int
    misses: int = 0
    unsafe_cases: int = 0
    prior: Beliefs = UNIFORM

    def __post_init__(self) -> None:
        counted("rights", self.rights, "cases", self.cases)
        counted("misses", self.misses, "unsafe_cases", self.unsafe_cases)
        counted("unsafe_cases", self.unsafe_cases, "cases", self.cases)
        if self.misses > self.cases - self.rights:
            raise ValueError(
                f"misses must be at most the {self.cases - self.rights} wrong decisions, "
                f"got {self.misses}: a miss is never a right decision"
            )

    def __add__(self, other: "Mastery") -> "Mastery":
        """Return two sittings of one person as one; both must start from the same beliefs."""
        if self.prior != other.prior:
            raise ValueError("Two sittings can be added only if they start from the same beliefs")
        return Mastery(
            self.rights + other.rights,
            self.cases + other.cases,
            self.misses + other.misses,
            self.unsafe_cases + other.unsafe_cases,
            self.prior,
        )

    @property
    def wrongs(self) -> int:
        """Decisions that were not right."""
        return self.cases - self.rights

    @property
    def right_rate(self) -> Beliefs:
        """What is known of the rate of right decisions."""
        return self.prior.after(self.rights, self.wrongs)

    @property
    def miss_rate(self) -> Beliefs:
        """What is known of the share of unsafe brakes let through (its `rights` are misses)."""
        before = Beliefs(self.prior.wrongs, self.prior.rights)
        return before.after(self.misses, self.unsafe_cases - self.misses)

    def miss_bound(self, confidence: float = CONFIDENCE) -> float:
        """Return the share of unsafe brakes that may still be let through, 0 to 1, one-sided.

        Without an unsafe case nothing is known: 1.
        """
        open_rate("confidence", confidence)
        if self.unsafe_cases == 0:
            return 1.0
        return upper_bound(self.misses, self.unsafe_cases, confidence)

    def more_cases_at_least(self, bar: float = BAR, sure: float = SURE) -> int:
        """Return how many more cases, all right, would make us sure of the bar; 0 if we are.

        Raises
        ------
        ValueError
            If no number of cases up to 10 000 would.
        """
        return max(0, cases_needed(self.wrongs, bar, sure, self.prior) - self.cases)
