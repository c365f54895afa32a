"""How a sitting begins: one person one row, everything else into the ledger at once."""

import hashlib
import json
import secrets
import unicodedata
import uuid
from datetime import datetime
from typing import Any

import rfc8785
from sqlalchemy import Connection, delete, insert, select, update

from quizzes.records.attachments.apart import erase_of
from quizzes.records.canonical import KEPT_LIMIT_BYTES, canonical
from quizzes.records.chain import ENTRIES, Entry, Writer, sitting_row
from quizzes.records.database.models import EntryRow, PersonRow, SittingRow
from quizzes.records.database.room import MemberRow, SeatRow
from quizzes.records.entries import body_of, unreadable
from quizzes.records.listing import sought
from quizzes.records.rows import Person, Start

SITTING_COLUMNS = (
    "id", "person_id", "form_id", "form_edition", "place", "owner", "return_code_sha256",
    "software_version", "rules_edition",
)  # fmt: skip


def commitment(salt: bytes, name: str, number: str) -> str:
    """Return what the ledger keeps of a name: SHA-256 over a secret salt and the name.

    Notes
    -----
    With the salt erased nobody can find the name by trying names; with it, anybody can see that
    the name was not exchanged.
    """
    return hashlib.sha256(salt + rfc8785.dumps({"name": name, "number": number})).hexdigest()


def same_as(name: str, number: str) -> str:
    """Return the text that is equal for one person typed twice.

    Capitals, spaces, signs that nobody sees and other widths of one letter make nobody another.
    """
    return json.dumps([_as_seen(name), _as_seen(number)], ensure_ascii=False)


def _as_seen(text: str) -> str:
    """Return a text without what makes no difference to whoever reads it."""
    folded = unicodedata.normalize("NFKC", text).casefold()
    shown = "".join(sign for sign in folded if unicodedata.category(sign) != "Cf")
    return " ".join((shown or folded).split())


def begin(writer: Writer, start: Start, code_sha256: str) -> str:
    """Keep all that is known when a sitting begins, and return the sitting's id."""
    sitting_id = str(uuid.uuid4())
    row = {
        "id": sitting_id,
        "person_id": person_row(writer, start.name, start.number, start.started_at),
        "form_id": start.form_id,
        "form_edition": start.form_edition,
        "place": start.place,
        "owner": start.owner,
        "return_code_sha256": code_sha256,
        "software_version": start.software_version,
        "rules_edition": start.rules_edition,
    }
    body = row | {"key": start.key.hex(), "kept": dict(start.kept)}
    spelt = canonical("kept", body, KEPT_LIMIT_BYTES)
    writer.connection.execute(
        insert(SittingRow).values(**row, key=start.key, started_at=start.started_at)
    )
    writer.add("sitting", spelt, start.started_at, sitting_id=sitting_id)
    return sitting_id


def person_row(writer: Writer, name: str, number: str, at: datetime) -> str:
    """Return the person of this name and number, new if the store has none."""
    same = same_as(name, number)
    query = select(PersonRow.id).where(PersonRow.same_as == same)
    found = writer.connection.execute(query).scalar_one_or_none()
    if found is not None:
        return found
    person_id, salt = str(uuid.uuid4()), secrets.token_bytes(32)
    writer.connection.execute(
        insert(PersonRow).values(
            id=person_id,
            salt=salt,
            display_name=name,
            number=number,
            same_as=same,
            sought_as=sought(name),
        )
    )
    body = {"person": person_id, "commitment": commitment(salt, name, number)}
    writer.add("person", canonical("person", body), at)
    return person_id


def erase(writer: Writer, person_id: str, at: datetime) -> int | None:
    """Erase all that is personal of a person, and return the place of the entry that says so.

    Name, number, salt; words about them and photographs; the reasons on lists of classes, seats.
    None if there is nothing of all that.
    """
    whose, connection = str(person_id), writer.connection
    erased = connection.execute(delete(PersonRow).where(PersonRow.id == whose)).rowcount
    erased += erase_of(connection, whose)
    if not erased:
        return None
    connection.execute(update(MemberRow).where(MemberRow.person_id == whose).values(reason=""))
    connection.execute(delete(SeatRow).where(SeatRow.person_id == whose))
    return writer.add("erasure", canonical("erasure", {"person": whose}), at).seq


def persons_of(connection: Connection) -> tuple[Person, ...]:
    """Return everybody whose name is kept, by name."""
    query = select(PersonRow.id, PersonRow.display_name, PersonRow.number)
    found = connection.execute(query.order_by(PersonRow.sought_as, PersonRow.number))
    return tuple(Person(*row) for row in found)


def person_of(connection: Connection, name: str, number: str) -> Person | None:
    """Return the person of this name and number; None if the store has none."""
    query = select(PersonRow.id, PersonRow.display_name, PersonRow.number)
    found = connection.execute(query.where(PersonRow.same_as == same_as(name, number))).first()
    return Person(*found) if found else None


def kept_of(connection: Connection, sitting_id: str) -> dict[str, Any]:
    """Return what was kept for a sitting when it began.

    Raises
    ------
    RecordsError
        If its first entry is missing or cannot be read.
    """
    mine = EntryRow.sitting_id == sitting_row(connection, sitting_id)
    found = connection.execute(ENTRIES.where(mine, EntryRow.kind == "sitting")).first()
    if found is None:
        raise unreadable(sitting_id, 0, "its first entry is missing")
    entry = Entry(*found)
    kept = body_of(entry).get("kept")
    if not isinstance(kept, dict):
        raise unreadable(sitting_id, entry.seq, "it lacks 'kept'")
    return kept
