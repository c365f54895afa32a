"""Bytes of a store's file spoilt at random: found, or harmless, and never a traceback."""

import random
from datetime import UTC, datetime

import pytest

from quizzes.records import Records, RecordsError, Start, create
from quizzes.records.auditing.audit import audited

NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)
PLACES = 50


@pytest.fixture(scope="module")
def good(tmp_path_factory):
    """A store's file with five sittings, and its ledger."""
    path = tmp_path_factory.mktemp("good") / "records.sqlite"
    create(f"sqlite:///{path}")
    with Records(f"sqlite:///{path}") as store:
        for number in range(5):
            sitting = store.begin_sitting(
                Start(f"Person {number}", "form", "1", "test", "0" * 64, "0", "1", NOON)
            )
            line = ({"kind": "look", "at": "springs"}, {"code": "looked"}, NOON)
            store.append_all(sitting.id, 0, 0, [line] * 20)
            store.finish_sitting(sitting.id, {"outcome": "competent"}, NOON)
        ledger, persons = store.ledger(), store.persons()
    return path.read_bytes(), ledger, persons


def looked_at(path):
    """Return ledger and names if the store is found sound, None if a fault is found."""
    try:
        with Records(f"sqlite:///{path}") as store:
            return (store.ledger(), store.persons()) if audited(store).sound else None
    except RecordsError as error:
        return None if str(error).startswith("The record store") else error


def test_bytes_spoilt_at_50_places_are_found_or_harmless(good, tmp_path):
    """Whatever place is hit: a sentence, a broken entry, or the same ledger and names as before."""
    content, ledger, persons = good
    dice, path = random.Random("50 places"), tmp_path / "records.sqlite"
    found = []
    for _ in range(PLACES):
        spoilt = bytearray(content)
        spoilt[dice.randrange(len(content))] ^= dice.randrange(1, 256)
        path.write_bytes(spoilt)
        found.append(looked_at(path))
        for end in ("-wal", "-shm"):
            path.with_name(path.name + end).unlink(missing_ok=True)

    assert all(one in (None, (ledger, persons)) for one in found)
    assert found.count(None) > 0
