"""The hash tree of a log: one root for all entries, and short proofs about what is under it.

Source: RFC 9162 (2021), section 2.1, with SHA-256; RFC 6962 has the same tree.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

HASH_BYTES = 32  # SHA-256
EMPTY_ROOT = hashlib.sha256(b"").digest()

Proof = tuple[bytes, ...]


def leaf_hash(entry: bytes) -> bytes:
    """Return the hash of one entry; the leading zero byte keeps it from passing for a node."""
    return hashlib.sha256(b"\x00" + entry).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """Return the hash of two branches."""
    return hashlib.sha256(b"\x01" + left + right).digest()


@dataclass(frozen=True, slots=True)
class Frontier:
    """What must be remembered of a log to know its root and to add to it.

    Parameters
    ----------
    size : int
        Entries so far.
    peaks : tuple of bytes
        Roots of the full subtrees, largest first: one for each bit set in `size`.

    Notes
    -----
    Adding an entry costs at most log2(size) hashes, so a head after each sitting is cheap.

    Examples
    --------
    >>> Frontier().added(leaf_hash(b"")).root.hex()[:8]
    '6e340b9c'
    """

    size: int = 0
    peaks: Proof = ()

    def added(self, leaf: bytes) -> "Frontier":
        """Return the frontier after one more entry, given by its leaf hash."""
        peaks, rest, node = list(self.peaks), self.size, _sized(leaf)
        while rest & 1:  # two full subtrees of one size become one
            node = node_hash(peaks.pop(), node)
            rest >>= 1
        return Frontier(self.size + 1, (*peaks, node))

    @property
    def root(self) -> bytes:
        """The root of the whole tree."""
        if not self.peaks:
            return EMPTY_ROOT
        *others, node = self.peaks
        for peak in reversed(others):
            node = node_hash(peak, node)
        return node


def root_of(leaves: Sequence[bytes]) -> bytes:
    """Return the root over leaf hashes in their order.

    Raises
    ------
    ValueError
        If one of them is not 32 bytes long.
    """
    frontier = Frontier()
    for leaf in leaves:
        frontier = frontier.added(leaf)
    return frontier.root


def inclusion_proof(leaves: Sequence[bytes], index: int) -> Proof:
    """Return the hashes that lead from one entry to the root of all.

    Parameters
    ----------
    leaves : sequence of bytes
        Leaf hashes of the whole log.
    index : int
        Which entry, from 0.

    Raises
    ------
    ValueError
        If there is no such entry.
    """
    if not 0 <= index < len(leaves):
        raise ValueError(f"index must be 0 to {len(leaves) - 1}, got {index}")
    path: list[bytes] = []
    first, last = 0, len(leaves)
    while last - first > 1:
        middle = first + _split(last - first)
        inside = index < middle
        path.append(root_of(leaves[middle:last] if inside else leaves[first:middle]))
        first, last = (first, middle) if inside else (middle, last)
    return tuple(reversed(path))


def consistency_proof(leaves: Sequence[bytes], earlier_size: int) -> Proof:
    """Return the hashes that show that a log only grew since it had `earlier_size` entries.

    Parameters
    ----------
    leaves : sequence of bytes
        Leaf hashes of the whole log as it is now.
    earlier_size : int
        Its size then, 1 to what it is now.

    Raises
    ------
    ValueError
        If the log never had that size.
    """
    if not 1 <= earlier_size <= len(leaves):
        raise ValueError(f"earlier_size must be 1 to {len(leaves)}, got {earlier_size}")
    path: list[bytes] = []
    first, last, whole = 0, len(leaves), True
    while last != earlier_size:
        middle = first + _split(last - first)
        if earlier_size <= middle:
            path.append(root_of(leaves[middle:last]))
            last = middle
        else:
            path.append(root_of(leaves[first:middle]))
            first, whole = middle, False
    if not whole:
        path.append(root_of(leaves[first:last]))
    return tuple(reversed(path))


def is_included(leaf: bytes, index: int, size: int, proof: Proof, root: bytes) -> bool:
    """Return whether an inclusion proof leads from a leaf hash to a root (RFC 9162, 2.1.3.2)."""
    if not 0 <= index < size:
        return False
    place, last, node = index, size - 1, leaf
    for step in proof:
        if last == 0:
            return False
        if place & 1 or place == last:
            node = node_hash(step, node)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            node = node_hash(node, step)
        place, last = place >> 1, last >> 1
    return last == 0 and node == root


def is_consistent(
    earlier_size: int, earlier_root: bytes, size: int, root: bytes, proof: Proof
) -> bool:
    """Return whether a proof shows one tree to be the start of another (RFC 9162, 2.1.4.2)."""
    if not 1 <= earlier_size <= size:
        return False
    if earlier_size == size:
        return not proof and earlier_root == root
    power_of_two = earlier_size & (earlier_size - 1) == 0
    steps = (earlier_root, *proof) if power_of_two else proof
    if not steps:
        return False
    place, last = earlier_size - 1, size - 1
    while place & 1:
        place, last = place >> 1, last >> 1
    return _climbed(steps, place, last) == (earlier_root, root)


def _climbed(steps: Proof, place: int, last: int) -> tuple[bytes, bytes] | None:
    """Return the earlier and the later root that the steps lead to; None if they do not end."""
    earlier = later = steps[0]
    for step in steps[1:]:
        if last == 0:
            return None
        if place & 1 or place == last:
            earlier, later = node_hash(step, earlier), node_hash(step, later)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            later = node_hash(later, step)
        place, last = place >> 1, last >> 1
    return (earlier, later) if last == 0 else None


def _split(size: int) -> int:
    """Return the largest power of two below a size of 2 or more."""
    return 1 << (size - 1).bit_length() - 1


def _sized(leaf: bytes) -> bytes:
    if len(leaf) != HASH_BYTES:
        raise ValueError(f"a leaf hash must be {HASH_BYTES} bytes, got {len(leaf)}")
    return leaf
