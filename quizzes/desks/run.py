"""A sitting being worked: cases from its key, log in the store, taken up where it stopped."""

import datetime as dt
import hashlib
import logging
import os
from collections.abc import Callable
from typing import Any

import quizzes.grading.grade as grading
from quizzes import records
from quizzes.cases.case import Case
from quizzes.cases.forms import FORMS, Form, draw_form
from quizzes.grading.sitting import judge_sitting
from quizzes.records import Records, RecordsError, Sitting, StaleSitting, Start
from widgets.bench.session import Event, NotKeptError, Session
from widgets.brake.sheet import INVENTED, LimitsSheet, load_sheet

_LOG = logging.getLogger("gap_and_lining")
SOFTWARE = "gap-and-lining 0.1.0"
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


def form_edition(form: Form, sheet: LimitsSheet) -> str:
    """Return the edition of a form on a limits sheet; another sheet draws other brakes."""
    mark = hashlib.sha256(repr(sheet.sizes).encode()).hexdigest()[:12]
    return f"{form.edition} on {mark}"


def owner_of(browser_key: str) -> str:
    """Return what the store keeps of a browser's key."""
    return hashlib.sha256(browser_key.encode()).hexdigest()


def begin(store: Records, form: Form, sheet: LimitsSheet, start: dict[str, Any]) -> Sitting:
    """Begin a sitting of a form for a named person at a browser.

    Raises
    ------
    ValueError
        If the name cannot be.
    RecordsError
        If the store cannot be used.
    """
    return store.begin_sitting(
        Start(
            form_id=form.id,
            form_edition=form_edition(form, sheet),
            software_version=SOFTWARE,
            rules_edition=grading.EDITION,
            **start,
        )
    )


class SittingRun:
    """One sitting with its cases; `session` is the bench of the case in hand.

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
        If the sheet has changed since, so that the cases would come out differently.
    """

    def __init__(
        self, store: Records, sitting: Sitting, sheet: LimitsSheet, clock: Clock = now
    ) -> None:
        self.form = FORMS[sitting.form_id]
        if sitting.form_edition != form_edition(self.form, sheet):
            raise ValueError(
                "This sitting was begun on another limits sheet or an earlier edition of its form; "
                "it can be looked at under Results, but not gone on with."
            )
        self._store, self.sitting, self._clock = store, sitting, clock
        self.cases = draw_form(self.form, sheet, sitting.key)
        self.grades = [judgement.content for judgement in store.grades(sitting.id)]

    @property
    def finished(self) -> bool:
        """Whether every case is handed over."""
        return len(self.grades) >= len(self.cases)

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
        """Grade the case in hand, keep the grade, and the outcome after the last case.

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

    def close(self) -> None:
        """Keep the outcome of the sitting, if it is not kept yet."""
        if not self._store.outcomes(self.sitting.id):
            self._store.finish_sitting(self.sitting.id, self.outcome(), self._clock())

    def outcome(self) -> dict[str, Any]:
        """Return the outcome of the cases handed in so far."""
        return judge_sitting(self.grades, len(self.cases))

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
