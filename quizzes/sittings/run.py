"""A sitting being worked: form from its key, log in the store, taken up where it stopped."""

import datetime as dt
import secrets
from collections.abc import Callable, Mapping
from functools import cached_property
from typing import Any

import quizzes.grading.grade as grading
from quizzes.analysis.quality.enough import enough
from quizzes.cases.case import Case
from quizzes.forms.offered import Drawn, Offer, form_edition, offer_of
from quizzes.grading.outcome import Grades, Questions, judge_sitting
from quizzes.questions.bank import the_bank
from quizzes.questions.items import Item
from quizzes.records import Records, RecordsError, ResultRow, Sitting, StaleSitting, Start
from widgets.bench.session import Event, NotKeptError, Session
from widgets.brake.sizes.sheet import LimitsSheet

from .in_force import SOFTWARE, Clock, now, owner_of, question_key, the_records, the_sheet
from .pace import Pace, minutes_worked

__all__ = [
    "BOOK_SLOT", "QUESTIONS_SLOT", "SOFTWARE", "Clock", "SittingRun", "begin", "form_edition",
    "had_lately", "now", "owner_of", "question_key", "sittings_of", "the_records", "the_sheet",
]  # fmt: skip

# Slots of a sitting's log beyond its cases: what was settled at its beginning, and the questions.
BOOK_SLOT, QUESTIONS_SLOT = 9_000, 9_001
MOST_SITTINGS = 200  # of one name that are looked through


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
    offer.draw(sheet, secrets.token_bytes(32), avoid)  # what cannot be drawn is not begun either
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
    """Return the fingerprints of the cases that a person of this name had lately, in any form."""
    had: set[str] = set()
    for row in sittings_of(store, name)[: offer.avoid_last]:
        try:
            run = SittingRun(store, store.sitting(row.sitting_id), sheet)
            had |= {case.fingerprint for case in run.cases}
        except ValueError:  # of another sheet: its brakes cannot come again anyhow
            continue
    return frozenset(had)


def sittings_of(store: Records, name: str) -> list[ResultRow]:
    """Return the sittings of exactly this name, capitals apart, newest first."""
    wanted = name.strip().casefold()
    rows = store.results(name=name.strip(), limit=MOST_SITTINGS) if wanted else ()
    return [row for row in rows if (row.name or "").casefold() == wanted]


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
        offer = offer_of(sitting.form_id, sitting.form_edition, sheet)
        if offer is None:
            raise ValueError(
                "This sitting was begun on another limits sheet or another edition of its form; "
                "it can be looked at under Results, but not gone on with."
            )
        self.offer, self._sheet = offer, sheet
        self._store, self.sitting, self._clock = store, sitting, clock
        self._moments: dict[int, list[dt.datetime]] = {}
        self.read_again()

    def read_again(self) -> None:
        """Take up what another window of the same person may have handed in since."""
        kept = self._store.grades(self.sitting.id)
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
        """Whether the break falls now: its case is handed over, the next one not begun."""
        slot = len(self.grades)
        falls = 0 < self.form.break_after == slot < len(self.cases)
        return falls and not self._store.events(self.sitting.id, slot)

    @property
    def pace(self) -> Pace:
        """Where the sitting stands, with the minutes that its log shows."""
        done = len(self.grades)
        for slot in range(done):
            if slot not in self._moments:  # the log of a case that is handed over is closed
                self._moments[slot] = self._moments_of(slot)
        moments = [at for of_slot in self._moments.values() for at in of_slot]
        moments += self._moments_of(done) + self._moments_of(QUESTIONS_SLOT)
        worked = minutes_worked([self.sitting.started_at, *moments])
        return Pace(done, len(self.cases), worked, self.form.minutes)

    def _moments_of(self, slot: int) -> list[dt.datetime]:
        return [event.at for event in self._store.events(self.sitting.id, slot)]

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
        return question_key(self.sitting.key)

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

    def outcome(self, grades: Grades | None = None) -> dict[str, Any]:
        """Return the outcome of what was handed in so far, or of the same by other grades."""
        rule, own = enough if self.offer.blueprint else None, grades or self.grades
        return judge_sitting(own, len(self.cases), enough=rule, questions=self._questions())

    def _questions(self) -> Questions | None:
        if not self.items:
            return None
        grade = self.questions_grade or {"asked": len(self.items), "points": 0, "safety_missed": 0}
        return Questions(grade["asked"], grade["points"], grade["safety_missed"])

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
            raise NotKeptError(str(error)) from None
