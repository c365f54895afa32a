"""Everything that a store holds, in open formats: tables, a file a sitting, the ledger itself."""

import datetime as dt
import json
import shutil
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from quizzes.records import Records, RecordsError
from quizzes.records.decisions.acts import AnyAct, Circumstances, Decision, Issued
from quizzes.records.decisions.practical import Practical
from quizzes.records.decisions.state import Stage
from quizzes.records.exports.competency_table import COLUMNS as RECORD_COLUMNS
from quizzes.records.exports.table import csv_bytes
from quizzes.records.heads.keeping import HEADS
from quizzes.records.keys.keeping import PUBLIC, default_folder
from quizzes.sittings.decided.handing import (
    all_rows,
    learning_statements,
    records_table,
)
from quizzes.sittings.decided.observations import COLUMNS as OBSERVATIONS
from quizzes.sittings.decided.observations import observations_table
from quizzes.sittings.export import exported
from quizzes.sittings.export_signature import signed_export
from quizzes.sittings.standing import Standings

PEOPLE = {
    "person": "pseudonym, a UUID",
    "name": "as typed; people whose name was erased are not listed",
    "number": "staff or class number as typed; may be empty",
}
SITTINGS = {
    "sitting": "UUID of the sitting",
    "person": "pseudonym of the candidate",
    "name": "of the candidate; empty once erased",
    "form": "form that was sat",
    "form_edition": "its edition and the mark of the limits sheet",
    "place": "web, lab, binder or test; only web is an assessment of a person",
    "started": "moment, UTC",
    "finished": "moment, UTC; empty if it was not finished",
    "graded": "outcome that the grading proposes; not to be trusted where the record was changed",
    "decided": (
        "what a person decided and what stands; empty if nobody has, or nothing counts; it says so "
        "where no signed head vouches for the decision"
    ),
    "stage": "what the sitting waits for",
    "trouble": "what does not hold; empty if all of it holds",
}
ACTS = {
    "sitting": "UUID of the sitting",
    "entry": "place in the ledger, from 1",
    "at": "moment, UTC",
    "kind": (
        "decision, appeal, ruling, withdrawal, circumstances, practical, credential, or waiver of "
        "the wait before the next attempt"
    ),
    "person": "pseudonym of who did it; empty for a credential",
    "role": "in what role",
    "what": "verdict, or whether an appeal was upheld, or the record's UUID",
    "counts": "yes; no where no signed head vouches for it, so that it counts for nothing",
    "why": "reasons, grounds, or what was stated",
}
FILES = {
    "people.csv": PEOPLE,
    "sittings.csv": SITTINGS,
    "acts.csv": ACTS,
    "observations.csv": OBSERVATIONS,
    "records.csv": RECORD_COLUMNS,
}
OTHERS = {
    "ledger.jsonl": (
        "every entry as it is hashed, one a line (RFC 8785): hash a zero byte and the line with "
        "SHA-256 for the leaf of the tree (RFC 9162)"
    ),
    "learning.json": "every sitting as learning statements (xAPI 1.0.3)",
    "sittings/ID.json": "a sitting whole, signed; `python -m quizzes replay` grades it again",
    "photographs/DIGEST": (
        "a photograph of an observed practical as it was handed in, under its SHA-256; those that "
        "are gone or were changed are left out"
    ),
    "heads.jsonl": "heads of the ledger as this organisation signed them",
    "issuers.json": "this organisation's public keys",
    "unreadable.txt": "sittings that could not be exported, and why; missing if there are none",
}


def sittings_table(store: Records) -> bytes:
    """Return every sitting but practice as a CSV file, newest first."""
    standings, acts = Standings(store), store.acts_of_all()
    rows = []
    for row in all_rows(store):
        standing, state = standings.of(row), standings.state(acts.get(row.sitting_id, ()))
        rows.append(
            (
                row.sitting_id,
                row.person_id,
                row.name,
                row.form_id,
                row.form_edition,
                row.place,
                row.started_at,
                row.finished_at,
                standing.word,
                standings.decided(state, standing) or None,
                state.stage.value,
                standing.trouble,
            )
        )
    return csv_bytes(tuple(SITTINGS), rows)


def awaiting_second(store: Records) -> int:
    """Return how many sittings wait for a second assessor or observer, who must not know the first.

    Their files tell what the first decided or marked.
    """
    standings = Standings(store)
    states = [standings.state(acts) for acts in store.acts_of_all().values()]
    return sum(one.stage is Stage.SECOND or one.observers.awaited for one in states)


def acts_table(store: Records) -> bytes:
    """Return all that people decided as a CSV file, by sitting, in order."""
    return csv_bytes(tuple(ACTS), _acts(store))


def _acts(store: Records) -> Iterable[tuple[str | int | dt.datetime | None, ...]]:
    audit = Standings(store).audit
    for sitting, several in sorted(store.acts_of_all().items()):
        for one in several:
            counts = "yes" if audit.was_signed(one.seq, one.at) else "no"
            who, role, what, why = _told(one.act)
            yield sitting, one.seq, one.at, one.kind.value, who, role, what, counts, why


def _told(act: AnyAct) -> tuple[str | None, str | None, str | None, str | None]:
    """Return who did it, in what role, what and why."""
    if isinstance(act, Decision):
        return act.person_id, act.role, act.verdict.value, act.reasons
    if isinstance(act, Circumstances):
        told = "; ".join(f"{name}: {words}" for name, words in act.facts.items())
        return act.person_id, None, None, told
    if isinstance(act, Practical):
        seen = "; ".join(f"{name}: {one.value}" for name, one in act.seen.items())
        return act.person_id, act.role, f"{act.size_name}, {act.hoist}", seen
    if isinstance(act, Issued):
        return None, None, act.record_id, None
    return act.person_id, act.role, str(act.upheld).lower(), act.words


def people_table(store: Records) -> bytes:
    """Return everybody whose name is kept as a CSV file."""
    return csv_bytes(tuple(PEOPLE), ((one.id, one.name, one.number) for one in store.persons()))


def code_book() -> bytes:
    """Return what each column of each table, and each other file, holds, as a CSV file."""
    rows = [(file, column, told) for file, book in FILES.items() for column, told in book.items()]
    rows += [(file, "", told) for file, told in OTHERS.items()]
    return csv_bytes(("file", "column", "what it holds"), rows)


def everything(store: Records, folder: Path, at: dt.datetime) -> int:
    """Write all of a store into a new folder, whole or not at all; return how many sittings.

    Raises
    ------
    ValueError
        If the folder is there already.
    OSError
        If it cannot be written.
    RecordsError
        If the store cannot be used.
    """
    if folder.exists():
        raise ValueError(f"{folder} is there already. Name a new folder.")
    draft = folder.with_name(f".{folder.name}.part")
    shutil.rmtree(draft, ignore_errors=True)
    try:
        (draft / "sittings").mkdir(parents=True)
        made: Mapping[str, Callable[[], bytes]] = {
            "people.csv": lambda: people_table(store),
            "sittings.csv": lambda: sittings_table(store),
            "acts.csv": lambda: acts_table(store),
            "observations.csv": lambda: observations_table(store),
            "records.csv": lambda: records_table(store),
            "learning.json": lambda: learning_statements(store),
            "ledger.jsonl": lambda: b"".join(one + b"\n" for one in store.ledger()[1]),
            "code_book.csv": code_book,
        }
        for name, content in made.items():
            (draft / name).write_bytes(content())
        for name in (HEADS, PUBLIC):
            if (default_folder() / name).is_file():
                shutil.copyfile(default_folder() / name, draft / name)
        _photographs(store, draft / "photographs")
        count = _sittings(store, draft, at)
        draft.replace(folder)
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return count


def _photographs(store: Records, folder: Path) -> None:
    folder.mkdir()
    for sitting, several in store.acts_of_all().items():
        person_id = store.sitting(sitting).person_id
        sheets = [one.act for one in several if isinstance(one.act, Practical)]
        for digest in {photo.sha256 for sheet in sheets for photo in sheet.photographs}:
            content = store.photograph(person_id, digest)  # whose digest is held against it
            if content is not None:
                (folder / digest).write_bytes(content)


def _sittings(store: Records, draft: Path, at: dt.datetime) -> int:
    audit, rows, troubles = Standings(store).audit, all_rows(store), []
    for row in rows:
        try:
            whole = signed_export(exported(store, row.sitting_id, audit), at)
        except RecordsError as error:
            troubles.append(f"{row.sitting_id}: {error}\n")
            continue
        text = json.dumps(whole, indent=1)
        (draft / "sittings" / f"{row.sitting_id}.json").write_text(text, encoding="utf-8")
    if troubles:
        (draft / "unreadable.txt").write_text("".join(troubles), encoding="utf-8")
    return len(rows) - len(troubles)
