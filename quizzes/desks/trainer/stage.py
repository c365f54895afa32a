"""The trainer's stage: any brake before the class, truth shown or hidden, a run step by step."""

import logging
import os
import secrets
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.table import Thing
from quizzes.desks.opening import opened
from quizzes.desks.sheets.result_sheets import shown
from quizzes.desks.visitor import need
from quizzes.grading.words import called
from quizzes.records import RecordsError
from quizzes.sittings.run import the_records, the_sheet
from widgets.bench.actions import Action
from widgets.bench.session import Session
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import stage_parts
from widgets.brake.sizes.sheet import LimitsSheetError
from widgets.page.prompt_panel import FormPanel, text_of
from widgets.page.swapping import show_only

from .run_words import DECISIONS, act_line, next_decision
from .stage_board import StageBoard
from .stage_choice import chosen, form
from .stage_truth import (
    beside_html,
    truth_html,
    verdict_html,
    what_truth_shows,
    written_words,
)
from .staging import Staged, from_address, staged

_LOG = logging.getLogger("gap_and_lining")


class Stage:
    """The page: choose, show, hide, step.

    Parameters
    ----------
    brake : Staged, optional
        What is there at once; another page, or an address, has chosen it.
    """

    def __init__(self, brake: Staged | None = None, said: str = "") -> None:
        self._sheet = the_sheet()
        self._staged: Staged | None = None
        self._session: Session | None = None
        self._truth_shown = self._revealed = False
        self._drawn: object = None  # what is in the place of the truth follows from this
        self._form = FormPanel(self._answer)
        self._board = StageBoard(self._answer).add_class("gal-board")
        self._truth = VBox([]).add_class("gal-stage-truth")
        self._brake = VBox([]).add_class("gal-stage-brake")
        self._rest = VBox([])
        self._said = VBox([]).add_class("gal-stage-said")
        dock = VBox([self._said, self._board]).add_class("gal-dock")
        top = VBox([self._brake, self._truth]).add_class("gal-stage-top")
        parts = [top, self._rest, dock]
        self._stage = VBox(parts).add_class("gal-page").add_class("gal-stage")
        self.page = VBox([self._form]).add_class("gal-page-stack")
        if brake is None:
            self._form.show(**form(self._sheet, said))
        else:
            self.set_out(brake)

    # ---- what the page sends ----

    def _answer(self, content: Mapping[str, Any]) -> None:
        wished = content.get("send")
        try:
            act = self._wishes().get(wished) if isinstance(wished, str) else None
            if act is not None:
                act(content)
        except ValueError as error:
            self._form.say(str(error))

    def _wishes(self) -> Mapping[str, Callable[[Mapping[str, Any]], None]]:
        always: dict[str, Callable[[Mapping[str, Any]], None]] = {"set out": self._choose}
        if self._staged is None:
            return always
        return always | {
            "truth": self._turn_truth,
            "reveal": self._reveal,
            "next": lambda _: self._step(1),
            "ten": lambda _: self._step(10),
            "decision": lambda _: self._to_decision(),
            "back": lambda _: self._step(-1),
            "again": lambda _: self._restart(),
            "other": lambda _: self._leave(),
        }

    def _choose(self, content: Mapping[str, Any]) -> None:
        staging = chosen(content, self._sheet, secrets.token_hex(4))
        self.set_out(staged(self._sheet, staging, text_of(content, "run")))

    # ---- the brake ----

    def set_out(self, brake: Staged) -> None:
        """Let a brake stand before the class, its truth hidden, its run at the beginning."""
        self._staged = brake
        self._truth_shown = self._revealed = False
        self._restart()

    def _restart(self, done: Sequence[Action] = ()) -> None:
        if self._staged is None:
            return
        session = self._session = Session(self._staged.case.setup())
        for action in done:
            session.act(action)
        session.listen(lambda *_: self._show())
        table = Table(session, self._staged.sheet, self._staged.case.work_order)
        table.follows = bool(self._staged.run)
        brake, answer, rest = stage_parts(table)
        show_only(self._brake, brake)
        show_only(self._rest, rest)
        show_only(self._said, answer)
        self.page.children = (self._stage,)
        self._show()

    def _leave(self) -> None:
        self._staged = self._session = None
        for place in (self._brake, self._rest, self._truth, self._said):
            show_only(place)
        self._drawn = None
        self.page.children = (self._form,)
        self._form.show(**form(self._sheet))

    # ---- a run ----

    @property
    def _run(self) -> tuple[Action, ...]:
        return self._staged.run if self._staged else ()

    def _step(self, by: int) -> None:
        if self._session is not None and self._run:
            self._go_to(len(self._session.events) + by)

    def _to_decision(self) -> None:
        if self._session is not None and self._run:
            self._go_to(next_decision(self._run, len(self._session.events)))

    def _go_to(self, target: int) -> None:
        if self._session is None:
            return
        at, target = len(self._session.events), max(0, min(len(self._run), target))
        if target == at + 1:
            self._session.act(self._run[at])
            self._show()  # a refused action tells no listener
        elif target != at:
            self._restart(self._run[:target])
        else:
            self._board.say("The run ends here." if at else "The run begins here.")

    # ---- what is on the board and beside the brake ----

    def _turn_truth(self, _: Mapping[str, Any]) -> None:
        self._truth_shown = not self._truth_shown
        self._show()

    def _reveal(self, _: Mapping[str, Any]) -> None:
        self._revealed = True
        self._show()

    def _show(self) -> None:
        self._show_beside()
        self._show_board()

    def _show_beside(self) -> None:
        brake, session = self._staged, self._session
        if brake is None or session is None:
            return
        at_end = self._at_end(session)
        now = (at_end, self._truth_shown and what_truth_shows(session.state), id(session))
        if not self._truth_shown and not at_end:
            now = (False, False, 0)
        if now == self._drawn:  # a look or a push moves nothing: its step is at once there
            return
        truth = truth_html(brake, session) if self._truth_shown else ""
        verdict = verdict_html(brake, session) if at_end else ""
        show_only(self._truth, shown(beside_html(truth + verdict)))
        self._drawn = now

    def _at_end(self, session: Session) -> bool:
        return session.state.handed_over or (
            bool(self._run) and len(session.events) >= len(self._run)
        )

    def _show_board(self) -> None:
        brake, session = self._staged, self._session
        if brake is None or session is None:
            return
        at, whole = len(session.events), len(self._run)
        words = [self._act_words(at), written_words(session.state)]
        buttons = [("truth", "Hide the truth" if self._truth_shown else "Show the truth")]
        title = brake.called
        if self._run:
            title = f"Step {min(at, whole)} of {whole}"
            whose = called(brake.run_called) if self._revealed else "hidden"
            words.append(f"{brake.called} Whose run: {whose}.")
            buttons = [("next", "Next step"), ("decision", "Next decision"), ("ten", "Ten steps"),
                       ("back", "Step back"), *buttons]  # fmt: skip
            buttons += [] if self._revealed else [("reveal", "Whose run is it?")]
        buttons += [("again", "From the start"), ("other", "Another brake"),
                    ("full screen", "Full screen")]  # fmt: skip
        self._board.show(title=title, words=words, buttons=buttons)

    def _act_words(self, at: int) -> str:
        if not self._run:
            return "Worked by hand: take a tool, or press a part."
        if at > len(self._run):
            return "Worked by hand after the end of the run. “Step back” returns to it."
        if at < len(self._run) and self._run[at].kind in DECISIONS:
            return "Next comes a decision. What would the class decide?"
        return f"{act_line(self._run[at - 1])}." if at else "Nothing has been done yet."


def stage_page() -> Widget:
    """Return the trainer's stage, or a sentence if it cannot be shown.

    The page's address may name the brake, as in `staging`.
    """
    return opened(Thing.TEACH, _page, "The stage cannot be shown", LimitsSheetError)


def _page() -> Widget:
    try:
        return Stage(_asked_for()).page
    except LimitsSheetError:  # which is a ValueError, and no fault of an address
        raise
    except (RecordsError, ValueError) as error:
        _LOG.warning("stage: %s", error)
        return Stage(said=str(error)).page


def _asked_for() -> Staged | None:
    query = os.environ.get("QUERY_STRING", "")
    of_a_person = "sitting=" in query
    if of_a_person:
        need(Thing.RESULTS)
    store = the_records() if of_a_person else None
    return from_address(query, the_sheet(), store)
