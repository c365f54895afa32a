"""A store backed up while people work, put back, filled with people, and names erased."""

import csv
import json
import sqlite3
import threading
from datetime import UTC, datetime, timedelta

import pytest

from quizzes.__main__ import main
from quizzes.records import Records, RecordsError, Start, create
from quizzes.records.auditing.audit import audited
from quizzes.records.auditing.signing import sign_head
from quizzes.records.heads.keeping import HEADS
from quizzes.records.keeping.copying import backed_up, put_back
from quizzes.records.keeping.people import PeopleFileError, last_seen, past_keeping, people_in

NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)


def start(name="Ada Loft", at=NOON):
    return Start(name, "form", "1", "test", "0" * 64, "0.1", "1", at)


@pytest.fixture
def file(tmp_path, monkeypatch):
    """The file of a store with one sitting of two events, its head signed."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))
    path = tmp_path / "records.sqlite"
    create(f"sqlite:///{path}")
    with Records(f"sqlite:///{path}") as store:
        sitting = store.begin_sitting(start())
        store.append_all(sitting.id, 0, 0, [({}, {}, NOON)] * 2)
        sign_head(store, NOON)
    return path


def url(path):
    return f"sqlite:///{path}"


def lines(path):
    with Records(url(path)) as store:
        return store.ledger()


def test_a_backup_made_while_people_work_is_whole(file, tmp_path):
    """It opens like a store, holds what stood at one moment, and lies in one file."""
    with Records(url(file)) as store:
        sitting = store.begin_sitting(start("Bo Quern"))
        stop, done = threading.Event(), []

        def work():
            while not stop.is_set():
                store.append(sitting.id, 0, len(done), {"n": len(done)}, {}, NOON)
                done.append(1)

        writer = threading.Thread(target=work)
        writer.start()
        try:
            entries = backed_up(url(file), tmp_path / "copy.sqlite")
        finally:
            stop.set()
            writer.join()
        ledger_id, all_of_it = store.ledger()
    with Records(url(tmp_path / "copy.sqlite")) as copy:
        found, (same_id, copied) = audited(copy), copy.ledger()

    assert found.check.sound
    assert (same_id, copied) == (ledger_id, all_of_it[:entries])
    assert not list(tmp_path.glob("*copy.sqlite?*"))
    with pytest.raises(RecordsError, match="no backup is overwritten"):
        backed_up(url(file), tmp_path / "copy.sqlite")


def test_a_store_put_back_goes_on_and_says_what_was_lost(file, tmp_path, capsys):
    """Entries after the backup are gone; the heads that speak of them are named, not hidden."""
    backed_up(url(file), tmp_path / "copy.sqlite")
    with Records(url(file)) as store:
        store.begin_sitting(start("Cy Marl"))
        lost = sign_head(store, NOON + timedelta(hours=1))
    new = tmp_path / "new.sqlite"
    code = main(["restore", str(tmp_path / "copy.sqlite"), "--records", url(new)])
    said = capsys.readouterr().out
    with Records(url(new)) as store:
        found, ledger = audited(store), store.ledger()[1]
        again = sign_head(store, NOON + timedelta(hours=2))

    assert code == 0
    assert "lost" in said
    assert found.sound
    assert lost.head.code.encode() in ledger[-2]  # the entry before the head that was signed then
    assert again is not None
    assert (tmp_path / "keys" / "heads.lost.1.jsonl").is_file()
    assert lost.head.code not in (tmp_path / "keys" / HEADS).read_text()


def newer(path):
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.close()


def bomb(path):
    """Make a column that holds nothing and unpacks to a gigabyte in each row."""
    with sqlite3.connect(path) as connection:
        connection.execute("DROP TABLE photograph")
        connection.execute(
            "CREATE TABLE photograph (person_id TEXT, sha256 TEXT, content BLOB"
            " GENERATED ALWAYS AS (zeroblob(900000000)) VIRTUAL, PRIMARY KEY (person_id, sha256))"
        )
        connection.execute("INSERT INTO photograph (person_id, sha256) VALUES ('x', 'x')")
    connection.close()


def endless(path):
    """Put a view without end in the place of a table."""
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute("DROP TABLE person")
        connection.execute(
            "CREATE VIEW person AS WITH RECURSIVE x(n) AS (SELECT 1 UNION ALL SELECT n FROM x)"
            " SELECT n AS id, n AS salt, n AS display_name, n AS number, n AS same_as,"
            " n AS sought_as FROM x"
        )
    connection.close()


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (bomb, "holds a value that is too large for a record store"),
        (endless, "lacks tables"),
        (lambda path: path.write_bytes(path.read_bytes()[:30_000]), "The backup .* is damaged"),
        (newer, "is of version '9999'"),
        (lambda path: path.write_bytes(b"no database"), "is not a database"),
        (lambda path: path.unlink(), "There is no backup"),
    ],
)
def test_a_backup_that_cannot_be_used_leaves_nothing_half_done(file, tmp_path, spoil, words):
    """One sentence, and no file where the store was to be."""
    backup, target = tmp_path / "copy.sqlite", tmp_path / "new.sqlite"
    backed_up(url(file), backup)
    spoil(backup)
    with pytest.raises(RecordsError, match=words):
        put_back(backup, url(target))

    assert not target.exists()


def test_no_backup_is_put_over_a_store_that_holds_something(file, tmp_path):
    """Neither over the same nor over another one."""
    backed_up(url(file), tmp_path / "copy.sqlite")
    before = lines(file)
    with pytest.raises(RecordsError, match="is another store, with"):
        put_back(tmp_path / "copy.sqlite", url(file))

    assert lines(file) == before


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("surname\nLoft\n", "line 1: expected the heads"),
        ("name,number\nAda,1\n,2\n", "line 3: name must be"),
        ("name,number\n=cmd(),1\n", "line 2: a name or number must not begin with"),
        ("name,number\nAda,1,9\n", "line 2: more cells than heads"),
        ("name,number\n", "names nobody"),
        ('name,number\n"Ada,1\n', "unexpected end"),
    ],
)
def test_a_bad_table_of_people_is_refused_whole(file, tmp_path, text, words):
    """File, line and what was expected; nobody is kept."""
    (tmp_path / "people.csv").write_text(text, encoding="utf-8")
    with pytest.raises(PeopleFileError, match=words):
        people_in(tmp_path / "people.csv")


def test_people_are_taken_once_listed_and_erased_when_their_time_is_past(file, tmp_path, capsys):
    """One row a person whatever the spelling; the ledger holds without the name."""
    table = tmp_path / "people.csv"
    table.write_text("name,number\nBo Quern,7\nADA  loft,\nBo Quern,7\n", encoding="utf-8")
    asked = ["--records", url(file)]
    code = main(["import", str(table), *asked])
    said = capsys.readouterr().out
    careless = main(["people", "--erase", *asked])
    main(["people", "--idle-months", "1", "--erase", *asked])  # Ada sat on a day long past
    capsys.readouterr()
    with Records(url(file)) as store:
        left, found = store.persons(), audited(store)
        past = past_keeping(last_seen(store), 1, NOON + timedelta(days=365))

    assert (code, careless) == (0, 2)
    assert "2 people in" in said
    assert "1 new" in said
    assert "Bo Quern" in [one.name for one in left]
    assert found.sound
    assert all(one.person.name != "Bo Quern" for one in past)  # who never sat is nobody's past


def table_of(path):
    return list(csv.reader(path.read_text(encoding="utf-8-sig").splitlines()))


def test_everything_leaves_in_open_formats_with_a_code_book(file, tmp_path, capsys):
    """Each column of each table is explained, and the ledger's lines hash to its head."""
    folder = tmp_path / "all"
    code = main(["export", "--to", str(folder), "--records", url(file)])
    again = main(["export", "--to", str(folder), "--records", url(file)])
    explained = {tuple(row[:2]) for row in table_of(folder / "code_book.csv")}
    heads = {
        (path.name, column)
        for path in folder.glob("*.csv")
        if path.name != "code_book.csv"
        for column in table_of(path)[0]
    }
    head = json.loads((folder / HEADS).read_text().splitlines()[-1])

    assert (code, again) == (0, 2)
    assert heads <= explained
    assert len((folder / "ledger.jsonl").read_bytes().splitlines()) == head["size"] + 1
    assert (folder / "unreadable.txt").is_file()  # this test's sitting keeps no form
    assert "is there already" in capsys.readouterr().err
