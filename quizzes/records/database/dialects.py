"""What differs between SQLite and PostgreSQL: settings, files, error codes."""

import errno
import logging
import os
import sqlite3
from pathlib import Path
from urllib.parse import unquote

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import NoSuchModuleError, SQLAlchemyError
from sqlalchemy.pool import ConnectionPoolEntry

from quizzes.records.database.said import UNREADABLE
from quizzes.records.errors import LOG, refusal, shown

_LOGGING_NAME = "gap_and_lining"
_LONGEST_BYTES = 32 * 1024 * 1024  # of a row: a photograph, or all that a sitting keeps
WRITES = "gap_and_lining_writes"  # execution option: this transaction will write


def engine_for(url: URL, patience_s: float) -> Engine:
    """Return an engine that waits its turn, writes durably and shows no parameter in an error.

    Parameters
    ----------
    url : URL
        Of a store.
    patience_s : float
        How long to wait for another writer, s.

    Returns
    -------
    Engine
        Not connected yet.

    Raises
    ------
    RecordsError
        If the driver is unknown or not installed.
    """
    sqlite = url.get_backend_name() == "sqlite"
    try:
        # A server may have restarted under an idle page; a file does not.
        engine = create_engine(
            url, hide_parameters=True, pool_pre_ping=not sqlite, logging_name=_LOGGING_NAME
        )
    except (NoSuchModuleError, ImportError, SQLAlchemyError, TypeError) as error:
        missing = getattr(error, "name", None)
        remedy = (
            f"Install it beside the suite: pip install {missing}."
            if missing
            else "Use sqlite:///... or postgresql+psycopg://... in GAL_RECORDS."
        )
        happened = f"needs a database driver ({url.drivername}) that is not here"
        raise refusal(shown(url), happened, remedy) from None
    # A log turned up to DEBUG would hold every row that is read, keys and names among them.
    logging.getLogger(f"sqlalchemy.engine.Engine.{_LOGGING_NAME}").setLevel(logging.WARNING)
    if sqlite:
        _set_sqlite(engine, patience_s)
    elif url.get_backend_name() == "postgresql":
        _set_postgresql(engine, patience_s)
    else:
        LOG.warning("record store %s: no append-only triggers for this database", shown(url))
    return engine


def _set_sqlite(engine: Engine, patience_s: float) -> None:
    @event.listens_for(engine, "connect")
    def settle(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
        # Python's sqlite3 would begin transactions by itself, and too late to take the lock.
        connection.isolation_level = None
        # One spoilt byte is one entry that was altered, not a store that cannot be read.
        connection.text_factory = _decoded
        # A file from elsewhere may compute what it does not hold: a column of gigabytes.
        connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST_BYTES)
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout = {int(patience_s * 1000)}")
        cursor.execute("PRAGMA synchronous = FULL")
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.execute("PRAGMA secure_delete = ON")  # an erased name leaves no bytes behind
        cursor.close()

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        # A reader that turns writer later cannot wait: it would have to see the past change.
        writes = connection.get_execution_options().get(WRITES, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _decoded(content: bytes) -> str:
    return content.decode(errors="replace")


def _set_postgresql(engine: Engine, patience_s: float) -> None:
    @event.listens_for(engine, "connect")
    def settle(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
        cursor = connection.cursor()
        cursor.execute(f"SET lock_timeout = {int(patience_s * 1000)}")
        cursor.close()
        connection.commit()


def use_wal(engine: Engine) -> None:
    """Let readers and a writer work side by side, for as long as the file lives.

    Parameters
    ----------
    engine : Engine
        Of a store; nothing is done unless it is SQLite.

    Raises
    ------
    RecordsError
        If the folder cannot carry it, as some network drives cannot.
    """
    if engine.dialect.name != "sqlite":
        return
    connection = engine.raw_connection()
    try:
        cursor = connection.cursor()
        cursor.execute("PRAGMA journal_mode = WAL")
        mode = cursor.fetchone()
        cursor.close()
    finally:
        connection.close()
    if mode is None or mode[0] != "wal":
        raise refusal(
            shown(engine.url),
            "lies where several pages cannot share it",
            "Put it on a disk of this machine, not on a network drive.",
        )


def sqlite_file(url: URL) -> Path | None:
    """Return the file of a SQLite store, or None for another database.

    Parameters
    ----------
    url : URL
        Of a store.

    Returns
    -------
    Path or None
        Perhaps of no file yet.

    Raises
    ------
    RecordsError
        If it is in memory: each page is a process of its own and would have its own store.
    """
    if url.get_backend_name() != "sqlite":
        return None
    named = url.database or ""
    if named.startswith("file:"):
        named = unquote(named.removeprefix("file:").partition("?")[0])
    if named in ("", ":memory:") or url.query.get("mode") == "memory":
        raise refusal(
            "sqlite in memory",
            "would be another one for each page",
            "Name a file: sqlite:////home/me/records.sqlite.",
        )
    return Path(named)


def refuse_unreadable(url: URL, path: Path) -> None:
    """Look whether a file can be read at all: SQLite would say no more than "cannot open".

    Parameters
    ----------
    url : URL
        Of the store, for the sentence.
    path : Path
        An existing file.

    Raises
    ------
    RecordsError
        If it cannot be read.

    Notes
    -----
    It is asked for and not opened: closing a file gives up all locks of this process on it, those
    of a store that is open already among them (POSIX.1-2017, fcntl). Another process that closes
    its store then takes itself for the last, and deletes the log with what was written since.
    """
    by_effect = os.access in os.supports_effective_ids
    if path.is_dir() or not os.access(path, os.R_OK, effective_ids=by_effect):
        why = os.strerror(errno.EISDIR if path.is_dir() else errno.EACCES)
        raise refusal(shown(url), f"cannot be read ({why})", UNREADABLE[1])
