"""The trainer's desk for forms: what is offered, write one, try it, keep it; and cut scores."""

import logging
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from ipywidgets import Widget

from quizzes.access.table import Thing
from quizzes.cases.case import Depth
from quizzes.cases.families import FAMILIES
from quizzes.cases.groups import GROUPS
from quizzes.desks.opening import opened
from quizzes.desks.sheets.sheet_panel import sheet_style
from quizzes.forms.blueprint import READY
from quizzes.forms.draft import DraftError, as_toml, blueprint_of, draft_of, read_draft
from quizzes.forms.ending import Ending
from quizzes.forms.keeping import keep
from quizzes.forms.offered import Offer, offers, own_blueprints, own_folder
from quizzes.forms.preview import check, preview
from quizzes.questions.items import Item
from quizzes.questions.own import own_folder as question_folder
from quizzes.questions.own import own_questions
from quizzes.questions.scheme import ELEMENTS
from quizzes.sittings.in_force import the_sheet
from widgets.brake.sizes.sheet import LimitsSheet, LimitsSheetError
from widgets.page.joining import joined_file
from widgets.page.panel import Panel

_LOG = logging.getLogger("gap_and_lining")
MOST_IDS = 40  # of one's own questions, named on the page
BLANK = {
    "id": "",
    "title": "",
    "edition": "1",
    "minutes": "20",
    "break_minutes": "0",
    "avoid_last": "3",
    "sizes": "",
    "elements": "",
    "ends": "passed",
    "cases": [["reading", "4", "normal gap", ""], ["bench", "2", "near the largest gap", ""]],
    "questions": [["K3; D2", "4", "0.3", "0.9"]],
}


_HERE = Path(__file__).parent


class FormDesk(Panel):
    """Forms as rows to be filled; nothing that is typed counts until it was checked here.

    The page sends `{"ask": "desk"}` once, `{"open": id}` for a form to start from,
    `{"check": draft}`, `{"preview": draft}`, `{"keep": draft}` and `{"cut": csv}`.
    """

    _esm = joined_file(_HERE / "form_desk.js")
    _css = sheet_style(_HERE / "form_desk.css")

    def __init__(self, sheet: LimitsSheet) -> None:
        self._sheet = sheet
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer one wish; whatever is wrong with it is said in sentences."""
        jobs: dict[str, Callable[[Any], dict[str, Any]]] = {
            "open": self._opened,
            "check": self._checked,
            "preview": self._previewed,
            "keep": self._kept,
            "cut": cut_words,
        }
        if content.get("ask") == "desk":
            self.send({"desk": self._desk(), "draft": BLANK})
            return
        for wish, job in jobs.items():
            if wish in content:
                self._answer(wish, job, content[wish])
                return

    def _answer(self, wish: str, job: Callable[[Any], dict[str, Any]], typed: object) -> None:
        try:
            self.send({"done": wish, **job(typed)})
        except DraftError as error:
            self.send({"done": wish, "troubles": list(error.troubles)})
        except ValueError as error:
            _LOG.warning("forms desk: %s", error)
            self.send({"done": wish, "troubles": [f"{error}."]})

    def _desk(self) -> dict[str, Any]:
        return {
            "offered": [_row(offer) for offer in offers().values()],
            "bad": list(own_blueprints()[1]),
            "folder": str(own_folder()),
            "questions": self._questions(),
            "depths": [depth.value for depth in Depth],
            "groups": [group for group in GROUPS if group != "any"],
            "families": {
                depth.value: [name for name, one in FAMILIES.items() if depth in one.depths]
                for depth in Depth
            },
            "elements": [list(one) for one in ELEMENTS.items()],
            "sizes": [size.name for size in self._sheet.sizes],
            "endings": [[one.value, one.said_before] for one in Ending],
        }

    def _questions(self) -> dict[str, Any]:
        own, folder = own_questions(self._sheet), question_folder()
        return {
            "said": (
                f"Your own questions, {len(own.items)} ready to be asked, are kept in {folder}"
                f"{_ids(own.items)}"
            ),
            "bad": list(own.bad),
        }

    def _opened(self, form_id: object) -> dict[str, Any]:
        offer = offers().get(form_id) if isinstance(form_id, str) else None
        if offer is None:
            raise DraftError(["There is no such form to start from."])
        draft = draft_of(offer.blueprint)
        if offer.id in READY:
            draft |= {"id": "", "edition": "1"}  # a ready form is a start, its name stays its own
        elif offer.blueprint.edition.isdigit():
            draft |= {"edition": str(int(offer.blueprint.edition) + 1)}
        return {"draft": draft}

    def _checked(self, typed: object) -> dict[str, Any]:
        table = read_draft(typed)
        form = check(blueprint_of(table), self._sheet)
        said = f"It can be drawn: {len(form.cases)} cases, {len(form.questions)} questions"
        return {"said": f"{said}, about {form.minutes:.0f} minutes.", "toml": as_toml(table)}

    def _previewed(self, typed: object) -> dict[str, Any]:
        table = read_draft(typed)
        found = preview(blueprint_of(table), self._sheet)
        return {
            "said": "Twenty forms were drawn from it.",
            "toml": as_toml(table),
            "preview": found.to_json(),
        }

    def _kept(self, typed: object) -> dict[str, Any]:
        table = read_draft(typed)
        check(blueprint_of(table), self._sheet)
        path = keep(table)
        said = f"Kept as {path}, edition {table['edition']}. It is offered from now on."
        return {"said": said, "toml": as_toml(table), "desk": self._desk()}


def _ids(items: Sequence[Item]) -> str:
    """Return the ids by which a form can ask for one's own questions; empty if there are none."""
    if not items:
        return ""
    more = f" and {len(items) - MOST_IDS} more" if len(items) > MOST_IDS else ""
    return f". A row can ask for them by id: {', '.join(one.id for one in items[:MOST_IDS])}{more}"


def _row(offer: Offer) -> dict[str, Any]:
    blueprint = offer.blueprint
    own = offer.id not in READY
    depths = [(depth.value, blueprint.case_count(depth)) for depth in Depth]
    holds = ", ".join(f"{count} {name}" for name, count in depths if count)
    return {
        "id": offer.id,
        "cells": [
            offer.title,
            holds if blueprint is None else f"{holds}; {blueprint.question_count} questions",
            f"{blueprint.minutes} min" if blueprint else "–",
            blueprint.edition if blueprint else offer.edition.split("/")[-1],
            "own" if own else "ready",
        ],
        "start": blueprint is not None,
    }


def cut_words(typed: object) -> dict[str, Any]:
    """Return the cut that judges arrive at, as a table and a sentence.

    Parameters
    ----------
    typed : object
        CSV as it was pasted: a head `judge,item,item,...`, then a line a judge.

    Raises
    ------
    ValueError
        If a cell is missing or no chance; the sentence names line and column.
    """
    from quizzes.analysis.quality.cut_score import angoff, cut_in_use  # noqa: PLC0415 (late: slow to import)
    from quizzes.analysis.quality.judgements import read_judgements  # noqa: PLC0415 (late: slow to import)

    if not isinstance(typed, str):
        raise DraftError(["No table came with that. Paste it once more."])
    judgements = read_judgements(typed)
    found = angoff(judgements)
    try:
        needed = cut_in_use(found.cut, found.se_items_random, found.items)
        said = (
            f"{needed} of {found.items} items must be right: the judges’ cut of {found.cut:.2f}, "
            f"made safer by one standard error of {found.se_items_random:.2f}, rounded up."
        )
    except ValueError as error:
        said = f"{error}."
    rows = [
        ["Cut, mean of the judges, items", f"{found.cut:.2f}"],
        ["Spread of the judges’ cuts, standard deviation", f"{found.judge_sd:.2f}"],
        ["Standard error, just these items", f"{found.se_items_fixed:.2f}"],
        ["Standard error, items drawn again", f"{found.se_items_random:.2f}"],
        *(
            [f"Cut of {judge}", f"{own:.2f}"]
            for judge, own in zip(judgements.judges, found.judge_cuts, strict=True)
        ),
    ]
    return {"said": said, "cut": {"heads": ["By Angoff’s method", "Items"], "rows": rows}}


def form_desk_page() -> Widget:
    """Return the forms desk, or a sentence if it cannot be shown."""
    title = "The forms cannot be shown"
    return opened(Thing.TEACH, lambda: FormDesk(the_sheet()), title, LimitsSheetError)
