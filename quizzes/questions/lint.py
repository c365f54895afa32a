"""Look for faults in a bank that a loader cannot see: draw every item often, on several sheets."""

import hashlib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from widgets.brake.sizes.sheet import LimitsSheet

from .answers import (
    conclusion,
    right_outcome,
    right_places,
    tolerance_of,
    wrong_numbers,
)
from .items import Choice, Decide, Item, Mark, Numeric, Order, Scale
from .marking import mark
from .posing import Posed, QuestionError, draw_question, filled, number_of
from .scales import INSTRUMENTS

DRAWS_PER_SIZE = 50
NEAR_SHARE = 0.02  # numbers of two options nearer than this cannot be told apart by reckoning
LEAST_WORDS = 4
_FILLED = re.compile(r"\{[^{}]*\}")
_UNIT = (
    r"mm|µm|cm|m/min|m/s|m|N·m|Nm|N|kN|V|A|W|kW|J|Ω|MΩ|ohm|°C|°|K|kg|%|s|ms|min|h|days?|turns?|"
    r"flats?|rev/min|stops?"
)
_TYPED = re.compile(rf"\d+(?:[.,]\d+)?\s*(?:{_UNIT})(?![\w²³])")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault: where it is, which question, and what is wrong."""

    place: str
    item: str
    words: str

    def __str__(self) -> str:
        return f"{self.place}, {self.item}: {self.words}"


def lint(
    bank: Iterable[Item], sheets: LimitsSheet | Sequence[LimitsSheet], draws: int = DRAWS_PER_SIZE
) -> list[Finding]:
    """Return what is wrong with a bank; nothing, if all is well.

    Parameters
    ----------
    bank : iterable of Item
        What to look at.
    sheets : LimitsSheet or sequence of LimitsSheet
        Sheets in whose every size a parametric item must be drawn.
    draws : int
        How often on each size.
    """
    several = [sheets] if isinstance(sheets, LimitsSheet) else list(sheets)
    found = []
    for item in bank:
        words = dict.fromkeys([*_as_written(item), *_as_drawn(item, several, draws)])
        found += [Finding(item.place, item.id, one) for one in words]
    return found


def report(findings: Sequence[Finding], questions: int) -> tuple[int, str]:
    """Return exit code (0 or 1) and what a command line prints of the findings."""
    if not findings:
        return 0, f"{questions} questions: no fault found."
    lines = [str(finding) for finding in findings]
    return 1, "\n".join([*lines, f"{len(findings)} faults in {questions} questions."])


def lint_command(sheets: Sequence[LimitsSheet], draws: int = DRAWS_PER_SIZE) -> tuple[int, str]:
    """Return exit code and text of a look at the suite's own bank."""
    from .bank import the_bank  # noqa: PLC0415 (late: slow to import)

    try:
        bank = the_bank()
    except ValueError as error:
        return 1, str(error)
    return report(lint(bank, sheets, draws), len(bank))


# ---- as it is written ----


def _as_written(item: Item) -> Iterator[str]:
    for name, text in (("why", item.why), ("text", item.text)):
        if len(text.split()) < LEAST_WORDS and not item.parametric:
            yield f"{name} is too short to explain anything: {text!r}"
    if not 0 < item.difficulty < 1:
        yield f"difficulty {item.difficulty:g}: nobody or everybody would get it right"
    if item.parametric:
        for name, text in _texts(item):
            typed = _TYPED.search(_FILLED.sub("", text))
            if typed:
                yield f"{name} shows {typed[0]!r}, which the model did not compute"
        if not any(_FILLED.search(text) for _, text in _texts(item)) and not _shows_readings(item):
            yield "a model computes numbers, and no text shows one"
    else:
        for name, text in _texts(item):
            if "{" in text or "}" in text:
                yield f"{name} has a placeholder, and there is no model"
    yield from _twins(item)


def _texts(item: Item) -> Iterator[tuple[str, str]]:
    yield "text", item.text
    yield "why", item.why
    match item.body:
        case Choice(options):
            for at, one in enumerate(options, start=1):
                yield f"option {at}", one.text
                yield f"catches of option {at}", one.catches
        case Numeric(wrong=wrong) | Scale(wrong=wrong):
            yield from ((f"catches of wrong {at}", one.catches) for at, one in enumerate(wrong, 1))
        case Order(steps, slips):
            yield from ((f"step {at}", one) for at, one in enumerate(steps, start=1))
            yield from ((f"catches of slip {at}", one.catches) for at, one in enumerate(slips, 1))
        case Mark() as body:
            yield from ((f"catches of {name}", text) for name, text in body.caught.items())
            yield "catches", body.catches
        case Decide(catches):
            yield from ((f"catches of {name}", text) for name, text in catches.items())


def _shows_readings(item: Item) -> bool:
    body = item.body
    return isinstance(body, Scale | Decide) or (isinstance(body, Mark) and body.readings)


def _twins(item: Item) -> Iterator[str]:
    match item.body:
        case Choice(options):
            texts = [one.text for one in options]
        case Order(steps):
            texts = list(steps)
        case _:
            return
    folded = [" ".join(text.casefold().rstrip(".").split()) for text in texts]
    for text in {text for text in folded if folded.count(text) > 1}:
        yield f"two options or steps say the same: {text!r}"


# ---- as it is drawn ----


def _as_drawn(item: Item, sheets: Sequence[LimitsSheet], draws: int) -> Iterator[str]:
    if not item.parametric:
        yield from _drawn_once(item, sheets[0], 0, "")
        return
    for sheet in sheets:
        for size in sheet.sizes:
            for number in range(draws):
                for words in _drawn_once(item, sheet, number, size.name):
                    yield f"{words} (size {size.name})"


def _drawn_once(item: Item, sheet: LimitsSheet, number: int, size_name: str) -> list[str]:
    try:
        return list(_look(item, draw_question_once(item, sheet, number, size_name)))
    except QuestionError as error:
        return [f"cannot be drawn: {error}"]


def draw_question_once(item: Item, sheet: LimitsSheet, number: int, size_name: str = "") -> Posed:
    """Return the draw of a number; the same for ever, and of no sitting."""
    return draw_question(item, hashlib.sha256(b"lint %d" % number).digest(), sheet, size_name)


def _look(item: Item, posed: Posed) -> Iterator[str]:
    body = item.body
    try:
        told = filled(item.why, posed.hidden.values)
        if len(told.split()) < LEAST_WORDS:
            yield f"why is too short to explain anything: {told!r}"
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


def _look_at_order(posed: Posed) -> Iterator[str]:
    hidden = posed.hidden
    letters = {at: letter for letter, at in hidden.places.items()}
    in_order = [letters[at] for at in range(len(letters))]
    if not mark(hidden, {"order": in_order}).right:
        yield "the steps in their own order are not marked right"
    if [one["id"] for one in posed.shown["steps"]] == in_order:
        yield "the steps are shown in the right order"
