"""The assessor's list: who sat, what came of it, and the evidence behind each grade."""

import logging
from collections.abc import Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.grading.evidence import AlteredLogError, gather
from quizzes.grading.grade import grade_case
from quizzes.records import Records, RecordsError, ResultRow, Sitting
from widgets.bench.session import Event
from widgets.brake.sheet import LimitsSheet, LimitsSheetError

from .form_panel import FormPanel, text_of
from .result_sheets import sheet_html, shown
from .run import SittingRun, the_records, the_sheet

_LOG = logging.getLogger("gap_and_lining")
MOST_ROWS = 200
ALL = "all"
# A result counts only where the candidate has no kernel to look into.
MADE_WORDS = {
    "web": "web app",
    "lab": "notebook: self-check only",
    "binder": "Binder: self-check only",
    "test": "program",
}


class Results:
    """The page: a list that can be narrowed, and one sitting laid open under it."""

    def __init__(self) -> None:
        self._store = the_records()
        self._sheet = the_sheet()
        self._name, self._outcome, self._open = "", ALL, ""
        self._form = FormPanel(self._answer)
        self._evidence = shown("")
        self.page = VBox([self._form, self._evidence]).add_class("gal-page-stack")
        self._list()

    def _answer(self, content: Mapping[str, Any]) -> None:
        try:
            if content.get("send") == "look":
                self._name = text_of(content, "name")[:80]
                self._outcome = text_of(content, "outcome")
                self._list()
            elif isinstance(content.get("open"), str):
                self._lay_open(content["open"][:64])
        except (RecordsError, ValueError) as error:
            _LOG.warning("results: %s", error)
            self._form.say(str(error))

    def _list(self, *, reveal: bool = False) -> None:
        wanted = self._outcome if self._outcome in {"competent", "not yet competent"} else None
        rows = self._store.results(name=self._name or None, outcome=wanted, limit=MOST_ROWS)
        if self._outcome == "open":
            rows = tuple(row for row in rows if row.finished_at is None)
        self._form.show(
            title="Results",
            words=["Newest first. An attempt that was not finished stands here too."],
            fields=[
                {
                    "name": "name",
                    "kind": "text",
                    "label": "Name, or part of it",
                    "value": self._name,
                },
                {
                    "name": "outcome",
                    "kind": "choice",
                    "label": "Outcome",
                    "value": self._outcome,
                    "options": [
                        (ALL, "all"),
                        ("competent", "competent"),
                        ("not yet competent", "not yet competent"),
                        ("open", "not finished"),
                    ],
                },
            ],
            buttons=[("look", "Show")],
            reveal=reveal,
            list={
                "caption": f"{len(rows)} sittings",
                "columns": ["Name", "Outcome", "Form", "Begun, UTC", "Made"],
                "rows": [_row(row, self._open) for row in rows],
                "empty": "No sitting fits. When somebody begins an assessment, it stands here.",
            },
        )

    def _lay_open(self, sitting_id: str) -> None:
        sitting = self._store.sitting(sitting_id)
        self._open = sitting_id
        self._evidence.value = evidence_html(self._store, sitting, self._sheet)
        self._list(reveal=True)


def _row(row: ResultRow, opened: str) -> dict[str, Any]:
    outcome = row.outcome or "not finished"
    began, made = f"{row.started_at:%Y-%m-%d %H:%M}", MADE_WORDS.get(row.place, row.place)
    cells = [row.name or "name erased", outcome, row.form_id, began, made]
    return {"id": row.sitting_id, "cells": cells, "current": row.sitting_id == opened}


def evidence_html(store: Records, sitting: Sitting, sheet: LimitsSheet) -> str:
    """Return the evidence of a sitting; its cases only once it is finished."""
    outcomes = store.outcomes(sitting.id)
    check = store.verify(sitting.id)
    cases, regraded = _cases(store, sitting, sheet) if outcomes else ([], "after the sitting")
    chain = f"{check.entries} entries, each fits the one before (head {check.head_sha256[:16]})"
    if not check.sound:
        chain = f"does not hold together at entry {check.position}: {check.reason}"
    return sheet_html(
        "evidence",
        name=sitting.name or "name erased",
        form=f"{sitting.form_id}, edition {sitting.form_edition}",
        started=f"{sitting.started_at:%Y-%m-%d %H:%M:%S} UTC",
        finished=f"{sitting.finished_at:%Y-%m-%d %H:%M:%S} UTC" if sitting.finished_at else "",
        place=sitting.place,
        rules=sitting.rules_edition,
        software=sitting.software_version,
        chain=chain,
        regraded=regraded,
        outcome=outcomes[-1].content if outcomes else None,
        cases=cases,
    )


def _cases(
    store: Records, sitting: Sitting, sheet: LimitsSheet
) -> tuple[list[dict[str, Any]], str]:
    """Return the cases of a finished sitting, and whether grading again gives the same."""
    try:
        run = SittingRun(store, sitting, sheet)
    except ValueError as error:
        return [], str(error)
    shown_cases, changed = [], []
    for slot, (case, grade) in enumerate(zip(run.cases, run.grades, strict=False)):
        kept = store.events(sitting.id, slot)
        events = [Event(n, event.action, event.observation) for n, event in enumerate(kept)]
        lines = [
            {
                "at": f"{event.at:%H:%M:%S}",
                "done": event.observation["done"],
                "words": event.observation["words"],
            }
            for event in kept
        ]
        try:
            competent = gather(case, events).competent_conclusion.outcome
            if grade_case(case, events).to_json() != grade:
                changed.append(f"case {slot + 1}")
        except AlteredLogError as error:
            return [], f"Case {slot + 1}: {error}."
        shown_cases.append(
            {"grade": grade, "size": case.size.name, "competent": competent, "lines": lines}
        )
    said = f"differs in {', '.join(changed)}" if changed else "the same, line by line"
    return shown_cases, said


def results_page() -> Widget:
    """Return the assessor's list, or a sentence if the store cannot be used."""
    try:
        return Results().page
    except (RecordsError, LimitsSheetError) as error:
        _LOG.error("results not opened: %s", error)
        return shown(sheet_html("trouble", title="The results cannot be shown", words=str(error)))
