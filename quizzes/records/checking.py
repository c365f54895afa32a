"""A walk along the ledger: each entry's hash and place, and what is beside the ledger."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Connection, func, select

from quizzes.records.attachments.apart import apart_checked
from quizzes.records.beginning import SITTING_COLUMNS, commitment, same_as
from quizzes.records.canonical import parsed_object
from quizzes.records.chain import ENTRIES, FIRST_SHA256, Entry, entry_bytes, entry_sha256
from quizzes.records.database.guards import guards_lacking, rows_hidden
from quizzes.records.database.models import EntryRow, PersonRow, RecordStoreRow, SittingRow
from quizzes.records.listing import sought
from quizzes.records.room.given import rooms_checked
from quizzes.records.rows import Broken, ChainCheck, Sitting, StoreCheck

_KIND = re.compile(r"[a-z]{1,20}")


def checked(connection: Connection, *, contents: bool = False) -> StoreCheck:
    """Return every place of the store that does not hold; `contents` to read photographs too."""
    entries = tuple(Entry(*row) for row in connection.execute(ENTRIES))
    ledger_id = ledger_id_of(connection)
    broken = [*_chain(entries), *_persons(connection, entries), *_sittings(connection, entries)]
    broken += _entered_twice(entries)
    broken += [*rooms_checked(connection, entries), *_heads(ledger_id, entries)]
    broken += apart_checked(connection, entries, contents=contents)
    broken += [Broken(0, None, reason) for reason in guards_lacking(connection)]
    if hidden := rows_hidden(connection):
        broken.append(Broken(0, None, hidden, everywhere=True))
    head = entries[-1].sha256 if entries else FIRST_SHA256
    in_order = sorted(broken, key=lambda one: one.position)
    erased = {_body(one).get("person") for one in entries if one.kind == "erasure"}
    return StoreCheck(ledger_id, len(entries), head, tuple(in_order), len(erased))


def checked_sitting(connection: Connection, sitting: Sitting) -> ChainCheck:
    """Return what of that concerns one sitting."""
    found = checked(connection)
    mine = [
        one
        for one in found.broken
        if one.everywhere or one.sitting_id == sitting.id or one.person_id == sitting.person_id
    ]
    count = select(func.count()).where(EntryRow.sitting_id == sitting.id)
    return ChainCheck(
        sitting_id=sitting.id,
        sound=not mine,
        entries=connection.execute(count).scalar_one(),
        head_sha256=found.head_sha256,
        position=mine[0].position if mine else None,
        reason=mine[0].reason if mine else "",
    )


def ledger_id_of(connection: Connection) -> str:
    """Return the ledger's identity."""
    return connection.execute(select(RecordStoreRow.ledger_id)).scalar_one()


def last_entries_of(connection: Connection) -> dict[str, int]:
    """Return the place of the last entry of each sitting."""
    query = select(EntryRow.sitting_id, func.max(EntryRow.seq)).group_by(EntryRow.sitting_id)
    return {sitting: seq for sitting, seq in connection.execute(query) if sitting}


def ledger_of(connection: Connection) -> tuple[str, tuple[bytes, ...]]:
    """Return the ledger's identity and the bytes of its entries, in order."""
    return ledger_id_of(connection), tuple(entry_bytes(row) for row in connection.execute(ENTRIES))


def _chain(entries: Iterable[Entry]) -> Iterator[Broken]:
    before: Entry | None = None
    for entry in entries:
        expected = before.seq + 1 if before else 1
        if entry.seq != expected:
            missing = f"entry {expected} is missing"
            yield Broken(expected, entry.sitting_id, missing)
            if before and before.sitting_id != entry.sitting_id:
                yield Broken(expected, before.sitting_id, missing)
        elif entry.previous_sha256 != (before.sha256 if before else FIRST_SHA256):
            reason = f"entry {entry.seq} does not follow the entry before it"
            yield Broken(entry.seq, entry.sitting_id, reason)
            if before and before.sitting_id != entry.sitting_id:
                yield Broken(entry.seq, before.sitting_id, reason)
        # A kind of anything but letters could hold a part of the body under the same hash.
        kind = bool(_KIND.fullmatch(str(entry.kind)))
        if entry.sha256 != entry_sha256(entry) or not kind or not _outcome_fits(entry):
            yield Broken(entry.seq, entry.sitting_id, f"entry {entry.seq} was altered")
        before = entry


def _outcome_fits(entry: Entry) -> bool:
    """Return whether the word that an outcome is listed under is the one that it says."""
    if entry.kind != "outcome":
        return entry.outcome is None
    try:
        return bool(parsed_object(entry.body)["content"]["outcome"] == entry.outcome)
    except (ValueError, KeyError, TypeError):
        return False


def _persons(connection: Connection, entries: Iterable[Entry]) -> Iterator[Broken]:
    """Hold each name against the commitment that the ledger keeps of it."""
    rows = connection.execute(select(*PersonRow.__table__.columns)).all()
    people = {row.id: row for row in rows}
    for person in _twice(row.id for row in rows):
        yield Broken(0, None, "a person has two rows", person)
    kept: dict[str, tuple[int, object]] = {}
    for entry in entries:
        if entry.kind in {"person", "erasure"}:
            body = _body(entry)
            person = str(body.get("person"))
            if entry.kind == "erasure":
                kept.pop(person, None)
            else:
                kept[person] = (entry.seq, body.get("commitment"))
    for person, (seq, committed) in kept.items():
        row = people.pop(person, None)
        if row is None:
            reason = "a name was taken out, and no entry says that it was erased"
        elif not _is_committed(row, committed):
            reason = "a name is not the one that was given"
        elif (row.same_as, row.sought_as) != _looked_for(row):
            reason = "a name would be found under another name"
        else:
            continue
        yield Broken(seq, None, reason, person)
    for person in people:
        yield Broken(0, None, "there is a name that no entry mentions", person)


def _entered_twice(entries: Iterable[Entry]) -> Iterator[Broken]:
    """Return each later entry of a person, which would stand for another name than the first."""
    entered: set[object] = set()
    for entry in (one for one in entries if one.kind == "person"):
        person = _body(entry).get("person")
        if person in entered:
            yield Broken(entry.seq, None, "a person was entered twice", str(person))
        entered.add(person)


def _sittings(connection: Connection, entries: Iterable[Entry]) -> Iterator[Broken]:
    """Hold each sitting's row against its first entry."""
    all_rows = connection.execute(select(*SittingRow.__table__.columns)).all()
    rows = {row.id: row for row in all_rows}
    for sitting_id in _twice(row.id for row in all_rows):
        yield Broken(0, sitting_id, "the sitting has two rows")
    for entry in entries:
        if entry.kind != "sitting":
            continue
        if entry.sitting_id not in rows:
            reason = "the sitting’s row was taken out, so no list shows it"
            yield Broken(entry.seq, entry.sitting_id, reason)
            continue
        row, body = rows.pop(entry.sitting_id), _body(entry)
        fits = all(getattr(row, name) == body.get(name) for name in SITTING_COLUMNS)
        key = row.key.hex() if isinstance(row.key, bytes) else None
        if not fits or key != body.get("key") or row.started_at != entry.at:
            reason = "the sitting’s row does not say what its first entry says"
            yield Broken(entry.seq, row.id, reason)
    for sitting_id in rows:
        yield Broken(0, sitting_id, "the sitting’s first entry is missing")


def _heads(ledger_id: str, entries: Iterable[Entry]) -> Iterator[Broken]:
    """Hold the ledger's identity against the heads in it: under another they vouch for nothing."""
    for entry in entries:
        if entry.kind == "head" and _body(entry).get("ledger", ledger_id) != ledger_id:
            reason = "the head kept there is of another ledger, or this one was renamed"
            yield Broken(entry.seq, None, reason)


def _twice(found: Iterable[str]) -> list[str]:
    return [one for one, times in Counter(found).items() if times > 1]


def _is_committed(row: Any, committed: object) -> bool:  # noqa: ANN401 - a row of the database
    try:
        return commitment(row.salt, row.display_name, row.number) == committed
    except (TypeError, ValueError):  # of another kind than was ever kept
        return False


def _looked_for(row: Any) -> tuple[str, str]:  # noqa: ANN401 - as above
    return same_as(row.display_name, row.number), sought(row.display_name)


def _body(entry: Entry) -> dict[str, object]:
    try:
        body = parsed_object(entry.body)
    except ValueError:
        return {}
    return body if isinstance(body, dict) else {}
