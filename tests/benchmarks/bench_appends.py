"""Durable appends a second: the store beside raw sqlite3 with the same settings.

Run by hand: `PYTHONPATH=. python tests/benchmarks/bench_appends.py [folder]`. Each append is one
transaction that is on the disk before the next one begins. The aim is half of the raw rate.
"""

import json
import sqlite3
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from time import perf_counter

from quizzes.records import Records, Start, create

N = 2_000
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
ACTION = {"kind": "measure_gap", "angle_deg": 90.0, "leaves_mm": [0.2, 0.15]}
OBSERVATION = {"done": True, "code": "leaf_goes", "facts": {"stack_mm": 0.35, "feel": "drags"}}


def raw(folder: Path) -> float:
    """Return appends a second of the plain driver: one row with the same bytes each."""
    connection = sqlite3.connect(folder / "raw.sqlite", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE entry (seq INTEGER PRIMARY KEY, body TEXT)")
    body = json.dumps({"action": ACTION, "observation": OBSERVATION})
    began = perf_counter()
    for _ in range(N):
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO entry (body) VALUES (?)", (body,))
        connection.execute("COMMIT")
    return N / (perf_counter() - began)


def ours(folder: Path) -> float:
    """Return appends a second of the store."""
    url = f"sqlite:///{folder / 'ours.sqlite'}"
    create(url)
    with Records(url) as store:
        sitting = store.begin_sitting(Start("Ada", "form", "1", "test", "0" * 64, "0", "1", NOON))
        began = perf_counter()
        for step in range(N):
            store.append(sitting.id, 0, step, ACTION, OBSERVATION, NOON)
        return N / (perf_counter() - began)


def main() -> None:
    """Print both rates, three times in turn, since a disk's speed wanders."""
    for _ in range(3):
        with tempfile.TemporaryDirectory(dir=sys.argv[1] if len(sys.argv) > 1 else None) as name:
            plain, store = raw(Path(name)), ours(Path(name))
            print(f"raw {plain:6.0f}/s   store {store:6.0f}/s   {store / plain:4.0%}")


if __name__ == "__main__":
    main()
