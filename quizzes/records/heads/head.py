"""A signed head: how long a ledger was at a moment, and the one hash over all of its entries.

The head is what leaves the house: printed as a short code on every record, given to the
candidate, kept by a second organisation. Whoever remakes the ledger cannot remake those.
"""

import datetime as dt
import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass

import rfc8785

from quizzes.records.checks import aware, plain_text, whole
from quizzes.records.codes import ALPHABET
from quizzes.records.heads.merkle import HASH_BYTES
from quizzes.records.keys import multibase
from quizzes.records.keys.signing import PublicKey, SigningKey
from quizzes.records.keys.trust import moment_of, utc_text

KIND = "gap-and-lining ledger head"
MOST_ENTRIES = 10**12
GROUPS, GROUP_LENGTH = 6, 4
_CODE = re.compile(rf"(\d{{1,13}})-([{ALPHABET}]{{{GROUPS * GROUP_LENGTH}}})")
_FIELDS = frozenset({"kind", "ledger", "size", "root", "at", "key", "signature"})


@dataclass(frozen=True, slots=True)
class TreeHead:
    """A ledger as it stood at a moment.

    Parameters
    ----------
    ledger : str
        Which ledger: its identity, the same for all its life.
    size : int
        Entries, 0 or more.
    root : bytes
        Root of the hash tree over them, 32 bytes.
    at : datetime
        When, with a time zone; kept to the second, UTC.
    """

    ledger: str
    size: int
    root: bytes
    at: dt.datetime

    def __post_init__(self) -> None:
        object.__setattr__(self, "ledger", plain_text("ledger", self.ledger))
        whole("size", self.size, 0, MOST_ENTRIES)
        if not isinstance(self.root, bytes) or len(self.root) != HASH_BYTES:
            raise ValueError(f"root must be {HASH_BYTES} bytes")
        object.__setattr__(self, "at", aware("at", self.at).replace(microsecond=0))

    @property
    def code(self) -> str:
        """The head in a form to be printed and typed: its size, and six groups of four signs.

        Notes
        -----
        24 signs of 30 are 117 bits of a hash over ledger, size and root. To find a second ledger
        with the code of a given one takes 2^117 trials; to prepare two with one code, 2^58.
        """
        said = rfc8785.dumps({"ledger": self.ledger, "size": self.size, "root": self.root.hex()})
        number = int.from_bytes(hashlib.sha256(b"gap-and-lining head code " + said).digest())
        signs = ""
        for _ in range(GROUPS * GROUP_LENGTH):
            number, rest = divmod(number, len(ALPHABET))
            signs += ALPHABET[rest]
        groups = (signs[at : at + GROUP_LENGTH] for at in range(0, len(signs), GROUP_LENGTH))
        return "-".join((str(self.size), *groups))


@dataclass(frozen=True, slots=True)
class SignedHead:
    """A head and the signature of the house that kept the ledger.

    Parameters
    ----------
    head : TreeHead
        What was signed.
    key : PublicKey
        Whose signature.
    signature : bytes
        Over the head.
    """

    head: TreeHead
    key: PublicKey
    signature: bytes

    @property
    def holds(self) -> bool:
        """Whether that key has signed this head. Whether the key is trusted is another question."""
        return self.key.signed(self.signature, _said(self.head))


def signed_head(head: TreeHead, key: SigningKey) -> SignedHead:
    """Return a head signed with a key."""
    return SignedHead(head, key.public, key.sign(_said(head)))


def _said(head: TreeHead) -> bytes:
    return rfc8785.dumps({"kind": KIND, **_facts(head)})


def _facts(head: TreeHead) -> dict[str, str | int]:
    return {
        "ledger": head.ledger,
        "size": head.size,
        "root": head.root.hex(),
        "at": utc_text(head.at),
    }


def head_json(signed: SignedHead) -> dict[str, str | int]:
    """Return a signed head as plain JSON, to be kept by somebody else."""
    return {
        "kind": KIND,
        **_facts(signed.head),
        "key": signed.key.did,
        "signature": multibase.encoded(signed.signature),
    }


def head_of(found: object) -> SignedHead:
    """Return the signed head that parsed JSON holds; `holds` says whether the signature does.

    Raises
    ------
    ValueError
        If it is none.
    """
    if not isinstance(found, Mapping) or set(found) != _FIELDS or found["kind"] != KIND:
        raise ValueError(f'expected a signed head: "kind": "{KIND}" and its six other fields')
    root = found["root"]
    if not isinstance(root, str) or not re.fullmatch(r"[0-9a-f]{64}", root):
        raise ValueError("root must be 64 hexadecimal digits")
    head = TreeHead(found["ledger"], found["size"], bytes.fromhex(root), moment_of(found["at"]))
    key = PublicKey.from_did(found["key"])
    return SignedHead(head, key, multibase.decoded(found["signature"]))


def typed_code(text: str) -> str:
    """Return a printed code as it was typed, brought to one form.

    Parameters
    ----------
    text : str
        Small letters, spaces and dashes make no difference, but size and signs are set apart.

    Raises
    ------
    ValueError
        If it cannot be the code of a head.

    Examples
    --------
    >>> typed_code(" 812 7k3m-xq2p 9rtb-2345-6789-abcd ")
    '812-7K3M-XQ2P-9RTB-2345-6789-ABCD'
    """
    words = re.split(r"[\s-]+", text.strip().upper(), maxsplit=1) if len(text) <= 100 else []
    signs = re.sub(r"[\s-]+", "", words[1]) if len(words) == 2 else ""
    found = _CODE.fullmatch(f"{words[0]}-{signs}") if signs else None
    if found is None:
        raise ValueError(
            f"A head’s code is a number and {GROUPS} groups of {GROUP_LENGTH} signs, like "
            f"812-7K3M-XQ2P-9RTB-2345-6789-ABCD; got {text!r:.60}."
        )
    groups = (found[2][at : at + GROUP_LENGTH] for at in range(0, len(found[2]), GROUP_LENGTH))
    return "-".join((str(int(found[1])), *groups))
