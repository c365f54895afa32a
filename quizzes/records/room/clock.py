"""The clock of a class: it stands still while the class is paused and while the machine sleeps.

The server notes every few seconds that it runs. A laptop whose lid was closed, or whose battery was
empty, notes nothing; when it wakes, that time is written into the ledger and counts for nobody.
"""

import json
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from sqlalchemy import ColumnElement, Connection, select, update

from quizzes.records.canonical import canonical
from quizzes.records.chain import Writer
from quizzes.records.database.models import EntryRow
from quizzes.records.database.room import ClassRow
from quizzes.records.room.rows import CLOSED, OPEN, PAUSED

ASLEEP_S = 90.0  # s without a note after which the server did not run: several notes were missed
OLDEST = timedelta(days=1)  # a class left open for longer is no longer watched
Times = tuple[tuple[datetime, datetime | None], ...]
_SINCE = "asleep_since"


def watched(at: datetime) -> tuple[ColumnElement[bool], ...]:
    """Return which classes have a clock that has to be watched at a moment."""
    day = (at - OLDEST).date()
    return (ClassRow.state != CLOSED, ClassRow.on_day >= day)


def any_watched(connection: Connection, at: datetime) -> bool:
    """Return whether there is any such class."""
    return connection.execute(select(ClassRow.id).where(*watched(at)).limit(1)).first() is not None


def note_awake(writer: Writer, at: datetime) -> None:
    """Note that the server runs, and for each class the time before in which it did not."""
    slept = select(ClassRow.id, ClassRow.awake_at).where(
        *watched(at), ClassRow.awake_at < at - timedelta(seconds=ASLEEP_S)
    )
    for class_id, since in writer.connection.execute(slept).all():
        assert since is not None
        body = {"class": class_id, _SINCE: since.astimezone(UTC).isoformat(timespec="seconds")}
        writer.add("class", canonical("body", body), at)
    writer.connection.execute(update(ClassRow).where(*watched(at)).values(awake_at=at))


def stood_still(connection: Connection, class_id: str) -> tuple[Times, Times]:
    """Return when a class was paused, None for an end that has not come, and when all slept."""
    query = select(EntryRow.at, EntryRow.body).where(
        EntryRow.kind == "class", EntryRow.body.contains(class_id, autoescape=True)
    )
    paused: list[tuple[datetime, datetime | None]] = []
    asleep: list[tuple[datetime, datetime | None]] = []
    for at, text in connection.execute(query.order_by(EntryRow.seq)):
        body = json.loads(text)
        state = body.get("state")
        if _SINCE in body:
            asleep.append((datetime.fromisoformat(body[_SINCE]), at))
        elif paused and paused[-1][1] is None and state in (OPEN, CLOSED):
            paused[-1] = (paused[-1][0], at)
        elif state == PAUSED and not (paused and paused[-1][1] is None):
            paused.append((at, None))
    return tuple(paused), tuple(asleep)


def joined(times: Iterable[tuple[datetime, datetime | None]]) -> Times:
    """Return times in order, those that overlap made one, so that none counts twice.

    Examples
    --------
    >>> at = [datetime(2026, 11, 28, 9, minute, tzinfo=UTC) for minute in range(6)]
    >>> times = joined([(at[3], None), (at[0], at[2]), (at[1], at[4])])
    >>> [(since.minute, until) for since, until in times]
    [(0, None)]
    """
    found: list[tuple[datetime, datetime | None]] = []
    for since, until in sorted(times, key=lambda time: time[0]):
        last = found[-1][1] if found else since
        if found and (last is None or since <= last):
            ends = None if last is None or until is None else max(last, until)
            found[-1] = (found[-1][0], ends)
        else:
            found.append((since, until))
    return tuple(found)
