"""Which file a store is, so that one deleted or exchanged while it is open does not pass."""

import os
import time
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple, Self

from quizzes.records.errors import RecordsError, refusal


class Identity(NamedTuple):
    """A file's place on its disk; two zeros where no file stands."""

    device: int
    node: int

    @classmethod
    def of(cls, path: Path) -> Self:
        """Return the identity of the file that stands at a path now."""
        try:
            found = os.stat(path)  # noqa: PTH116 - half the time of its object, at every append
        except OSError:
            return cls(0, 0)
        return cls(found.st_dev, found.st_ino)


SETTLED_S = 0.2  # several writes within a tick of the disk's clock bear one time


def last_written(paths: Iterable[Path]) -> tuple[object, ...] | None:
    """Return what changes whenever one of these files is written, by whomever.

    Returns
    -------
    tuple or None
        None where one was written just now: another write might not show.

    Notes
    -----
    The time of a file's last change of state (`st_ctime`) is set by the system alone; the time of
    its last writing can be set back by anybody.
    """
    marks: list[object] = []
    for path in paths:
        try:
            found = path.stat()
        except OSError:
            marks.append((path, None))
            continue
        if time.time() - found.st_ctime < SETTLED_S:
            return None
        marks.append((path, found.st_dev, found.st_ino, found.st_size, found.st_ctime_ns))
    return tuple(marks)


def exchanged(store: str) -> RecordsError:
    """Return the error for a store that is no longer the one that was opened."""
    return refusal(
        store,
        "was deleted, exchanged or put back to an earlier state while it was in use",
        "What was done last is not kept. Stop the server, put the right file back with its -wal "
        "file, and start again.",
    )
