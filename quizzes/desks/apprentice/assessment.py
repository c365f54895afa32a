"""The assessment: who sits, case by case, and the result. Kept before it is shown."""

import logging
import re
from collections.abc import Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.table import Thing
from quizzes.desks.assessor.evidence_sheet import calibration_words, channel_shares
from quizzes.desks.in_class import PlaceInClass, class_form, place_in_class
from quizzes.desks.opening import opened
from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.desks.visitor import visitor
from quizzes.forms.ending import Ending
from quizzes.forms.offered import Offer, offers, own_blueprints
from quizzes.records import RecordsError, Sitting
from quizzes.sittings.cut import panel_in_force, which_cut
from quizzes.sittings.in_class.allowed import TIME_IS_UP
from quizzes.sittings.in_force import place
from quizzes.sittings.run import SittingRun, begin, now, owner_of, the_records, the_sheet
from quizzes.sittings.strengths import strengths
from quizzes.sittings.what_now import what_now
from widgets.bench.observed import Observation
from widgets.bench.session import Session
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import bench_page
from widgets.brake.sizes.sheet import LimitsSheetError
from widgets.page.prompt_panel import FormPanel, text_of
from widgets.page.swapping import show_only

from .assessment_steps import (
    between_form,
    case_form,
    finished_form,
    mine_form,
    not_graded_form,
    questions_form,
    who_form,
)
from .question_round import question_round
from .rings import rings_of_jobs

_LOG = logging.getLogger("gap_and_lining")
_KEY = re.compile(r"[0-9a-f]{64}")


class Assessment:
    """The page of one candidate."""

    def __init__(self) -> None:
        self._sheet = the_sheet()
        self._store = the_records()
        self._offers: Mapping[str, Offer] = offers()
        self._place = place_in_class()
        self._owner: str | None = self._place.owner if self._place else None
        self._run: SittingRun | None = None
        self._shown = False  # whether the outcome stands on the page
        self._form = FormPanel(self._answer)
        self.page = VBox([self._form]).add_class("gal-page-stack")

    # What the page sends.

    def _answer(self, content: Mapping[str, Any]) -> None:
        try:
            self._heed(content)
        except (RecordsError, ValueError) as error:
            _LOG.warning("assessment: %s", error)
            if self._form.drawn:
                self._form.say(str(error))
            else:
                self._ask_who(str(error))

    def _heed(self, content: Mapping[str, Any]) -> None:
        if content.get("ask") == "form":
            self._opened(content)
            return
        wished = content.get("send")
        if self._run is not None and self._time_is_up(asked=wished == "time up"):
            self._show_outcome(TIME_IS_UP)
        elif wished == "start":
            self._start(text_of(content, "name"), text_of(content, "form"))
        elif wished == "take up":
            self._take_up(text_of(content, "code"))
        elif wished == "mine" and self._run is not None:
            self._go_on()
        elif wished == "not mine":
            self._run = None
            self._ask_who()
        elif wished == "next" and self._run is not None:
            self._run.read_again()
            self._set_out() if self._run.at_break else self._go_on()
        elif wished == "hand in" and self._run is not None:
            self._go_on()
        elif wished == "new":
            self._run = None
            show_only(self.page, self._form)
            self._ask_who()

    def _opened(self, content: Mapping[str, Any]) -> None:
        key = content.get("browser_key")
        if self._run is not None or (self._owner is not None and self._place is None):
            return
        if self._place is not None:
            self._take_place(self._place)
            return
        self._owner = owner_of(key) if isinstance(key, str) and _KEY.fullmatch(key) else None
        found = self._store.open_sitting(self._owner) if self._owner else None
        if found is None:
            self._ask_who()
            return
        self._run = self._taken_up(found)
        if content.get("at_work") is True:
            self._go_on()
        else:
            self._form.show(**mine_form(self._run, found))

    # Forms.

    def _ask_who(self, said: str = "") -> None:
        self._offers = offers()
        if self._place is not None:
            self._form.show(**class_form(self._place, self._offer_of(self._place), said))
            return
        said = said or " ".join(own_blueprints()[1])
        asked = which_cut(panel_in_force(self._store), "pass mark")
        self._form.show(**who_form(self._offers, said, asked))

    # Steps of a sitting.

    def _time_is_up(self, *, asked: bool) -> bool:
        """Return whether the sitting in hand was open until its minutes were up."""
        run = self._run
        if self._place is None or run is None or self._shown:
            return False
        closed = self._place.close_if_time_is_up()
        if closed or asked:
            run.read_again()
        return run.finished and (closed or asked)

    def _start(self, name: str, form: str) -> None:
        begun = now()
        if self._place is not None:
            if self._store.open_sitting(self._place.owner) is not None:
                self._take_place(self._place)  # a new one would have all its minutes again
                return
            if said := self._place.objection_to_begin():
                raise ValueError(said)
            offer: Offer | None = self._offer_of(self._place)
            start = self._place.start(begun)
        else:
            name = visitor().name or name
            if not name.strip():
                self._form.say("Type your name first: a record without a name proves nothing.")
                return
            offer = self._offers.get(form)
            owner = self._owner or owner_of(name + begun.isoformat())
            start = {"name": name, "owner": owner, "started_at": begun}
        if offer is None:
            self._form.say("Choose a form from the list.")
            return
        sitting = begin(self._store, offer, self._sheet, start | {"place": place()})
        self._run = self._taken_up(sitting)
        self._set_out(None if self._place else sitting.return_code)

    def _take_place(self, place: PlaceInClass) -> None:
        """Go on with what this person of the class has begun, or let them begin."""
        said = TIME_IS_UP if place.close_if_time_is_up() else ""
        found = self._store.open_sitting(place.owner)
        if found is not None:
            self._run = self._taken_up(found)
            self._go_on()
        elif sat := place.sat():
            self._run = self._taken_up(self._store.sitting(sat))
            self._show_outcome(said)
        else:
            self._ask_who()

    def _offer_of(self, place: PlaceInClass) -> Offer:
        offer = self._offers.get(place.form_id())
        if offer is None:
            raise ValueError("The form of this class is no longer offered. Ask the trainer.")
        return offer

    def _taken_up(self, sitting: Sitting) -> SittingRun:
        """Return a sitting to be worked; in a class the trainer may pause and close it."""
        self._shown = False
        objection = self._place.objection if self._place else None
        return SittingRun(self._store, sitting, objection=objection)

    def _take_up(self, code: str) -> None:
        found = self._store.by_return_code(code)
        if found is None or found.finished_at is not None:
            self._form.say(
                "No open sitting has this return code. Check it again, character by character."
            )
            return
        self._run = self._taken_up(found)
        self._go_on()

    def _go_on(self) -> None:
        run = self._run
        if run is None:
            return
        run.read_again()
        if run.finished:
            run.close()
            self._show_outcome()
            return
        if run.cases_done:
            self._ask_questions()
            return
        if run.at_break:
            self._between()
            return
        session = run.session()
        if session.state.handed_over:
            self._hand_in(session)
        else:
            self._set_out(session=session)

    def _set_out(self, code: str | None = None, session: Session | None = None) -> None:
        run = self._run
        if run is None or run.cases_done:
            return
        session = session or run.session()
        table = Table(session, run.kept.sheet, run.case.work_order)
        session.listen(self._after)
        show_only(self.page, self._form, bench_page(table))
        self._form.show(**case_form(run, code))

    def _after(self, session: Session, _: Observation) -> None:
        if session.state.handed_over:
            self._hand_in(session)

    def _hand_in(self, session: Session) -> None:
        run = self._run
        if run is None:
            return
        try:
            run.hand_in(session)
        except (RecordsError, ValueError) as error:
            self._form.show(**not_graded_form(str(error)))
            return
        if run.finished:
            self._show_outcome()
            return
        if run.cases_done:
            self._ask_questions()
            return
        self._between()

    def _between(self) -> None:
        """Say that a case is kept, and wait for one press; at the break, say so."""
        run = self._run
        if run is None:
            return
        show_only(self.page, self._form)
        self._form.show(**between_form(run))

    def _ask_questions(self) -> None:
        run = self._run
        if run is None:
            return
        panel = question_round(run, self._show_outcome)
        show_only(self.page, self._form, panel)
        self._form.show(**questions_form(run))

    def _show_outcome(self, said: str = "") -> None:
        run = self._run
        if run is None:
            return
        self._shown = True
        well, cost = strengths(run.grades)
        html = sheet_html(
            "outcome",
            self_check=run.kept.blueprint.ends is Ending.PRACTICE,
            jobs=rings_of_jobs(run),
            well=well,
            cost=cost,
            name=run.sitting.name or "no name",
            form_title=run.kept.blueprint.title,
            questions=run.questions_grade,
            now=what_now(run.cases, run.grades, now().date()),
            outcome=(outcome := run.outcome()),
            channels=channel_shares(outcome),
            calibration=calibration_words(run.questions_grade, to_candidate=True),
            grades=run.grades,
        )
        show_only(self.page, shown(html), self._form)
        self._form.send({"forget": True})
        self._form.show(**finished_form(said))


def assessment_page() -> Widget:
    """Return the assessment, or a sentence if it cannot be sat now."""
    title = "No assessment can be taken now"
    return opened(Thing.SIT, lambda: Assessment().page, title, RecordsError, LimitsSheetError)
