"""The judges' panel: the cut in force, a panel looked at, kept and ended, and empty forms."""

import logging
from collections.abc import Callable, Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.table import Thing
from quizzes.analysis.quality.panel import Panel
from quizzes.analysis.quality.panel_file import LARGEST_FILE_BYTES, PanelError, read_panel
from quizzes.desks.opening import opened
from quizzes.desks.sheets.result_sheets import shown
from quizzes.desks.visitor import allowed, need, visitor
from quizzes.forms.ending import Ending
from quizzes.forms.for_judges import empty_form
from quizzes.forms.offered import Offer, offers
from quizzes.questions.own import bank_in_force
from quizzes.records import RecordsError
from quizzes.sittings.cut import end_panel, keep_panel, panel_acts, panel_in_force, which_cut
from quizzes.sittings.in_force import Clock, now
from quizzes.sittings.run import the_records, the_sheet
from widgets.brake.sizes.sheet import LimitsSheetError
from widgets.page.prompt_panel import FormPanel, as_sentence, choice_field, text_of
from widgets.page.upload import Upload

from .panel_sheet import form_cuts, panel_html

_LOG = logging.getLogger("gap_and_lining")
_BRING = (
    "Three judges or more say of each question how likely somebody who is just competent is to "
    "answer it correctly: first alone, then again after they have talked. A file is read and shown "
    "here first; nothing is kept until you keep it."
)
_KEPT = (
    "A panel that is kept sets the cut of every sitting that begins from now on. A sitting that "
    "has begun keeps the cut that it began with. The judges’ names can be erased; their estimates "
    "stay in the ledger."
)
_ENDED = (
    "From then on the bank’s own estimates set the cut. The reason stays in the ledger and can "
    "never be erased: name nobody in it."
)
_EMPTY = (
    "A file with every question that the form may ask, with space for the estimates of three "
    "judges. It is plain text (TOML): any editor opens it. The questions are those of real "
    "assessments: give it to judges only."
)
_NOT_YOURS = "Only an assessor who has signed in brings in a panel, keeps it or ends it."
_PROPOSED = "Looked at, not kept"
_FILE = {
    "name": "panel",
    "kind": "file",
    "label": "The panel’s file (TOML)",
    "accept": ".toml,.txt",
    "most": LARGEST_FILE_BYTES,
}


class PanelPage:
    """The sheet of what is in force, and forms to bring in a panel, to end it, to take one away.

    Parameters
    ----------
    clock : callable
        Tells the time, UTC.
    """

    def __init__(self, clock: Clock = now) -> None:
        self._store, self._clock, self._sheet = the_records(), clock, the_sheet()
        self._upload = Upload(LARGEST_FILE_BYTES)
        self._proposed: Panel | None = None
        self._in_force, self._looked_at = shown(""), shown("")
        self._bring = FormPanel(lambda content: self._heard(self._bring, content))
        self._decide = FormPanel(lambda content: self._heard(self._decide, content))
        self._empty = FormPanel(lambda content: self._heard(self._empty, content))
        self._end = FormPanel(lambda content: self._heard(self._end, content))
        self.page = VBox([self._in_force]).add_class("gal-page-stack")
        self._show()

    # ---- what is shown ----

    def _show(self, said: str = "") -> None:
        panel, may = panel_in_force(self._store), allowed(Thing.CUT)
        self._in_force.value = panel_html(
            "The cut in force",
            which_cut(panel),
            panel,
            form_cuts(_asking(), self._sheet, panel),
            panel_acts(self._store),
        )
        self._bring.show(
            title="Bring in a panel",
            words=[_BRING] if may else [_BRING, _NOT_YOURS],
            fields=[_FILE] if may else [],
            said=said,
            focus=bool(said),  # the key that was pressed is gone: the result is to be seen
        )
        self._empty.show(**_emptying())
        self._decide.show(**_deciding(self._proposed))
        self._end.show(**_ending(panel))
        looked_at = (self._looked_at, self._decide) if self._proposed else ()
        for_an_assessor = (self._empty, *((self._end,) if panel else ()))
        self.page.children = (
            self._in_force, self._bring, *looked_at, *(for_an_assessor if may else ())
        )  # fmt: skip

    # ---- what the page sends ----

    def _heard(self, form: FormPanel, content: Mapping[str, Any]) -> None:
        wished = content.get("send")
        act = self._wishes.get(wished) if isinstance(wished, str) else None
        if "piece" in content:
            act = PanelPage._take
        if act is None:
            return
        try:
            need(Thing.CUT)
            act(self, content)
        except (RecordsError, ValueError) as error:
            _LOG.warning("judges' panel: %s", error)
            # What is wrong with a file begins with its name, which stays as it is written.
            form.say(str(error) if isinstance(error, PanelError) else as_sentence(str(error)))

    def _take(self, content: Mapping[str, Any]) -> None:
        file = self._upload.take(content)
        if file is None:
            return
        if self._proposed is not None:  # what was looked at before is no longer offered
            self._proposed = None
            self._show()
        panel = read_panel(file.name, file.content, bank_in_force(self._sheet).items)
        self._proposed = panel
        self._looked_at.value = panel_html(
            f"{_PROPOSED}: {panel.title}",
            "This would be the cut if you keep it.",
            panel,
            form_cuts(_asking(), self._sheet, panel),
        )
        self._show(f"{file.name} is read and shown below; nothing is kept yet.")

    def _keep(self, _: Mapping[str, Any]) -> None:
        if self._proposed is None:
            raise ValueError("Choose the panel’s file first, and look at it.")
        keep_panel(self._store, self._proposed, self._clock(), visitor().name)
        self._proposed = None
        self._show("Kept. It is in force for every sitting that begins from now on.")

    def _put_away(self, _: Mapping[str, Any]) -> None:
        self._proposed = None
        self._show("Put away; nothing was kept.")

    def _end_it(self, content: Mapping[str, Any]) -> None:
        reason = text_of(content, "reason")
        if not reason.strip():
            raise ValueError("Say why the panel ends.")
        end_panel(self._store, reason, self._clock(), visitor().name)
        self._show("Ended. The bank’s own estimates are in force again.")

    def _hand_out(self, content: Mapping[str, Any]) -> None:
        offer = _asking().get(text_of(content, "form"))
        if offer is None:
            raise ValueError("Choose a form that asks questions.")
        text = empty_form(offer.blueprint, self._sheet)
        self._empty.hand_over(f"panel {offer.id}.toml", "text/plain", text.encode())

    _wishes: Mapping[str, Callable[["PanelPage", Mapping[str, Any]], None]] = {
        "keep": _keep,
        "away": _put_away,
        "end": _end_it,
        "empty": _hand_out,
    }


def _asking() -> Mapping[str, Offer]:
    """Return the forms that ask questions."""
    return {name: one for name, one in offers().items() if one.blueprint.question_count}


def _deciding(proposed: Panel | None) -> dict[str, Any]:
    return {
        "title": f"Keep “{proposed.title}”?" if proposed else "Nothing to keep",
        "words": [_KEPT],
        "buttons": [("keep", "Keep this panel"), ("away", "Put it away")],
    }


def _ending(panel: Panel | None) -> dict[str, Any]:
    return {
        "title": f"End “{panel.title}”" if panel else "No panel is in force",
        "words": [_ENDED],
        "fields": [{"name": "reason", "kind": "long", "label": "Why it ends"}],
        "buttons": [("end", "End this panel")],
    }


def _emptying() -> dict[str, Any]:
    asking = _asking()
    firsts = [name for name, one in asking.items() if one.blueprint.ends is Ending.COMPETENT]
    options = [(name, one.title) for name, one in asking.items()]
    return {
        "title": "An empty form for judges",
        "words": [_EMPTY],
        "fields": [choice_field("form", "For which form", options, next(iter(firsts), None))],
        "buttons": [("empty", "Save the empty form")],
    }


def panel_page() -> Widget:
    """Return the page, or a sentence if it is not for this visitor or cannot be shown."""
    return opened(
        Thing.RESULTS,
        lambda: PanelPage().page,
        "The judges’ panel cannot be shown",
        RecordsError,
        LimitsSheetError,
    )
