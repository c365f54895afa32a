"""The commands that keep a store: backup, restore, import, people, erase."""

import csv
import datetime as dt
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from quizzes.records.auditing.audit import audited
from quizzes.records.database.opening import default_url
from quizzes.records.errors import RecordsError
from quizzes.records.keeping.copying import backed_up, put_back
from quizzes.records.keeping.people import last_seen, past_keeping, people_in, told
from quizzes.records.keeping.restoring import restored
from quizzes.records.writing import Records

DONE, BENT, REFUSED = 0, 1, 2
_ERASED = (
    "Erased: name, number and salt; the sittings stay under the pseudonym, and the ledger holds. "
    "Backups and exports made before still have the name: destroy those too."
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
        found = audited(copy)
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
    _say(f"{len(found)} people, {new} of them new.")
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
                store.erase_name(one.person.id)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(("person", "name", "number", "last_sitting"))
    out.writerows(list(row.values()) for row in told(rows))
    if asked["erase"]:
        sys.stderr.write(f"{len(rows)} names erased. Backups and exports still hold them.\n")
    return DONE


def _erase(url: str, asked: Mapping[str, Any]) -> int:
    with Records(url) as store:
        store.erase_name(asked["person"])
    _say(_ERASED)
    return DONE


def _say(sentence: str) -> None:
    sys.stdout.write(f"{sentence}\n")
