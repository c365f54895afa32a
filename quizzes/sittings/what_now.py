"""After a sitting: what the evidence of one person shows, what to practise, when to come again."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from quizzes.analysis.people.mastery import Mastery
from quizzes.analysis.people.retention import due_date, due_months
from quizzes.analysis.people.spacing import ElementResult, next_practice
from quizzes.analysis.people.statement import plain_statement, statement
from quizzes.cases.case import Case, Depth
from quizzes.grading.evidence.as_left import endangers_as_found
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.words import TITLES
from quizzes.records import Records, RecordsError
from widgets.brake.days import day_words

from .run import SittingRun, sittings_of

LEFT_DANGEROUS = "left-dangerous"
MOST_TO_PRACTISE = 4
Grades = Sequence[Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class WhatNow:
    """What is said after a sitting: sentences, what to practise next, when to be seen again.

    `at_once` is true where the evidence does not carry even for a day.
    """

    shows: tuple[str, ...]
    practise: tuple[str, ...]
    again_on: dt.date | None
    at_once: bool


def what_now(cases: Sequence[Case], grades: Grades, on: dt.date) -> WhatNow:
    """Return what one sitting shows and asks for.

    Parameters
    ----------
    cases, grades : sequences
        The cases handed over and their kept grades, in one order.
    on : date
        Day of the sitting.
    """
    decisions = [grade["standing"] == "right" for grade in grades if _counts(grade)]
    mastery = mastery_of(cases, grades)
    shows = plain_statement(mastery) if decisions else ()
    months = due_months(mastery.right_rate) if decisions else 0.0
    again_on = (due_date(on, months) if months > 0 else on) if decisions else None
    return WhatNow(shows, tuple(_practise(grades, on)), again_on, at_once=months == 0)


def mastery_of(cases: Iterable[Case], grades: Grades) -> Mastery:
    """Return the counts of a sitting: right decisions, and unsafe brakes let through.

    Of unsafe brakes only those count that were worked by hand: on notes somebody else had found
    what there was to be found.
    """
    pairs = [(case, grade) for case, grade in zip(cases, grades, strict=False) if _counts(grade)]
    by_hand = [(case, grade) for case, grade in pairs if case.depth is not Depth.READING]
    unsafe = [(case, grade) for case, grade in by_hand if is_unsafe(case)]
    missed = sum(let_through(case, grade) for case, grade in unsafe)
    rights = sum(grade["standing"] == "right" for _, grade in pairs)
    return Mastery(rights, len(pairs), missed, len(unsafe))


def let_through(case: Case, grade: Mapping[str, Any]) -> bool:
    """Return whether an unsafe brake was let through: kept in use by the decision, or left so.

    Unsafe work on a brake that was correctly stopped is another matter, and so is a stop on
    readings that would not have carried it.
    """
    unsafe = Recorder(case).evidence().competent_conclusion.unsafe
    left = any(one["code"] == LEFT_DANGEROUS for one in grade["critical"])
    return left or grade["decided"] in unsafe


@dataclass(frozen=True, slots=True)
class OverAll:
    """What all finished sittings of one person show together.

    Attributes
    ----------
    sittings, left_out : int
        How many are counted, and how many could not be read.
    mastery : Mastery
        The sum of their counts.
    lines : tuple of str
        What that shows, a thought a line.
    """

    sittings: int
    left_out: int
    mastery: Mastery
    lines: tuple[str, ...]


def over_sittings(store: Records, person_id: str) -> OverAll:
    """Return what all finished sittings of a person show."""
    total, counted, left_out = Mastery(0, 0), 0, 0
    for row in sittings_of(store, person_id):
        if row.finished_at is None:
            continue
        try:
            run = SittingRun(store, store.sitting(row.sitting_id))
            total += mastery_of(run.cases, run.grades)
            counted += 1
        except RecordsError:  # one that cannot be read
            left_out += 1
    return OverAll(counted, left_out, total, statement(total))


def is_unsafe(case: Case) -> bool:
    """Return whether the brake of a case, passed as it was found, would endanger somebody."""
    found = Recorder(case)
    return endangers_as_found(found.setup, found.start)


def _counts(grade: Mapping[str, Any]) -> bool:
    return bool(grade["standing"] != "no verdict")


def _practise(grades: Grades, on: dt.date) -> Iterable[str]:
    results = [
        ElementResult(one["id"], on, one["score"]) for grade in grades for one in grade["elements"]
    ]
    for one in next_practice(results, on)[:MOST_TO_PRACTISE]:
        yield f"{TITLES[one.element]}, on {day_words(one.on)}: {one.reason}"
