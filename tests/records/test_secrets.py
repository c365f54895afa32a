"""The sitting's key seeds the hidden cases: it shows up nowhere but in the store and the kernel."""

import hashlib
import logging
from datetime import UTC, datetime

import pytest

from quizzes.records import Records, RecordsError, StaleSitting, Start, create

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
NAME = "Adalbert Loft"
OWNER = hashlib.sha256(b"a browser's key").hexdigest()


def spellings(key):
    """Return the key as hexadecimal, as Python shows bytes, and as a list of numbers."""
    return [key.hex(), key.hex().upper(), repr(key)[2:-1], ", ".join(map(str, key))]


@pytest.fixture
def url(tmp_path):
    address = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(address)
    return address


def begin(records):
    return records.begin_sitting(Start(NAME, "form", "1", "test", OWNER, "0.1", "1", NOON))


def test_no_text_about_a_sitting_holds_its_key(url):
    """Neither repr, str nor format of what comes out of the store, nor of the store itself."""
    with Records(url) as records:
        sitting = begin(records)
        code = sitting.return_code
        records.append(sitting.id, 0, 0, {}, {}, NOON)
        grade = records.finish_case(sitting.id, 0, {}, NOON)
        outcome = records.finish_sitting(sitting.id, {"outcome": "competent"}, NOON)
        things = [
            sitting,
            records.sitting(sitting.id),
            records.by_return_code(code),
            records,
            records.events(sitting.id, 0),
            records.verify(sitting.id),
            records.results(),
            grade,
            outcome,
        ]

    for thing in things:
        for secret in [*spellings(sitting.key), code, OWNER]:
            assert secret not in f"{thing!r} {thing!s} {thing}"


def test_no_log_line_holds_a_secret(url, caplog):
    """With SQLAlchemy's log turned up to everything, it shows neither parameter nor row."""
    caplog.set_level(logging.DEBUG)
    caplog.set_level(logging.DEBUG, logger="sqlalchemy")
    with Records(url) as records:
        sitting = begin(records)
        records.append(sitting.id, 0, 0, {}, {}, NOON)
        with pytest.raises(StaleSitting):
            records.append(sitting.id, 0, 0, {}, {}, NOON)
        records.results()
        records.by_return_code("2222-2222-2222")

    assert "opens no sitting" in caplog.text
    assert "Pool" in caplog.text  # SQLAlchemy does log
    for secret in [*spellings(sitting.key), sitting.return_code, OWNER, NAME, "2222-2222-2222"]:
        assert secret not in caplog.text


def test_no_exception_holds_the_key(url, monkeypatch):
    """A database that refuses the very row with the key in it repeats nothing of it.

    Followed along causes and contexts, as a traceback or a crash report would.
    """
    key = bytes(range(1, 33))
    monkeypatch.setattr("secrets.token_bytes", lambda _: key)
    monkeypatch.setattr("quizzes.records.writing.new_return_code", lambda: "AAAA-AAAA-AAAA")
    with Records(url) as records:
        begin(records)
        with pytest.raises(RecordsError) as caught:
            begin(records)  # the code is unique, so the row is refused

    texts, error = [], caught.value
    while error is not None:
        texts.append(f"{error!s} {error!r}")
        error = error.__cause__ or error.__context__
    assert len(texts) > 1
    for secret in [*spellings(key), "AAAA-AAAA-AAAA", OWNER]:
        assert secret not in " ".join(texts)


@pytest.mark.parametrize("owner", ["", "the browser's key", "A" * 64, "0" * 63, None])
def test_a_key_given_for_its_hash_is_refused_unrepeated(owner):
    """Whoever passes the browser's key itself does not find it in the message."""
    with pytest.raises(ValueError, match="owner must be a SHA-256") as caught:
        Start("Ada", "form", "1", "test", owner, "0.1", "1", NOON)

    assert not owner or owner not in str(caught.value)


def test_an_erased_name_leaves_no_bytes_in_the_file(url, tmp_path):
    """Once the last page has closed the store, neither the file nor one beside it holds it."""
    with Records(url) as records:
        sitting = begin(records)
    held = b"".join(file.read_bytes() for file in tmp_path.iterdir())
    with Records(url) as records:
        records.erase_name(sitting.person_id)
    left = b"".join(file.read_bytes() for file in tmp_path.iterdir())

    for name in (NAME.encode(), NAME.casefold().encode()):
        assert name in held
        assert name not in left
