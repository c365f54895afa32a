"""A sitting's log as an assessor reads it: what was done, where, why, and the result."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from quizzes.cases.case import Case
from quizzes.grading.words.names import ACTS, PLACES
from widgets.bench.session import Event
from widgets.bench.words import NAMED, line_words, noticed_words, said


@dataclass(frozen=True, slots=True)
class Told:
    """One line of the log in words.

    Parameters
    ----------
    step : str
        Which step, from 1, or several: `4 to 7`.
    at : str
        When, hours to seconds, UTC.
    done : bool
        False for what was tried and not possible.
    words : str
        what was done and with what result.
    """

    step: str
    at: str
    done: bool
    words: str


def acts_in_words(events: Sequence[Event], times: Sequence[str]) -> list[Told]:
    """Return a log in words; looks in a row at which nothing was found are one line."""
    told: list[Told] = []
    numbered = [(one, at) for one, at in zip(events, times, strict=True)]
    for idle, group in groupby(numbered, key=lambda pair: _found_nothing(pair[0])):
        several = list(group)
        told += [_looks(several)] if idle else [_told(event, at) for event, at in several]
    return told


def _found_nothing(event: Event) -> bool:
    seen = event.observation
    facts = seen.get("facts", {})
    return (
        event.action.get("kind") == "look"
        and bool(seen.get("done"))
        and facts.get("symptoms") == []
        and NAMED.isdisjoint(facts)
        and not seen.get("alarm")
    )


def _looks(several: Sequence[tuple[Event, str]]) -> Told:
    first, last = several[0][0].number + 1, several[-1][0].number + 1
    places = [_place(event) for event, _ in several]
    named = places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
    step = str(first) if first == last else f"{first} to {last}"
    words = f"Looked at {named}: nothing out of the ordinary."
    return Told(step, several[0][1], True, words)  # noqa: FBT003


def _place(event: Event) -> str:
    at = str(event.action.get("at", ""))
    return PLACES.get(at, at.replace("_", " "))


def _told(event: Event, at: str) -> Told:
    action, seen = event.action, event.observation
    kind, words, done = str(action.get("kind")), said(seen), bool(seen["done"])
    if not done:
        act = ACTS.get(kind, kind.replace("_", " ").capitalize())
        return Told(str(event.number + 1), at, done, f"Tried: {act}. Not possible: {words}")
    if kind == "look":
        facts = seen["facts"]
        found = noticed_words(facts) if seen["code"] == "look.seen" else words
        words = f"Looked at {_place(event)}: {found or words}"
    if reason := str(action.get("why") or "").strip():
        words = f"{words} Reason given: “{reason}”"
    return Told(str(event.number + 1), at, done, words)


def reasons_given(events: Iterable[Event]) -> list[str]:
    """Return the reasons that the candidate wrote beside decisions, in order."""
    whys = (str(event.action.get("why") or "").strip() for event in events)
    return [why for why in whys if why]


def given(case: Case) -> list[str]:
    """Return what the candidate was given with a case: work order, findings, readings, dates."""
    return list(_given(case))


def _given(case: Case) -> Iterator[str]:
    order = case.order
    yield case.work_order
    for line in order.lines:
        yield line_words(line)
    if order.gap_notes:
        readings = ", ".join(
            f"{one.angle_deg:.0f}°: {one.go_mm:.2f} goes, {one.no_go_mm:.2f} does not"
            for one in order.gap_notes
        )
        yield f"Gap readings of a colleague, mm: {readings}."
    if order.disc_notes:
        readings = ", ".join(
            f"{one.angle_deg:.0f}°: {one.value_mm:.2f} ({one.tool})" for one in order.disc_notes
        )
        yield f"Disc readings of a colleague, mm: {readings}."
    if order.planned_days is not None:
        yield f"Next inspection planned in {order.planned_days} days."


def answer_words(shown: Mapping[str, Any], answer: Mapping[str, Any]) -> str:
    """Return what the candidate answered to a question, in the words of its options.

    Parameters
    ----------
    shown : mapping
        The question as it was put.
    answer : mapping
        As it was sent.
    """
    options = {
        str(one.get("id")): str(one.get("text", ""))
        for name in ("options", "steps")
        for one in shown.get(name) or ()
        if isinstance(one, Mapping)
    }
    figure = shown.get("figure")
    places = figure.get("places") if isinstance(figure, Mapping) else None
    for one in places or ():
        if isinstance(one, Mapping) and one.get("name"):
            options[str(one.get("id"))] = str(one["name"])
    for name in ("choice", "choices", "order", "place", "value"):
        if name in answer:
            chosen = answer[name] if isinstance(answer[name], list) else [answer[name]]
            return ("; " if name != "order" else " → ").join(
                options.get(str(one), str(one)) for one in chosen
            )[:400]
    return "nothing that can be read"
