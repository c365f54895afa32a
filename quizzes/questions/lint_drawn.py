"""Look for faults of a question that only its draws show: several on each size of each sheet."""

import hashlib
import re
from collections.abc import Iterator, Sequence

from widgets.brake.sizes.sheet import LimitsSheet

from .answers import conclusion, right_outcome, right_places, tolerance_of, wrong_numbers
from .items import Choice, Decide, Item, Mark, Numeric, Order, Scale
from .marking import mark
from .posing import Posed, QuestionError, draw_question, filled, number_of
from .printed import not_as_printed, wrong_sums
from .scales import INSTRUMENTS

NEAR_SHARE = 0.02  # numbers of two options nearer than this cannot be told apart
LEAST_WORDS = 4
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def as_drawn(item: Item, sheets: Sequence[LimitsSheet], draws: int) -> Iterator[str]:
    """Return what is wrong with a question as drawn, in each of its situations."""
    for one in item.settled():
        yield from _settled_drawn(one, sheets, draws)


def _settled_drawn(item: Item, sheets: Sequence[LimitsSheet], draws: int) -> Iterator[str]:
    if not item.parametric:
        yield from _drawn_once(item, sheets[0], 0, "")
        return
    for sheet in sheets:
        for size in (one for one in sheet.sizes if one.design in item.designs):
            for number in range(draws):
                for words in _drawn_once(item, sheet, number, size.name):
                    yield f"{words} (size {size.name})"


def _drawn_once(item: Item, sheet: LimitsSheet, number: int, size_name: str) -> list[str]:
    try:
        return list(_look(item, draw_question_once(item, sheet, number, size_name)))
    except QuestionError as error:
        return [f"cannot be drawn: {error}"]


def draw_question_once(item: Item, sheet: LimitsSheet, number: int, size_name: str = "") -> Posed:
    """Return the draw of a number; the same forever, and of no sitting."""
    return draw_question(item, hashlib.sha256(b"lint %d" % number).digest(), sheet, size_name)


def _look(item: Item, posed: Posed) -> Iterator[str]:
    body = item.body
    try:
        told = filled(item.why, posed.hidden.values)
        if len(told.split()) < LEAST_WORDS:
            yield f"why is too short to explain anything: {told!r}"
        yield from not_as_printed(posed.hidden)
        yield from wrong_sums(told)
        match body:
            case Choice():
                yield from _look_at_options(posed)
            case Numeric() | Scale():
                yield from _look_at_numbers(posed)
            case Mark():
                yield from _look_at_places(posed)
            case Decide():
                yield from _look_at_decision(posed)
            case Order():
                yield from _look_at_order(posed)
    except ValueError as error:
        yield str(error)


def _look_at_options(posed: Posed) -> Iterator[str]:
    hidden = posed.hidden
    body = hidden.item.body
    assert isinstance(body, Choice)
    texts = [filled(one.text, hidden.values).casefold() for one in body.options]
    for text in {text for text in texts if texts.count(text) > 1}:
        yield f"two options read alike: {text!r}"
    if body.several or not hidden.item.parametric:
        return
    right = next(at for at, one in enumerate(body.options) if one.right)
    for at, text in enumerate(texts):
        if at != right and _same_numbers(texts[right], text):
            yield f"wrong option {text!r} could be right: {texts[right]!r}"


def _same_numbers(one: str, other: str) -> bool:
    """Return whether two texts differ in numbers only, and in those by next to nothing."""
    if _NUMBER.sub("#", one) != _NUMBER.sub("#", other):
        return False
    pairs = zip(_NUMBER.findall(one), _NUMBER.findall(other), strict=True)
    return all(abs(float(a) - float(b)) <= NEAR_SHARE * abs(float(a)) for a, b in pairs)


def _look_at_numbers(posed: Posed) -> Iterator[str]:
    hidden = posed.hidden
    body = hidden.item.body
    assert isinstance(body, Numeric | Scale)
    right = number_of(body.answer, hidden.values)
    for value, catches in wrong_numbers(hidden):
        if abs(value - right) <= tolerance_of(body, right):
            yield f"the wrong number for {catches!r} could be right: it lies within the tolerance"
    if isinstance(body, Numeric) and round(right, body.decimals) and not _told(body, right):
        yield f"told with {body.decimals} decimals the answer {right:g} is not right itself"
    if isinstance(body, Scale):
        step = INSTRUMENTS[body.instrument].step_mm
        if abs(right / step - round(right / step)) > 0.01:
            yield f"{right:g} mm does not stand on a mark of {body.instrument}"
        if body.tolerance > step + 1e-9:
            yield f"tolerance {body.tolerance:g} mm is wider than a step of {body.instrument}"


def _told(body: Numeric, right: float) -> bool:
    return abs(round(right, body.decimals) - right) <= tolerance_of(body, right)


def _look_at_places(posed: Posed) -> Iterator[str]:
    body = posed.hidden.item.body
    assert isinstance(body, Mark)
    right = right_places(posed.hidden)
    shown = [place["id"] for place in posed.shown["figure"]["places"]]
    for place in right:
        if place not in shown:
            yield f"the right place {place!r} is not on the drawing"
    if len(right) >= len(shown):
        yield "every place is right"
    for place in set(right) & set(body.caught):
        if not posed.hidden.item.parametric:
            yield f"place {place!r} is right and has a mistake to catch"


def _look_at_decision(posed: Posed) -> Iterator[str]:
    found = conclusion(posed.hidden)
    if found.outcome is None:
        yield "the readings are too few for a decision"
    if found.arguable:
        also = ", ".join(found.arguable)
        yield f"{right_outcome(posed.hidden)} is the rule, and {also} can be argued"
    if found.outcome != right_outcome(posed.hidden):
        yield f"the model gives {right_outcome(posed.hidden)}, the rule {found.outcome}"


def _look_at_order(posed: Posed) -> Iterator[str]:
    hidden = posed.hidden
    letters = {at: letter for letter, at in hidden.places.items()}
    in_order = [letters[at] for at in range(len(letters))]
    if not mark(hidden, {"order": in_order}).right:
        yield "the steps in their own order are not marked right"
    if [one["id"] for one in posed.shown["steps"]] == in_order:
        yield "the steps are shown in the right order"
