"""One log graded by two editions of the rules, side by side, with the lines that differ."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from quizzes.cases.case import Case
from widgets.bench.session import Event

from .editions import EDITION
from .evidence.gathering import gather
from .grade import CaseGrade, grade_evidence
from .words import TITLES, called, sentence


@dataclass(frozen=True, slots=True)
class EditionPair:
    """The grades of one log by two editions, and what differs between them, line by line."""

    first: CaseGrade
    second: CaseGrade
    lines: tuple[str, ...]

    @property
    def same_standing(self) -> bool:
        """Whether the job ended alike by both."""
        return self.first.standing is self.second.standing


def compare_editions(
    case: Case, events: Iterable[Event], first: str, second: str = EDITION
) -> EditionPair:
    """Return a log graded by two editions, with the lines that differ.

    Raises
    ------
    AlteredLogError
        If the log does not come out of the case.
    ValueError
        If there is no such edition.
    """
    evidence = gather(case, events)
    one, two = grade_evidence(evidence, first), grade_evidence(evidence, second)
    return EditionPair(one, two, tuple(differing_lines(one.to_json(), two.to_json())))


def differing_lines(one: Mapping[str, Any], two: Mapping[str, Any]) -> Iterator[str]:
    """Yield a sentence for each thing in which two grades differ, their editions apart.

    Codes and numbers count; how a sentence is worded makes no difference.
    """
    for key, what in (
        ("standing", "Standing"),
        ("marks", "Marks"),
        ("decided", "Decided"),
        ("own_readings_support", "Own readings and findings support"),
    ):
        if one.get(key) != two.get(key):
            yield f"{what}: {_word(one.get(key))}; {_word(two.get(key))}."
    yield from _elements(one, two)
    for key, what in (("critical", "Critical"), ("faults", "Error")):
        yield from _listed(what, _remarks(one, key), _remarks(two, key), sentence)
    for key, what in (("left_wrong", "Left"), ("overlooked", "Overlooked")):
        yield from _listed(what, one.get(key, []), two.get(key, []), sentence)
    yield from _listed("Named", one["misconceptions"], two["misconceptions"], called)


def _word(value: object) -> str:
    return str(value) if value not in (None, "") else "nothing"


def _elements(one: Mapping[str, Any], two: Mapping[str, Any]) -> Iterator[str]:
    before = {element["id"]: element for element in one.get("elements", [])}
    after = {element["id"]: element for element in two.get("elements", [])}
    for name in dict.fromkeys([*before, *after]):
        old, new = before.get(name), after.get(name)
        if old is None or new is None:
            which = "second" if old is None else "first"
            yield f"{name} {TITLES[name]}: scored by the {which} only."
        elif old["score"] != new["score"]:
            yield f"{name} {TITLES[name]}: {100 * old['score']:.0f} %; {100 * new['score']:.0f} %."
        elif old["lines"] != new["lines"]:
            yield f"{name} {TITLES[name]}: the same score, by other lines."


def _remarks(grade: Mapping[str, Any], key: str) -> list[Any]:
    return [entry["what"] for entry in grade.get(key, [])]


def _listed(what: str, one: list[Any], two: list[Any], said: Callable[[Any], str]) -> Iterator[str]:
    """Yield what only one of two lists holds, by code and facts."""
    for which, some, others in (("first", one, two), ("second", two, one)):
        for entry in some:
            if entry not in others:
                yield f"{what}, by the {which} only: {said(entry)}"
