"""Where the store is, how it is made, and what is looked at before it is trusted."""

import os
import sqlite3
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import platformdirs
from sqlalchemy import Connection, Engine, insert, inspect, select, text
from sqlalchemy.engine import URL
from sqlalchemy.exc import SQLAlchemyError

from quizzes.records.database.dialects import (
    WRITES,
    engine_for,
    refuse_unreadable,
    sqlite_file,
    use_wal,
)
from quizzes.records.database.erasable import ApartRow  # noqa: F401 (declares its tables)
from quizzes.records.database.models import VERSIONS, Base, PersonRow, RecordStoreRow
from quizzes.records.database.room import AccountRow  # noqa: F401 (declares the tables of the room)
from quizzes.records.database.said import MISSING_TABLES, explained
from quizzes.records.errors import RecordsError, parsed, refusal, shown

_VERSION = "alembic_version"  # the table in which Alembic keeps the version of the others
PATIENCE_S = 35.0  # how long to wait for another writer; a lock of half a minute is waited for


def default_url() -> str:
    """Return the address of the store: `GAL_RECORDS`, or a file in the platform's data folder.

    Returns
    -------
    str
        A SQLAlchemy address. A relative SQLite path is made absolute, since each page runs in a
        folder of its own: the server resolves it once and hands the result on in `GAL_RECORDS`.

    Raises
    ------
    RecordsError
        If `GAL_RECORDS` is no such address.
    """
    named = os.environ.get("GAL_RECORDS", "").strip()
    if not named:
        folder = platformdirs.user_data_path("gap-and-lining", appauthor=False)
        url = URL.create("sqlite", database=str(folder / "records.sqlite"))
        return url.render_as_string(hide_password=False)
    url = parsed(named)
    plain = url.get_backend_name() == "sqlite" and url.database not in (None, "", ":memory:")
    if plain and not str(url.database).startswith("file:"):
        url = url.set(database=str(Path(str(url.database)).expanduser().absolute()))
    return url.render_as_string(hide_password=False)


def create(url: str, *, identity: Mapping[str, Any] | None = None) -> None:
    """Make the tables, once, before any page is served: two pages would race.

    Parameters
    ----------
    url : str
        A SQLAlchemy address. The folder of a SQLite file is made as well, for this user alone.
    identity : mapping, optional
        Row of the store of which a new one is to be the copy; a new identity if left out.

    Raises
    ------
    RecordsError
        If it cannot be made or written, is not a record store, or is one of a newer version;
        it is left as it was.
    """
    address = parsed(url)
    _prepare_file(address)
    engine = engine_for(address, PATIENCE_S)
    try:
        with database_errors(address):
            with engine.connect() as connection:
                _is_ready(address, connection)
            use_wal(engine)
            with engine.execution_options(**{WRITES: True}).begin() as connection:
                if not _is_ready(address, connection):
                    _bring_up(connection, identity)
                _try_writing(connection)
    finally:
        engine.dispose()


def opened(url: str, patience_s: float) -> Engine:
    """Return an engine on a store that was made before and is of the version in use.

    Parameters
    ----------
    url : str
        A SQLAlchemy address.
    patience_s : float
        How long to wait for another writer, s.

    Returns
    -------
    Engine
        Its `url` is the address taken apart.

    Raises
    ------
    RecordsError
        If there is no such store.
    """
    address = parsed(url)
    path = sqlite_file(address)
    if path is not None:
        if not _exists(address, path):
            raise refusal(shown(address), "is not there", MISSING_TABLES[1])
        refuse_unreadable(address, path)
    engine = engine_for(address, patience_s)
    try:
        with database_errors(address), engine.connect() as connection:
            if not _is_ready(address, connection):
                raise refusal(shown(address), *MISSING_TABLES)
    except RecordsError:
        engine.dispose()
        raise
    return engine


@contextmanager
def database_errors(url: URL) -> Iterator[None]:
    """Turn whatever the database says within into one sentence.

    Parameters
    ----------
    url : URL
        Of the store.

    Raises
    ------
    RecordsError
        In place of any error of SQLAlchemy or SQLite.
    """
    try:
        yield
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise explained(url, error) from None


def _exists(url: URL, path: Path) -> bool:
    try:
        path.stat()
    except FileNotFoundError:
        return False
    except OSError as error:
        raise _unusable(url, error) from None
    return True


def _prepare_file(url: URL) -> None:
    path = sqlite_file(url)
    if path is None:
        return
    if _exists(url, path):
        refuse_unreadable(url, path)
        return
    try:
        # Names and keys are nobody else's business: for this user alone, where we make it.
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as error:
        raise _unusable(url, error) from None


def _unusable(url: URL, error: OSError) -> RecordsError:
    return refusal(
        shown(url),
        f"cannot be made or reached ({os.strerror(error.errno or 0)})",
        "Check that this user may write to the folder, or set GAL_RECORDS to another place.",
    )


def _is_ready(url: URL, connection: Connection) -> bool:
    """Return whether the tables are those in use; False for none or earlier, refuse all else."""
    found = set(inspect(connection).get_table_names())
    if not found:
        return False
    if not {RecordStoreRow.__tablename__, _VERSION} <= found:
        raise refusal(
            shown(url),
            "is a database of something else",
            "Nothing was changed. Give the records a database of their own in GAL_RECORDS.",
        )
    query = text(f"SELECT version_num FROM {_VERSION}")  # noqa: S608 - a name of ours
    version = connection.execute(query).scalar_one_or_none()
    if version not in VERSIONS:
        raise refusal(
            shown(url),
            f"is of version {version!r:.20}, and this software knows versions up to {VERSIONS[-1]}",
            "Nothing was changed. Use the software that made it, or name another store.",
        )
    if version != VERSIONS[-1]:
        return False
    if not set(Base.metadata.tables) <= found:
        raise refusal(shown(url), *MISSING_TABLES)
    return True


def _bring_up(connection: Connection, identity: Mapping[str, Any] | None) -> None:
    """Bring the tables to the version in use, from nothing or from an earlier one."""
    from alembic import command  # noqa: PLC0415 (late: slow to import, needed once a store)
    from alembic.config import Config  # noqa: PLC0415 (late: as above)

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
    row = identity or {"id": 1, "ledger_id": str(uuid.uuid4()), "made_at": datetime.now(UTC)}
    if connection.execute(select(RecordStoreRow.id)).first() is None:
        connection.execute(insert(RecordStoreRow).values(**row))


def _try_writing(connection: Connection) -> None:
    """Write a row and take it back: SQLite lets one begin to write a file that it may not."""
    trial = connection.begin_nested()
    row = {"id": str(uuid.uuid4()), "salt": b"", "display_name": "", "number": ""}
    connection.execute(insert(PersonRow).values(row | {"same_as": "", "sought_as": ""}))
    trial.rollback()
