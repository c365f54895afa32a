"""A sitting being worked: all from what was kept, log in the store, taken up where it stopped."""

import datetime as dt
import secrets
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import quizzes.grading.grade as grading
from quizzes.cases.case import EDITION as CASE_EDITION
from quizzes.cases.case import Case
from quizzes.forms.offered import Offer, form_edition
from quizzes.grading.outcome import Grades, judge_sitting
from quizzes.grading.question_rule import Questions
from quizzes.questions.posing import Posed
from quizzes.records import Records, RecordsError, Sitting, StaleSitting, Start
from quizzes.records.auditing.signing import sign_head
from quizzes.records.kept_sitting import KeptSitting, read_kept
from widgets.bench.session import NOT_KEPT, STALE, Event, NotKeptError, Session
from widgets.brake.sizes.sheet import LimitsSheet

from .cut import cut_for, panel_in_force
from .decided.attempts import refuse_too_soon
from .deciding import rule_for
from .had_lately import had_lately, sittings_of
from .in_force import (
    SOFTWARE,
    Clock,
    NotNowError,
    now,
    owner_of,
    question_key,
    the_records,
    the_sheet,
)
from .pace import Pace, minutes_worked
from .question_marks import marks_of, posed_once, questions_of

__all__ = [
    "QUESTIONS_SLOT", "SOFTWARE", "Clock", "SittingRun", "begin", "form_edition",
    "had_lately", "now", "owner_of", "question_key", "sittings_of", "the_records", "the_sheet",
]  # fmt: skip

QUESTIONS_SLOT = 9_001  # slot of a sitting's log beyond its cases: the questions


def begin(store: Records, offer: Offer, sheet: LimitsSheet, start: dict[str, Any]) -> Sitting:
    """Begin a sitting of a form for a named person at a browser.

    Everything is drawn first, cases and questions; then one transaction keeps all that the
    sitting needs. What the person has had in the last sittings is left out of this one.

    Raises
    ------
    ValueError
        If the name cannot be, no form can be drawn, or the form's cooling-off is not over.
    RecordsError
        If the store cannot be used.
    """
    key = secrets.token_bytes(32)
    person = store.person_of(str(start["name"]), str(start.get("number", "")))
    if person:
        refuse_too_soon(store, person.id, offer.blueprint, start)
    avoid = had_lately(store, offer, person.id) if person else frozenset()
    drawn = offer.draw(sheet, key, avoid)
    posed = posed_once(drawn.items, question_key(key), sheet)
    kept = KeptSitting(
        software=SOFTWARE,
        grading_edition=grading.EDITION,
        case_edition=CASE_EDITION,
        sheet=sheet,
        blueprint=offer.blueprint,
        cases=drawn.cases,
        questions=posed,
        break_after=drawn.break_after,
        minutes=drawn.minutes,
        avoided=tuple(sorted(avoid)),
        cut=cut_for([one.hidden.item for one in posed], panel_in_force(store)) if posed else None,
    )
    return store.begin_sitting(
        Start(
            form_id=offer.id,
            form_edition=form_edition(offer, sheet),
            software_version=kept.software,
            rules_edition=kept.grading_edition,
            key=key,
            kept=kept.to_json(),
            **start,
        )
    )


class SittingRun:
    """One sitting with its cases and questions; `session` is the bench of the case in hand.

    It reads what was kept when the sitting began, and nothing else: no form, bank or sheet that
    is in force now.

    Parameters
    ----------
    store : Records
        Where every event goes before it counts.
    sitting : Sitting
        Whose.
    clock : callable
        Tells the time, UTC.
    objection : callable, optional
        Says why nothing may be added now; an empty text if it may.

    Raises
    ------
    RecordsError
        If what was kept cannot be read; the sentence names sitting, place and reason.
    """

    def __init__(
        self,
        store: Records,
        sitting: Sitting,
        clock: Clock = now,
        objection: Callable[[], str] | None = None,
    ) -> None:
        self._objection = objection or str
        self.kept = read_kept(sitting.id, store.kept(sitting.id))
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
        self._closed = bool(self._store.outcomes(self.sitting.id))

    @property
    def cases(self) -> tuple[Case, ...]:
        """The cases of the form, in order."""
        return self.kept.cases

    @property
    def questions(self) -> tuple[Posed, ...]:
        """The questions of the form as they were posed at the beginning, in order."""
        return self.kept.questions

    @property
    def cases_done(self) -> bool:
        """Whether every case is handed over."""
        return len(self.grades) >= len(self.cases)

    @property
    def finished(self) -> bool:
        """Whether cases and questions are handed over, or the sitting was closed before."""
        all_done = self.cases_done and (not self.questions or self.questions_grade is not None)
        return self._closed or all_done

    @property
    def at_break(self) -> bool:
        """Whether the break falls now: its case is handed over, the next one not begun."""
        slot = len(self.grades)
        falls = 0 < self.kept.break_after == slot < len(self.cases)
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
        return Pace(done, len(self.cases), worked, self.kept.minutes)

    def _moments_of(self, slot: int) -> list[dt.datetime]:
        return [event.at for event in self._store.events(self.sitting.id, slot)]

    @property
    def case(self) -> Case:
        """The case in hand."""
        return self.cases[len(self.grades)]

    def events(self, slot: int) -> list[Event]:
        """Return the log of a case, as its bench kept it."""
        kept = self._store.events(self.sitting.id, slot)
        return [Event(number, event.action, event.observation) for number, event in enumerate(kept)]

    def session(self) -> Session:
        """Return the bench of the case in hand, with its log taken up."""
        slot = len(self.grades)

        def keep(event: Event) -> None:
            self._keep(slot, event)

        return Session(self.case.setup(), keep, self.events(slot))

    def rehearse(self, worker: Callable[[Session], object]) -> dict[str, Any]:
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
        grade = self.graded(session.events)
        self._store.finish_case(self.sitting.id, len(self.grades), grade, self._clock())
        self.grades.append(grade)
        if self.finished:
            self.close()
        return grade

    def graded(self, events: Iterable[Event]) -> dict[str, Any]:
        """Return the grade of the case in hand, by the edition that the sitting began with."""
        edition = self.kept.grading_edition
        return grading.grade_case(self.case, events, edition).to_json()

    # ---- questions ----

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
        self._refuse_now()
        step = len(self._store.events(self.sitting.id, QUESTIONS_SLOT))
        action = {"kind": "answer", "at": at, "item": item, "answer": dict(answer)}
        self._store.append(self.sitting.id, QUESTIONS_SLOT, step, action, {}, self._clock())

    def hand_in_questions(self) -> None:
        """Mark the answers kept, keep how they went, and the outcome if that was the last part."""
        self._refuse_now()
        grade = marks_of(self.kept, self.answers())
        self._store.finish_case(self.sitting.id, QUESTIONS_SLOT, grade, self._clock())
        self.questions_grade = grade
        if self.finished:
            self.close()

    # ---- the outcome ----

    def close(self) -> None:
        """Keep the outcome of the sitting, if it is not kept yet."""
        if not self._store.outcomes(self.sitting.id):
            kept = self._store.finish_sitting(self.sitting.id, self.outcome(), self._clock())
            sign_head(self._store, kept.at, kept.position)
        self._closed = True

    def outcome(self, grades: Grades | None = None) -> dict[str, Any]:
        """Return the outcome of what was handed in so far, or of the same by other grades."""
        own = grades or self.grades
        rule = rule_for(self.kept.blueprint)
        return judge_sitting(
            own, len(self.cases), enough=rule, questions=self._questions(),
            promised=self.kept.blueprint.elements, ending=self.kept.blueprint.ends,
        )  # fmt: skip

    def _questions(self) -> Questions | None:
        if not self.questions:
            return None
        grade = self.questions_grade or {
            "asked": len(self.questions),
            "points": 0,
            "safety_missed": 0,
        }
        return questions_of(grade)

    def _refuse_now(self) -> None:
        if said := self._objection():
            raise NotNowError(said)

    def _keep(self, slot: int, event: Event) -> None:
        try:
            self._refuse_now()
            did, seen = dict(event.action), dict(event.observation)
            self._store.append(self.sitting.id, slot, event.number, did, seen, self._clock())
        except StaleSitting:
            raise NotKeptError(STALE) from None
        except (RecordsError, ValueError) as error:
            raise NotKeptError(NOT_KEPT, cause=str(error)) from None
