"""A store bent by whoever holds its file and has read our source."""

import sqlite3
from datetime import UTC, datetime

from quizzes.records import Records, Start
from quizzes.records.auditing.audit import audited
from quizzes.records.auditing.signing import sign_head
from quizzes.records.chain import Entry, entry_sha256

NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)
OWNER = "0" * 64


def bend(path, *statements, remake=True):
    """Drop every trigger, run statements; if asked remake chain and triggers, to look whole."""
    with sqlite3.connect(path) as connection:
        triggers = connection.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            connection.execute(statement)
        if remake:
            remade(connection)
            for _, sql in triggers:
                connection.execute(sql)
    connection.close()


def remade(connection):
    """Number and hash every entry again, as a forger who has read our source would."""
    columns = ", ".join(Entry._fields)
    rows = connection.execute(f"SELECT {columns} FROM entry ORDER BY seq").fetchall()
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("DELETE FROM entry")
    before = "0" * 64
    for seq, row in enumerate(rows, start=1):
        entry = Entry(*row)
        moment = datetime.fromisoformat(row[5]).replace(tzinfo=UTC)
        entry = entry._replace(seq=seq, at=moment, previous_sha256=before)
        entry = entry._replace(sha256=entry_sha256(entry))
        before = entry.sha256
        marks = ", ".join("?" * len(entry))
        connection.execute(
            f"INSERT INTO entry ({columns}) VALUES ({marks})", entry._replace(at=row[5])
        )


def sat(store, name, at):
    """Let somebody sit one case, badly, and sign the head as the end of a sitting does."""
    sitting = store.begin_sitting(Start(name, "form", "1", "test", OWNER, "0.1", "1", at))
    for step in range(3):
        store.append(sitting.id, 0, step, {"step": step}, {"seen": step}, at)
    store.finish_case(sitting.id, 0, {"standing": "unsafe"}, at)
    kept = store.finish_sitting(sitting.id, {"outcome": "not yet competent"}, at)
    return sitting.id, sign_head(store, at, kept.position)


def looked_at(path, brought=(), **more):
    """Return the audit of a store's file."""
    with Records(f"sqlite:///{path}") as store:
        return audited(store, brought, **more)
