"""An Ed25519 key pair: the half that signs, which never shows itself, and the half that checks."""

from dataclasses import dataclass
from typing import NoReturn

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from quizzes.records.keys import multibase

_ED25519 = b"\xed\x01"  # multicodec ed25519-pub as a varint; W3C Controlled Identifiers 1.0, 2.2.2
_KEY_BYTES, _SIGNATURE_BYTES = 32, 64  # RFC 8032, 5.1.5 and 5.1.6
_DID = "did:key:"


@dataclass(frozen=True, slots=True)
class PublicKey:
    """The half of a key that anybody may have.

    Parameters
    ----------
    raw : bytes
        32 bytes.

    Raises
    ------
    ValueError
        If it is anything else.
    """

    raw: bytes

    def __post_init__(self) -> None:
        if not isinstance(self.raw, bytes) or len(self.raw) != _KEY_BYTES:
            raise ValueError("a public Ed25519 key must be 32 bytes")

    @classmethod
    def from_did(cls, did: str) -> "PublicKey":
        """Return the key that a `did:key` identifier spells out.

        Raises
        ------
        ValueError
            If it is no such identifier, or one of another kind of key.
        """
        if not isinstance(did, str) or not did.startswith(_DID):
            raise ValueError(f"expected did:key:z..., got {did!r:.40}")
        payload = multibase.decoded(did.removeprefix(_DID))
        if payload[:2] != _ED25519 or len(payload) != len(_ED25519) + _KEY_BYTES:
            raise ValueError(f"{did:.80} names no Ed25519 key")
        return cls(payload[2:])

    @property
    def multibase(self) -> str:
        """The key as text: `z6Mk` and 44 signs."""
        return multibase.encoded(_ED25519 + self.raw)

    @property
    def did(self) -> str:
        """The identifier that spells the key out."""
        return _DID + self.multibase

    @property
    def method(self) -> str:
        """The name that a proof gives to this key."""
        return f"{self.did}#{self.multibase}"

    def signed(self, signature: bytes, message: bytes) -> bool:
        """Return whether this key's owner signed this message."""
        if len(signature) != _SIGNATURE_BYTES:
            return False
        try:
            Ed25519PublicKey.from_public_bytes(self.raw).verify(signature, message)
        except InvalidSignature:
            return False
        return True


class SigningKey:
    """The secret half. It shows itself in no repr, copies nowhere and can only sign.

    Parameters
    ----------
    secret : Ed25519PrivateKey
        From `cryptography`.
    """

    __slots__ = ("_secret", "public")

    def __init__(self, secret: Ed25519PrivateKey) -> None:
        self._secret = secret
        self.public = PublicKey(secret.public_key().public_bytes_raw())

    @classmethod
    def drawn(cls) -> "SigningKey":
        """Return a new key from the system's own dice."""
        return cls(Ed25519PrivateKey.generate())

    @classmethod
    def of_secret(cls, secret: bytes) -> "SigningKey":
        """Return the key of 32 secret bytes (RFC 8032, 5.1.5)."""
        return cls(Ed25519PrivateKey.from_private_bytes(secret))

    @property
    def secret(self) -> Ed25519PrivateKey:
        """The library's object, for whoever writes the key's own file."""
        return self._secret

    def sign(self, message: bytes) -> bytes:
        """Return the signature of a message, 64 bytes; the same each time (RFC 8032)."""
        return self._secret.sign(message)

    def __repr__(self) -> str:
        return f"SigningKey({self.public.did})"

    def __reduce__(self) -> NoReturn:
        raise TypeError("a signing key is neither pickled nor copied")
