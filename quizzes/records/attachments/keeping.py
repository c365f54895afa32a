"""Photographs kept in the store, each under its person and its digest, so that it can be erased."""

import hashlib

from sqlalchemy import Connection, func, insert, select

from quizzes.records.attachments.photograph import LARGEST_BYTES
from quizzes.records.database.erasable import PhotographRow

CHANGED = "a photograph is not the one that was handed in"
_SIZES = select(
    PhotographRow.person_id, PhotographRow.sha256, func.length(PhotographRow.content)
).order_by(PhotographRow.person_id, PhotographRow.sha256)


def keep_photograph(connection: Connection, person_id: str, sha256: str, content: bytes) -> None:
    """Keep a photograph that was looked at; handed in twice, it is kept once."""
    if content_of(connection, person_id, sha256) is None:
        connection.execute(
            insert(PhotographRow).values(person_id=person_id, sha256=sha256, content=content)
        )


def content_of(connection: Connection, person_id: str, sha256: str) -> bytes | None:
    """Return a photograph as it lies in the store; None if there is none, or none so large."""
    mine = (PhotographRow.person_id == person_id, PhotographRow.sha256 == sha256)
    size = connection.execute(select(func.length(PhotographRow.content)).where(*mine)).scalar()
    if size is None or size > LARGEST_BYTES:
        return None
    found = connection.execute(select(PhotographRow.content).where(*mine)).scalar_one()
    return found if isinstance(found, bytes) else str(found).encode()


def is_that(content: bytes | None, sha256: str) -> bool:
    """Return whether this is what was handed in under a digest."""
    return content is not None and hashlib.sha256(content).hexdigest() == sha256


def photographs_kept(
    connection: Connection, *, contents: bool = False
) -> dict[tuple[str, str], str]:
    """Return person and digest of each photograph, with what does not hold of it; empty if it does.

    Each is read alone: all of them together may be more than a machine can hold.
    """
    found: dict[tuple[str, str], str] = {}
    for person_id, sha256, _ in connection.execute(_SIZES).all():
        good = not contents or is_that(content_of(connection, person_id, sha256), sha256)
        found[person_id, sha256] = "" if good else CHANGED
    return found
