"""How the questions of a sitting count: the cut, and when misses on safety say something."""

import math
from dataclasses import dataclass
from functools import lru_cache

from widgets.brake.judgement.remark import Remark, remark

QUESTIONS_PASS = 0.8  # of the questions where nobody has said how hard they are; common practice
# Chance that somebody who knows safety misses a question on it, and somebody who does not; and how
# rarely either may be taken for the other. Choices of this scheme.
KNOWER_MISSES, MOST_KNOWERS_FAILED = 0.03, 0.02
GUESSER_MISSES, MOST_GUESSERS_PASSED = 0.4, 0.05


@dataclass(frozen=True, slots=True)
class Questions:
    """How the questions of a sitting went, in plain numbers.

    Attributes
    ----------
    asked : int
        Questions of the form.
    points : float
        Points earned, 0 to `asked`.
    safety_missed, safety_asked : int
        Questions on safety that were not right, of so many.
    cut : float
        Share of the points that somebody just competent earns on these very questions.
    """

    asked: int
    points: float
    safety_missed: int = 0
    safety_asked: int = 0
    cut: float = QUESTIONS_PASS

    def __post_init__(self) -> None:
        if not 0 <= self.points <= self.asked:
            raise ValueError(f"points must be 0 to {self.asked}, got {self.points}")

    @property
    def share(self) -> float:
        """Points over questions, 0 to 1; 1 if none were asked."""
        return self.points / self.asked if self.asked else 1.0


def against_questions(questions: Questions | None) -> list[Remark]:
    """Return what the questions say against "competent"; nothing, if none were asked."""
    if questions is None:
        return []
    reasons = []
    if questions.share < questions.cut - 1e-9:
        reasons.append(remark("questions.share", share=questions.share, asked=questions.cut))
    most = most_safety_missed(questions.safety_asked)
    if most is not None and questions.safety_missed > most:
        missed, asked = questions.safety_missed, questions.safety_asked
        chance = 1 - _at_most(missed - 1, asked, KNOWER_MISSES)
        reasons.append(remark("questions.safety", missed=missed, asked=asked, chance=chance))
    return reasons


@lru_cache(maxsize=256)
def most_safety_missed(asked: int) -> int | None:
    """Return how many of `asked` questions on safety may be missed; None if they cannot tell.

    Notes
    -----
    The least number that somebody who knows (`KNOWER_MISSES`) exceeds in at most
    `MOST_KNOWERS_FAILED` of sittings; if somebody who does not know (`GUESSER_MISSES`) keeps
    within it in more than `MOST_GUESSERS_PASSED`, so few questions carry no veto. Binomial.

    Examples
    --------
    >>> most_safety_missed(3), most_safety_missed(14)
    (None, 2)
    """
    most = next(
        n for n in range(asked + 1) if 1 - _at_most(n, asked, KNOWER_MISSES) <= MOST_KNOWERS_FAILED
    )
    return most if _at_most(most, asked, GUESSER_MISSES) <= MOST_GUESSERS_PASSED else None


def _at_most(count: int, of: int, chance: float) -> float:
    """Return the binomial chance of at most so many."""
    terms = (math.comb(of, n) * chance**n * (1 - chance) ** (of - n) for n in range(count + 1))
    return math.fsum(terms)
