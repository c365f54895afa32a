"""Who must be seen again and when, and the files of the whole house."""

import datetime as dt
import logging
from collections.abc import Callable, Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.table import Thing
from quizzes.desks.assessor.handing_out import OF_ALL, file_of_all
from quizzes.desks.opening import opened
from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.desks.visitor import need
from quizzes.records import RecordsError
from quizzes.records.exports.due import in_order
from quizzes.records.keys.errors import KeyFileError
from quizzes.sittings.decided.handing import due_list
from quizzes.sittings.run import the_records
from widgets.page.prompt_panel import FormPanel

_LOG = logging.getLogger("gap_and_lining")
_FILES = (
    "Each shows how things stand now. They contain names: keep them as your rules say. The list of "
    "withdrawals is signed and goes to whoever checks records."
)


class DuePage:
    """The list, and a button a file.

    Parameters
    ----------
    clock : callable
        Tells the time, UTC.
    """

    def __init__(self, clock: Callable[[], dt.datetime] = lambda: dt.datetime.now(dt.UTC)) -> None:
        self._store, self._clock = the_records(), clock
        self._form = FormPanel(self._answer)
        self._list = shown("")
        self.page = VBox([self._list, self._form]).add_class("gal-page-stack")
        self._show()

    def _show(self) -> None:
        today = self._clock().date()
        dues = in_order(due_list(self._store, today))
        self._list.value = sheet_html("due", dues=dues, today=today)
        self._form.show(
            title="Files to take away",
            words=[_FILES],
            buttons=[(what, f"{words[:1].upper()}{words[1:]}") for what, words in OF_ALL.items()],
        )

    def _answer(self, content: Mapping[str, Any]) -> None:
        wished = content.get("send")
        if not isinstance(wished, str) or wished not in OF_ALL:
            return
        try:
            need(Thing.EXPORT)
            file = file_of_all(self._store, wished, self._clock())
            self._form.hand_over(*file)
            self._form.say(f"Handed over: {file[0]}")
        except (RecordsError, KeyFileError, ValueError) as error:
            _LOG.warning("due page: %s", error)
            self._form.say(str(error))


def due_page() -> Widget:
    """Return the list, or a sentence if it is not for this visitor or cannot be shown."""
    return opened(Thing.RESULTS, lambda: DuePage().page, "The list cannot be shown", RecordsError)
