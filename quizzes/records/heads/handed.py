"""What is handed to people who have no ledger: that an entry is in it, that it only grew.

A receipt goes to the person whose outcome it is, a growth to the organisation that keeps heads.
Both are checked with the file and the house's public key alone.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from quizzes.records.checks import whole
from quizzes.records.heads.head import MOST_ENTRIES, SignedHead, head_json, head_of
from quizzes.records.heads.merkle import (
    Proof,
    consistency_proof,
    inclusion_proof,
    is_consistent,
    is_included,
    root_of,
)

RECEIPT, GROWTH = "gap-and-lining ledger receipt", "gap-and-lining ledger growth"
_MOST_STEPS = 80  # a proof is as long as the tree is high, and a consistency proof one longer
_HASH = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Receipt:
    """That an entry stands in a ledger.

    Parameters
    ----------
    leaf : bytes
        Leaf hash of the entry, which says nothing of what the entry holds.
    index : int
        Its place, from 0.
    proof : tuple of bytes
        From the leaf to the root.
    signed : SignedHead
        The head with that root.
    """

    leaf: bytes
    index: int
    proof: Proof
    signed: SignedHead

    @property
    def holds(self) -> bool:
        """Whether the entry is under the head and the head is signed by its key."""
        head = self.signed.head
        inside = is_included(self.leaf, self.index, head.size, self.proof, head.root)
        return inside and self.signed.holds


@dataclass(frozen=True, slots=True)
class Growth:
    """That a ledger only grew between two heads.

    Parameters
    ----------
    earlier, later : SignedHead
        Of one ledger.
    proof : tuple of bytes
        From the one root to the other.
    """

    earlier: SignedHead
    later: SignedHead
    proof: Proof

    @property
    def holds(self) -> bool:
        """Whether the later ledger begins with the earlier, and both heads are signed."""
        then, now = self.earlier.head, self.later.head
        signed = self.earlier.holds and self.later.holds and then.ledger == now.ledger
        return signed and is_consistent(then.size, then.root, now.size, now.root, self.proof)


def receipt(leaves: Sequence[bytes], index: int, signed: SignedHead) -> Receipt:
    """Return the receipt for an entry.

    Parameters
    ----------
    leaves : sequence of bytes
        Leaf hashes of the entries that the head stands for, in order.
    index : int
        Which entry, from 0.
    signed : SignedHead
        Their head.

    Raises
    ------
    ValueError
        If there is no such entry, or the head is not the one of these entries.
    """
    _is_head_of(signed, leaves)
    return Receipt(leaves[index], index, inclusion_proof(leaves, index), signed)


def growth(leaves: Sequence[bytes], earlier: SignedHead, later: SignedHead) -> Growth:
    """Return the proof that a ledger only grew since an earlier head.

    Parameters
    ----------
    leaves : sequence of bytes
        Leaf hashes of the entries that the later head stands for, in order.
    earlier, later : SignedHead
        Both of this ledger.

    Raises
    ------
    ValueError
        If the ledger does not begin with what the earlier head stands for: it was bent, and no
        proof of growth can be made.
    """
    _is_head_of(later, leaves)
    size = earlier.head.size
    if not 1 <= size <= len(leaves):
        raise ValueError(f"the earlier head must be of 1 to {len(leaves)} entries, got {size}")
    _is_head_of(earlier, leaves[:size])
    return Growth(earlier, later, consistency_proof(leaves, size))


def _is_head_of(signed: SignedHead, leaves: Sequence[bytes]) -> None:
    head = signed.head
    if head.size != len(leaves) or head.root != root_of(leaves):
        raise ValueError(f"the head {head.code} is not the head of these {len(leaves)} entries")


def handed_json(handed: Receipt | Growth) -> dict[str, Any]:
    """Return a receipt or a growth as plain JSON."""
    steps = [step.hex() for step in handed.proof]
    if isinstance(handed, Growth):
        heads = {"earlier": head_json(handed.earlier), "later": head_json(handed.later)}
        return {"kind": GROWTH, **heads, "proof": steps}
    return {
        "kind": RECEIPT,
        "leaf": handed.leaf.hex(),
        "index": handed.index,
        "head": head_json(handed.signed),
        "proof": steps,
    }


def handed_of(found: object) -> Receipt | Growth:
    """Return the receipt or growth that parsed JSON holds; `holds` says whether it does.

    Raises
    ------
    ValueError
        If it is neither.
    """
    fields = set(found) if isinstance(found, Mapping) else set()
    if isinstance(found, Mapping) and found.get("kind") == RECEIPT:
        _fields(fields, {"kind", "leaf", "index", "head", "proof"})
        index = whole("index", found["index"], 0, MOST_ENTRIES)
        return Receipt(_hash(found["leaf"]), index, _steps(found["proof"]), head_of(found["head"]))
    if isinstance(found, Mapping) and found.get("kind") == GROWTH:
        _fields(fields, {"kind", "earlier", "later", "proof"})
        earlier, later = head_of(found["earlier"]), head_of(found["later"])
        return Growth(earlier, later, _steps(found["proof"]))
    raise ValueError("expected a receipt or a growth of a ledger")


def _fields(found: set[str], wanted: set[str]) -> None:
    if found != wanted:
        raise ValueError(f"expected the fields {', '.join(sorted(wanted))}")


def _steps(found: object) -> Proof:
    if not isinstance(found, list) or len(found) > _MOST_STEPS:
        raise ValueError(f"proof must be a list of at most {_MOST_STEPS} hashes")
    return tuple(_hash(step) for step in found)


def _hash(found: object) -> bytes:
    if not isinstance(found, str) or not _HASH.fullmatch(found):
        raise ValueError("a hash must be 64 hexadecimal digits")
    return bytes.fromhex(found)
