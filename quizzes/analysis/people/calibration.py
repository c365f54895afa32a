"""Was the person as right as they felt sure? For feedback, never for passing or failing."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from quizzes.analysis.counts import counted
from quizzes.analysis.rates import Rate, exact_rate
from quizzes.questions.scheme import CONFIDENCES
from widgets.brake.ranges import in_range

# Share right for which each word is the right one to choose, low and high. These are the points
# at which one step begins to pay better than the next under MARKS: 2/3 and 4/5.
MEANT = {"sure": (4 / 5, 1.0), "think": (2 / 3, 4 / 5), "guess": (0.0, 2 / 3)}
# Marks for right and wrong at each step: Gardner-Medwin's three steps (from memory).
MARKS = {"sure": (3, -6), "think": (2, -2), "guess": (1, 0)}
_SUMS_TO_ONE = 1e-6  # chances that a person types are rounded


@dataclass(frozen=True, slots=True)
class Step:
    """Answers given with one degree of confidence.

    Attributes
    ----------
    confidence : str
        A key of `CONFIDENCES`.
    rate : Rate
        Share of them that was right, with its exact interval.
    finding : str
        `over`, `under`, or empty if the answers do not show either.
    """

    confidence: str
    rate: Rate
    finding: str


@dataclass(frozen=True, slots=True)
class Calibration:
    """How far a person's confidence can be relied on.

    Attributes
    ----------
    steps : tuple of Step
        Only those that were used, the surest first.
    sentence : str
        What it shows, in plain words, for the person.
    of_candidate : str
        The same for whoever judges the person.
    """

    steps: tuple[Step, ...]
    sentence: str
    of_candidate: str


def quadratic_score(chances: Sequence[float], came_true: int) -> float:
    """Return the quadratic score of stated chances: 1 - half the sum of squared errors.

    Parameters
    ----------
    chances : sequence of float
        Stated chance of each outcome, 0 to 1, together 1.
    came_true : int
        Place of the outcome that is true, from 0.

    Returns
    -------
    float
        0 (sure of the wrong one) to 1 (sure of the right one).

    Raises
    ------
    ValueError
        If the chances do not add up to 1, or there is no such outcome.

    Notes
    -----
    Nobody gains, on the mean, by stating other chances than they believe.

    Source: Brier, Monthly Weather Review 78 (1950) 1, scaled to 0 to 1.

    Examples
    --------
    Fit 70 %, adjust 25 %, replace 5 %; the brake needed adjusting.

    >>> round(quadratic_score([0.70, 0.25, 0.05], came_true=1), 4)
    0.4725
    """
    stated = [in_range(f"chances[{at}]", one, "", 0, 1) for at, one in enumerate(chances)]
    if abs(sum(stated) - 1) > _SUMS_TO_ONE:
        raise ValueError(f"chances must add up to 1, got {sum(stated):g}")
    place, _ = counted("came_true", came_true, "the last place", len(stated) - 1)
    return 1 - sum((one - (at == place)) ** 2 for at, one in enumerate(stated)) / 2


def step_mark(confidence: str, *, right: bool) -> int:
    """Return the mark of an answer given with some confidence: +3 to -6.

    Raises
    ------
    ValueError
        If `confidence` is none of `sure`, `think`, `guess`.

    Examples
    --------
    >>> step_mark("sure", right=True), step_mark("sure", right=False)
    (3, -6)
    """
    return MARKS[_known(confidence)][0 if right else 1]


def calibration(answers: Iterable[tuple[str, bool]], confidence: float = 0.95) -> Calibration:
    """Return, step by step, how often a person was right, and what that shows.

    Parameters
    ----------
    answers : iterable of (str, bool)
        Confidence (`sure`, `think` or `guess`) and whether the answer was right.
    confidence : float
        Of each step's interval, two-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If a confidence has another name.

    Notes
    -----
    A step counts as over-confident only if its whole interval lies below the
    shares for which the word is meant, and as under-confident only if above.

    Examples
    --------
    >>> found = calibration([("sure", True)] * 6 + [("sure", False)] * 6)
    >>> found.steps[0].finding
    'over'
    >>> print(found.sentence)
    Over-confident: of 12 answers you were sure of, 6 were right. Measure or look it up once more.
    """
    counts: dict[str, list[int]] = {name: [0, 0] for name in MEANT}
    for name, right in answers:
        counts[_known(name)][0] += bool(right)
        counts[name][1] += 1
    steps = tuple(
        _step(name, right, total, confidence) for name, (right, total) in counts.items() if total
    )
    return Calibration(steps, _sentence(steps, _TO_THEM), _sentence(steps, _OF_THEM))


def _known(name: str) -> str:
    if name not in CONFIDENCES:
        raise ValueError(f"confidence must be one of {', '.join(CONFIDENCES)}; got {name!r:.40}")
    return name


def _step(name: str, right: int, total: int, confidence: float) -> Step:
    rate, (low, high) = exact_rate(right, total, confidence), MEANT[name]
    finding = "over" if rate.high < low else "under" if rate.low > high else ""
    return Step(name, rate, finding)


@dataclass(frozen=True, slots=True)
class _Voice:
    """Whom the sentence speaks to: its words, the answers told in their place."""

    phrases: Mapping[str, str]
    not_asked: str
    over: str
    under: str
    agrees: str


_TO_THEM = _Voice(
    {
        "sure": "of {n} you were sure of",
        "think": "of {n} you thought right",
        "guess": "of {n} you guessed",
    },
    "You were not asked how sure you are, so nothing can be said about it.",
    "Over-confident: {told}. Measure or look it up once more.",
    "Too modest: {told}. You know more than you think.",
    "Your confidence does not contradict your answers: {told}. "
    "With so few answers, only a large difference would show.",
)
_OF_THEM = _Voice(
    {
        "sure": "of {n} the candidate was sure of",
        "think": "of {n} the candidate thought right",
        "guess": "of {n} the candidate guessed",
    },
    "The candidate was not asked how sure they are, so nothing can be said about it.",
    "The candidate was over-confident: {told}.",
    "The candidate was too modest: {told}.",
    "The candidate’s confidence does not contradict the answers: {told}. "
    "With so few answers, only a large difference would show.",
)


def _sentence(steps: Sequence[Step], voice: _Voice) -> str:
    if not steps:
        return voice.not_asked
    parts = []
    for finding, words in (("over", voice.over), ("under", voice.under)):
        if found := [step for step in steps if step.finding == finding]:
            parts.append(words.format(told=_told(found, voice)))
    return " ".join(parts) or voice.agrees.format(told=_told(steps, voice))


def _told(steps: Sequence[Step], voice: _Voice) -> str:
    return "; ".join(
        f"{voice.phrases[step.confidence].format(n=_answers(step.rate.cases))}, "
        f"{_were(step.rate)} right"
        for step in steps
    )


def _answers(number: int) -> str:
    return f"{number} answer{'' if number == 1 else 's'}"


def _were(rate: Rate) -> str:
    counted_words = "none" if rate.count == 0 else str(rate.count)
    return f"{counted_words} {'was' if rate.count <= 1 else 'were'}"
