"""The store, opened. This module alone begins transactions, each a short one."""

import weakref
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import Connection, Engine, PoolProxiedConnection
from sqlalchemy.exc import DBAPIError, IntegrityError

from quizzes.records.chain import Entry, Writer, followed, prepare, sealed
from quizzes.records.database.dialects import WRITES, sqlite_file
from quizzes.records.database.identity import Identity, exchanged
from quizzes.records.database.opening import PATIENCE_S, database_errors, opened
from quizzes.records.errors import LOG, StaleSitting, shown

Line = tuple[str, datetime]  # body and moment of an event
_PREPARED = "gal_prepared"  # of a connection: its statements are planned


def _let_go_of(engine: Engine, idle: list[PoolProxiedConnection]) -> None:
    while idle:
        idle.pop().close()
    engine.dispose()


class Store:
    """A record store that is open, shared by any number of processes.

    Parameters
    ----------
    url : str
        A SQLAlchemy address of a store that `create` made.
    patience_s : float
        How long to wait for another writer, s.

    Raises
    ------
    RecordsError
        If it cannot be used. So does every method, and nothing is half written then.
    """

    def __init__(self, url: str, *, patience_s: float = PATIENCE_S) -> None:
        self._engine = opened(url, patience_s)
        self._writing = self._engine.execution_options(**{WRITES: True})
        self._path = sqlite_file(self._engine.url)
        self._file = Identity.of(self._path) if self._path else None
        self._idle: list[PoolProxiedConnection] = []  # between two acts
        self._seen: tuple[int, str] | None = None  # the last entry that this process knows of
        self._alone = False  # nobody else has added one between the last two looks
        self._acted: tuple[object, ...] = ()  # the last act of this process, and the tail after it
        # Whoever drops a store without a word lets go of its file as well.
        weakref.finalize(self, _let_go_of, self._engine, self._idle).atexit = False

    @property
    def url(self) -> str:
        """Where it is, with the password that the address may hold: not to be shown."""
        return self._engine.url.render_as_string(hide_password=False)

    def __repr__(self) -> str:
        return f"Records({shown(self._engine.url)!r})"

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the database; the next call takes it up again."""
        _let_go_of(self._engine, self._idle)

    def files(self) -> tuple[Path, ...]:
        """Return the files in which everything stands; none for a database on a server."""
        if self._path is None:
            return ()
        return self._path, self._path.with_name(f"{self._path.name}-wal")

    def _log_emptied(self) -> None:
        """Empty the log beside a SQLite file: it may still hold what was erased just now.

        While another page reads, the log stays until the next time.
        """
        if self._path is None:
            return
        self._let_go()
        with database_errors(self._engine.url):
            raw = self._engine.raw_connection()
            try:
                raw.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
            finally:
                raw.close()

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        self._let_go()
        with database_errors(self._engine.url), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def _writing_to(self) -> Iterator[Writer]:
        """Yield what adds to the ledger, in one transaction: all of it is kept, or none."""
        self._let_go()
        with self._told(), self._writing.begin() as connection:
            writer = Writer(connection.connection.cursor(), connection.dialect, connection)
            self._same_store(writer)
            yield writer
        self._kept(writer)

    @contextmanager
    def _appending_to(self, sitting_id: object = None, slot: int | None = None) -> Iterator[Writer]:
        """Yield the same on the driver's own connection, where every act has to be fast.

        The connection is kept for the next act, since the pool's care of it took a third of the
        time; on a server all statements go in two journeys.
        """
        about = None if sitting_id is None else (str(sitting_id), slot)
        dbapi = self._engine.dialect.loaded_dbapi
        with self._told():
            raw, writer = self._begun(about)
            try:
                self._same_ledger(writer)
                yield writer
                writer.end() if writer.together else raw.commit()
            except BaseException as error:
                try:
                    raw.cursor().execute("ROLLBACK")
                    self._idle.append(raw)
                except dbapi.Error:
                    raw.invalidate()
                if isinstance(error, dbapi.Error):
                    raise DBAPIError("", None, error) from None
                raise
            self._idle.append(raw)
        self._kept(writer)

    def _followed(self, case: tuple[str, int], step: int, lines: Sequence[Line]) -> bool:
        """Add lines to a case in one journey to a server; False where it takes two.

        While the last entry is the one that this process added to the same case, nothing else can
        have happened to it: nobody has to ask how it stands. Where others write as well, it is
        not even tried.
        """
        if self._path or not self._idle or self._seen is None:
            return False
        if self._acted != (*case, step - 1, self._seen):
            return False
        raw, (seq, sha256), entries = self._idle.pop(), self._seen, []
        for number, (body, at) in enumerate(lines):
            facts = (case[0], "event", case[1], step + number, at, body, None, None)
            entries.append(sealed(Entry(seq + 1, *facts, sha256, "")))
            seq, sha256 = entries[-1].seq, entries[-1].sha256
        dbapi = self._engine.dialect.loaded_dbapi
        try:
            done = followed(dbapi.ClientCursor(raw.driver_connection), entries)
        except dbapi.Error:  # asked again on another connection, and told there
            raw.invalidate()
            return False
        except BaseException:
            raw.invalidate()
            raise
        self._idle.append(raw)
        if done:
            self._seen = seq, sha256
            self._acted = (*case, step + len(lines) - 1, self._seen)
        return done

    def _let_go(self) -> None:
        """Give connections kept for the next act back to the pool: a server has only so many."""
        while not self._path and self._idle:
            raw = self._idle.pop()
            driver: Any = raw.driver_connection
            with suppress(self._engine.dialect.loaded_dbapi.Error):
                driver.autocommit = False
            raw.close()

    def _begun(self, about: tuple[str, int | None] | None) -> tuple[PoolProxiedConnection, Writer]:
        """Return a connection in a transaction that writes; one that has died is replaced."""
        while True:
            kept = bool(self._idle)
            raw = self._idle.pop() if kept else self._engine.raw_connection()
            try:
                return raw, self._writer_on(raw, about)
            except BaseException as error:
                raw.invalidate()
                if not kept or not isinstance(error, DBAPIError):
                    raise

    def _writer_on(
        self, raw: PoolProxiedConnection, about: tuple[str, int | None] | None
    ) -> Writer:
        if self._path:
            cursor = raw.cursor()
            cursor.execute("BEGIN IMMEDIATE")
            return Writer(cursor, self._engine.dialect, about=about)
        driver: Any = raw.driver_connection
        driver.autocommit = True  # the statements say themselves where a transaction begins
        whole = self._engine.dialect.loaded_dbapi.ClientCursor(driver)
        if not raw.info.get(_PREPARED):
            try:
                prepare(whole)
            except self._engine.dialect.loaded_dbapi.Error as error:
                raise DBAPIError("", None, error) from None
            raw.info[_PREPARED] = True
        return Writer(whole, self._engine.dialect, about=about)

    @contextmanager
    def _told(self) -> Iterator[None]:
        with database_errors(self._engine.url):
            try:
                yield
            except IntegrityError:
                message = "Another window wrote to this sitting just now. Load the page again."
                LOG.warning("%s", message)
                raise StaleSitting(message) from None

    def _same_store(self, writer: Writer) -> None:
        """Refuse to add to another ledger, or another file, than this process has seen."""
        self._same_ledger(writer)
        if self._path and Identity.of(self._path) != self._file:
            raise exchanged(shown(self._engine.url))

    def _same_ledger(self, writer: Writer) -> None:
        self._alone = self._seen == writer.tail
        if self._seen is not None and self._seen != writer.tail:
            seq, sha256 = self._seen
            if seq and writer.sha256_at(seq) != sha256:
                raise exchanged(shown(self._engine.url))
        self._seen = writer.tail

    def _kept(self, writer: Writer) -> None:
        """See to it that what was committed stands in the file that others will open."""
        self._seen = writer.tail
        if self._path and Identity.of(self._path) != self._file:
            raise exchanged(shown(self._engine.url))
