"""The ledger: how an entry is added to it, and the bytes and hash of an entry."""

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any, NamedTuple

from sqlalchemy import Connection, Dialect, select, type_coerce
from sqlalchemy.exc import DBAPIError, IntegrityError

from quizzes.records.database.models import EntryRow, SittingRow, SureMoment
from quizzes.records.errors import LOG, NoSuchSitting
from quizzes.records.heads.merkle import leaf_hash

FIRST_SHA256 = "0" * 64  # what the first entry says of the one before it


class Entry(NamedTuple):
    """One entry as it is stored; `body` is canonical JSON."""

    seq: int
    sitting_id: str | None
    kind: str
    slot: int | None
    step: int | None
    at: datetime
    body: str
    outcome: str | None
    supersedes: int | None
    previous_sha256: str
    sha256: str


_AT = type_coerce(EntryRow.at, SureMoment).label("at")
ENTRIES = select(
    *(_AT if name == "at" else getattr(EntryRow, name) for name in Entry._fields)
).order_by(EntryRow.seq)


def entry_bytes(entry: Any) -> bytes:  # noqa: ANN401 - an Entry, or a row with its columns
    """Return the bytes of an entry that are hashed: RFC 8785 of all that it states.

    Notes
    -----
    The body is canonical already and stands in its place, so nothing is spelt twice.
    """
    return (
        f'{{"at":"{_iso(entry.at)}","body":{entry.body},"kind":"{entry.kind}",'
        f'"previous":"{entry.previous_sha256}","seq":{entry.seq},'
        f'"sitting":{_quoted(entry.sitting_id)},"slot":{_number(entry.slot)},'
        f'"step":{_number(entry.step)},"supersedes":{_number(entry.supersedes)}}}'
    ).encode()


def entry_sha256(entry: Any) -> str:  # noqa: ANN401 - as above
    """Return the hash of an entry: that of a leaf of the tree under the ledger's heads.

    Source: RFC 9162 (2021), section 2.1, with SHA-256.
    """
    return leaf_hash(entry_bytes(entry)).hex()


_COLUMNS = ", ".join(Entry._fields)
_LOCK = "SELECT ledger_id FROM record_store WHERE id = 1 FOR UPDATE"
# With the tail: whether the sitting or the case is closed, and the last step; one statement, since
# on a server each costs a journey. Each part finds its row in the index that it may take: a server
# keeps to the plan that it made while the ledger was short.
_ENDS = (
    "SELECT seq, sha256, coalesce("
    "(SELECT kind FROM entry WHERE sitting_id = ? AND slot IS NULL AND step IS NULL"
    " AND kind = 'outcome' LIMIT 1),"
    " (SELECT kind FROM entry WHERE sitting_id = ? AND slot = ? AND step IS NULL"
    " AND kind = 'grade' LIMIT 1)),"
    " (SELECT step FROM entry WHERE sitting_id = ? AND slot = ? AND step IS NOT NULL"
    " ORDER BY step DESC LIMIT 1)"
    " FROM entry ORDER BY seq DESC LIMIT 1"
)
_INSERT = f"INSERT INTO entry ({_COLUMNS}) VALUES ({', '.join('?' * len(Entry._fields))})"  # noqa: S608
# On a server an append runs these by name: to plan them again each time took as long as the disk.
_FOLLOW = (  # the same, if the entry before it is the last one still
    f"INSERT INTO entry ({_COLUMNS}) SELECT {', '.join('?' * len(Entry._fields))}"  # noqa: S608
    " FROM (SELECT seq, sha256 FROM entry ORDER BY seq DESC LIMIT 1) AS tail"
    " WHERE tail.seq = ? AND tail.sha256 = ?"
)
_PREPARED = {
    "gal_lock": _LOCK, "gal_ends": _ENDS, "gal_insert": _INSERT, "gal_follow": _FOLLOW,
}  # fmt: skip
_BY_INDEX = "SET LOCAL enable_seqscan = off; SET LOCAL enable_sort = off"
_BEGIN = f"BEGIN; {_BY_INDEX}; EXECUTE gal_lock; EXECUTE gal_ends(?, ?, ?, ?, ?)"
_ADD = f"EXECUTE gal_insert({', '.join('?' * len(Entry._fields))})"


_FOLLOWS = f"EXECUTE gal_follow({', '.join('?' * (len(Entry._fields) + 2))})"


def followed(cursor: Any, entries: Sequence[Entry]) -> bool:  # noqa: ANN401 - of the driver
    """Add entries on a server in one journey if nobody else has added any; all of them, or none.

    Parameters
    ----------
    cursor : Any
        Of a connection that was prepared, outside any transaction.
    entries : sequence of Entry
        Each follows the one before it, the first one the last that the caller knows of.

    Returns
    -------
    bool
        False if another entry was the last: nothing was added then.
    """
    parts = [f"BEGIN; {_BY_INDEX}; EXECUTE gal_lock", *([_FOLLOWS] * len(entries)), "COMMIT"]
    values = [x for one in entries for x in (*one, one.seq - 1, one.previous_sha256)]
    cursor.execute("; ".join(parts).replace("?", "%s"), values)
    added = 0
    while cursor.nextset():
        added += cursor.rowcount if cursor.statusmessage.startswith("INSERT") else 0
    return added == len(entries)


def prepare(cursor: Any) -> None:  # noqa: ANN401 - of the driver
    """Have a server's connection, outside any transaction, plan once what every append asks."""
    for name, statement in _PREPARED.items():
        first, *rest = statement.split("?")
        spelt = first + "".join(f"${place}{part}" for place, part in enumerate(rest, start=1))
        cursor.execute(f"PREPARE {name} AS {spelt}")


class Writer:
    """Adds entries to the ledger within one transaction that holds its lock.

    Parameters
    ----------
    cursor : Any
        Of the driver, in a transaction that writes. SQLite has locked the whole store by then.
    dialect : Dialect
        Of the database.
    connection : Connection, optional
        The same transaction through SQLAlchemy, where more than appending is to be done.
    about : (str, int or None), optional
        Sitting and slot that will be added to; `closed` and `last_step` say how it stands.

    Notes
    -----
    An append waits for the disk, and everything before that adds to the wait: its statements go
    to the driver as they are. Through SQLAlchemy they took three times as long.
    """

    def __init__(
        self,
        cursor: Any,  # noqa: ANN401 - drivers share no type
        dialect: Dialect,
        connection: Connection | None = None,
        about: tuple[str, int | None] | None = None,
    ) -> None:
        self._connection = connection
        self._sqlite = dialect.name == "sqlite"
        self._dbapi = dialect.loaded_dbapi
        self._cursor = cursor
        self._later: list[tuple[object, ...]] = []
        sitting_id, slot = about or (None, None)
        asked = (sitting_id, sitting_id, slot, sitting_id, slot)
        self.together = not self._sqlite and connection is None
        if self._sqlite:
            last = self.rows(_ENDS, *asked)
        elif self.together:
            self._run(_BEGIN, asked)
            while self._cursor.nextset():  # the last of its answers
                pass
            last = list(self._cursor.fetchall())
        else:
            self.rows(_LOCK)
            last = self.rows(_ENDS, *asked)
        seq, sha256, closed, step = last[0] if last else (0, FIRST_SHA256, None, None)
        self._seq: int = seq
        self._sha256: str = sha256
        self.closed: str | None = closed  # what closed the case asked about: a grade, an outcome
        self.last_step: int | None = step  # of that case

    @property
    def connection(self) -> Connection:
        """The transaction through SQLAlchemy."""
        assert self._connection is not None
        return self._connection

    @property
    def tail(self) -> tuple[int, str]:
        """Place and hash of the last entry; those of none if the ledger is empty."""
        return self._seq, self._sha256

    def sha256_at(self, seq: int) -> str | None:
        """Return the hash of an entry; None if it is not there."""
        found = self.rows("SELECT sha256 FROM entry WHERE seq = ?", seq)
        return found[0][0] if found else None

    def has_sitting(self, sitting_id: str) -> None:
        """Raise `NoSuchSitting` unless there is such a sitting."""
        if not self.rows("SELECT 1 FROM sitting WHERE id = ?", sitting_id):
            raise no_such_sitting(sitting_id)

    def rows(self, statement: str, *parameters: object) -> list[Any]:
        """Return what a query answers; `?` stands for each parameter."""
        self._run(statement, parameters)
        return list(self._cursor.fetchall())

    def end(self) -> None:
        """Keep what was added in a transaction that was begun in one journey: end it in another."""
        statements = "; ".join([*([_ADD] * len(self._later)), "COMMIT"])
        self._run(statements, tuple(value for entry in self._later for value in entry))

    def _run(self, statement: str, parameters: tuple[object, ...]) -> None:
        spelt = statement if self._sqlite else statement.replace("?", "%s")
        try:
            self._cursor.execute(spelt, parameters)
        except self._dbapi.IntegrityError as error:
            raise IntegrityError("", None, error) from None
        except self._dbapi.Error as error:
            raise DBAPIError("", None, error) from None

    def add(
        self,
        kind: str,
        body: str,
        at: datetime,
        *,
        sitting_id: str | None = None,
        slot: int | None = None,
        step: int | None = None,
        outcome: str | None = None,
        supersedes: int | None = None,
    ) -> Entry:
        """Add one entry and return it.

        Parameters
        ----------
        kind : str
            What happened, in small letters.
        body : str
            Canonical JSON, from `canonical`.
        at : datetime
            UTC.
        sitting_id, slot, step, outcome, supersedes
            As the kind asks for.
        """
        facts = (kind, slot, step, at, body, outcome, supersedes)
        entry = sealed(Entry(self._seq + 1, sitting_id, *facts, self._sha256, ""))
        if self.together:
            self._later.append(entry)
        else:
            self._run(_INSERT, entry._replace(at=_stored(at)) if self._sqlite else entry)
        self._seq, self._sha256 = entry.seq, entry.sha256
        return entry


def sealed(bare: Entry) -> Entry:
    """Return an entry with its hash."""
    return bare._replace(sha256=entry_sha256(bare))


def _stored(at: datetime) -> Any:  # noqa: ANN401 - a text in the place of a moment
    """Return a moment as SQLAlchemy has SQLite keep it: UTC without its zone."""
    return at.replace(tzinfo=None).isoformat(" ", "microseconds")


def sitting_row(connection: Connection, sitting_id: str) -> str:
    """Return the id of a sitting that is there.

    Raises
    ------
    NoSuchSitting
        If there is none.
    """
    query = select(SittingRow.id).where(SittingRow.id == str(sitting_id))
    found = connection.execute(query).scalar_one_or_none()
    if found is None:
        raise no_such_sitting(sitting_id)
    return found


def no_such_sitting(sitting_id: str) -> NoSuchSitting:
    """Return the error that says so, after a line in the log."""
    message = f"The record store holds no sitting {sitting_id!s:.40}."
    LOG.warning("%s", message)
    return NoSuchSitting(message)


def _iso(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def _number(value: int | None) -> str:
    return "null" if value is None else str(value)


def _quoted(value: str | None) -> str:
    return "null" if value is None else f'"{value}"'
