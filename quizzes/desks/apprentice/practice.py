"""The practice bench: any brake, and after the hand-over what it was and what one made of it."""

import logging
import re
import secrets
from collections.abc import Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.cases.case import Case
from quizzes.cases.practice import draw_drill, draw_practice
from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.grading.evidence.gathering import gather
from quizzes.grading.grade import grade_case
from quizzes.sittings.practice_kept import SEED_BYTES, Begun, Kept
from quizzes.sittings.run import the_sheet
from quizzes.sittings.strengths import strengths
from widgets.bench.actions import Action
from widgets.bench.observed import Observation
from widgets.bench.session import Event, Session
from widgets.bench.setup import Start
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import bench_page
from widgets.brake.faults import fault
from widgets.brake.judgement.words import sentences
from widgets.brake.sizes.design import DESIGN_WORDS
from widgets.brake.sizes.sheet import LimitsSheet, LimitsSheetError
from widgets.page.prompt_panel import FormPanel, text_of
from widgets.page.swapping import show_only

from .coach_panel import CoachPanel
from .rings import found_ring, left_ring

_LOG = logging.getLogger("gap_and_lining")
_KEY = re.compile(r"[0-9a-f]{64}")
ANY = "any"
STARTS = (
    (Start.WORK_ORDER, "the whole job"),
    (Start.OPEN, "measure, decide, adjust: the brake is safe and open"),
    (Start.BODY_OFF, "fit a new disc: the magnet body is off"),
)
_TASK = (
    "You get a hoist brake in some state of wear. Find out what it needs, do it, prove it, hand "
    "it over. Afterwards you see what it really was. Nothing is recorded; load the page again, or "
    "come back to it, and the brake is as you left it."
)
CAUTION = (
    "On a real hoist: load landed and off the hook, supply locked off and proved dead, before a "
    "hand goes near the brake. Nobody under the hook. The maker’s data and local rules come first."
)


class Practice:
    """The page: choose, work, read what it was, go on with the next."""

    def __init__(self, seed: bytes | None = None) -> None:
        self._seed = seed  # for tests: the brake that comes first
        self._sheet = the_sheet()
        self._kept: Kept | None = None
        self._form = FormPanel(self._answer)
        self.page = VBox([self._form]).add_class("gal-page-stack")
        self._ask()

    def _ask(self, said: str = "") -> None:
        sizes = self._sheet.sizes
        mixed = len({size.design for size in sizes}) > 1
        names = [
            (size.name, f"{size.name}, {DESIGN_WORDS[size.design]}" if mixed else size.name)
            for size in sizes
        ]
        self._form.show(
            title="Practise on a brake",
            words=[_TASK],
            danger=CAUTION,
            fields=[
                {
                    "name": "size",
                    "kind": "choice",
                    "label": "Size of brake",
                    "options": [(ANY, "any size"), *names],
                    "value": ANY,
                },
                {
                    "name": "start",
                    "kind": "choice",
                    "label": "What to practise",
                    "options": [(start.value, words) for start, words in STARTS],
                    "value": Start.WORK_ORDER.value,
                },
            ],
            buttons=[("start", "Set out a brake"), *self._back()],
            remember=True,
            said=said,
        )

    def _back(self) -> list[tuple[str, str]]:
        at_work = self._kept is not None and self._kept.found() is not None
        return [("go on", "Go on with your last brake")] if at_work else []

    def _answer(self, content: Mapping[str, Any]) -> None:
        if content.get("ask") == "form":
            self._opened(content)
        elif content.get("send") == "start":
            name = text_of(content, "size")
            known = {size.name for size in self._sheet.sizes}
            starts = {start.value: start for start, _ in STARTS}
            start = starts.get(text_of(content, "start"), Start.WORK_ORDER)
            self._set_out(name if name in known else None, start)
        elif content.get("send") == "go on":
            self._go_on()
        elif content.get("send") == "again":
            if self._kept is not None:
                self._kept.forget()
            show_only(self.page, self._form)
            self._ask()

    def _opened(self, content: Mapping[str, Any]) -> None:
        """Take up the brake that this tab was at; offer it to another tab of the browser."""
        key = content.get("browser_key")
        if self._kept is not None or not (isinstance(key, str) and _KEY.fullmatch(key)):
            return
        self._kept = Kept(key)
        if content.get("at_work") is True:
            self._go_on()
        elif self._back():
            self._ask()

    def _set_out(self, size_name: str | None, start: Start) -> None:
        seed, self._seed = self._seed or secrets.token_bytes(SEED_BYTES), None
        begun = Begun(seed, size_name, start)
        if self._kept is not None:
            self._kept.begin(begun)
        self._work(begun)

    def _go_on(self) -> None:
        found = self._kept.found() if self._kept is not None else None
        if found is None:
            return
        try:
            self._work(*found)
        except (KeyError, ValueError) as error:  # another limits sheet since
            _LOG.warning("a practice brake could not be set out again: %s", error)
            self._ask("That brake cannot be set out again. Set out another one.")

    def _work(self, begun: Begun, done: tuple[Action, ...] = ()) -> None:
        case = practice_case(self._sheet, begun)
        session = Session(case.setup(), keep=lambda event: self._keep(event, len(done)))
        for action in done:
            session.act(action)
        table = Table(session, self._sheet, case.work_order)
        session.listen(lambda at, seen: self._after(case, at, seen))
        coach = CoachPanel(case, session)
        show_only(self.page, bench_page(table, coach.form), keep=(self._form,))
        self._after(case, session)

    def _keep(self, event: Event, known: int) -> None:
        if self._kept is not None and event.number >= known:
            self._kept.keep(event)

    def _after(self, case: Case, session: Session, _: Observation | None = None) -> None:
        if not session.state.handed_over:
            return
        explained = shown(explanation_html(case, session))
        show_only(self.page, self.page.children[0], explained, self._form)
        self._form.show(
            title="Another one?",
            words=[],
            buttons=[("again", "Set out another brake")],
            reveal=True,
        )


def practice_case(sheet: LimitsSheet, begun: Begun) -> Case:
    """Return the brake of a choice: any family, or a disc that is due where the body is off.

    Raises
    ------
    KeyError
        If the sheet has no such size.
    """
    if begun.start is Start.BODY_OFF:
        return draw_drill(sheet, begun.seed, begun.size_name)
    return draw_practice(sheet, begun.seed, begun.size_name, begun.start)


def explanation_html(case: Case, session: Session) -> str:
    """Return the explanation of a finished practice job: grade, and truth beside notes."""
    evidence = gather(case, session.events)
    competent = evidence.competent_conclusion
    grade = grade_case(case, session.events).to_json()
    well, cost = strengths([grade])
    known = {one.code for one in competent.reasons}
    own = evidence.own_conclusion
    later = [one for one in own.reasons if one.code not in known]
    came_to_light = grade["own_readings_support"] and own.outcome is not competent.outcome
    return sheet_html(
        "explanation",
        grade=grade,
        well=well,
        cost=cost,
        size=case.size.name,
        needed=competent.outcome,
        reasons=sentences(competent.reasons),
        faults=[fault(fault_id) for fault_id in case.faults],
        later=sentences(later) if came_to_light else (),
        found=found_ring(evidence),
        left=left_ring(evidence),
    )


def practice_page() -> Widget:
    """Return the practice bench, or a sentence if the limits sheet cannot be used."""
    try:
        return Practice().page
    except LimitsSheetError as error:
        _LOG.error("limits sheet refused: %s", error)
        return shown(
            sheet_html("trouble", title="The limits sheet cannot be used", words=str(error))
        )
