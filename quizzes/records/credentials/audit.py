"""Files that an auditor holds, checked: a record, whose keys to trust, a list of withdrawals."""

import datetime as dt
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import load_pem_public_key

from quizzes.records.credentials.from_pdf import BEGINS, LARGEST_PDF_BYTES, attached_record
from quizzes.records.credentials.ledger_files import is_of_ledger, ledger_file_checked
from quizzes.records.credentials.reading import LARGEST_BYTES, UnreadableError, file_bytes, parsed
from quizzes.records.credentials.shape import Credential
from quizzes.records.credentials.status import STATUS_LIST
from quizzes.records.credentials.verifying import Finding, Verified, verified
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.signing import PublicKey
from quizzes.records.keys.trust import KIND as TRUST_KIND
from quizzes.records.keys.trust import TrustedKey, TrustList, trust_of

EXIT_CODES = {
    Finding.GOOD: 0,
    Finding.TAMPERED: 1,
    Finding.UNREADABLE: 2,
    Finding.EXPIRED: 3,
    Finding.NOT_YET_VALID: 4,
    Finding.WITHDRAWN: 5,
    Finding.UNKNOWN_ISSUER: 6,
    Finding.BAD_KEY: 7,
    Finding.BAD_LIST: 8,
}
_RECORD = "Expected a record as it was handed out: its JSON file, or the PDF that carries it."
_KEY_TYPED = "Expected did:key:z6Mk and 44 more letters and digits, as the issuer prints it."
_KEY_FILE = "Expected the issuer’s public key (PEM) or its list of keys (JSON)."
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
    step = Finding.BAD_KEY
    try:
        trust = trusted_by(issuers)
        step = Finding.UNREADABLE
        found = _record(path)
        step = Finding.BAD_LIST
        listed = None if status is None else parsed(file_bytes(status), status.name)
    except (UnreadableError, KeyFileError) as error:
        return Verified(step, (str(error),))
    if said := _something_else(found):
        return Verified(Finding.UNREADABLE, (f"{path.name} is {said}",))
    if is_of_ledger(found):
        return ledger_file_checked(found, trust, now)
    return verified(found, trust, now, listed)


def _record(path: Path) -> Any:  # noqa: ANN401 (whatever the JSON holds)
    with_pdf = path.suffix.lower() == ".pdf"
    content = file_bytes(path, LARGEST_PDF_BYTES if with_pdf else LARGEST_BYTES)
    if content.startswith(BEGINS):
        content = attached_record(content, path.name)
    try:
        return parsed(content, path.name)
    except UnreadableError as error:
        raise UnreadableError(f"{error} {_RECORD}") from None


def _something_else(found: object) -> str:
    """Return what a file is that belongs in another place of the check; empty if it is none."""
    if not isinstance(found, Mapping):
        return ""
    if found.get("kind") == TRUST_KIND:
        return f"a list of issuers’ keys: give it as the issuer. {_RECORD}"
    if STATUS_LIST in str(found.get("type")):
        return f"a list of withdrawals: give it as that. {_RECORD}"
    if {"cases", "kept"} <= found.keys():
        return f"a sitting saved as a file: python -m quizzes replay grades it again. {_RECORD}"
    return ""


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
        except ValueError:
            raise not_a_key(named) from None
    path = Path(named)
    if not named or not path.exists():
        raise not_a_key(named, " There is no file of that name either.")
    content = file_bytes(path)
    if content.lstrip().startswith(b"-----BEGIN"):
        return (TrustedKey(_pem(content, path.name), path.name[:80], _BEFORE_ALL),)
    try:
        found = json.loads(content)
    except (ValueError, RecursionError):
        raise KeyFileError(f"{path.name} holds no public key. {_KEY_FILE}") from None
    try:
        return trust_of(found).keys
    except KeyFileError as error:
        raise KeyFileError(f"{path.name} cannot be used as the issuer’s key. {error}") from None


def not_a_key(typed: str, also: str = "") -> KeyFileError:
    """Return the refusal of a text that somebody gave as an issuer's key."""
    return KeyFileError(f"“{typed:.80}” is not a public key. {_KEY_TYPED}{also}")


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
