"""The list of results: what is looked for, its fields on the page, and which page of it."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from quizzes.forms.ending import OUTCOMES
from quizzes.forms.offered import offers
from quizzes.records.listing import BY_NAME, BY_OUTCOME, NEWEST, OLDEST, Asked
from quizzes.records.room.rows import SchoolClass
from quizzes.records.room.store import RoomStore, owner_in_class
from widgets.page.prompt_panel import choice_field, text_field, text_of

ROWS = 50  # of one page
ALL, UNFINISHED = "all", "open"
LONGEST_TYPED = 80  # characters
ORDERS = {
    NEWEST: "newest first",
    OLDEST: "oldest first",
    BY_NAME: "by name",
    BY_OUTCOME: "by outcome",
}

_OUTCOMES = [*((word, word) for word in OUTCOMES), (UNFINISHED, "not finished")]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What somebody looks for on the list.

    Parameters
    ----------
    name : str
        A part of the name; empty for everybody.
    outcome, form, class_id : str
        `all`, or one of those that there are; `open` as outcome for what was not finished.
    since, until : str
        Days as typed, both counted in; empty for any.
    order : str
        One of `ORDERS`.
    page : int
        From 0.
    """

    name: str = ""
    outcome: str = ALL
    form: str = ALL
    class_id: str = ALL
    since: str = ""
    until: str = ""
    order: str = NEWEST
    page: int = 0

    def asked(self, room: RoomStore) -> Asked:
        """Return what the store is asked, but for the page.

        Raises
        ------
        ValueError
            If a day is none, or the days are the wrong way round.
        """
        since, until = _day("From", self.since), _day("Until", self.until)
        if since and until and until < since:
            raise ValueError(
                f"Until {until} is before from {since}. Expected the earlier day first."
            )
        asked: Asked = {"order": self.order}
        if self.name:
            asked["name"] = self.name
        if self.outcome in OUTCOMES:
            asked["outcome"] = self.outcome
        if self.outcome == UNFINISHED:
            asked["finished"] = False
        if self.form != ALL:
            asked["form_id"] = self.form
        if self.class_id != ALL:
            members = room.members(self.class_id)
            asked["owners"] = tuple(owner_in_class(one.class_id, one.person_id) for one in members)
        if since:
            asked["since"] = _midnight(since)
        if until:
            asked["until"] = _midnight(until + dt.timedelta(days=1))
        return asked

    def fields(self, classes: Sequence[SchoolClass]) -> list[dict[str, Any]]:
        """Return the fields with which the page asks for it."""
        day = "a day like 2026-11-28"
        return [
            text_field("name", "Name, or part of it", self.name, most=LONGEST_TYPED),
            _or_all("outcome", "Outcome", self.outcome, _OUTCOMES),
            _or_all("form", "Form", self.form, list(titles().items())),
            _or_all("class", "Class", self.class_id, [(one.id, _called(one)) for one in classes]),
            text_field("since", f"From, {day}", self.since, most=10),
            text_field("until", f"Until, {day}", self.until, most=10),
            choice_field("order", "Order", list(ORDERS.items()), self.order),
        ]

    def turned(self, by: int) -> "Wanted":
        """Return the same on another page."""
        return replace(self, page=max(0, self.page + by))

    def caption(self, total: int) -> str:
        """Return how many there are, and which of them stand here."""
        if total <= ROWS:
            return "one sitting" if total == 1 else f"{total} sittings"
        first = self.page * ROWS + 1
        return (
            f"sittings {first} to {min(first + ROWS - 1, total)} of {total}, {ORDERS[self.order]}"
        )

    def pages_after(self, total: int) -> bool:
        """Return whether there are more behind this page."""
        return (self.page + 1) * ROWS < total


def wanted_of(content: Mapping[str, Any]) -> Wanted:
    """Return what the page asks for; whatever is none of the choices counts as all."""
    order = text_of(content, "order")
    return Wanted(
        text_of(content, "name")[:LONGEST_TYPED].strip(),
        text_of(content, "outcome")[:LONGEST_TYPED] or ALL,
        text_of(content, "form")[:LONGEST_TYPED] or ALL,
        text_of(content, "class")[:LONGEST_TYPED] or ALL,
        text_of(content, "since")[:LONGEST_TYPED].strip(),
        text_of(content, "until")[:LONGEST_TYPED].strip(),
        order if order in ORDERS else NEWEST,
    )


def titles() -> dict[str, str]:
    """Return what each form is called, those of one's own among them."""
    return {name: offer.title for name, offer in offers().items()}


def _called(one: SchoolClass) -> str:
    return f"{one.name}, {one.on_day.isoformat()}"


def _or_all(
    name: str, label: str, value: str, options: Sequence[tuple[str, str]]
) -> dict[str, Any]:
    return choice_field(name, label, [(ALL, "all"), *options], value)


def _day(what: str, typed: str) -> dt.date | None:
    if not typed:
        return None
    try:
        return dt.date.fromisoformat(typed)
    except ValueError:
        raise ValueError(f"{what}: expected a day like 2026-11-28, got {typed!r:.20}.") from None


def _midnight(day: dt.date) -> dt.datetime:
    """Return the beginning of a day by the clock on the wall."""
    return dt.datetime.combine(day, dt.time()).astimezone()
