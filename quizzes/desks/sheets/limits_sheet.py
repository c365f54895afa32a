"""The limits sheet page: the sheet in force as a table, and on paper for the wall."""

import datetime as dt
import logging
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ipywidgets import Widget

from quizzes.sittings.in_force import sheet_in_force
from widgets.brake.sizes.sheet import LimitsSheetError
from widgets.brake.sizes.table import (
    CAUTIONS,
    COLUMNS,
    ESTIMATED_WORDS,
    INVENTED_WORDS,
    Cell,
    SheetInForce,
)
from widgets.page.joining import joined_file

from .sheet_panel import SheetPanel, sheet_style

_LOG = logging.getLogger("gap_and_lining")
_PAPER_WORDS = (
    "One landscape page for a handful of sizes. With the header’s switch on mm + in, the paper "
    "has inches under the millimetres."
)


def today() -> dt.date:
    """Return the day, as the clock of this machine has it."""
    return dt.datetime.now().astimezone().date()


def file_name(title: str, paper: str) -> str:
    """Return a name that any file system takes.

    Examples
    --------
    >>> file_name("Limits: north hall/3", "A4")
    'Limits-north-hall-3-A4.pdf'
    """
    plain = re.sub(r"[^A-Za-z0-9]+", "-", title).strip("-")[:60] or "sheet"
    return f"{plain}-{paper}.pdf"


_HERE = Path(__file__).parent


class LimitsSheetPanel(SheetPanel):
    """The sheet in force.

    The page sends `{"ask": "sheet"}` once and `{"print": "A4" or "Letter", "inches": bool}`.
    """

    _esm = joined_file(_HERE / "limits_sheet.js")
    _css = sheet_style(_HERE / "limits_sheet.css")

    def __init__(self, in_force: SheetInForce) -> None:
        self._in_force = in_force
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Send the sheet, or its paper form."""
        if content.get("ask") == "sheet":
            self.send({"sheet": told(self._in_force)})
        elif "print" in content:
            self._print(content.get("print"), inches=content.get("inches") is True)

    def _print(self, paper: object, *, inches: bool) -> None:
        from quizzes.desks.printing.limits import limits_pdf  # noqa: PLC0415 (late: slow to import)

        try:
            file = limits_pdf(self._in_force, str(paper), today(), inches=inches)
        except ValueError as error:
            self.refuse(str(error))
            return
        self.hand_over(file_name(f"Limits {self._in_force.sheet.title}", str(paper)), file)


def told(in_force: SheetInForce) -> dict[str, Any]:
    """Return a sheet as the page's script draws it: texts and flags, no markup."""
    sheet = in_force.sheet
    return {
        "title": sheet.title,
        "origin": in_force.origin,
        "invented": INVENTED_WORDS if sheet.invented else "",
        "estimated": ESTIMATED_WORDS if in_force.any_estimated else "",
        "asked": list(in_force.asked),
        "paper": _PAPER_WORDS,
        "cautions": list(CAUTIONS),
        "columns": [
            {"group": column.group, "head": column.head, "unit": column.unit} for column in COLUMNS
        ],
        "rows": [[_told_cell(cell) for cell in row] for row in in_force.rows()],
    }


def _told_cell(cell: Cell) -> dict[str, Any]:
    return {"text": cell.text, "mm": cell.in_mm, "estimated": cell.estimated}


def without_a_sheet(error: LimitsSheetError) -> Widget:
    """Return what a page shows when the limits sheet is refused: each reason in a sentence."""
    from .result_sheets import sheet_html, shown  # noqa: PLC0415 (late: slow to import)

    _LOG.error("limits sheet refused: %s", error)
    return shown(sheet_html("trouble", title="The limits sheet cannot be used", words=str(error)))


def limits_sheet_page() -> Widget:
    """Return the limits sheet in force, or the sentences that say what is wrong with it."""
    try:
        return LimitsSheetPanel(sheet_in_force())
    except LimitsSheetError as error:
        return without_a_sheet(error)
