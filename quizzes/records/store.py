"""The store, opened. This module alone opens sessions, each for one short transaction."""

from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import Self

from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from quizzes.records.dialects import WRITES
from quizzes.records.errors import LOG, StaleSitting, shown
from quizzes.records.opening import PATIENCE_S, database_errors, opened


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
    def _session(self, *, write: bool = False) -> Iterator[Session]:
        engine = self._writing if write else self._engine
        with database_errors(self._engine.url):
            try:
                with Session(engine, expire_on_commit=False) as session, session.begin():
                    yield session
            except IntegrityError:
                message = "Another window wrote to this sitting just now. Load the page again."
                LOG.warning("%s", message)
                raise StaleSitting(message) from None
