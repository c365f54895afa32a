"""Who must be seen again and when: as a table, and as a calendar for any calendar program.

Source: RFC 5545 (2009) for the calendar, by the `icalendar` library.
"""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from icalendar import Calendar, Event

from quizzes.records.checks import aware, plain_text
from quizzes.records.exports.table import csv_bytes

HEADS = ("due", "class", "name", "person_id", "what", "why")
_NAMES = uuid.UUID("8a1d6c0e-5f7b-5c5e-b1de-0d8f3b9c7a42")  # this suite's own space of names


@dataclass(frozen=True, slots=True)
class Due:
    """One person to be seen again.

    Parameters
    ----------
    person_id : str
        The person's pseudonym.
    name, class_name : str
        As they are shown.
    what : str
        What is due: practice cases, a new sitting, an observed practical.
    why : str
        What it follows from: the end of a record, months without practice.
    on : date
        The last day.
    """

    person_id: str
    name: str
    class_name: str
    what: str
    why: str
    on: dt.date

    def __post_init__(self) -> None:
        for label in ("person_id", "name", "class_name"):
            object.__setattr__(self, label, plain_text(label, getattr(self, label)))
        for label in ("what", "why"):
            object.__setattr__(self, label, plain_text(label, getattr(self, label), 300))
        if isinstance(self.on, dt.datetime) or not isinstance(self.on, dt.date):
            raise ValueError(f"on must be a day without an hour, got {self.on!r:.60}")  # noqa: TRY004 - ValueError is the house rule


def in_order(dues: Iterable[Due]) -> tuple[Due, ...]:
    """Return people by the day they are due, then by class and name."""
    return tuple(sorted(dues, key=lambda due: (due.on, due.class_name, due.name, due.person_id)))


def due_csv(dues: Iterable[Due]) -> bytes:
    """Return the list as a CSV file, the first due first."""
    rows = [
        (due.on, due.class_name, due.name, due.person_id, due.what, due.why)
        for due in in_order(dues)
    ]
    return csv_bytes(HEADS, rows)


def due_calendar(dues: Iterable[Due], made_at: dt.datetime) -> bytes:
    """Return the list as a calendar file, a whole day for each person.

    Parameters
    ----------
    dues : iterable of Due
        In any order.
    made_at : datetime
        Now, with a time zone.

    Notes
    -----
    A person's entry has the same identity each time, so that a calendar that takes a newer file
    moves the old entry instead of adding another.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Gap and Lining//due list//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for due in in_order(dues):
        calendar.add_component(_entry(due, aware("made_at", made_at)))
    return bytes(calendar.to_ical())


def _entry(due: Due, made_at: dt.datetime) -> Event:
    entry = Event()
    entry.add("uid", f"{uuid.uuid5(_NAMES, f'{due.person_id} {due.what}')}@gap-and-lining.invalid")
    entry.add("dtstamp", made_at.replace(microsecond=0))
    entry.add("dtstart", due.on)
    entry.add("dtend", due.on + dt.timedelta(days=1))
    entry.add("summary", f"{due.name}: {due.what}")
    entry.add("description", f"{due.class_name[:1].upper()}{due.class_name[1:]}. {due.why}")
    entry.add("categories", [due.class_name])
    entry.add("transp", "TRANSPARENT")
    return entry
