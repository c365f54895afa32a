"""A sitting as one JSON object, whole: what was kept, its log, its grades, its outcome.

An export holds the brakes and the questions with their keys. It is for the assessor.
"""

import datetime as dt
import json
from collections.abc import Mapping
from typing import Any

from quizzes.records import Records, Sitting
from quizzes.records.auditing.audit import Audit, audited_lately
from quizzes.sittings.replay import KIND, VERSION, BadExportError

from .export_signature import signature_of, signed_export
from .run import QUESTIONS_SLOT, SittingRun


def exported(store: Records, sitting_id: str, audit: Audit | None = None) -> dict[str, Any]:
    """Return a stored sitting as `quizzes.sittings.replay` reads it.

    Parameters
    ----------
    store : Records
        Where it is kept.
    sitting_id : str
        Which.
    audit : Audit, optional
        Of the store as it is now; made here if left out.

    Raises
    ------
    RecordsError
        If there is no such sitting, it cannot be read, or the store cannot be used.
    """
    sitting = store.sitting(sitting_id)
    run = SittingRun(store, sitting)
    outcomes = store.outcomes(sitting_id)
    return {
        "kind": KIND,
        "version": VERSION,
        "sitting": sitting.id,
        "started": f"{sitting.started_at:%Y-%m-%dT%H:%M:%SZ}",
        "ledger": _ledger(audit or audited_lately(store), sitting),
        "kept": store.kept(sitting_id),
        "cases": [
            {
                "events": _events(store, sitting, slot),
                "grade": run.grades[slot] if slot < len(run.grades) else None,
            }
            for slot in range(len(run.cases))
        ],
        "questions": {
            "answers": [event["action"] for event in _events(store, sitting, QUESTIONS_SLOT)],
            "grade": run.questions_grade,
        },
        "outcome": outcomes[-1].content if outcomes else None,
    }


def _ledger(audit: Audit, sitting: Sitting) -> dict[str, Any]:
    """Return how the ledger stands as far as it concerns a sitting."""
    broken = audit.broken_of(sitting.id, sitting.person_id)
    return {
        "ledger": audit.check.ledger_id,
        "head_sha256": audit.check.head_sha256,
        "head_code": audit.head.code,
        "sound": broken is None,
        "position": broken.position if broken else None,
        "reason": broken.reason if broken else "",
    }


def _events(store: Records, sitting: Sitting, slot: int) -> list[dict[str, Any]]:
    return [
        {"action": event.action, "observation": event.observation}
        for event in store.events(sitting.id, slot)
    ]


def export_file(store: Records, sitting: Sitting) -> tuple[str, str, bytes]:
    """Return a finished sitting as a file: its name, its media type, its bytes.

    Raises
    ------
    RecordsError
        If the sitting cannot be read, or the store cannot be used.
    ValueError
        If it is not finished: the file would give its cases away.
    """
    if not store.outcomes(sitting.id):
        raise ValueError("This sitting is not finished; it can be saved as a file afterwards.")
    export = signed_export(exported(store, sitting.id), dt.datetime.now(dt.UTC))
    text = json.dumps(export, indent=1)
    name = f"sitting {sitting.started_at:%Y-%m-%d} {sitting.id[:8]}.json"
    return name, "application/json", text.encode()


def against_export(now: Mapping[str, Any], earlier: object) -> tuple[str, ...]:
    """Return what a stored sitting says otherwise than a file that was saved of it earlier.

    Parameters
    ----------
    now : mapping
        What `exported` made of the store now.
    earlier : object
        Parsed JSON of the file.

    Raises
    ------
    BadExportError
        If the file is not an export, or of another sitting.
    """
    if not isinstance(earlier, Mapping) or earlier.get("kind") != KIND:
        raise BadExportError(f"The earlier file is not an export: its kind is not “{KIND}”.")
    if earlier.get("sitting") != now["sitting"]:
        raise BadExportError(f"The earlier file is of sitting {earlier.get('sitting')!r:.40}.")
    forged, _ = signature_of(earlier)
    if forged:
        raise BadExportError(f"The earlier file cannot be used: {forged[0]}.")
    plain = json.loads(json.dumps(now))  # as a file holds it
    parts = ("kept", "cases", "questions", "outcome")
    return tuple(
        f"{part}: the store does not hold what was exported earlier"
        for part in parts
        if plain[part] != earlier.get(part)
    )
