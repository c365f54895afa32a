"""From an item, a key and a sheet to a question: what the person may see, and what stays here."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from widgets.brake.draws import Draws
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.design import DESIGN_WORDS, Design
from widgets.brake.sizes.sheet import LimitsSheet, four_designs
from widgets.brake.sizes.size import BrakeSize

from .items import Choice, Decide, Item, Mark, Numeric, Order, Range, Scale, Situation
from .models import MODELS
from .models.drawn import DrawAgainError, Drawn, Value, row_values
from .pictures import DRAWINGS
from .scales import INSTRUMENTS
from .scheme import CONFIDENCES, OUTCOMES

EDITION = 1  # raised when any key would draw something else
MOST_DRAWS = 200  # before a question is given up
_PLACEHOLDER = re.compile(r"\{(\w+)(?::([^{}]*))?\}")
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


class QuestionError(ValueError):
    """A question that cannot be drawn, with its place, size and reason."""


@dataclass(frozen=True, slots=True)
class Hidden:
    """What marking needs and the browser never gets.

    Attributes
    ----------
    item : Item
        The question of the bank, in the situation that was drawn.
    values : mapping
        The numbers of this draw by name.
    places : mapping of str to int
        For each letter shown, which option or step (from 0) it stands for.
    draws : Draws
        The dice of this draw.
    size : BrakeSize or None
        The row it was drawn for; none for a question without numbers.
    """

    item: Item
    values: Mapping[str, Value]
    places: Mapping[str, int]
    draws: Draws
    size: BrakeSize | None = None


@dataclass(frozen=True, slots=True)
class Posed:
    """A question as drawn: `shown` is plain JSON for the page, `hidden` stays in the kernel."""

    shown: Mapping[str, Any]
    hidden: Hidden = field(repr=False)


def draw_question(item: Item, key: bytes, sheet: LimitsSheet, size_name: str = "") -> Posed:
    """Return a question drawn from a key.

    Parameters
    ----------
    item : Item
        From the bank.
    key : bytes
        16 to 64 bytes; the same key, edition and sheet give the same question.
    sheet : LimitsSheet
        Where the size comes from.
    size_name : str
        A size of the sheet to keep to; any, if empty.

    Raises
    ------
    QuestionError
        If no draw of this item makes a question on this sheet.
    """
    dice = Draws(key).child("question", EDITION, item.id)
    settled = _in_a_situation(item, dice)
    values, draws, size = _values(settled, dice, sheet, size_name)
    try:
        shown, places = _shown(settled, values, draws, varies=item.varies)
    except (KeyError, ValueError) as error:
        raise QuestionError(f"{item.place}, {item.id}: {error}") from error
    return Posed(shown, Hidden(settled, values, places, draws, size))


def _in_a_situation(item: Item, dice: Draws) -> Item:
    """Return the question in a situation of the key; each right answer is as likely as any."""
    if not item.situations:
        return item
    by_answer: dict[object, list[Situation]] = {}
    for one in item.situations:
        wanted = (one.draw or {}).get("wanted")
        by_answer.setdefault((one.right, one.places, wanted), []).append(one)
    alike = dice.choice(list(by_answer.values()), "answer")
    return item.settled_in(dice.choice(alike, "situation"))


def filled(text: str, values: Mapping[str, Value]) -> str:
    """Return a text with its placeholders `{name:.2f}` filled in.

    Raises
    ------
    ValueError
        If a name is not given, or is of another kind than its format.
    """

    def one(found: re.Match[str]) -> str:
        name, form = found[1], found[2] or ""
        if name not in values:
            raise ValueError(f"the model gives no {name!r}")
        value = values[name]
        if isinstance(value, tuple):
            raise ValueError(f"{name!r} is a list of readings, no number")  # noqa: TRY004
        try:
            return format_of(value, form)
        except ValueError as error:
            raise ValueError(f"{name!r} cannot be written as {form!r}") from error

    return _PLACEHOLDER.sub(one, text)


def placeholders(text: str) -> list[tuple[str, str]]:
    """Return name and format of each placeholder of a text."""
    return [(found[1], found[2] or "") for found in _PLACEHOLDER.finditer(text)]


def format_of(value: float | str, form: str) -> str:
    """Return a value as it is printed; a minus is the one of printing, a name keeps its hyphen."""
    if isinstance(value, str):
        return format(value, form)
    return format(value, form or "g").replace("-", "−")


def number_of(value: str | float, values: Mapping[str, Value]) -> float:
    """Return a number that stands for itself or is named.

    Raises
    ------
    ValueError
        If the model gives no such number.
    """
    found = values.get(value) if isinstance(value, str) else value
    if isinstance(found, bool) or not isinstance(found, int | float):
        raise ValueError(f"the model gives no number {value!r}")  # noqa: TRY004
    return float(found)


def _values(
    item: Item, dice: Draws, sheet: LimitsSheet, only: str
) -> tuple[Mapping[str, Value], Draws, BrakeSize | None]:
    if not item.parametric:
        return {}, dice, None
    reason, last = "", ""
    sizes = [one for one in sheet.sizes if only in {"", one.name} and one.design in item.designs]
    if not sizes and Design.HOLLOW_SCREWS not in item.designs:  # it holds all that it asks by
        sizes = [one for one in four_designs().sizes if one.design in item.designs]
    if not sizes:
        wanted = " or ".join(DESIGN_WORDS[design] for design in item.designs)
        raise QuestionError(f"{item.place}, {item.id}: no size of the sheet has {wanted}")
    for attempt in range(MOST_DRAWS):
        draws = dice.child("draw", attempt)
        size = draws.choice(sizes, "size")
        drawn = Drawn(size, _numbers(item, draws), draws)
        try:
            values = MODELS[item.model].compute(drawn, sheet)
            if item.when and values.get("verdict") != item.when:
                raise DrawAgainError(f"the verdict is not {item.when}")  # noqa: TRY301
            return {**row_values(size), **values}, draws, size
        except DrawAgainError as error:
            reason, last = str(error), size.name
        except ValueError as error:
            raise QuestionError(f"{item.place}, {item.id}, size {size.name}: {error}") from error
    raise QuestionError(
        f"{item.place}, {item.id}: none of {MOST_DRAWS} draws makes a question, "
        f"the last on size {last}: {reason}"
    )


def _numbers(item: Item, draws: Draws) -> dict[str, float | str]:
    numbers: dict[str, float | str] = {}
    for name, span in (item.draw or {}).items():
        if isinstance(span, Range):
            step = draws.choice(range(span.count), "number", name)
            numbers[name] = round(span.low + step * span.step, 9)
        else:
            numbers[name] = draws.choice(span, "number", name)
    return numbers


def _shown(
    item: Item, values: Mapping[str, Value], draws: Draws, *, varies: bool
) -> tuple[dict[str, Any], dict[str, int]]:
    shown: dict[str, Any] = {
        "id": item.id,
        "kind": item.kind,
        "text": filled(item.text, values),
        "another": varies,
        "confidence": list(CONFIDENCES.items()) if item.confidence else [],
    }
    places: dict[str, int] = {}
    match item.body:
        case Choice(options):
            shown["options"], places = _lettered([one.text for one in options], values, draws)
        case Order(steps):
            shown["steps"], places = _lettered(list(steps), values, draws, never_right=True)
        case Numeric(unit=unit):
            shown["unit"] = unit
        case Mark() as mark:
            shown["figure"] = _with_letters(DRAWINGS[mark.drawing].to_json(mark.targets))
            if mark.readings:
                shown["tables"] = [_table("Air gap", values, "gaps")]
        case Scale(instrument=name, answer=answer):
            value = number_of(answer, values)
            shown["figure"] = INSTRUMENTS[name].draw(value, draws.child("scale")).to_json()
            shown["unit"] = "mm"
        case Decide():
            shown["options"] = [{"id": key, "text": words} for key, words in OUTCOMES.items()]
            shown["tables"] = [_table("Air gap", values, "gaps"), _table("Disc", values, "discs")]
    return shown, places


def _lettered(
    texts: list[str], values: Mapping[str, Value], draws: Draws, *, never_right: bool = False
) -> tuple[list[dict[str, str]], dict[str, int]]:
    order = draws.shuffled(range(len(texts)), "shuffle")
    if never_right and list(order) == sorted(
        order
    ):  # steps that stand in order already ask nothing
        order = order[1:] + order[:1]
    shown = [
        {"id": letter, "text": filled(texts[at], values)}
        for letter, at in zip(_LETTERS, order, strict=False)
    ]
    return shown, dict(zip(_LETTERS, order, strict=False))


def _with_letters(drawing: dict[str, Any]) -> dict[str, Any]:
    """Give places without a label of their own a letter, in the order of the drawing."""
    letters = iter(_LETTERS.upper())
    for place in drawing["places"]:
        place["label"] = place["label"] or next(letters)
    return drawing


def _table(caption: str, values: Mapping[str, Value], name: str) -> dict[str, Any]:
    readings = values.get(name)
    if not isinstance(readings, tuple):
        raise ValueError(f"the model gives no readings {name!r}")  # noqa: TRY004
    return {"caption": f"{caption}, mm", "columns": _columns(readings), "rows": _cells(readings)}


def _columns(readings: tuple[Reading, ...]) -> list[str]:
    return [f"{reading.angle_deg:g}°" for reading in readings]


def _cells(readings: tuple[Reading, ...]) -> list[str]:
    return [f"{reading.value_mm:.2f}" for reading in readings]
