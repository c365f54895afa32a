"""The assessor's list: who sat, with what result, and the evidence behind each grade."""

import logging
from collections.abc import Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.table import Role, Thing
from quizzes.desks.opening import opened
from quizzes.desks.sheets.result_sheets import shown
from quizzes.desks.visitor import allowed, need
from quizzes.records import RecordsError, ResultRow, default_url
from quizzes.records.auditing.audit import Audit
from quizzes.records.decisions.state import Stage, State
from quizzes.records.listing import Asked
from quizzes.records.room.store import RoomStore
from quizzes.sittings.export import export_file
from quizzes.sittings.run import the_records
from quizzes.sittings.standing import NOT_GOOD, Standings
from widgets.page.prompt_panel import FormPanel
from widgets.page.swapping import show_only

from .decision_panel import DecisionPanel
from .evidence_sheet import can_compare_editions, editions_html, evidence_html
from .playback import Playback
from .practical_panel import PracticalPanel
from .result_list import ROWS, Wanted, titles, wanted_of

_LOG = logging.getLogger("gap_and_lining")
_FILE_WORDS = (
    "The file holds the whole log and the key of its cases: whoever has it can draw these brakes. "
    "It is for the assessor. The command replay grades it again."
)
# What stands far below the evidence.
_PLACES = {"practical": "To the observed practical", "decision": "To the decision"}
# A result counts only where the candidate has no kernel to look into.
MADE_WORDS = {
    "web": "web app",
    "lab": "notebook: self-check only",
    "binder": "Binder: self-check only",
    "test": "demo, worked by a program",
}


class Results:
    """The page: a list that can be narrowed, and one sitting laid open under it."""

    def __init__(self) -> None:
        self._store = the_records()
        self._room = RoomStore(default_url())
        self._wanted, self._open = Wanted(), ""
        self._form = FormPanel(self._answer)
        self._tools = FormPanel(self._more)
        self._decision = DecisionPanel(self._store, self._list, self._assessors)
        self._practical = PracticalPanel(self._store, self._decided_anew)
        self._evidence = shown("")
        self.page = VBox([self._form, self._evidence]).add_class("gal-page-stack")
        self._list()

    def _answer(self, content: Mapping[str, Any]) -> None:
        try:
            wished = content.get("send")
            if wished == "look":
                self._look(wanted_of(content))
            elif wished in ("further", "back"):
                self._look(self._wanted.turned(1 if wished == "further" else -1))
            elif isinstance(content.get("open"), str):
                self._lay_open(content["open"][:64])
        except (RecordsError, ValueError) as error:
            _LOG.warning("results: %s", error)
            self._form.say(str(error))

    def _look(self, wanted: Wanted) -> None:
        wanted.asked(self._room)  # a day that is none is said, and the list stays
        self._wanted = wanted
        self._list()

    def _list(self, *, reveal: bool = False) -> None:
        asked = self._wanted.asked(self._room)
        total = self._store.how_many_results(**asked)
        while self._wanted.page and self._wanted.page * ROWS >= total:
            self._wanted = self._wanted.turned(-1)
        here: Asked = {**asked, "limit": ROWS, "offset": self._wanted.page * ROWS}
        rows = self._store.results(**here)
        standings, acts, called = Standings(self._store), self._store.acts_of_all(), titles()
        self._form.show(
            title="Results",
            alarm=_alarm(standings.audit),
            words=["Unfinished attempts are listed too."],
            fields=self._wanted.fields(self._room.classes()),
            buttons=[
                ("look", "Show"),
                *([("back", f"The {ROWS} before")] if self._wanted.page else ()),
                *([("further", f"The next {ROWS}")] if self._wanted.pages_after(total) else ()),
            ],
            reveal=reveal,
            list={
                "caption": self._wanted.caption(total),
                "columns": ["Name", "Graded", "Decided", "Form", "Begun", "Made"],
                "rows": [
                    _row(
                        row,
                        standings,
                        standings.state(acts.get(row.sitting_id, ())),
                        called.get(row.form_id, row.form_id),
                    )
                    | {"current": row.sitting_id == self._open}
                    for row in rows
                ],
                "empty": "No sitting matches. When somebody begins an assessment, it appears here.",
            },
        )

    def _lay_open(self, sitting_id: str) -> None:
        sitting = self._store.sitting(sitting_id)
        self._open = sitting_id
        self._evidence.value = evidence_html(
            self._store, sitting, with_answers=allowed(Thing.ANSWERS)
        )
        self._practical.open(sitting_id)
        self._decision.open(sitting_id)
        self._show_parts()
        self._show_tools()
        self._list(reveal=True)

    def _decided_anew(self) -> None:
        """Show the decision again, after a practical was joined to the sitting."""
        self._decision.open(self._open)

    def _assessors(self) -> list[str]:
        """Return who signs in as an assessor, by name."""
        return [one.name for one in self._room.accounts() if one.role == Role.ASSESSOR]

    def _show_parts(self, *more: Widget) -> None:
        """Show the list, the evidence with more of it if asked for, and what can be decided."""
        decision = (self._practical.form, self._decision.form, self._decision.around)
        show_only(self.page, self._form, self._tools, *more, self._evidence, *decision)

    # What can be done with the sitting that lies open.

    def _show_tools(self, *, reveal: bool = False) -> None:
        sitting = self._store.sitting(self._open)
        editions = [("editions", "Grade by two editions")] if can_compare_editions() else []
        self._tools.show(
            title=f"More on this sitting: {sitting.name or 'name erased'}",
            words=[_FILE_WORDS, f"Its ID, for the command line: {sitting.id}"],
            buttons=[
                ("play", "Play it on the bench"),
                *editions,
                ("export", "Save as a file (JSON)"),
                *_PLACES.items(),
            ],
            reveal=reveal,
        )

    def _more(self, content: Mapping[str, Any]) -> None:
        try:
            wished = content.get("send")
            if not self._open or wished not in {"editions", "export", "play", *_PLACES}:
                return
            if wished in _PLACES:
                self._show_tools()  # its keys wait for an answer
                (self._practical if wished == "practical" else self._decision).bring()
                return
            sitting = self._store.sitting(self._open)
            if wished == "play":
                self._play()
                return
            if wished == "export":
                need(Thing.EXPORT)
                self._tools.hand_over(*export_file(self._store, sitting))
                if trouble := Standings(self._store).of(sitting, again=True).trouble:
                    self._tools.say(f"{NOT_GOOD} {trouble}")
                return
            html = editions_html(self._store, sitting)
            self._show_parts(shown(html))
            self._show_tools(reveal=True)
        except (RecordsError, ValueError) as error:
            _LOG.warning("results: %s", error)
            self._tools.say(str(error))

    def _play(self) -> None:
        if not self._store.outcomes(self._open):
            raise ValueError("This sitting is not finished; it can be played afterwards.")
        self._show_parts(Playback(self._store, self._open).page)
        self._show_tools()


def _alarm(audit: Audit) -> str:
    """Return what the page says if the store does not hold; empty if it does."""
    if audit.sound:
        return ""
    return (
        f"This record store was changed by something other than this suite. {audit.sentences()[1]} "
        "The sittings affected are marked and count for nothing; the others can be used. "
        "Tell whoever keeps the store, and run python -m quizzes verify for the whole list."
    )


def _row(row: ResultRow, standings: Standings, state: State, form: str) -> dict[str, Any]:
    began, made = (
        f"{row.started_at.astimezone():%Y-%m-%d %H:%M}",
        MADE_WORDS.get(row.place, row.place),
    )
    standing = standings.of(row)
    decided = "" if state.stage is Stage.OPEN else state.stage.value
    if state.stage is Stage.DECIDED or state.claimed:
        decided = standings.decided(state, standing) or (decided and "nothing counts")
    graded = standing.word or "not finished"
    cells = [row.name or "name erased", graded, decided, form, began, made]
    return {
        "id": row.sitting_id,
        "cells": cells,
        "alarm": bool(standing.trouble),
    }


def results_page() -> Widget:
    """Return the assessor's list, or a sentence if it cannot be shown."""
    title = "The results cannot be shown"
    return opened(Thing.RESULTS, lambda: Results().page, title, RecordsError)
