"""Files that an auditor holds, checked: a record, whose keys to trust, a list of withdrawals."""

import datetime as dt
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import load_pem_public_key

from quizzes.records.credentials.from_pdf import BEGINS, LARGEST_PDF_BYTES, attached_record
from quizzes.records.credentials.ledger_files import is_of_ledger, ledger_file_checked
from quizzes.records.credentials.reading import LARGEST_BYTES, UnreadableError, file_bytes, parsed
from quizzes.records.credentials.shape import Credential
from quizzes.records.credentials.verifying import Finding, Verified, verified
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.signing import PublicKey
from quizzes.records.keys.trust import TrustedKey, TrustList, trust_of

EXIT_CODES = {
    Finding.GOOD: 0,
    Finding.TAMPERED: 1,
    Finding.UNREADABLE: 2,
    Finding.EXPIRED: 3,
    Finding.NOT_YET_VALID: 4,
    Finding.WITHDRAWN: 5,
    Finding.UNKNOWN_ISSUER: 6,
}
_BEFORE_ALL = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)


def checked_file(
    path: Path, issuers: Sequence[str], now: dt.datetime, status: Path | None = None
) -> Verified:
    """Return what there is to say about a record's file.

    Parameters
    ----------
    path : Path
        A credential as JSON, or the PDF that carries it; or a head, a receipt or a growth of the
        ledger.
    issuers : sequence of str
        Whom to trust: files with public keys, or `did:key:...` as printed on a record.
    now : datetime
        With a time zone.
    status : Path, optional
        A signed list of withdrawals.
    """
    try:
        trust = trusted_by(issuers)
        found = _record(path)
        listed = None if status is None else parsed(file_bytes(status), status.name)
    except (UnreadableError, KeyFileError) as error:
        return Verified(Finding.UNREADABLE, (str(error),))
    if is_of_ledger(found):
        return ledger_file_checked(found, trust, now)
    return verified(found, trust, now, listed)


def _record(path: Path) -> Any:  # noqa: ANN401 (whatever the JSON holds)
    with_pdf = path.suffix.lower() == ".pdf"
    content = file_bytes(path, LARGEST_PDF_BYTES if with_pdf else LARGEST_BYTES)
    if content.startswith(BEGINS):
        content = attached_record(content, path.name)
    return parsed(content, path.name)


def trusted_by(issuers: Sequence[str]) -> TrustList:
    """Return the keys that files and identifiers name.

    Parameters
    ----------
    issuers : sequence of str
        Lists of trusted keys, public keys in PEM, or `did:key:...`.

    Raises
    ------
    KeyFileError
        If one of them is none of these, a secret key above all.
    UnreadableError
        If a file is missing or too large.
    """
    keys: list[TrustedKey] = []
    for named in issuers:
        keys += _named(named)
    return TrustList(tuple(keys))


def _named(named: str) -> tuple[TrustedKey, ...]:
    if named.startswith("did:"):
        try:
            return (TrustedKey(PublicKey.from_did(named), "the key you named", _BEFORE_ALL),)
        except ValueError as error:
            raise KeyFileError(f"{named:.80} names no key: {error}.") from None
    path = Path(named)
    content = file_bytes(path)
    if content.lstrip().startswith(b"-----BEGIN"):
        return (TrustedKey(_pem(content, path.name), path.name[:80], _BEFORE_ALL),)
    try:
        found = json.loads(content)
    except (ValueError, RecursionError):
        raise KeyFileError(
            f"{path.name} names no key: expected a list of trusted issuers, a public key in PEM, "
            "or did:key:... in place of a file."
        ) from None
    return trust_of(found).keys


def _pem(content: bytes, name: str) -> PublicKey:
    if b"PRIVATE KEY" in content:
        raise KeyFileError(
            f"{name} holds a secret key. It is not needed to check a record, and nobody should "
            "have been given it: tell its owner to change the key."
        )
    try:
        found = load_pem_public_key(content)
    except (ValueError, UnsupportedAlgorithm):
        raise KeyFileError(f"{name} is not a public key in PEM.") from None
    if not isinstance(found, Ed25519PublicKey):
        raise KeyFileError(f"{name} holds another kind of key than Ed25519.")
    return PublicKey(found.public_bytes_raw())


def told(credential: Credential) -> tuple[tuple[str, str], ...]:
    """Return what an authentic record says, label by label, to be held against the paper."""
    subject = credential.credential_subject
    said = [("Record", credential.id), ("Scheme", credential.name)]
    if subject.identifier:
        said.append(("Holder", subject.identifier[0].identity_hash))
    said.append(("Scope", subject.achievement.description))
    if subject.source:
        words = (subject.source.name, subject.source.description)
        said.append(("Decided by", ", ".join(word for word in words if word)))
    said += [("Awarded", credential.awarded_date), ("Valid until", credential.valid_until)]
    most = {one.id: one.value_max for one in subject.achievement.result_description}
    names = {one.id: one.name for one in subject.achievement.result_description}
    said += [
        (
            names.get(one.result_description, "Result"),
            f"{one.value} of {most.get(one.result_description)}" if one.value else str(one.status),
        )
        for one in subject.result
    ]
    said += [(one.name, one.narrative) for one in credential.evidence]
    return tuple(said)
