"""A whole store copied to another address, in one look at it: the way of backups and of moves.

A backup is a SQLite file with the same tables, whatever the store itself is; it opens like a
store. Photographs lie in it as they do in the store.
"""

import os
from pathlib import Path

from sqlalchemy import Connection, Table, func, select
from sqlalchemy.engine import URL

from quizzes.records.attachments.apart import apart_checked
from quizzes.records.chain import ENTRIES, Entry
from quizzes.records.database.dialects import WRITES, sqlite_file
from quizzes.records.database.erasable import PhotographRow
from quizzes.records.database.models import Base, EntryRow, RecordStoreRow
from quizzes.records.database.opening import create, database_errors, opened
from quizzes.records.errors import RecordsError, parsed, refusal, shown

_ROWS = 500  # rows that are copied at once
_PATIENCE_S = 30.0


def copied(source: str, target: str, *, strict: bool = False) -> int:
    """Copy a store to an address that holds none yet, and return how many entries it has.

    Parameters
    ----------
    source, target : str
        SQLAlchemy addresses. People may go on working at the source.
    strict : bool
        Whether photographs and words beside the ledger must be those that the ledger speaks of.

    Raises
    ------
    RecordsError
        If the source cannot be read, or the target holds entries already, or cannot be written;
        a target that was not there before is taken away again.
    """
    reading = opened(source, _PATIENCE_S)
    try:
        steady = reading
        if reading.dialect.name == "postgresql":
            steady = reading.execution_options(isolation_level="REPEATABLE READ")
        with database_errors(reading.url), steady.connect() as connection, connection.begin():
            return _to(connection, target, strict=strict)
    finally:
        reading.dispose()


def _to(source: Connection, target: str, *, strict: bool) -> int:
    row = source.execute(select(RecordStoreRow.__table__)).mappings().one()
    create(target, identity=dict(row))
    writing = opened(target, _PATIENCE_S)
    try:
        with (
            database_errors(writing.url),
            writing.execution_options(**{WRITES: True}).begin() as connection,
        ):
            _refuse_taken(writing.url, connection, str(row["ledger_id"]))
            for table in Base.metadata.sorted_tables:
                if table.name != RecordStoreRow.__tablename__:
                    _rows(source, connection, table)
            if strict:
                _refuse_lacking(connection)
            return int(connection.execute(select(func.count()).select_from(EntryRow)).scalar_one())
    finally:
        writing.dispose()


def _refuse_taken(url: URL, connection: Connection, ledger_id: str) -> None:
    entries = connection.execute(select(func.count()).select_from(EntryRow)).scalar_one()
    found = connection.execute(select(RecordStoreRow.ledger_id)).scalar_one()
    if entries or found != ledger_id:
        raise refusal(
            shown(url),
            f"is another store, with {entries} entries" if entries else "is another store",
            "Nothing was changed. Move it away, or name a place that holds none.",
        )


def _refuse_lacking(copy: Connection) -> None:
    """Refuse a copy whose photographs or words are not those that its ledger speaks of."""
    entries = tuple(Entry(*row) for row in copy.execute(ENTRIES))
    for one in apart_checked(copy, entries, contents=True):
        place = f"entry {one.position}: " if one.position else ""
        raise RecordsError(f"The backup does not hold: {place}{one.reason}. Nothing was restored.")


def _rows(source: Connection, target: Connection, table: Table) -> None:
    # By the primary key: an entry may point to an earlier one.
    query = select(table).order_by(*table.primary_key.columns)
    rows = 1 if table.name == PhotographRow.__tablename__ else _ROWS  # each may have megabytes
    found = source.execution_options(yield_per=rows).execute(query)
    for part in found.mappings().partitions(rows):
        target.execute(table.insert(), [dict(row) for row in part])


def backed_up(source: str, file: Path) -> int:
    """Write a backup of a store to a new file, whole or not at all; return how many entries.

    Raises
    ------
    RecordsError
        If the file is there already, or cannot be written, or the store cannot be read.
    """
    if file.exists():
        raise RecordsError(f"{file} is there already. Name a new file: no backup is overwritten.")
    draft = file.with_name(f".{file.name}.{os.getpid()}")
    try:
        entries = copied(source, f"sqlite:///{draft.absolute()}")
        _settled(draft)
        draft.replace(file)
    except OSError as error:
        raise RecordsError(f"{file} cannot be written: {error.strerror}.") from None
    except RecordsError as error:  # nobody knows the draft, or finds it afterwards
        raise RecordsError(
            str(error).replace(str(draft.absolute()), str(file.absolute()))
        ) from None
    finally:
        for rest in (draft, *(draft.with_name(draft.name + end) for end in ("-wal", "-shm"))):
            rest.unlink(missing_ok=True)
    return entries


def _settled(file: Path) -> None:
    """Bring everything into the one file, as a copy on a stick has no -wal beside it."""
    engine = opened(f"sqlite:///{file.absolute()}", _PATIENCE_S)
    try:
        with database_errors(engine.url):
            connection = engine.raw_connection()
            try:
                connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
            finally:
                connection.close()
    finally:
        engine.dispose()
    handle = os.open(file, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def put_back(backup: Path, target: str) -> int:
    """Fill an empty store from a backup and return how many entries it has then.

    Raises
    ------
    RecordsError
        If the backup is none, is damaged or of a newer version, or the store holds entries.
    """
    if not backup.is_file():
        raise RecordsError(f"There is no backup {backup}.")
    path = sqlite_file_of(target)
    fresh = path is not None and not path.exists()
    try:
        return copied(f"sqlite:///{backup.absolute()}", target, strict=True)
    except RecordsError as error:
        if fresh and path is not None:  # nothing half done
            for end in ("", "-wal", "-shm"):
                path.with_name(path.name + end).unlink(missing_ok=True)
        if str(backup.absolute()) in str(error):
            what = str(error).split(". ")[0].removeprefix("The record store ")
            raise RecordsError(f"The backup {what}. Nothing was restored.") from None
        raise


def sqlite_file_of(address: str) -> Path | None:
    """Return the file of a SQLite address; None for another database."""
    return sqlite_file(parsed(address))
