"""The trainer's class desk: set up a class, watch it work, close it, talk it over."""

import datetime as dt
import logging
from collections.abc import Callable, Mapping
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.class_list import MOST_PEOPLE, read_class_list
from quizzes.access.table import Thing
from quizzes.desks.class_door import door, door_trouble
from quizzes.desks.opening import opened
from quizzes.desks.printing.debrief import debrief_pdf
from quizzes.desks.printing.labels import labels_pdf
from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.desks.visitor import need, visitor
from quizzes.forms.offered import Offer, offers
from quizzes.records import Records, RecordsError, default_url
from quizzes.records.auditing.signing import sign_head, unsignable
from quizzes.records.kept_sitting import read_kept
from quizzes.records.room.rows import CLOSED, OPEN, PAUSED, ClassPlan, Member, SchoolClass
from quizzes.records.room.store import RoomStore
from quizzes.sittings.in_class.allowed import clock_of, close_overdue
from quizzes.sittings.in_force import now
from widgets.page.prompt_panel import FormPanel, as_sentence, text_of
from widgets.page.swapping import show_only

from . import class_forms as forms
from .class_board import Length, Watched, board_rows
from .class_pages import pages_of, pages_to_give
from .class_panel import BoardPanel
from .debrief import debrief

_LOG = logging.getLogger("gap_and_lining")
PDF = "application/pdf"
Wishes = dict[str, Callable[[Mapping[str, Any]], None]]
CLOSED_MEANWHILE = "Another trainer has closed this class. What everybody did is kept."


class ClassDesk:
    """The page of one trainer."""

    def __init__(self) -> None:
        url = default_url()
        self._room, self._records = RoomStore(url), Records(url)
        self._offers: Mapping[str, Offer] = offers()
        self._class_id = self._person_id = ""
        self._lengths: dict[str, Length] = {}
        self._form = FormPanel(self._answer)
        self._known = FormPanel(self._answer)
        self._board = BoardPanel(self._rows, self._lay_open)
        self.page = VBox([self._form]).add_class("gal-page-stack")
        self._ask()

    # ---- what the page sends ----

    def _answer(self, content: Mapping[str, Any]) -> None:
        try:
            if isinstance(content.get("open"), str):
                need(Thing.CLASSES)
                self._open(content["open"][:40])
                return
            wish = self._wishes().get(str(content.get("send")))
            if wish is not None:
                need(Thing.CLASSES)
                wish(content)
        except (RecordsError, ValueError) as error:
            _LOG.warning("class desk: %s", error)
            self._form.say(as_sentence(str(error)))

    def _wishes(self) -> Wishes:
        anywhere: Wishes = {"make": self._make, "other": lambda _: self._ask()}
        if not self._class_id:
            return anywhere
        if self._class.state == CLOSED:
            closed: Wishes = {"print": lambda _: self._print(), "back": lambda _: self._show()}
            meanwhile = dict.fromkeys(self._at_work(), lambda _: self._show(CLOSED_MEANWHILE))
            return anywhere | meanwhile | closed
        return anywhere | self._at_work()

    def _at_work(self) -> Wishes:
        return {
            "say": self._say,
            "pause": lambda _: self._turn(PAUSED),
            "go on": lambda _: self._turn(OPEN),
            "labels": lambda _: self._labels(),
            "more": lambda _: self._form.show(**forms.more_people()),
            "add": self._add,
            "close": lambda _: self._ask_to_close(),
            "close for good": lambda _: self._turn(CLOSED),
            "back": lambda _: self._show(),
            "give": self._give,
            "free": lambda _: self._free(),
            "free all": lambda _: self._form.show(**forms.freeing_all(self._class)),
            "free all now": lambda _: self._free_all(),
            "hand": lambda _: self._hand_down(),
            "print": lambda _: self._print(),
        }

    def _show_only(self, beside: Widget) -> None:
        """Show the form and one part under it; board and list come back later."""
        show_only(self.page, self._form, beside, keep=(self._board, self._known))

    # ---- setting up ----

    def _ask(self, said: str = "") -> None:
        self._class_id = self._person_id = ""
        self._offers = offers()
        self._show_only(self._known)
        self._form.show(
            **forms.setting_up(self._offers, pages_to_give(), now().astimezone().date(), said)
        )
        self._known.show(**forms.known_classes(self._offers, self._room.classes()))

    def _make(self, content: Mapping[str, Any]) -> None:
        form = text_of(content, "form")
        if form not in self._offers:
            raise ValueError("Choose a form from the list.")
        plan = ClassPlan(
            text_of(content, "name"),
            _day(text_of(content, "day")),
            form,
            pages_of(text_of(content, "pages")),
            read_class_list(text_of(content, "list")),
            keeps_time=text_of(content, "time") == forms.KEPT,
        )
        self._open(self._room.make_class(plan, now()).id)

    def _open(self, class_id: str) -> None:
        if self._room.school_class(class_id) is None:
            raise ValueError("This class is not in the record store.")
        self._class_id = class_id
        self._show()

    @property
    def _class(self) -> SchoolClass:
        found = self._room.school_class(self._class_id)
        if found is None:
            raise ValueError("This class is not in the record store.")
        return found

    def _show(self, said: str = "") -> None:
        self._person_id = ""
        one = self._class
        if one.state == CLOSED:
            self._form.show(**forms.closed(one, said))
            html = sheet_html("debrief", **debrief(self._records, self._room, one).facts())
            self._show_only(shown(html))
            return
        self._form.show(**forms.at_work(one, door(), said))
        self._show_only(self._board)

    # ---- at work ----

    def _rows(self) -> Mapping[str, Any]:
        try:
            return self._board_now()
        except (RecordsError, ValueError) as error:
            _LOG.warning("board: %s", error)
            return {"rows": [], "code": "", "state": str(error), "counts": "", "caption": ""}

    def _board_now(self) -> Mapping[str, Any]:
        one = self._class
        if one.state == OPEN:
            close_overdue(self._records, self._room, one, now())
        progress = self._room.progress(self._class_id)
        for sitting in progress:
            if sitting.sitting_id not in self._lengths:
                kept = read_kept(sitting.sitting_id, self._records.kept(sitting.sitting_id))
                length = Length(len(kept.cases), bool(kept.questions), kept.blueprint.minutes)
                self._lengths[sitting.sitting_id] = length
        members = self._room.members(one.id)
        clock = clock_of(self._room, one, now())
        seen = Watched(one.pages, clock.pauses, clock.now)
        rows = board_rows(members, progress, self._lengths, seen)
        joined = sum(member.joined for member in members)
        done = sum(row.where.startswith("finished") for row in rows)
        return {
            "rows": [row.to_json() for row in rows],
            "code": one.code,
            "state": forms.STATES[one.state],
            "counts": f"{joined} of {len(members)} here, {done} finished",
            "caption": f"{one.name}, hands first, then whoever is stuck",
            "pages": [pages_to_give().get(page, page) for page in one.pages],
            "alarm": door_trouble(door()),
            "time": "kept: a sitting closes when its minutes are up" if one.keeps_time else "",
            "slept": forms.slept_words(self._room.slept(one.id)),
        }

    def _say(self, content: Mapping[str, Any]) -> None:
        self._room.say(self._class_id, text_of(content, "word"))
        self._show("It appears on everybody’s page within five seconds.")

    def _turn(self, state: str) -> None:
        self._room.set_state(self._class_id, state, now())
        self._show()

    def _ask_to_close(self) -> None:
        rows = self._board_now()["rows"]
        left = sum(not row["where"].startswith("finished") for row in rows)
        self._form.show(**forms.closing(self._class, left))

    def _labels(self) -> None:
        members = self._room.members(self._class_id)
        file = labels_pdf(self._class, members, door())
        self._form.hand_over("labels.pdf", PDF, file)

    def _add(self, content: Mapping[str, Any]) -> None:
        people = read_class_list(text_of(content, "list"))
        there = {(one.name, one.number) for one in self._room.members(self._class_id)}
        if len(there.union(people)) > MOST_PEOPLE:
            raise ValueError(f"A class has at most {MOST_PEOPLE} people: make another one.")
        self._room.add_members(self._class_id, people, now())
        self._show(f"The class list now holds {len(self._room.members(self._class_id))} people.")

    # ---- one person ----

    def _lay_open(self, person_id: str) -> None:
        try:
            need(Thing.CLASSES)
            self._person_id = person_id
            self._form.show(**forms.one_person(self._member, self._offers), top=True)
        except (RecordsError, ValueError) as error:
            self._form.say(as_sentence(str(error)))

    @property
    def _member(self) -> Member:
        found = self._room.member(self._class_id, self._person_id)
        if found is None:
            raise ValueError("Nobody of this class was chosen.")
        return found

    def _give(self, content: Mapping[str, Any]) -> None:
        form, minutes = text_of(content, "form"), text_of(content, "minutes").strip()
        if form and form not in self._offers:
            raise ValueError("Choose a form from the list.")
        if not (minutes.isascii() and minutes.isdigit()):
            raise ValueError(f"Minutes more: expected a whole number, got {minutes!r:.20}.")
        at = now()
        if why := unsignable(self._records, at):
            raise ValueError(why)
        seq = self._room.accommodate(
            self._member,
            form_id=form,
            extra_minutes=int(minutes),
            reason=text_of(content, "reason"),
            author=visitor().person_id or "the machine’s own user",
            at=at,
        )
        sign_head(self._records, at, seq)
        self._show("It is written down, with the reason.")

    def _free(self) -> None:
        self._room.free(self._class_id, self._member.person_id)
        self._show("The place is free: whoever joins as this person next gets it.")

    def _free_all(self) -> None:
        for member in self._room.members(self._class_id):
            self._room.free(self._class_id, member.person_id)
        self._show("All places are free: everybody joins again, and goes on where they stopped.")

    def _hand_down(self) -> None:
        self._room.raise_hand(self._class_id, self._member.person_id, None)
        self._show()

    # ---- closed ----

    def _print(self) -> None:
        facts = debrief(self._records, self._room, self._class).facts()
        file = debrief_pdf(facts["debrief"], facts["figure"])
        self._form.hand_over("debrief.pdf", PDF, file)


def _day(typed: str) -> dt.date:
    try:
        return dt.date.fromisoformat(typed.strip())
    except ValueError:
        raise ValueError(f"Day: expected one like 2026-11-28, got {typed!r:.20}.") from None


def class_desk_page() -> Widget:
    """Return the class desk, or a sentence if it cannot be shown."""
    title = "The class desk cannot be shown"
    return opened(Thing.CLASSES, lambda: ClassDesk().page, title, RecordsError)
