"""Durable appends: the store beside the raw driver with the same settings, in turn.

Run by hand: `PYTHONPATH=. python tests/benchmarks/bench_appends.py [folder] [postgresql+psycopg://...]`.
Each append is one transaction that is on the disk before the next one begins. The aim is half of
the raw rate. Rounds take turns, since a disk's speed wanders; their least and median are printed.
"""

import json
import sqlite3
import sys
import tempfile
import uuid
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from statistics import median
from time import perf_counter

import psycopg
from sqlalchemy.engine import make_url

from quizzes.records import Records, Start, create

N, ROUNDS = 100, 15
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
ACTION = {"kind": "measure_gap", "angle_deg": 90.0, "leaves_mm": [0.2, 0.15]}
OBSERVATION = {"done": True, "code": "leaf_goes", "facts": {"stack_mm": 0.35, "feel": "drags"}}
BODY = json.dumps({"action": ACTION, "observation": OBSERVATION})


def raw_sqlite(folder: Path) -> Callable[[], None]:
    """Return what appends one row with the same bytes by the plain driver."""
    connection = sqlite3.connect(folder / "raw.sqlite", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE entry (seq INTEGER PRIMARY KEY, body TEXT)")

    def append() -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO entry (body) VALUES (?)", (BODY,))
        connection.execute("COMMIT")

    return append


def raw_postgresql(server: str, schema: str) -> Callable[[], None]:
    """Return the same for a server, in a schema beside the store's; both are made here."""
    url = make_url(server).set(drivername="postgresql")
    connection = psycopg.connect(url.render_as_string(hide_password=False))
    connection.execute(f"CREATE SCHEMA {schema}")
    connection.execute(f"CREATE SCHEMA {schema}_raw")
    connection.execute(f"CREATE TABLE {schema}_raw.raw (seq serial PRIMARY KEY, body TEXT)")
    connection.commit()

    def append() -> None:
        connection.execute(f"INSERT INTO {schema}_raw.raw (body) VALUES (%s)", (BODY,))
        connection.commit()

    return append


def ours(url: str) -> Callable[[], None]:
    """Return what appends an act to a new store."""
    create(url)
    store = Records(url)
    sitting = store.begin_sitting(Start("Ada", "form", "1", "test", "0" * 64, "0", "1", NOON))
    steps = iter(range(10**9))
    return lambda: store.append(sitting.id, 0, next(steps), ACTION, OBSERVATION, NOON)


def compared(named: str, raw: Callable[[], None], store: Callable[[], None]) -> None:
    """Print both rates, and the store's as a share of the raw one."""
    spent: dict[Callable[[], None], list[float]] = {raw: [], store: []}
    for _ in range(ROUNDS):
        for append, rounds in spent.items():
            began = perf_counter()
            for _ in range(N):
                append()
            rounds.append((perf_counter() - began) / N)
    for words, of in (("fastest round", min), ("median", median)):
        one, two = of(spent[raw]), of(spent[store])
        print(f"{named}, {words}: raw {1 / one:6.0f}/s   store {1 / two:6.0f}/s   {one / two:4.0%}")


def main() -> None:
    """Compare on SQLite, and on PostgreSQL if an address is given."""
    servers = [word for word in sys.argv[1:] if word.startswith("postgresql")]
    folders = [word for word in sys.argv[1:] if word not in servers]
    with tempfile.TemporaryDirectory(dir=folders[0] if folders else None) as name:
        folder = Path(name)
        compared("SQLite", raw_sqlite(folder), ours(f"sqlite:///{folder / 'ours.sqlite'}"))
    for server in servers:
        schema = f"bench_{uuid.uuid4().hex}"
        raw = raw_postgresql(server, schema)
        path = {"options": f"-csearch_path={schema}"}
        url = make_url(server).update_query_dict(path).render_as_string(hide_password=False)
        compared("PostgreSQL", raw, ours(url))


if __name__ == "__main__":
    main()
