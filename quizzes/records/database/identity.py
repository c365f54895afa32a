"""Which file a store is, so that one deleted or exchanged while it is open does not pass."""

import os
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


def exchanged(store: str) -> RecordsError:
    """Return the error for a store that is no longer the one that was opened."""
    return refusal(
        store,
        "was deleted, exchanged or put back to an earlier state while it was in use",
        "What was done last is not kept. Stop the server, put the right file back with its -wal "
        "file, and start again.",
    )
