"""The job sheet page: readings from a real brake in, a conclusion with its uncertainty out."""

import datetime as dt
import logging
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from ipywidgets import Widget

from quizzes.job_sheet.block import Block
from quizzes.job_sheet.entry import EntryError, JobEntry
from quizzes.job_sheet.fields import form
from quizzes.job_sheet.findings import Findings, find
from quizzes.job_sheet.history import read_history
from quizzes.job_sheet.own_limits import TYPED_WORDS
from quizzes.job_sheet.reader import read_entry
from quizzes.job_sheet.words import CALCULATION, blocks, verdict
from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.sizes.sheet import LimitsSheetError
from widgets.brake.sizes.table import INVENTED_WORDS, SheetInForce
from widgets.page.joining import joined_file

from .limits_sheet import file_name, today, without_a_sheet
from .sheet_panel import SheetPanel, sheet_style

_LOG = logging.getLogger("gap_and_lining")


_HERE = Path(__file__).parent


class JobSheetPanel(SheetPanel):
    """The form, and what a filled one comes to. Nothing that is typed is kept in the kernel.

    The page sends `{"ask": "form"}` once, then `{"judge": true, ...}` and
    `{"print": "A4" or "Letter", ...}`, each with `fields` and `rows` as typed.
    """

    _esm = joined_file(_HERE / "job_sheet.js")
    _css = sheet_style(_HERE / "job_sheet.css")

    def __init__(self, in_force: SheetInForce, clock: Callable[[], dt.date] = today) -> None:
        self._in_force = in_force
        self._clock = clock
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Send the form, the findings or the record."""
        if content.get("ask") == "form":
            self.send({"form": form(self._in_force, self._clock())})
        elif content.get("judge") is True:
            self._work_out(content, self._say)
        elif "print" in content:
            self._work_out(content, lambda entry: self._print(entry, str(content.get("print"))))

    def _work_out(self, content: Mapping[str, Any], go_on: Callable[[JobEntry], None]) -> None:
        try:
            go_on(read_entry(content, self._in_force.sheet, self._clock()))
        except EntryError as error:
            told = [{"field": one.field, "words": one.words} for one in error.troubles]
            self.send({"troubles": told})
        except ValueError as error:
            _LOG.warning("job sheet: %s", error)
            self.send({"troubles": [{"field": "", "words": f"That cannot be: {error}."}]})

    def _say(self, entry: JobEntry) -> None:
        from widgets.charts.readings_round import readings_round  # noqa: PLC0415 (late: slow to import)

        findings = find(entry)
        conclusion, *rest = _blocks(entry, findings)
        drawn = readings_round(*_chart(entry, findings))
        self.send(
            {
                "found": {
                    "outcome": findings.outcome.value,
                    "verdict": conclusion.to_json(),
                    "blocks": [block.to_json() for block in rest],
                    "figure": {"url": drawn.data_url, "alt": drawn.alt},
                    "calculation": CALCULATION,
                    "invented": INVENTED_WORDS if entry.size.invented else "",
                }
            }
        )

    def _print(self, entry: JobEntry, paper: str) -> None:
        from quizzes.desks.printing.record import record_pdf  # noqa: PLC0415 (late: slow to import)
        from widgets.charts.readings_round import readings_round_png  # noqa: PLC0415 (late: slow to import)

        findings = find(entry)
        chart = readings_round_png(*_chart(entry, findings))
        try:
            file = record_pdf(entry, _blocks(entry, findings), chart, paper, self._clock())
        except ValueError as error:
            self.refuse(str(error))
            return
        title = f"Job {entry.texts['hoist']} {entry.size.name} {entry.on.isoformat()}"
        self.hand_over(file_name(title, paper), file)


def _blocks(entry: JobEntry, findings: Findings) -> tuple[Block, ...]:
    conclusion = verdict(findings)
    if entry.limits_typed:
        conclusion = replace(conclusion, lines=(*conclusion.lines, TYPED_WORDS))
    return (conclusion, *blocks(entry, findings, read_history(entry, findings)))


def _chart(entry: JobEntry, findings: Findings) -> tuple[Any, ...]:
    title = f"{entry.size.name}: gap readings, mm"
    return findings.gaps, findings.turned, findings.body, entry.size.gap, title


def job_sheet_page() -> Widget:
    """Return the job sheet, or the sentences that say what is wrong with the limits sheet."""
    try:
        return JobSheetPanel(sheet_in_force())
    except LimitsSheetError as error:
        return without_a_sheet(error)
