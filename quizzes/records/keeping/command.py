"""The commands that keep a store: backup, restore, import, people, erase."""

import datetime as dt
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from quizzes.records.auditing.audit import audited
from quizzes.records.database.opening import default_url
from quizzes.records.errors import RecordsError
from quizzes.records.exports.table import csv_bytes
from quizzes.records.keeping.copying import backed_up, put_back
from quizzes.records.keeping.people import erased_for_good, last_seen, past_keeping, people_in, told
from quizzes.records.keeping.restoring import restored
from quizzes.records.writing import Records

DONE, BENT, REFUSED = 0, 1, 2
_ERASED = (
    "Erased: name, number, what was written about this person in free words, and photographs. "
    "The sittings stay under the pseudonym, and the ledger holds. "
    "Backups and exports made before still have all of it: destroy those too."
)


def keeping_command(asked: Mapping[str, Any]) -> int:
    """Do what one of these commands asks, and return the exit code: 0 done, 1 bent, 2 refused."""
    act: Mapping[str, Callable[[str, Mapping[str, Any]], int]] = {
        "backup": _backup,
        "restore": _restore,
        "import": _import,
        "people": _people,
        "erase": _erase,
    }
    try:
        return act[asked["command"]](asked["records"] or default_url(), asked)
    except (RecordsError, ValueError) as error:
        sys.stderr.write(f"{error}\n")
        return REFUSED


def _backup(url: str, asked: Mapping[str, Any]) -> int:
    file = Path(asked["to"])
    entries = backed_up(url, file)
    with Records(f"sqlite:///{file.absolute()}") as copy:
        found = audited(copy, contents=True)
    _say(f"Backed up: {entries} entries, head {found.head.code}, in {file}.")
    if not found.sound:
        _say("What was backed up does not hold: " + " ".join(found.sentences()[1:4]))
    return DONE if found.sound else BENT


def _restore(url: str, asked: Mapping[str, Any]) -> int:
    entries = put_back(Path(asked["backup"]), url)
    with Records(url) as store:
        lost = restored(store, dt.datetime.now(dt.UTC))
    _say(f"Restored: {entries} entries.")
    for sentence in lost:
        _say(sentence)
    return DONE


def _import(url: str, asked: Mapping[str, Any]) -> int:
    found = people_in(Path(asked["file"]))
    with Records(url) as store:
        new = store.people(found, dt.datetime.now(dt.UTC))
    many = "1 person" if len(found) == 1 else f"{len(found)} people"
    _say(f"{many} in {asked['file']}, {new} new.")
    return DONE


def _people(url: str, asked: Mapping[str, Any]) -> int:
    if asked["erase"] and asked["idle_months"] is None:
        raise ValueError("--erase needs --idle-months: nobody should erase everybody by mistake.")
    with Records(url) as store:
        rows = last_seen(store)
        if asked["idle_months"] is not None:
            rows = past_keeping(rows, asked["idle_months"], dt.datetime.now(dt.UTC))
        if asked["erase"]:
            for one in rows:
                erased_for_good(store, one.person.id, dt.datetime.now(dt.UTC))
    heads = ("person", "name", "number", "last_sitting")
    table = csv_bytes(heads, [list(row.values()) for row in told(rows)])
    sys.stdout.write(table.decode("utf-8-sig").replace("\r\n", "\n"))
    if asked["erase"]:
        sys.stderr.write(f"{len(rows)} people erased. Backups and exports still hold them.\n")
    return DONE


def _erase(url: str, asked: Mapping[str, Any]) -> int:
    with Records(url) as store:
        erased_for_good(store, asked["person"], dt.datetime.now(dt.UTC))
    _say(_ERASED)
    return DONE


def _say(sentence: str) -> None:
    sys.stdout.write(f"{sentence}\n")
