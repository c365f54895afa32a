"""The short text in the QR code of a printed record: which credential it is, signed by itself.

A whole credential does not fit a code that a printer and a phone can manage. The pointer carries
its identity, its dates and the hash of what it says, so that paper and file can be held together.
"""

import base64
import binascii
import datetime as dt
import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import rfc8785
import segno

from quizzes.records.keys.signing import PublicKey, SigningKey
from quizzes.records.keys.trust import TrustList, moment_of

KIND = "gap-and-lining-record/1"
_LONGEST = 600
_FIELDS = 7


@dataclass(frozen=True, slots=True)
class Pointer:
    """What the QR code says.

    Parameters
    ----------
    credential_id : str
        `urn:uuid:...` of the credential.
    valid_from, valid_until : datetime
        As in the credential.
    digest : bytes
        SHA-256 of the credential without its proofs, as canonical JSON.
    key : PublicKey
        Whose signature.
    signature : bytes
        Over all of this.
    """

    credential_id: str
    valid_from: dt.datetime
    valid_until: dt.datetime
    digest: bytes
    key: PublicKey
    signature: bytes

    @property
    def holds(self) -> bool:
        """Whether that key has signed this pointer."""
        return self.key.signed(self.signature, self.said.encode())

    @property
    def text(self) -> str:
        """What is in the QR code."""
        return f"{self.said} {_base64(self.signature)}"

    @property
    def said(self) -> str:
        """What is signed: all but the signature."""
        dates = (f"{moment:%Y%m%dT%H%M%SZ}" for moment in (self.valid_from, self.valid_until))
        told = (KIND, self.credential_id, *dates, _base64(self.digest), self.key.multibase)
        return " ".join(told)

    def fits(self, credential: Mapping[str, Any]) -> bool:
        """Return whether a credential is the one that this points to, word for word."""
        return self.digest == digest_of(credential)


def digest_of(credential: Mapping[str, Any]) -> bytes:
    """Return the hash of what a credential says: SHA-256 of it without its proofs.

    Raises
    ------
    ValueError
        If it has no canonical form.
    """
    said = {name: value for name, value in credential.items() if name != "proof"}
    try:
        return hashlib.sha256(rfc8785.dumps(said)).digest()
    except rfc8785.CanonicalizationError as error:
        raise ValueError(f"the credential has no canonical form: {error}") from None


def pointer_to(credential: Mapping[str, Any], key: SigningKey) -> Pointer:
    """Return the signed pointer to a credential."""
    told = Pointer(
        credential["id"],
        moment_of(credential["validFrom"]),
        moment_of(credential["validUntil"]),
        digest_of(credential),
        key.public,
        b"",
    )
    return replace(told, signature=key.sign(told.said.encode()))


def pointer_of(text: str) -> Pointer:
    """Return the pointer that a QR code holds; `holds` says whether its signature does.

    Raises
    ------
    ValueError
        If it is none.
    """
    words = text.split(" ") if len(text) <= _LONGEST else []
    if len(words) != _FIELDS or words[0] != KIND:
        raise ValueError(f"expected a code that begins with {KIND}, got {text!r:.40}")
    _, found, since, until, digest, key, signature = words
    if not re.fullmatch(r"urn:uuid:[0-9a-f-]{36}", found):
        raise ValueError(f"expected the identity of a credential, got {found!r:.60}")
    return Pointer(
        found,
        _moment(since),
        _moment(until),
        _bytes(digest),
        PublicKey.from_did(f"did:key:{key}"),
        _bytes(signature),
    )


def trusted_pointer(pointer: Pointer, trust: TrustList) -> str:
    """Return the name of the trusted house whose pointer this is; empty if there is none."""
    named = [one for one in trust.holder(pointer.key) if one.in_use(pointer.valid_from)]
    return named[0].name if named and pointer.holds else ""


def qr_modules(text: str) -> tuple[tuple[bool, ...], ...]:
    """Return the QR code of a text as rows of dark and light modules, without its quiet zone.

    Source: ISO/IEC 18004, by the `segno` library; level M repairs 15 % of damage.
    """
    code = segno.make(text, error="m", micro=False, boost_error=False)
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)


def _moment(text: str) -> dt.datetime:
    if not re.fullmatch(r"\d{8}T\d{6}Z", text):
        raise ValueError(f"expected a moment like 20261128T093000Z, got {text!r:.40}")
    return dt.datetime.strptime(text, "%Y%m%dT%H%M%SZ").replace(tzinfo=dt.UTC)


def _base64(payload: bytes) -> str:
    return base64.urlsafe_b64encode(payload).decode().rstrip("=")


def _bytes(text: str) -> bytes:
    try:
        return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    except (binascii.Error, ValueError):
        raise ValueError("the code is damaged") from None
