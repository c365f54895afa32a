"""The commands `verify` without a file, and `head`: a store audited, its head handed out."""

import datetime as dt
import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from quizzes.records.auditing.audit import Audit, audited
from quizzes.records.auditing.signing import sign_head
from quizzes.records.credentials.ledger_files import kept_heads
from quizzes.records.credentials.reading import UnreadableError
from quizzes.records.database.opening import default_url
from quizzes.records.errors import RecordsError
from quizzes.records.heads.head import head_json
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.writing import Records

SOUND, BENT, REFUSED = 0, 1, 2


def verify_store_command(asked: Mapping[str, Any]) -> int:
    """Audit the record store, say what was found, and return the exit code.

    Parameters
    ----------
    asked : mapping
        `records` (address or None), `head` (list of codes and files), `json`.

    Returns
    -------
    int
        0 if all holds, 1 if something was changed, 2 if it cannot be looked at.
    """
    try:
        brought = kept_heads(asked["head"] or ())
        with Records(asked["records"] or default_url()) as store:
            found = audited(store, brought, contents=True)
    except (RecordsError, KeyFileError, UnreadableError, ValueError) as error:
        sys.stderr.write(f"{error}\n")
        return REFUSED
    word = "SOUND" if found.sound else "BROKEN"
    lines = json.dumps(_told(found), indent=1) if asked["json"] else _in_words(word, found)
    sys.stdout.write(lines + "\n")
    return SOUND if found.sound else BENT


def _in_words(word: str, found: Audit) -> str:
    first, *rest = found.sentences()
    return "\n".join([f"{word}: {first}", *rest])


def _told(found: Audit) -> dict[str, Any]:
    return {
        "sound": found.sound,
        "ledger": found.check.ledger_id,
        "entries": found.check.entries,
        "broken": [
            {"entry": one.position, "sitting": one.sitting_id, "reason": one.reason}
            for one in found.check.broken
        ],
        "heads": [
            {"code": one.name, "agrees": one.agrees, "sentence": one.sentence}
            for one in found.heads.findings
        ],
        "unsigned": list(found.unsigned),
        "changed_between": [found.heads.first_bad, found.heads.last_bad],
        "head": found.head.code,
    }


def head_command(asked: Mapping[str, Any]) -> int:
    """Sign the ledger as it stands, print its head, and write it to a file if one is named.

    Parameters
    ----------
    asked : mapping
        `records` (address or None), `file` (path or None).
    """
    try:
        with Records(asked["records"] or default_url()) as store:
            signed = sign_head(store, dt.datetime.now(dt.UTC))
        if signed is None:
            sys.stderr.write(
                "The ledger was not signed: no key can be used, or the ledger does not fit the "
                "head signed before. Run: python -m quizzes verify\n"
            )
            return BENT
        if asked["file"]:
            text = json.dumps(head_json(signed), indent=1) + "\n"
            Path(asked["file"]).write_text(text, encoding="utf-8")
    except (RecordsError, OSError) as error:
        sys.stderr.write(f"{error}\n")
        return REFUSED
    sys.stdout.write(f"{signed.head.code}\n")
    return SOUND
