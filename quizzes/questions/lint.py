"""Look for faults in a bank that a loader cannot see: draw every item often, on several sheets."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from widgets.brake.sizes.sheet import LimitsSheet

from .items import SITUATION, Choice, Decide, Item, Mark, Numeric, Order, Scale
from .lint_drawn import LEAST_WORDS, as_drawn

DRAWS_PER_SIZE = 50
_FILLED = re.compile(r"\{[^{}]*\}")
_UNIT = (
    r"mm|µm|cm|m/min|m/s|m|N·m|Nm|N|kN|V|A|W|kW|J|Ω|MΩ|ohm|°C|°|K|kg|%|s|ms|min|h|days?|turns?|"
    r"flats?|rev/min|stops?"
)
_TYPED = re.compile(rf"\d+(?:[.,]\d+)?\s*(?:{_UNIT})(?![\w²³])")


@dataclass(frozen=True, slots=True)
class LintFault:
    """One fault: where it is, which question, and what is wrong."""

    place: str
    item: str
    words: str

    def __str__(self) -> str:
        return f"{self.place}, {self.item}: {self.words}"


def lint(
    bank: Iterable[Item], sheets: LimitsSheet | Sequence[LimitsSheet], draws: int = DRAWS_PER_SIZE
) -> list[LintFault]:
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
        words = dict.fromkeys([*_as_written(item), *as_drawn(item, several, draws)])
        found += [LintFault(item.place, item.id, one) for one in words]
    return found


def report(findings: Sequence[LintFault], questions: int) -> tuple[int, str]:
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
        for name, text in texts_of(item):
            typed = _TYPED.search(_FILLED.sub("", text))
            if typed:
                yield f"{name} shows {typed[0]!r}, which the model did not compute"
        if not any(_FILLED.search(text) for _, text in texts_of(item)) and not _shows_readings(
            item
        ):
            yield "a model computes numbers, and no text shows one"
    else:
        for name, text in texts_of(item):
            bare = text.replace(SITUATION, "")
            if "{" in bare or "}" in bare:
                yield f"{name} has a placeholder, and there is no model"
    yield from _twins(item)


def texts_of(item: Item) -> Iterator[tuple[str, str]]:
    """Return all that a person may read of a question, each text with its name."""
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
    for at, situation in enumerate(item.situations, start=1):
        told = (("text", situation.text), ("why", situation.why))
        yield from ((f"{name} of situation {at}", text) for name, text in told if text)
        for number, text in (situation.catches or {}).items():
            yield f"catches of option {number} in situation {at}", text


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
