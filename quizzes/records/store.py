"""The store, opened. This module alone begins transactions, each a short one."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Self

from sqlalchemy import Connection
from sqlalchemy.exc import DBAPIError, IntegrityError

from quizzes.records.chain import Writer
from quizzes.records.database.dialects import WRITES, sqlite_file
from quizzes.records.database.identity import Identity, exchanged
from quizzes.records.database.opening import PATIENCE_S, database_errors, opened
from quizzes.records.errors import LOG, StaleSitting, shown


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
        self._seen: tuple[int, str] | None = None  # the last entry that this process knows of

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
        self._engine.dispose()

    def files(self) -> tuple[Path, ...]:
        """Return the files in which everything stands; none for a database on a server."""
        if self._path is None:
            return ()
        return self._path, self._path.with_name(f"{self._path.name}-wal")

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with database_errors(self._engine.url), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def _writing_to(self) -> Iterator[Writer]:
        """Yield what adds to the ledger, in one transaction: all of it is kept, or none."""
        with self._told(), self._writing.begin() as connection:
            writer = Writer(connection.connection.cursor(), connection.dialect, connection)
            self._same_store(writer)
            yield writer
        self._kept(writer)

    @contextmanager
    def _appending_to(self) -> Iterator[Writer]:
        """Yield the same on the driver's own connection, where every act has to be fast."""
        dbapi = self._engine.dialect.loaded_dbapi
        with self._told():
            raw = self._engine.raw_connection()
            try:
                cursor = raw.cursor()
                if self._path:  # other drivers begin by themselves
                    cursor.execute("BEGIN IMMEDIATE")
                writer = Writer(cursor, self._engine.dialect)
                self._same_store(writer)
                yield writer
                raw.commit()
            except BaseException as error:
                with suppress(dbapi.Error):
                    raw.rollback()
                if isinstance(error, dbapi.Error):
                    raise DBAPIError("", None, error) from None
                raise
            finally:
                raw.close()
        self._kept(writer)

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
        """Refuse to add to another ledger than the one that this process has seen."""
        if self._seen is not None and self._seen != writer.tail:
            seq, sha256 = self._seen
            if seq and writer.sha256_at(seq) != sha256:
                raise exchanged(shown(self._engine.url))
        if self._path and Identity.of(self._path) != self._file:
            raise exchanged(shown(self._engine.url))
        self._seen = writer.tail

    def _kept(self, writer: Writer) -> None:
        """See to it that what was committed stands in the file that others will open."""
        self._seen = writer.tail
        if self._path and Identity.of(self._path) != self._file:
            raise exchanged(shown(self._engine.url))
