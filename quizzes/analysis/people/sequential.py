"""The sequential test: after each case decide, or ask for one more (Wald)."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from quizzes.analysis.counts import open_rate, whole

MOST_CASES = 1000  # beyond it nobody sits, and the exact curve takes long
_TIE = 1e-9  # a boundary met exactly counts as reached, whatever the last bit says


class Verdict(Enum):
    """Where the sequential test stands."""

    COMPETENT = "competent"
    NOT_YET = "not yet competent"
    GO_ON = "go on"


@dataclass(frozen=True, slots=True)
class Boundary:
    """What decides after so many cases; None where nothing does yet.

    Attributes
    ----------
    cases : int
        Cases judged so far.
    pass_at_least, fail_at_most : int or None
        Right decisions that end the test as competent, and as not yet.
    """

    cases: int
    pass_at_least: int | None
    fail_at_most: int | None


@dataclass(frozen=True, slots=True)
class SequentialTest:
    """Two rates to be told apart, the two error rates, and where the test is cut.

    Attributes
    ----------
    not_yet_rate, competent_rate : float
        Rate of right decisions that must not pass, and that should.
    false_pass, false_fail : float
        Chance of a wrong "competent" at the first, of a wrong "not yet" at
        the second; nominal, the exact ones are those of `performance`.
    most_cases : int
        Where the test is cut. Who is undecided there is not yet competent.

    Notes
    -----
    The defaults are a choice of this scheme. The cut never raises the chance
    of a false pass; it costs false "not yet".

    Source: Wald, *Sequential Analysis* (1947), ch. 5 (from memory).

    Examples
    --------
    Twelve right in a row pass, three wrong in a row do not.

    >>> test = SequentialTest()
    >>> test.decide(rights=12, wrongs=0), test.decide(rights=0, wrongs=3)
    (<Verdict.COMPETENT: 'competent'>, <Verdict.NOT_YET: 'not yet competent'>)
    >>> test.decide(rights=11, wrongs=1)
    <Verdict.GO_ON: 'go on'>
    """

    not_yet_rate: float = 0.70
    competent_rate: float = 0.90
    false_pass: float = 0.05
    false_fail: float = 0.10
    most_cases: int = 40

    def __post_init__(self) -> None:
        for name in ("not_yet_rate", "competent_rate", "false_pass", "false_fail"):
            open_rate(name, getattr(self, name))
        if self.competent_rate <= self.not_yet_rate:
            raise ValueError(
                f"competent_rate must be above not_yet_rate, which is {self.not_yet_rate:g}; "
                f"got {self.competent_rate:g}"
            )
        if self.false_pass + self.false_fail >= 1:
            raise ValueError(
                "false_pass and false_fail together must be below 1, "
                f"got {self.false_pass:g} and {self.false_fail:g}"
            )
        whole("most_cases", self.most_cases, low=1, high=MOST_CASES)

    @property
    def pass_log(self) -> float:
        """Logarithm of the likelihood ratio at which the test ends as competent."""
        return math.log((1 - self.false_fail) / self.false_pass)

    @property
    def fail_log(self) -> float:
        """Logarithm of the likelihood ratio at which the test ends as not yet; negative."""
        return math.log(self.false_fail / (1 - self.false_pass))

    @property
    def right_log(self) -> float:
        """What a right decision adds to the logarithm."""
        return math.log(self.competent_rate / self.not_yet_rate)

    @property
    def wrong_log(self) -> float:
        """What a wrong decision adds to the logarithm; negative."""
        return math.log((1 - self.competent_rate) / (1 - self.not_yet_rate))

    @property
    def slope(self) -> float:
        """Rate of right decisions at which the test drifts neither way, 0 to 1."""
        return -self.wrong_log / (self.right_log - self.wrong_log)

    @property
    def pass_intercept(self) -> float:
        """Right decisions above the slope line at which the test passes."""
        return self.pass_log / (self.right_log - self.wrong_log)

    @property
    def fail_intercept(self) -> float:
        """Right decisions below the slope line at which the test fails."""
        return -self.fail_log / (self.right_log - self.wrong_log)

    @property
    def earliest_pass(self) -> int:
        """Cases after which an unbroken row of right decisions passes."""
        return math.ceil(self.pass_log / self.right_log - _TIE)

    @property
    def earliest_fail(self) -> int:
        """Cases after which an unbroken row of wrong decisions fails."""
        return math.ceil(self.fail_log / self.wrong_log - _TIE)

    def boundary(self, cases: int) -> Boundary:
        """Return what decides after `cases` cases, the cut left aside.

        Examples
        --------
        >>> SequentialTest().boundary(24)
        Boundary(cases=24, pass_at_least=22, fail_at_most=17)
        """
        cases = whole("cases", cases, low=1, high=self.most_cases)
        least = max(0, math.ceil(self.slope * cases + self.pass_intercept - _TIE))
        most = min(cases, math.floor(self.slope * cases - self.fail_intercept + _TIE))
        return Boundary(cases, least if least <= cases else None, most if most >= 0 else None)

    def boundaries(self) -> tuple[Boundary, ...]:
        """Return what decides after each case up to the cut."""
        return tuple(self.boundary(cases) for cases in range(1, self.most_cases + 1))

    def decide(self, rights: int, wrongs: int) -> Verdict:
        """Return where the test stands after so many right and wrong decisions.

        Parameters
        ----------
        rights, wrongs : int
            Counts of 0 or more, together at most `most_cases`.

        Raises
        ------
        ValueError
            If a count is impossible, or there are more cases than the test has.

        Notes
        -----
        Counts alone do not tell whether a boundary was crossed earlier. Where
        cases may have gone on after a decision, use `run`.
        """
        cases = whole("rights", rights) + whole("wrongs", wrongs)
        if cases > self.most_cases:
            raise ValueError(
                f"rights and wrongs together must be at most {self.most_cases}, where the test "
                f"is cut; got {cases}"
            )
        if cases == 0:
            return Verdict.GO_ON
        here = self.boundary(cases)
        if here.pass_at_least is not None and rights >= here.pass_at_least:
            return Verdict.COMPETENT
        if here.fail_at_most is not None and rights <= here.fail_at_most:
            return Verdict.NOT_YET
        return Verdict.NOT_YET if cases == self.most_cases else Verdict.GO_ON


@dataclass(frozen=True, slots=True)
class SequentialResult:
    """How the sequential test came out for one person.

    Attributes
    ----------
    verdict : Verdict
        Competent, not yet, or go on.
    rights, wrongs : int
        Decisions that counted, up to the one that decided.
    cut : bool
        Whether the test ended at its cut without an answer.
    more_to_pass : int or None
        Cases, all right, that it takes from here to "competent"; 0 if it is
        so, None if the cut leaves no way.
    more_to_fail : int or None
        The same for "not yet", all of them wrong.
    left_over : int
        Decisions after the one that decided; they did not count.
    """

    verdict: Verdict
    rights: int
    wrongs: int
    cut: bool
    more_to_pass: int | None
    more_to_fail: int | None
    left_over: int = 0

    @property
    def cases(self) -> int:
        """Decisions that counted."""
        return self.rights + self.wrongs


def run(test: SequentialTest, decisions: Iterable[bool]) -> SequentialResult:
    """Return how the test comes out for decisions in the order in which they were made.

    Parameters
    ----------
    test : SequentialTest
        The rates and the cut.
    decisions : iterable of bool
        Whether each decision was right. What follows the case that decided is
        only counted as left over.

    Examples
    --------
    >>> result = run(SequentialTest(), [True] * 15)
    >>> result.verdict.value, result.cases, result.left_over
    ('competent', 12, 3)
    """
    counts = [0, 0]
    verdict, left_over = Verdict.GO_ON, 0
    for right in decisions:
        if verdict is not Verdict.GO_ON:
            left_over += 1
            continue
        counts[0 if right else 1] += 1
        verdict = test.decide(*counts)
    return standing(test, *counts, left_over=left_over)


def standing(
    test: SequentialTest, rights: int, wrongs: int, *, left_over: int = 0
) -> SequentialResult:
    """Return where the test stands after so many right and wrong, and how far it is to an end.

    Raises
    ------
    ValueError
        As `SequentialTest.decide`.
    """
    verdict = test.decide(rights, wrongs)
    cases = rights + wrongs
    failed = cases > 0 and rights <= _fail_at_most(test.boundary(cases))
    return SequentialResult(
        verdict=verdict,
        rights=rights,
        wrongs=wrongs,
        cut=verdict is Verdict.NOT_YET and not failed,
        more_to_pass=_more(test, rights, wrongs, right=True),
        more_to_fail=_more(test, rights, wrongs, right=False),
        left_over=left_over,
    )


def _fail_at_most(boundary: Boundary) -> int:
    return -1 if boundary.fail_at_most is None else boundary.fail_at_most


def _more(test: SequentialTest, rights: int, wrongs: int, *, right: bool) -> int | None:
    wanted = Verdict.COMPETENT if right else Verdict.NOT_YET
    for more in range(test.most_cases - rights - wrongs + 1):
        verdict = test.decide(rights + more * right, wrongs + more * (not right))
        if verdict is wanted:
            return more
        if verdict is not Verdict.GO_ON:
            return None
    return None
