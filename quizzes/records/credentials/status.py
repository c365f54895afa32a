"""The list of withdrawn credentials: one bit each, signed as it stood on a date.

Source: W3C Bitstring Status List 1.0 (2025).
"""

import base64
import binascii
import datetime as dt
import gzip
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from quizzes.records.checks import whole
from quizzes.records.credentials.contexts import VC_2
from quizzes.records.credentials.proofs import proved
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import utc_text

PLACES = 131_072  # least length of a list, so that one entry hides among many (section 2.2)
_MOST_BYTES = 2_000_000  # unpacked: 16 million places
STATUS_LIST = "BitstringStatusListCredential"
_STATUS = ["VerifiableCredential", STATUS_LIST]


@dataclass(frozen=True, slots=True)
class Withdrawals:
    """Which places of a list are withdrawn.

    Parameters
    ----------
    bits : bytes
        Place 0 is the highest bit of the first byte.
    """

    bits: bytes

    def __post_init__(self) -> None:
        if not PLACES // 8 <= len(self.bits) <= _MOST_BYTES:
            raise ValueError(
                f"a status list must have {PLACES} to {8 * _MOST_BYTES} places, "
                f"got {8 * len(self.bits)}"
            )

    @classmethod
    def of(cls, places: Iterable[int], length: int = PLACES) -> "Withdrawals":
        """Return a list in which these places are withdrawn."""
        bits = bytearray(-(-length // 8))
        for place in places:
            whole("place", place, 0, length - 1)
            bits[place // 8] |= 0x80 >> place % 8
        return cls(bytes(bits))

    def __contains__(self, place: int) -> bool:
        """Whether a place is withdrawn."""
        whole("place", place, 0, 8 * len(self.bits) - 1)
        return bool(self.bits[place // 8] & 0x80 >> place % 8)

    @property
    def encoded(self) -> str:
        """The list packed, as it stands in a credential; the same text for the same list."""
        packed = gzip.compress(self.bits, mtime=0)
        return "u" + base64.urlsafe_b64encode(packed).decode().rstrip("=")


def withdrawals_of(encoded: str) -> Withdrawals:
    """Return the list that `encoded` packed.

    Raises
    ------
    ValueError
        If it is not packed so, or would be larger than any list is.
    """
    if not encoded.startswith("u"):
        raise ValueError("a status list begins with u")
    padded = encoded[1:] + "=" * (-len(encoded[1:]) % 4)
    unpacking = zlib.decompressobj(16 + zlib.MAX_WBITS)
    try:
        bits = unpacking.decompress(base64.urlsafe_b64decode(padded), _MOST_BYTES + 1)
    except (zlib.error, binascii.Error, UnicodeEncodeError):
        raise ValueError("the status list is damaged") from None
    if not unpacking.eof:
        raise ValueError("the status list is cut off, or larger than any list is")
    return Withdrawals(bits)


def status_list(
    list_id: str, withdrawn: Withdrawals, key: SigningKey, house: str, at: dt.datetime
) -> dict[str, Any]:
    """Return a signed list of withdrawals as it stands at a moment.

    Parameters
    ----------
    list_id : str
        UUID of the list, as records name it.
    withdrawn : Withdrawals
        Which places.
    key : SigningKey
        The house's.
    house : str
        The body that issues, as it calls itself beside its key.
    at : datetime
        Now, with a time zone. A verifier says "as of" this date.
    """
    made = {
        "@context": [VC_2],
        "id": f"urn:uuid:{list_id}",
        "type": list(_STATUS),
        "issuer": {"id": key.public.did, "name": house},
        "validFrom": utc_text(at),
        "credentialSubject": {
            "id": f"urn:uuid:{list_id}#list",
            "type": "BitstringStatusList",
            "statusPurpose": "revocation",
            "encodedList": withdrawn.encoded,
        },
    }
    return proved(made, key, utc_text(at))
