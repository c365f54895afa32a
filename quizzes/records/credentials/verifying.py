"""A credential held against trusted keys, the clock and a list of withdrawals.

It needs nothing but the file and the issuer's public key. What it can say is: authentic, in date,
not withdrawn as of the list's date. It can never say "valid today" without a list of today.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, cast

from quizzes.records.credentials.contexts import loaded
from quizzes.records.credentials.proofs import JCS, proof_holds
from quizzes.records.credentials.shape import (
    Credential,
    ShapeError,
    StatusList,
    shaped_credential,
    shaped_status_list,
)
from quizzes.records.credentials.status import withdrawals_of
from quizzes.records.keys.signing import PublicKey
from quizzes.records.keys.trust import TrustedKey, TrustList, moment_of
from widgets.brake.days import day_words

Document = Mapping[str, Any]


class Finding(StrEnum):
    """What was found, in one word; the command's exit code follows from it."""

    GOOD = "good"
    TAMPERED = "tampered"
    UNREADABLE = "unreadable"
    EXPIRED = "expired"
    NOT_YET_VALID = "not yet valid"
    WITHDRAWN = "withdrawn"
    UNKNOWN_ISSUER = "unknown issuer"
    BAD_KEY = "key not usable"
    BAD_LIST = "list not usable"


@dataclass(frozen=True, slots=True)
class Verified:
    """A credential after its check.

    Parameters
    ----------
    finding : Finding
        In one word.
    sentences : tuple of str
        In words: the finding first.
    credential : Credential or None
        What it says, if it is authentic.
    issuer : TrustedKey or None
        Whose it is, by the verifier's own list.
    status_as_of : datetime or None
        Date of the list of withdrawals that was looked at; None if none was.
    """

    finding: Finding
    sentences: tuple[str, ...]
    credential: Credential | None = None
    issuer: TrustedKey | None = None
    status_as_of: dt.datetime | None = None


class _Stop(Exception):  # noqa: N818 - it ends a check and never leaves this module
    def __init__(self, finding: Finding, sentence: str) -> None:
        super().__init__(sentence)
        self.finding = finding


def verified(found: object, trust: TrustList, now: dt.datetime, status: object = None) -> Verified:
    """Return what there is to say about a credential.

    Parameters
    ----------
    found : object
        Parsed JSON, from anywhere.
    trust : TrustList
        Whose signatures count.
    now : datetime
        With a time zone.
    status : object, optional
        Parsed JSON of a signed list of withdrawals.
    """
    try:
        credential = shaped_credential(found)
        issuer, signed_at = _authentic(cast("Document", found), credential, trust)
    except ShapeError as error:
        return Verified(Finding.UNREADABLE, (str(error),))
    except _Stop as stop:
        return Verified(stop.finding, (str(stop),))
    try:
        until = _until(credential)
    except ShapeError as error:
        return Verified(Finding.UNREADABLE, (str(error),))
    try:
        as_of, status_words = _status(credential, issuer, signed_at, trust, status)
        _in_date(credential, signed_at, until, now)
    except ShapeError as error:
        return Verified(Finding.BAD_LIST, (str(error),))
    except _Stop as stop:
        return Verified(stop.finding, (str(stop),), credential, issuer)
    words = f"Authentic and unchanged, signed by {issuer.name}. In date until {_day(until)}."
    return Verified(Finding.GOOD, (words, status_words), credential, issuer, as_of)


def _authentic(
    found: Document, signed: Credential | StatusList, trust: TrustList
) -> tuple[TrustedKey, dt.datetime]:
    """Return whose signature it is and of when, or stop."""
    document = {name: value for name, value in found.items() if name != "proof"}
    proofs = {proof["cryptosuite"]: proof for proof in found["proof"]}
    key = _key_of(signed.issuer.id, found["proof"])
    if JCS not in proofs or len(proofs) != len(found["proof"]):
        raise ShapeError(
            f"It carries no {JCS} proof, or one twice: without it a property could have been "
            "added that no signature covers."
        )
    _held(document, proofs[JCS], key)
    try:
        created = moment_of(proofs[JCS]["created"])
    except ValueError as error:
        raise ShapeError(f"The proof’s date is none: {error}.") from None
    issuer = _trusted(key, signed.issuer.name, created, trust)
    # Only now: working out its statements costs far more, and a stranger's file is not worth it.
    for proof in found["proof"]:
        _held(document, proof, key)
    return issuer, created


def _key_of(did: str, proofs: list[Document]) -> PublicKey:
    try:
        key = PublicKey.from_did(did)
    except ValueError:
        raise _Stop(
            Finding.UNKNOWN_ISSUER,
            f"Its issuer {did:.80} is not named by an Ed25519 did:key, so it cannot be checked.",
        ) from None
    if any(proof["verificationMethod"] != key.method for proof in proofs):
        raise _Stop(
            Finding.TAMPERED,
            "Its proof names another key than its issuer’s: it was altered, or signed by "
            "somebody else.",
        )
    return key


def _held(document: Document, proof: Document, key: PublicKey) -> None:
    context = proof.get("@context", document["@context"])
    if context != document["@context"] or not proof_holds(document, proof, key, loaded):
        raise _Stop(
            Finding.TAMPERED,
            f"It was altered: the {proof['cryptosuite']} signature does not fit what it says.",
        )


def _trusted(key: PublicKey, name: str | None, at: dt.datetime, trust: TrustList) -> TrustedKey:
    entries = trust.holder(key)
    if not entries:
        called = f", which calls itself {name!r}," if name else ""
        raise _Stop(
            Finding.UNKNOWN_ISSUER,
            f"The signature fits, but its issuer {key.did}{called} is not among the trusted keys.",
        )
    for entry in entries:
        if entry.in_use(at):
            return entry
    raise _Stop(
        Finding.UNKNOWN_ISSUER,
        f"It was signed on {_day(at)}, when this key of {entries[0].name} was not in use.",
    )


def _until(credential: Credential) -> dt.datetime:
    """Return until when it is good, as it says itself."""
    try:
        moment_of(credential.valid_from)
        return moment_of(credential.valid_until)
    except ValueError as error:
        raise ShapeError(f"One of its dates cannot be read: {error}.") from None


def _in_date(
    credential: Credential, signed_at: dt.datetime, until: dt.datetime, now: dt.datetime
) -> None:
    """Pass if it is in date, or stop."""
    begins = max(moment_of(credential.valid_from), signed_at)
    if now < begins:
        raise _Stop(
            Finding.NOT_YET_VALID,
            f"Authentic, but not yet valid: it begins on {_day(begins)}, and this machine’s "
            f"clock says {_day(now)}.",
        )
    if now > until:
        raise _Stop(Finding.EXPIRED, f"Authentic, but expired: it ended on {_day(until)}.")


def _status(
    credential: Credential,
    issuer: TrustedKey,
    signed_at: dt.datetime,
    trust: TrustList,
    found: object,
) -> tuple[dt.datetime | None, str]:
    """Return the date of the list of withdrawals and what it says, or stop if it is withdrawn."""
    entry = credential.credential_status
    if entry is None:
        return None, "It names no status list, so a withdrawal could not show."
    if found is None:
        return None, "Whether it was withdrawn is not known: no status list was given."
    listed = shaped_status_list(found)
    if listed.id != entry.status_list_credential:
        raise ShapeError(
            f"The status list is another one: the credential names "
            f"{entry.status_list_credential}, got {listed.id}."
        )
    as_of = _list_date(cast("Document", found), listed, issuer, trust)
    try:
        withdrawn = int(entry.status_list_index) in withdrawals_of(
            listed.credential_subject.encoded_list
        )
    except ValueError as error:
        raise ShapeError(f"The status list cannot be used: {error}.") from None
    if withdrawn:
        raise _Stop(
            Finding.WITHDRAWN,
            f"{issuer.name} withdrew it, as marked in its status list of {_day(as_of)}.",
        )
    if as_of < signed_at:
        return None, (
            f"Whether it was withdrawn is not known: the status list of {_day(as_of)} is older "
            "than the credential."
        )
    return as_of, f"Not withdrawn: status as of {_day(as_of)}. Later is not known."


def _list_date(
    found: Document, listed: StatusList, issuer: TrustedKey, trust: TrustList
) -> dt.datetime:
    try:
        by, signed_at = _authentic(found, listed, trust)
    except _Stop as stop:
        raise ShapeError(f"The status list does not count. {stop}") from None
    if by.name != issuer.name:
        raise ShapeError(
            f"The status list does not count: it is signed by {by.name}, the credential by "
            f"{issuer.name}."
        )
    return signed_at


def _day(moment: dt.datetime) -> str:
    return f"{day_words(moment.astimezone(dt.UTC))} {moment.astimezone(dt.UTC):%H:%M} UTC"
