"""The command `verify`: a record checked on any machine, with the file and a public key."""

import datetime as dt
import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from quizzes.records.credentials.audit import EXIT_CODES, checked_file, told
from quizzes.records.credentials.verifying import Finding, Verified
from quizzes.records.keys.keeping import PUBLIC, default_folder
from quizzes.records.keys.trust import utc_text

_NO_KEY = (
    "No issuer was named. Give --issuer with the public key, or the list of issuers, that you got "
    "from the issuer itself and not along with the record."
)
_COMPARE = "What the signed record says; compare it with the paper or page you were shown:"


def verify_command(asked: Mapping[str, Any]) -> int:
    """Check a record's file, say what was found, and return the exit code.

    Parameters
    ----------
    asked : mapping
        `file`, `issuer` (list of files or identifiers), `status`, `on` (day or None), `json`.

    Returns
    -------
    int
        0 good, 1 tampered, 2 unreadable, 3 expired, 4 not yet valid, 5 withdrawn, 6 unknown
        issuer.
    """
    issuers = asked["issuer"] or _own()
    status = Path(asked["status"]) if asked["status"] else None
    found = checked_file(Path(asked["file"]), issuers, _moment(asked["on"]), status)
    lines = list(found.sentences)
    if not issuers and found.finding is Finding.UNKNOWN_ISSUER:
        lines.append(_NO_KEY)
    text = _as_json(found, lines) if asked["json"] else "\n".join(_in_words(found, lines))
    sys.stdout.write(text + "\n")
    return EXIT_CODES[found.finding]


def _own() -> list[str]:
    """Return this machine's own list of issuers, if a key was made here."""
    path = default_folder() / PUBLIC
    return [str(path)] if path.is_file() else []


def _moment(day: dt.date | None) -> dt.datetime:
    if day is None:
        return dt.datetime.now(dt.UTC)
    return dt.datetime(day.year, day.month, day.day, 12, tzinfo=dt.UTC)


def _in_words(found: Verified, lines: list[str]) -> list[str]:
    said = [f"{found.finding.value.upper()}: {lines[0]}", *lines[1:]]
    if found.credential:
        said += ["", _COMPARE]
        said += [f"  {label}: {text}" for label, text in told(found.credential)]
    return [_printable(line) for line in said]


def _printable(line: str) -> str:
    """Return a line without signs that would steer a terminal or turn text round."""
    return "".join(sign if sign.isprintable() else "?" for sign in line)


def _as_json(found: Verified, lines: list[str]) -> str:
    as_of = found.status_as_of
    return json.dumps(
        {
            "finding": found.finding.value,
            "sentences": lines,
            "issuer": found.issuer.name if found.issuer else None,
            "status_as_of": utc_text(as_of) if as_of else None,
            "says": [list(pair) for pair in told(found.credential)] if found.credential else [],
        },
        indent=1,
    )
