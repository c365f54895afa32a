"""A sitting as one JSON object, whole: what was kept, its log, its grades, its outcome.

An export holds the brakes and the questions with their keys. It is for the assessor.
"""

import json
from typing import Any

from quizzes.records import Records, Sitting
from quizzes.sittings.replay import KIND, VERSION

from .run import QUESTIONS_SLOT, SittingRun


def exported(store: Records, sitting_id: str) -> dict[str, Any]:
    """Return a stored sitting as `quizzes.sittings.replay` reads it.

    Raises
    ------
    RecordsError
        If there is no such sitting, it cannot be read, or the store cannot be used.
    """
    sitting = store.sitting(sitting_id)
    run, check = SittingRun(store, sitting), store.verify(sitting_id)
    outcomes = store.outcomes(sitting_id)
    return {
        "kind": KIND,
        "version": VERSION,
        "sitting": sitting.id,
        "started": f"{sitting.started_at:%Y-%m-%dT%H:%M:%SZ}",
        "ledger": {
            "head_sha256": check.head_sha256,
            "sound": check.sound,
            "position": check.position,
            "reason": check.reason,
        },
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
    text = json.dumps(exported(store, sitting.id), indent=1)
    name = f"sitting {sitting.started_at:%Y-%m-%d} {sitting.id[:8]}.json"
    return name, "application/json", text.encode()
