"""How far the sittings of a class have come: one question to the store for all of them."""

from collections.abc import Collection

from sqlalchemy import Connection, case, func, select

from quizzes.records.database.models import EntryRow, SittingRow
from quizzes.records.room.rows import Progress


def progress_of(connection: Connection, owners: Collection[str]) -> tuple[Progress, ...]:
    """Return the sittings of some owners, the newest first.

    Parameters
    ----------
    connection : Connection
        An open one.
    owners : collection of str
        As `Start.owner`.
    """
    first = EntryRow.supersedes.is_(None)
    query = (
        select(
            SittingRow.id,
            SittingRow.owner,
            SittingRow.form_id,
            func.sum(case(((EntryRow.kind == "grade") & first, 1), else_=0)),
            func.sum(case((EntryRow.kind == "event", 1), else_=0)),
            SittingRow.started_at,
            func.max(EntryRow.seq),
            func.sum(case((EntryRow.kind == "outcome", 1), else_=0)),
        )
        .join(EntryRow, EntryRow.sitting_id == SittingRow.id)
        .where(SittingRow.owner.in_(list(owners)))
        .group_by(SittingRow.id, SittingRow.owner, SittingRow.form_id, SittingRow.started_at)
        .order_by(SittingRow.started_at.desc(), SittingRow.id)
    )
    found = connection.execute(query).all()
    last = dict(
        connection.execute(
            select(EntryRow.seq, EntryRow.at).where(EntryRow.seq.in_([row[6] for row in found]))
        ).all()
    )
    words = dict(
        connection.execute(
            select(EntryRow.sitting_id, EntryRow.outcome)
            .where(EntryRow.kind == "outcome", EntryRow.sitting_id.in_([row[0] for row in found]))
            .order_by(EntryRow.seq)
        ).all()
    )
    return tuple(
        Progress(
            sitting_id=row[0],
            owner=row[1],
            form_id=row[2],
            cases=int(row[3]),
            acts=int(row[4]),
            started_at=row[5],
            last_at=last[row[6]],
            finished=bool(row[7]),
            outcome=words.get(row[0]),
        )
        for row in found
    )
