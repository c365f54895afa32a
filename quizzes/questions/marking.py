"""Mark an answer that came from outside: right or wrong, how much of it, why, and what it shows."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from .answers import right_answer, right_outcome, right_places, tolerance_of, wrong_numbers
from .items import Choice, Decide, Item, Mark, Numeric, Order, Scale
from .pictures import DRAWINGS
from .posing import Hidden, filled, number_of
from .scheme import CONFIDENCES, OUTCOMES

LONGEST_NUMBER = 24  # characters
FIELDS = {  # where an answer to a kind of question stands
    "single": "choice",
    "multiple": "choices",
    "numeric": "value",
    "order": "order",
    "mark": "place",
    "scale": "value",
    "decide": "choice",
}


@dataclass(frozen=True, slots=True)
class Marked:
    """Result of an answer.

    Attributes
    ----------
    taken : bool
        Whether it was an answer at all; if not, `words` says what is wrong
        with it, and there is no mark.
    right : bool
        Wholly right.
    share : float
        How much of it was right, 0 to 1, dimensionless.
    words : str
        Why the right answer is so.
    caught : tuple of str
        What the answer shows that somebody believes.
    answer : str
        The right answer, in words.
    confidence : str
        `sure`, `think`, `guess`, or empty.
    """

    taken: bool
    right: bool = False
    share: float = 0.0
    words: str = ""
    caught: tuple[str, ...] = ()
    answer: str = ""
    confidence: str = ""

    def to_json(self) -> dict[str, Any]:
        """Return the mark as plain JSON."""
        return {
            "taken": self.taken,
            "right": self.right,
            "share": self.share,
            "words": self.words,
            "caught": list(self.caught),
            "answer": self.answer,
            "confidence": self.confidence,
        }


class _NoAnswerError(ValueError):
    """Not an answer: a sentence for the person."""


_Found = tuple[float, tuple[str, ...]]  # share, caught


def mark(hidden: Hidden, answer: object) -> Marked:
    """Return the mark of an answer.

    Parameters
    ----------
    hidden : Hidden
        Of the question as drawn.
    answer : object
        What the page sent, of any shape: `{"choice": "b"}`, `{"choices": []}`,
        `{"value": "12,5"}`, `{"order": []}` or `{"place": "screw-2"}`, with
        `"confidence"` if it was asked. Nothing raises.
    """
    try:
        if not isinstance(answer, Mapping):
            raise _NoAnswerError("That does not answer this question.")  # noqa: TRY301
        confidence = _confidence(hidden.item, answer)
        share, caught = _MARKERS[type(hidden.item.body)](hidden, answer)
    except _NoAnswerError as error:
        return Marked(taken=False, words=str(error))
    return Marked(
        taken=True,
        right=share == 1.0,
        share=share,
        words=filled(hidden.item.why, hidden.values),
        caught=tuple(filled(one, hidden.values) for one in caught),
        answer=right_answer(hidden),
        confidence=confidence,
    )


def _confidence(item: Item, answer: Mapping[str, object]) -> str:
    said = answer.get("confidence")
    if said is None or not item.confidence:
        return ""
    if not isinstance(said, str) or said not in CONFIDENCES:
        raise _NoAnswerError(f"Say how sure you are: {', '.join(CONFIDENCES.values())}.")
    return said


def _letters(hidden: Hidden, given: object) -> list[int]:
    """Return which options or steps a list of letters means."""
    good = isinstance(given, list) and len(given) <= len(hidden.places)
    if not good or not isinstance(given, list):
        raise _NoAnswerError("That does not answer this question.")
    if any(not isinstance(one, str) or one not in hidden.places for one in given):
        raise _NoAnswerError("That choice is not among the ones shown.")
    if len(set(given)) != len(given):
        raise _NoAnswerError("One choice came twice.")
    return [hidden.places[one] for one in given]


def _mark_choice(hidden: Hidden, answer: Mapping[str, object]) -> _Found:
    body = hidden.item.body
    assert isinstance(body, Choice)
    if not body.several:
        (at,) = _letters(hidden, [answer.get("choice")])
        option = body.options[at]
        return (1.0, ()) if option.right else (0.0, (option.catches,))
    chosen = set(_letters(hidden, answer.get("choices")))
    if not chosen:
        raise _NoAnswerError("Choose at least one.")
    fair = sum(option.right == (at in chosen) for at, option in enumerate(body.options))
    caught = tuple(
        one.catches for at, one in enumerate(body.options) if at in chosen and not one.right
    )
    return fair / len(body.options), caught


def number_typed(value: object) -> float:
    """Return a number that a person typed, with a point or a comma.

    Raises
    ------
    ValueError
        If it is none, in a sentence for the person.
    """
    if isinstance(value, str) and len(value) <= LONGEST_NUMBER:
        text = value.strip().replace("−", "-").replace(",", ".")
        allowed = text and set(text) <= set("0123456789.-+")
        try:
            value = float(text) if allowed else None
        except ValueError:
            value = None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _NoAnswerError("Type a number, as 0.35.")
    if not -1e9 < value < 1e9:  # NaN fails this as well
        raise _NoAnswerError("Type a number that a gauge could show.")
    return float(value)


def _mark_number(hidden: Hidden, answer: Mapping[str, object]) -> _Found:
    body = hidden.item.body
    assert isinstance(body, Numeric | Scale)
    typed, right = number_typed(answer.get("value")), number_of(body.answer, hidden.values)
    if abs(typed - right) <= tolerance_of(body, right):
        return 1.0, ()
    for value, catches in wrong_numbers(hidden):
        if abs(typed - value) <= tolerance_of(body, value):
            return 0.0, (catches,)
    return 0.0, ()


def _mark_order(hidden: Hidden, answer: Mapping[str, object]) -> _Found:
    body = hidden.item.body
    assert isinstance(body, Order)
    steps = _letters(hidden, answer.get("order"))
    if len(steps) != len(body.steps):
        raise _NoAnswerError("Put every step in its place first.")
    at = {step: place for place, step in enumerate(steps)}
    tied = {pair for group in body.free for pair in combinations(sorted(n - 1 for n in group), 2)}
    pairs = [pair for pair in combinations(range(len(steps)), 2) if pair not in tied]
    share = sum(at[one] < at[other] for one, other in pairs) / len(pairs)
    caught = tuple(s.catches for s in body.slips if at[s.later - 1] < at[s.earlier - 1])
    return share, caught or (() if share == 1.0 else (body.catches,))


def _mark_place(hidden: Hidden, answer: Mapping[str, object]) -> _Found:
    body = hidden.item.body
    assert isinstance(body, Mark)
    chosen = answer.get("place")
    known = {one.id for one in DRAWINGS[body.drawing].places if one.group in body.targets}
    if not isinstance(chosen, str) or chosen not in known:
        raise _NoAnswerError("Choose one of the places on the drawing.")
    if chosen in right_places(hidden):
        return 1.0, ()
    return 0.0, (body.caught.get(chosen, body.catches),)


def _mark_decision(hidden: Hidden, answer: Mapping[str, object]) -> _Found:
    body = hidden.item.body
    assert isinstance(body, Decide)
    chosen = answer.get("choice")
    if not isinstance(chosen, str) or chosen not in OUTCOMES:
        raise _NoAnswerError(f"Choose one of: {', '.join(OUTCOMES.values())}.")
    right = right_outcome(hidden)
    return (1.0, ()) if chosen == right else (0.0, (body.catches[chosen],))


_Marker = Callable[[Hidden, Mapping[str, object]], _Found]
_MARKERS: dict[type, _Marker] = {
    Choice: _mark_choice,
    Numeric: _mark_number,
    Scale: _mark_number,
    Order: _mark_order,
    Mark: _mark_place,
    Decide: _mark_decision,
}
