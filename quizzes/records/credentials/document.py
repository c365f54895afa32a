"""A competency record as an Open Badges 3.0 credential, and the credential signed.

Source: 1EdTech Open Badges 3.0 (2024); W3C Verifiable Credentials Data Model 2.0 (2025).
"""

import datetime as dt
import json
import uuid
from typing import Any

import rfc8785

from quizzes.records.credentials.contexts import OB_3, VC_2
from quizzes.records.credentials.proofs import proved
from quizzes.records.credentials.reading import LARGEST_BYTES
from quizzes.records.credentials.record import (
    PLACES,
    CompetencyRecord,
    ElementShown,
    Outcome,
    Person,
    StatusPlace,
)
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import utc_text

CONTEXT = [VC_2, OB_3]
TYPES = ["VerifiableCredential", "OpenBadgeCredential"]
_NAMES = uuid.UUID("4c0d5a7e-2f0b-5d0e-9c55-6b1f0a9d3e21")  # this suite's own space of names


def issued(
    record: CompetencyRecord, key: SigningKey, house: str, at: dt.datetime
) -> dict[str, Any]:
    """Return a record as a signed credential.

    Parameters
    ----------
    record : CompetencyRecord
        With the outcome competent.
    key : SigningKey
        The house's.
    house : str
        The body that issues.
    at : datetime
        When it is signed, with a time zone.

    Raises
    ------
    ValueError
        If the outcome is another, as there is nothing to award; or if the credential would be
        larger than a verifier reads.
    """
    signed = proved(document(record, key.public.did, house), key, utc_text(at))
    size = len(json.dumps(signed, indent=1, ensure_ascii=False).encode())
    if size > LARGEST_BYTES:
        raise ValueError(f"the credential must be <= {LARGEST_BYTES} bytes, got {size}")
    return signed


def document(record: CompetencyRecord, did: str, house: str) -> dict[str, Any]:
    """Return a record as a credential without its proofs.

    Parameters
    ----------
    record : CompetencyRecord
        With the outcome competent.
    did : str
        Identifier of the key that will sign.
    house : str
        The body that issues.
    """
    if record.outcome is not Outcome.COMPETENT:
        raise ValueError(f"only a competent outcome is awarded, got {record.outcome.value!r}")
    made: dict[str, Any] = {
        "@context": list(CONTEXT),
        "id": _urn(record.id),
        "type": list(TYPES),
        "name": record.scheme,
        "issuer": {"id": did, "type": ["Profile"], "name": house},
        "validFrom": utc_text(record.decided_at),
        "validUntil": utc_text(record.valid_until),
        "awardedDate": utc_text(record.decided_at),
        "credentialSubject": _subject(record),
        "evidence": _evidence(record),
    }
    if record.status:
        made["credentialStatus"] = _status(record.status)
    return made


def _subject(record: CompetencyRecord) -> dict[str, Any]:
    achievement = _achievement(record)
    results = [
        {
            "type": ["Result"],
            "resultDescription": _described(achievement["id"], element.id),
            "value": str(element.shown),
        }
        for element in record.elements
    ]
    results.append(
        {
            "type": ["Result"],
            "resultDescription": _described(achievement["id"], "outcome"),
            "status": "Completed",
        }
    )
    return {
        "id": _urn(record.holder.id),
        "type": ["AchievementSubject"],
        "identifier": [
            {
                "type": "IdentityObject",
                "hashed": False,
                "identityHash": record.holder.name,
                "identityType": "name",
            }
        ],
        "source": _profile(record.assessor),
        "achievement": achievement,
        "result": results,
    }


def _profile(person: Person) -> dict[str, Any]:
    return {
        "id": _urn(person.id),
        "type": ["Profile"],
        "name": person.name,
        "description": person.role,
    }


def _achievement(record: CompetencyRecord) -> dict[str, Any]:
    scope = record.scope
    said = [record.scheme, record.scheme_edition, scope.design, *scope.sizes, "", *scope.tasks]
    made_id = _urn(str(uuid.uuid5(_NAMES, rfc8785.dumps(said).decode())))
    outcome = {
        "id": _described(made_id, "outcome"),
        "type": ["ResultDescription"],
        "name": "Outcome",
        "resultType": "Status",
    }
    return {
        "id": made_id,
        "type": ["Achievement"],
        "achievementType": "Competency",
        "name": record.scheme,
        "version": record.scheme_edition,
        "description": (
            f"Design: {scope.design}. Sizes: {', '.join(scope.sizes)}. "
            f"Tasks: {', '.join(scope.tasks)}."
        ),
        "criteria": {"narrative": record.criteria},
        "resultDescription": [
            *(_result_description(made_id, element) for element in record.elements),
            outcome,
        ],
    }


def _result_description(achievement_id: str, element: ElementShown) -> dict[str, Any]:
    described = {
        "id": _described(achievement_id, element.id),
        "type": ["ResultDescription"],
        "name": f"{element.id}: {element.title}",
        "resultType": "RawScore",
        "valueMin": "0",
        "valueMax": str(element.asked),
    }
    if element.critical:
        described["requiredValue"] = str(element.asked)
    return described


def _evidence(record: CompetencyRecord) -> list[dict[str, Any]]:
    basis = record.basis
    sitting = {
        "id": _urn(basis.sitting_id),
        **_item(
            "sitting",
            "Sitting",
            f"Form {basis.form_id}, edition {basis.form_edition}; rules, edition "
            f"{basis.rules_edition}; limits sheet {basis.limits_sheet}; made "
            f"{PLACES.get(basis.place, basis.place)}.",
        ),
    }
    items = [sitting]
    if basis.practical:
        items.append(_item("practical", "Observed practical", basis.practical))
    items += [
        _item("element", f"{element.id}: {element.title}", " ".join(element.evidence))
        for element in record.elements
        if element.evidence
    ]
    items.append(_item("ledger head", "Head of the ledger", basis.ledger_head))
    if record.second:
        said = f"{record.second.name}, {record.second.role}, decided the same independently."
        items.append({"id": _urn(record.second.id), **_item("second", "Second assessor", said)})
    items += [
        _item("reasons", "Reasons of the assessor", record.reasons),
        _item("shows", "What the evidence shows", " ".join(record.shows)),
        _item("shows not", "What the evidence does not show", " ".join(record.shows_not)),
        _item("deference", "What takes precedence over this record", record.deference),
    ]
    return items


def _item(genre: str, name: str, narrative: str) -> dict[str, Any]:
    return {"type": ["Evidence"], "genre": genre, "name": name, "narrative": narrative}


def _status(place: StatusPlace) -> dict[str, Any]:
    return {
        "type": "BitstringStatusListEntry",
        "statusPurpose": "revocation",
        "statusListIndex": str(place.index),
        "statusListCredential": _urn(place.list_id),
    }


def _urn(found: str) -> str:
    return f"urn:uuid:{found}"


def _described(achievement_id: str, element_id: str) -> str:
    return _urn(str(uuid.uuid5(_NAMES, f"{achievement_id} {element_id}")))
