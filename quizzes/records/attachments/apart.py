"""Words about one person, kept beside the ledger under a salted digest that the ledger holds."""

import hashlib
import secrets
from collections.abc import Collection, Iterator, Mapping
from typing import Any

import rfc8785
from sqlalchemy import Connection, delete, insert, select

from quizzes.records.attachments.keeping import photographs_kept
from quizzes.records.canonical import JUDGEMENT_LIMIT_BYTES, canonical, parsed_object
from quizzes.records.chain import Entry
from quizzes.records.database.erasable import ApartRow, PhotographRow
from quizzes.records.rows import Broken

APART = "apart"  # the field of an entry's body that holds the digest
_ALTERED = "the words kept beside it are not those that were kept"
_TAKEN = "the words kept beside it were taken out, and no entry says that they were erased"
_PHOTOGRAPH = "a photograph was taken out, and no entry says that it was erased"
_STRANGE = "there are words or photographs of somebody whom no entry mentions"


def digest_of(salt: bytes, words: Mapping[str, Any]) -> str:
    """Return what the ledger keeps of words: SHA-256 over a secret salt and the words."""
    return hashlib.sha256(salt + rfc8785.dumps(dict(words))).hexdigest()


def put_apart(
    connection: Connection, person_id: str, body: Mapping[str, Any], names: Collection[str]
) -> dict[str, Any]:
    """Keep some fields of a body beside the ledger, and return the body that is left for it."""
    words = {name: body[name] for name in names if name in body}
    if not words:
        return dict(body)
    salt, spelt = secrets.token_bytes(32), canonical("words", words, JUDGEMENT_LIMIT_BYTES)
    told = digest_of(salt, parsed_object(spelt))
    connection.execute(
        insert(ApartRow).values(commitment=told, person_id=person_id, salt=salt, words=spelt)
    )
    return {name: said for name, said in body.items() if name not in words} | {APART: told}


def words_kept(connection: Connection, person_id: str | None = None) -> dict[str, dict[str, Any]]:
    """Return the words about one person, or about everybody, by their digests."""
    query = select(ApartRow.commitment, ApartRow.words)
    if person_id is not None:
        query = query.where(ApartRow.person_id == person_id)
    return {told: _parsed(words) for told, words in connection.execute(query)}


def whole_body(
    body: Mapping[str, Any], kept: Mapping[str, dict[str, Any]], erased: Mapping[str, Any]
) -> dict[str, Any]:
    """Return a body with its words back in it, or with what stands for words that are gone."""
    if APART not in body:
        return dict(body)
    return {**body, **erased, **kept.get(str(body[APART]), {})}


def erase_of(connection: Connection, person_id: str) -> int:
    """Erase all words about a person and their photographs, and return how many rows that were."""
    return sum(
        connection.execute(delete(table).where(table.person_id == person_id)).rowcount
        for table in (ApartRow, PhotographRow)
    )


def apart_checked(
    connection: Connection, entries: Collection[Entry], *, contents: bool = False
) -> Iterator[Broken]:
    """Hold what is kept beside the ledger against it: altered, taken out, or erased as it says.

    Parameters
    ----------
    connection : Connection
        An open one.
    entries : collection of Entry
        The whole ledger.
    contents : bool
        Whether photographs are read and held against their digests, which takes its time.
    """
    rows = {row.commitment: row for row in connection.execute(select(*ApartRow.__table__.columns))}
    bodies = [(entry, _parsed(entry.body)) for entry in entries]
    erased = {str(body.get("person")): x.seq for x, body in bodies if x.kind == "erasure"}
    whose = {x.sitting_id: str(body.get("person_id")) for x, body in bodies if x.kind == "sitting"}
    people = {*whose.values(), *(str(b.get("person")) for x, b in bodies if x.kind == "person")}
    strange = {row.person_id for row in rows.values()}
    kept = photographs_kept(connection, contents=contents)
    strange |= {person for person, _ in kept}
    for entry, body in bodies:
        if APART not in body:
            continue
        person = whose.get(entry.sitting_id) or str(body.get("person"))
        row = rows.get(str(body[APART]))
        if row is None:
            if erased.get(person, 0) < entry.seq:
                yield Broken(entry.seq, entry.sitting_id, _TAKEN, person)
            continue
        words = _parsed(row.words)
        if row.person_id != person or not _is_told(row, words):
            yield Broken(entry.seq, entry.sitting_id, _ALTERED, person)
            continue
        for digest in _digests(words):
            if trouble := kept.get((person, digest), _PHOTOGRAPH):
                yield Broken(entry.seq, entry.sitting_id, trouble, person)
    for person in sorted(strange - people):
        yield Broken(0, None, _STRANGE, person)


def _is_told(row: Any, words: dict[str, Any]) -> bool:  # noqa: ANN401 - a row of the database
    try:
        return bool(digest_of(row.salt, words) == row.commitment)
    except (TypeError, ValueError):  # of another kind than was ever kept
        return False


def _digests(words: Mapping[str, Any]) -> list[str]:
    found = words.get("photographs")
    return [str(one[0]) for one in found if one] if isinstance(found, list) else []


def _parsed(text: object) -> dict[str, Any]:
    try:
        found = parsed_object(str(text))
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}
