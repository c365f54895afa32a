"""A sitting being worked: form from its key, log in the store, taken up where it stopped."""

import datetime as dt
import hashlib
import logging
import os
from collections.abc import Callable, Mapping
from functools import cached_property
from typing import Any

import quizzes.grading.grade as grading
from quizzes import records
from quizzes.analysis.enough import enough
from quizzes.cases.case import Case
from quizzes.grading.sitting import Questions, judge_sitting
from quizzes.questions.bank import the_bank
from quizzes.questions.items import Item
from quizzes.records import Records, RecordsError, Sitting, StaleSitting, Start
from widgets.bench.session import Event, NotKeptError, Session
from widgets.brake.sheet import INVENTED, LimitsSheet, load_sheet

from .offered_forms import Drawn, Offer, offers

_LOG = logging.getLogger("gap_and_lining")
SOFTWARE = "gap-and-lining 0.1.0"
# Slots of a sitting's log beyond its cases: what was settled at its beginning, and the questions.
BOOK_SLOT, QUESTIONS_SLOT = 9_000, 9_001
Clock = Callable[[], dt.datetime]


def now() -> dt.datetime:
    """Return the time, UTC."""
    return dt.datetime.now(dt.UTC)


def the_sheet() -> LimitsSheet:
    """Return the limits sheet in force: the trainer's own (`GAL_LIMITS`), or the invented one.

    Raises
    ------
    LimitsSheetError
        If the file named is not a good sheet.
    """
    return load_sheet(os.environ.get("GAL_LIMITS") or INVENTED)


def the_records() -> Records:
    """Return the record store in force.

    Raises
    ------
    RecordsError
        If it cannot be used.
    """
    return Records(records.default_url())


def form_edition(offer: Offer, sheet: LimitsSheet) -> str:
    """Return the edition of a form on a limits sheet; another of either draws other brakes."""
    mark = hashlib.sha256(repr((sheet.sizes, offer.blueprint)).encode()).hexdigest()[:12]
    return f"{offer.edition} on {mark}"


def owner_of(browser_key: str) -> str:
    """Return what the store keeps of a browser's key."""
    return hashlib.sha256(browser_key.encode()).hexdigest()


def begin(store: Records, offer: Offer, sheet: LimitsSheet, start: dict[str, Any]) -> Sitting:
    """Begin a sitting of a form for a named person at a browser.

    What the person has had in the last sittings is left out of this one, and written into its
    log, so that the form can be drawn again years later.

    Raises
    ------
    ValueError
        If the name cannot be, or no form can be drawn.
    RecordsError
        If the store cannot be used.
    """
    avoid = had_lately(store, offer, sheet, str(start["name"]))
    sitting = store.begin_sitting(
        Start(
            form_id=offer.id,
            form_edition=form_edition(offer, sheet),
            software_version=SOFTWARE,
            rules_edition=grading.EDITION,
            **start,
        )
    )
    drawn = offer.draw(sheet, sitting.key, avoid)
    book = {
        "kind": "book",
        "avoid": sorted(avoid),
        "questions": [item.id for item in drawn.items],
    }
    store.append(sitting.id, BOOK_SLOT, 0, book, {}, start["started_at"])
    return sitting


def had_lately(store: Records, offer: Offer, sheet: LimitsSheet, name: str) -> frozenset[str]:
    """Return the fingerprints of the cases that a person of this name has had lately."""
    wanted = name.strip().casefold()
    rows = [row for row in store.results(name=name.strip() or None, limit=50)
            if (row.name or "").casefold() == wanted and row.form_id == offer.id]  # fmt: skip
    had: set[str] = set()
    for row in rows[: offer.avoid_last]:
        sitting = store.sitting(row.sitting_id)
        try:
            had |= {case.fingerprint for case in SittingRun(store, sitting, sheet).cases}
        except ValueError:  # an older edition: its cases cannot come again anyhow
            continue
    return frozenset(had)


class SittingRun:
    """One sitting with its cases and questions; `session` is the bench of the case in hand.

    Parameters
    ----------
    store : Records
        Where every event goes before it counts.
    sitting : Sitting
        Whose.
    sheet : LimitsSheet
        The sheet that it was begun with.
    clock : callable
        Tells the time, UTC.

    Raises
    ------
    ValueError
        If sheet, form or bank have changed since, so that it would come out differently.
    """

    def __init__(
        self, store: Records, sitting: Sitting, sheet: LimitsSheet, clock: Clock = now
    ) -> None:
        offer = offers().get(sitting.form_id)
        if offer is None or sitting.form_edition != form_edition(offer, sheet):
            raise ValueError(
                "This sitting was begun on another limits sheet or another edition of its form; "
                "it can be looked at under Results, but not gone on with."
            )
        self.offer, self._sheet = offer, sheet
        self._store, self.sitting, self._clock = store, sitting, clock
        kept = store.grades(sitting.id)
        self.grades = [one.content for one in kept if one.slot != QUESTIONS_SLOT]
        self.questions_grade = next(
            (one.content for one in kept if one.slot == QUESTIONS_SLOT), None
        )

    @cached_property
    def _book(self) -> Mapping[str, Any]:
        kept = self._store.events(self.sitting.id, BOOK_SLOT)
        return kept[0].action if kept else {}

    @property
    def avoided(self) -> list[str]:
        """Fingerprints of cases that were left out of this form at its beginning."""
        return list(self._book.get("avoid", ()))

    @cached_property
    def form(self) -> Drawn:
        """The form as it was drawn at the beginning."""
        return self.offer.draw(self._sheet, self.sitting.key, frozenset(self.avoided))

    @property
    def cases(self) -> tuple[Case, ...]:
        """The cases of the form, in order."""
        return self.form.cases

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """The questions of the form, in order, as they were chosen at the beginning.

        Raises
        ------
        ValueError
            If one is no longer in the bank.
        """
        return tuple(the_bank().item(name) for name in self._book.get("questions", ()))

    @property
    def cases_done(self) -> bool:
        """Whether every case is handed over."""
        return len(self.grades) >= len(self.cases)

    @property
    def finished(self) -> bool:
        """Whether cases and questions are handed over."""
        return self.cases_done and (not self.items or self.questions_grade is not None)

    @property
    def at_break(self) -> bool:
        """Whether the break falls now."""
        return 0 < self.form.break_after == len(self.grades)

    @property
    def case(self) -> Case:
        """The case in hand."""
        return self.cases[len(self.grades)]

    def session(self) -> Session:
        """Return the bench of the case in hand, with its log taken up."""
        slot = len(self.grades)
        kept = self._store.events(self.sitting.id, slot)
        events = [
            Event(number, event.action, event.observation) for number, event in enumerate(kept)
        ]

        def keep(event: Event) -> None:
            self._keep(slot, event)

        return Session(self.case.setup(), keep, events)

    def rehearse(self, worker: Callable[[Session], None]) -> dict[str, Any]:
        """Let a program work the case in hand; its log is kept at once when it has finished."""
        slot, lines = len(self.grades), []

        def note(event: Event) -> None:
            lines.append((dict(event.action), dict(event.observation), self._clock()))

        session = Session(self.case.setup(), note)
        worker(session)
        self._store.append_all(self.sitting.id, slot, 0, lines)
        return self.hand_in(session)

    def hand_in(self, session: Session) -> dict[str, Any]:
        """Grade the case in hand, keep the grade, and the outcome after the last part.

        Raises
        ------
        RecordsError
            If the store cannot be used; nothing is lost, it can be handed in again.
        """
        grade = grading.grade_case(self.case, session.events).to_json()
        self._store.finish_case(self.sitting.id, len(self.grades), grade, self._clock())
        self.grades.append(grade)
        if self.finished:
            self.close()
        return grade

    # ---- questions ----

    @property
    def question_key(self) -> bytes:
        """The dice of the questions of this sitting."""
        return hashlib.blake2b(b"questions", key=self.sitting.key[:64], digest_size=32).digest()

    def answers(self) -> dict[int, Mapping[str, Any]]:
        """Return the answers kept so far, the last to each question, by its place from 0."""
        kept = self._store.events(self.sitting.id, QUESTIONS_SLOT)
        return {event.action["at"]: event.action["answer"] for event in kept}

    def keep_answer(self, at: int, item: str, answer: Mapping[str, Any]) -> None:
        """Keep an answer to a question.

        Raises
        ------
        RecordsError, StaleSitting, ValueError
            If it could not be kept.
        """
        step = len(self._store.events(self.sitting.id, QUESTIONS_SLOT))
        action = {"kind": "answer", "at": at, "item": item, "answer": dict(answer)}
        self._store.append(self.sitting.id, QUESTIONS_SLOT, step, action, {}, self._clock())

    def hand_in_questions(self, grade: dict[str, Any]) -> None:
        """Keep how the questions went, and the outcome if that was the last part."""
        self._store.finish_case(self.sitting.id, QUESTIONS_SLOT, grade, self._clock())
        self.questions_grade = grade
        if self.finished:
            self.close()

    # ---- the outcome ----

    def close(self) -> None:
        """Keep the outcome of the sitting, if it is not kept yet."""
        if not self._store.outcomes(self.sitting.id):
            self._store.finish_sitting(self.sitting.id, self.outcome(), self._clock())

    def outcome(self) -> dict[str, Any]:
        """Return the outcome of what was handed in so far."""
        rule = enough if self.offer.blueprint else None
        return judge_sitting(self.grades, len(self.cases), enough=rule, questions=self._questions())

    def _questions(self) -> Questions | None:
        if not self.items:
            return None
        grade = self.questions_grade or {"points": 0.0, "safety_missed": 0}
        return Questions(len(self.items), grade["points"], grade["safety_missed"])

    def _keep(self, slot: int, event: Event) -> None:
        try:
            self._store.append(
                self.sitting.id,
                slot,
                event.number,
                dict(event.action),
                dict(event.observation),
                self._clock(),
            )
        except (RecordsError, StaleSitting, ValueError) as error:
            words = f"{error} What you just did was not kept and has not happened."
            raise NotKeptError(words) from None
