"""The store, opened. This module alone begins transactions, each a short one."""

from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import Self

from sqlalchemy import Connection
from sqlalchemy.exc import IntegrityError

from quizzes.records.chain import Writer
from quizzes.records.database.dialects import WRITES
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

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with database_errors(self._engine.url), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def _writing_to(self) -> Iterator[Writer]:
        """Yield what adds to the ledger, in one transaction: all of it is kept, or none."""
        with database_errors(self._engine.url):
            try:
                with self._writing.begin() as connection:
                    yield Writer(connection)
            except IntegrityError:
                message = "Another window wrote to this sitting just now. Load the page again."
                LOG.warning("%s", message)
                raise StaleSitting(message) from None
