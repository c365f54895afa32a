"""People brought in from a table, found again after a time, and erased."""

import csv
import datetime as dt
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from quizzes.records.auditing.signing import sign_head, unsignable
from quizzes.records.checks import person_name, plain_text
from quizzes.records.rows import NUMBER_LENGTH, Person
from quizzes.records.writing import Records

LARGEST_BYTES = 2_000_000
MOST_PEOPLE = 10_000
COLUMNS = ("name", "number")
MONTH_DAYS = 30.4375  # a year in twelve


class PeopleFileError(ValueError):
    """A table of people that cannot be taken: file, line, what was expected."""


def people_in(path: Path) -> tuple[tuple[str, str], ...]:
    """Return name and number of everybody in a CSV file with a line of heads.

    Raises
    ------
    PeopleFileError
        For the first thing that is not as expected; nobody is taken then.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise PeopleFileError(f"{path.name} is larger than {LARGEST_BYTES:,} bytes.")
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise PeopleFileError(f"{path.name} cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise PeopleFileError(f"{path.name} is not a text file in UTF-8.") from None
    table = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    try:
        heads = tuple(table.fieldnames or ())
        if heads != COLUMNS and heads != COLUMNS[:1]:
            raise PeopleFileError(
                f"{path.name}, line 1: expected the heads name,number or name, got "
                f"{','.join(heads)!r:.60}."
            )
        return _checked(path.name, table)
    except csv.Error as error:
        raise PeopleFileError(f"{path.name}, line {table.line_num}: {error}.") from None


def _checked(name: str, table: "csv.DictReader[str]") -> tuple[tuple[str, str], ...]:
    found: dict[tuple[str, str], None] = {}
    for row in table:
        if None in row or len(found) >= MOST_PEOPLE:
            more = "more cells than heads" if None in row else f"more than {MOST_PEOPLE:,} people"
            raise PeopleFileError(f"{name}, line {table.line_num}: {more}.")
        try:
            number = (row.get("number") or "").strip()
            person = (
                person_name(_plain(row["name"] or "")),
                plain_text("number", _plain(number), NUMBER_LENGTH) if number else "",
            )
        except ValueError as error:
            raise PeopleFileError(f"{name}, line {table.line_num}: {error}.") from None
        found[person] = None
    if not found:
        raise PeopleFileError(f"{name} names nobody.")
    return tuple(found)


def _plain(cell: str) -> str:
    """Return a cell, refused if a spreadsheet would take it for a formula."""
    if cell.lstrip()[:1] in {"=", "+", "-", "@"}:
        raise ValueError(f"a name or number must not begin with = + - or @, got {cell!r:.40}")
    return cell


@dataclass(frozen=True, slots=True)
class LastSeen:
    """Somebody whose name is kept, and when they last sat anything."""

    person: Person
    on: dt.datetime | None


def last_seen(store: Records) -> tuple[LastSeen, ...]:
    """Return everybody whose name is kept, with their last sitting, the longest ago first."""
    seen: dict[str, dt.datetime] = store.last_sittings()
    found = [LastSeen(person, seen.get(person.id)) for person in store.persons()]
    never = dt.datetime.min.replace(tzinfo=dt.UTC)
    return tuple(sorted(found, key=lambda one: one.on or never))


def past_keeping(
    everybody: Sequence[LastSeen], months: float, now: dt.datetime
) -> tuple[LastSeen, ...]:
    """Return those who have sat nothing for so many months; who never sat is not among them.

    Raises
    ------
    ValueError
        If the months are not 1 to 1200.
    """
    if not 1 <= months <= 1200:
        raise ValueError(f"months must be 1 to 1200, got {months:g}")
    before = now - dt.timedelta(days=months * MONTH_DAYS)
    return tuple(one for one in everybody if one.on is not None and one.on < before)


def erased_for_good(store: Records, person_id: str, at: dt.datetime) -> None:
    """Erase all that is personal of somebody, and sign for it.

    Raises
    ------
    ValueError
        If nothing is kept of them that can be erased, or nothing can be signed.
    """
    if why := unsignable(store, at):
        raise ValueError(why)
    sign_head(store, at, store.erase_name(person_id, at))


def told(rows: Sequence[LastSeen]) -> list[Mapping[str, str]]:
    """Return people as rows of a table."""
    return [
        {
            "person": one.person.id,
            "name": one.person.name,
            "number": one.person.number,
            "last_sitting": f"{one.on:%Y-%m-%d}" if one.on else "never",
        }
        for one in rows
    ]
