"""The hash tree: published roots and proofs, every proof up to 70 entries, and what must fail."""

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.records.heads.merkle import (
    EMPTY_ROOT,
    Frontier,
    consistency_proof,
    inclusion_proof,
    is_consistent,
    is_included,
    leaf_hash,
    root_of,
)

# Outside check: the entries, roots and proofs that the first certificate-transparency log was
# tested with (Google's certificate-transparency, merkle_tree_test; RFC 6962), as other logs use
# them still. RFC 9162, 2.1 has the same tree.
CT_ENTRIES = [
    bytes.fromhex(digits)
    for digits in (
        "",
        "00",
        "10",
        "2021",
        "3031",
        "40414243",
        "5051525354555657",
        "606162636465666768696a6b6c6d6e6f",
    )
]
CT_ROOTS = [
    "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
    "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
    "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
]
CT_INCLUSION = [
    (
        0,
        8,
        [
            "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7",
            "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e",
            "6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4",
        ],
    ),
    (
        5,
        8,
        [
            "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b",
            "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
            "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
        ],
    ),
]
CT_CONSISTENCY = [
    (
        2,
        5,
        [
            "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e",
            "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b",
        ],
    ),
]
CT_LEAVES = [leaf_hash(entry) for entry in CT_ENTRIES]
LEAVES = [leaf_hash(bytes([number])) for number in range(70)]


def root_by_definition(entries):
    """Return the root straight from the recursive definition in RFC 9162, 2.1.1; no shared code."""
    if not entries:
        return hashlib.sha256(b"").digest()
    if len(entries) == 1:
        return hashlib.sha256(b"\0" + entries[0]).digest()
    half = 1
    while half * 2 < len(entries):
        half *= 2
    left, right = root_by_definition(entries[:half]), root_by_definition(entries[half:])
    return hashlib.sha256(b"\1" + left + right).digest()


@pytest.mark.parametrize("size", range(1, 9))
def test_the_published_roots_come_out(size):
    """The eight reference roots, each after one more entry."""
    assert root_of(CT_LEAVES[:size]).hex() == CT_ROOTS[size - 1]


def test_an_empty_log_has_the_root_of_nothing():
    """RFC 9162, 2.1.1: the hash of an empty list is the hash of an empty string."""
    assert root_of([]) == EMPTY_ROOT == hashlib.sha256(b"").digest()


@pytest.mark.parametrize(("index", "size", "path"), CT_INCLUSION)
def test_the_published_inclusion_proofs_come_out(index, size, path):
    """Made by us as published, and the published ones accepted by us."""
    proof = tuple(bytes.fromhex(step) for step in path)

    assert inclusion_proof(CT_LEAVES[:size], index) == proof
    assert is_included(CT_LEAVES[index], index, size, proof, bytes.fromhex(CT_ROOTS[size - 1]))


@pytest.mark.parametrize(("earlier", "size", "path"), CT_CONSISTENCY)
def test_the_published_consistency_proof_comes_out(earlier, size, path):
    """Made by us as published, and the published one accepted by us."""
    proof = tuple(bytes.fromhex(step) for step in path)
    then, now = (bytes.fromhex(CT_ROOTS[n - 1]) for n in (earlier, size))

    assert consistency_proof(CT_LEAVES[:size], earlier) == proof
    assert is_consistent(earlier, then, size, now, proof)


@pytest.mark.parametrize("size", range(1, 71))
def test_every_proof_of_every_log_up_to_70_entries_holds_and_no_other(size):
    """All entries and all earlier sizes, with the root of the definition; neighbours are refused."""
    leaves, root = LEAVES[:size], root_by_definition([bytes([n]) for n in range(size)])
    for index in range(size):
        proof = inclusion_proof(leaves, index)
        assert is_included(leaves[index], index, size, proof, root)
        assert not is_included(LEAVES[index - 1], index, size, proof, root)
        assert not is_included(leaves[index], index + 1, size, proof, root)
        assert not is_included(leaves[index], index, size, (*proof, root), root)
        assert not proof or not is_included(leaves[index], index, size, proof[:-1], root)
    for earlier in range(1, size + 1):
        proof = consistency_proof(leaves, earlier)
        then = root_by_definition([bytes([n]) for n in range(earlier)])
        assert is_consistent(earlier, then, size, root, proof)
        assert not is_consistent(earlier, leaf_hash(then), size, root, proof)
        assert not is_consistent(earlier, then, size, leaf_hash(root), proof)
        assert not is_consistent(earlier, then, size, root, (*proof, root))
        assert not proof or not is_consistent(earlier, then, size, root, proof[1:])


@given(st.lists(st.binary(max_size=40), max_size=60), st.data())
def test_a_changed_lost_or_moved_entry_changes_the_root(entries, data):
    """Whatever is done to one entry, the root is another."""
    leaves = [leaf_hash(entry) for entry in entries]
    bent = list(leaves)
    if not bent:
        return
    at = data.draw(st.integers(0, len(bent) - 1))
    kind = data.draw(st.sampled_from(["change", "lose", "double"]))
    if kind == "change":
        bent[at] = leaf_hash(entries[at] + b"!")
    elif kind == "lose":
        del bent[at]
    else:
        bent.insert(at, bent[at])

    assert root_of(bent) != root_of(leaves)


@given(st.lists(st.binary(max_size=8), max_size=80))
def test_a_log_that_is_added_to_has_the_root_of_one_made_at_once(entries):
    """The few hashes kept between two entries are enough."""
    frontier = Frontier()
    for entry in entries:
        frontier = frontier.added(leaf_hash(entry))

    assert frontier.root == root_by_definition(entries)
    assert len(frontier.peaks) == frontier.size.bit_count()


def test_an_entry_cannot_pass_for_two():
    """A branch's own bytes, entered as an entry, give another root: leaves and nodes are marked."""
    left, right = CT_LEAVES[:2]

    assert root_of([leaf_hash(left + right)]) != root_of([left, right])
    assert root_of([leaf_hash(b"\x01" + left + right)]) != root_of([left, right])


@pytest.mark.parametrize("index", [-1, 8, 9])
def test_a_proof_of_an_entry_that_is_not_there_is_refused(index):
    """The message says which there are."""
    with pytest.raises(ValueError, match="index must be 0 to 7"):
        inclusion_proof(CT_LEAVES, index)


@pytest.mark.parametrize("earlier", [0, 9, -3])
def test_a_proof_from_a_size_the_log_never_had_is_refused(earlier):
    """The message says which sizes there were."""
    with pytest.raises(ValueError, match="earlier_size must be 1 to 8"):
        consistency_proof(CT_LEAVES, earlier)


def test_what_is_no_hash_is_not_taken_for_a_leaf():
    """An entry given in place of its hash is refused."""
    with pytest.raises(ValueError, match="must be 32 bytes, got 5"):
        root_of([b"entry"])
