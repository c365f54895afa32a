"""Files that leave the house, for the page and the command: one name, one media type, its bytes."""

import datetime as dt
import json
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from quizzes.records import Records, RecordsError, default_url
from quizzes.records.exports.competency_table import code_book_csv
from quizzes.records.exports.due import due_calendar, due_csv
from quizzes.records.keys.errors import KeyFileError
from quizzes.sittings.decided.handing import due_list, learning_statements, records_table
from quizzes.sittings.decided.issuing import handed_out, withdrawals

File = tuple[str, str, bytes]
JSON, CSV, PDF = "application/json", "text/csv", "application/pdf"
# What concerns the whole store, with what each is called.
OF_ALL = {
    "records": "competency records, one row for each element (CSV)",
    "code-book": "what the columns of that table hold (CSV)",
    "learning": "learning statements (xAPI, JSON)",
    "due": "who is due and when (CSV)",
    "calendar": "who is due and when (calendar)",
    "status": "signed list of withdrawals (JSON)",
}


def file_of_one(
    store: Records, what: str, sitting_id: str, at: dt.datetime, paper: str = "A4"
) -> File:
    """Return a file about one decided sitting.

    Raises
    ------
    ValueError
        If it has no record, or nothing is awarded by it.
    KeyFileError, RecordsError
        If the house's key or the store cannot be used.
    """
    made = handed_out(store, sitting_id, at)
    name = f"record {made.record.decided_at:%Y-%m-%d} {made.record.id[:8]}"
    if what == "pdf":
        # Late: slow to import, and few pages print.
        from quizzes.desks.printing.competency import competency_pdf  # noqa: PLC0415

        printed = competency_pdf(
            made.record,
            made.issuer,
            paper,
            at.date(),
            credential=made.credential,
            pointer=made.pointer,
        )
        return f"{name} {paper}.pdf", PDF, printed
    if made.credential is None:
        raise ValueError("This decision awards nothing, so there is no signed record of it.")
    return f"{name}.json", JSON, json.dumps(made.credential, indent=1, ensure_ascii=False).encode()


def file_of_all(store: Records, what: str, at: dt.datetime) -> File:
    """Return a file about the whole store; raises as `file_of_one`."""
    day = f"{at:%Y-%m-%d}"
    made: Mapping[str, Callable[[], File]] = {
        "records": lambda: (f"records {day}.csv", CSV, records_table(store)),
        "code-book": lambda: ("records code book.csv", CSV, code_book_csv()),
        "learning": lambda: (f"learning {day}.json", JSON, learning_statements(store)),
        "due": lambda: (f"due {day}.csv", CSV, due_csv(due_list(store, at.date()))),
        "calendar": lambda: (
            f"due {day}.ics",
            "text/calendar",
            due_calendar(due_list(store, at.date()), at),
        ),
        "status": lambda: (
            f"status {day}.json",
            JSON,
            json.dumps(withdrawals(store, at), indent=1).encode(),
        ),
    }
    return made[what]()


def hand_out_command(asked: Mapping[str, Any]) -> int:
    """Write a file that leaves the house; return the exit code.

    Parameters
    ----------
    asked : mapping
        `what`, `to` (path), `sitting`, `paper`, `records`.

    Returns
    -------
    int
        0 written, 2 refused.
    """
    at = dt.datetime.now(dt.UTC)
    try:
        with Records(asked["records"] or default_url()) as store:
            _, _, content = _wished(store, asked, at)
        Path(asked["to"]).write_bytes(content)
    except (RecordsError, KeyFileError, ValueError) as error:
        sys.stderr.write(f"{error}\n")
        return 2
    except OSError as error:
        sys.stderr.write(f"{asked['to']} cannot be written: {error.strerror}.\n")
        return 2
    sys.stdout.write(f"Written: {asked['to']}, {len(content)} bytes\n")
    return 0


def _wished(store: Records, asked: Mapping[str, Any], at: dt.datetime) -> File:
    if asked["what"] in OF_ALL:
        return file_of_all(store, asked["what"], at)
    if not asked["sitting"]:
        raise ValueError(f"{asked['what']} is for one sitting: name it with --sitting ID.")
    return file_of_one(store, asked["what"], asked["sitting"], at, asked["paper"])
