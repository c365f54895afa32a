"""Receipts and proofs of growth: checked by people who have no ledger, with a public key alone."""

import copy
import dataclasses
import datetime as dt
import json

import pytest

from quizzes.__main__ import main
from quizzes.records.credentials.ledger_files import kept_heads
from quizzes.records.heads.checking import head_at, held_against
from quizzes.records.heads.handed import growth, handed_json, handed_of, receipt
from quizzes.records.heads.head import head_json, signed_head
from quizzes.records.heads.merkle import leaf_hash
from quizzes.records.keys.signing import SigningKey

LEDGER = "6f0d2c4e-1111-4222-8333-444455556666"
AT = dt.datetime(2026, 11, 28, 9, 0, tzinfo=dt.UTC)
KEY = SigningKey.drawn()
ENTRIES = [f"entry {number}".encode() for number in range(100)]
LEAVES = [leaf_hash(entry) for entry in ENTRIES]


def head(size, ledger=LEDGER, entries=ENTRIES, at=AT):
    """Return the signed head of the first entries."""
    return signed_head(head_at(ledger, entries[:size], at), KEY)


RECEIPT = receipt(LEAVES, 41, head(100))
GROWTH = growth(LEAVES, head(60), head(100))


@pytest.mark.parametrize("size", [1, 2, 3, 7, 8, 60, 99, 100])
def test_every_entry_has_a_receipt(size):
    """First, last and those between, for odd and even sizes; through JSON as they travel."""
    for index in {0, size // 2, size - 1}:
        made = receipt(LEAVES[:size], index, head(size))
        assert handed_of(json.loads(json.dumps(handed_json(made)))) == made
        assert made.holds


def test_growth_between_any_two_heads_is_shown():
    """From each size to each later one, and from one to itself."""
    for later in (1, 2, 5, 64, 100):
        for earlier in {1, later // 2 or 1, later}:
            made = growth(LEAVES[:later], head(earlier), head(later))
            assert handed_of(json.loads(json.dumps(handed_json(made)))) == made
            assert made.holds


def test_a_bent_ledger_can_make_no_proof_of_growth():
    """Remade, cut off, or with one entry changed: the house itself cannot get past its head."""
    bent = [*ENTRIES[:30], b"competent", *ENTRIES[31:]]
    leaves = [leaf_hash(entry) for entry in bent]
    now = head(100, entries=bent)

    with pytest.raises(ValueError, match="is not the head of these 60 entries"):
        growth(leaves, head(60), now)
    with pytest.raises(ValueError, match="1 to 50 entries, got 60"):
        growth(LEAVES[:50], head(60), head(50))
    # Whatever proof is tried: the two roots do not go together.
    honest = growth(LEAVES, head(60), head(100))
    assert not dataclasses.replace(honest, later=now).holds
    forged = growth(leaves, head(60, entries=bent), now)
    assert not dataclasses.replace(forged, earlier=head(60)).holds


def test_heads_of_two_ledgers_do_not_grow_into_one_another():
    """The same entries under another name are another ledger."""
    assert not dataclasses.replace(GROWTH, earlier=head(60, ledger="another")).holds


@pytest.mark.parametrize(
    "change",
    [
        lambda one: one.update(leaf=LEAVES[40].hex()),
        lambda one: one.update(index=40),
        lambda one: one.update(index=100),
        lambda one: one["proof"].pop(),
        lambda one: one["proof"].reverse(),
        lambda one: one["proof"].append(LEAVES[0].hex()),
        lambda one: one.update(head=head_json(head(99))),
        lambda one: one["head"].update(size=101),
    ],
)
def test_a_changed_receipt_does_not_hold(change):
    """Another entry, another place, another path, another head."""
    bent = copy.deepcopy(handed_json(RECEIPT))
    change(bent)

    assert not handed_of(bent).holds


@pytest.mark.parametrize(
    "found",
    [
        None,
        [],
        {"kind": "else"},
        {**handed_json(RECEIPT), "note": "more"},
        {**handed_json(RECEIPT), "index": -1},
        {**handed_json(RECEIPT), "index": "41"},
        {**handed_json(RECEIPT), "leaf": "41"},
        {**handed_json(RECEIPT), "proof": "none"},
        {**handed_json(RECEIPT), "proof": [1]},
        {**handed_json(GROWTH), "proof": [LEAVES[0].hex()] * 81},
        {**handed_json(GROWTH), "earlier": {}},
    ],
)
def test_what_is_neither_is_refused(found):
    """Other kinds, fields too many, wrong types, a proof without end."""
    with pytest.raises(ValueError):
        handed_of(found)


FILES = {
    "head": (head_json(head(60)), 0, "says nothing of what came later"),
    "receipt": (handed_json(RECEIPT), 0, "Entry 42 is in the ledger with the head 100-"),
    "growth": (handed_json(GROWTH), 0, "its 100 entries begin with the 60"),
    "bent head": ({**head_json(head(60)), "size": 61}, 1, "does not hold"),
    "bent receipt": ({**handed_json(RECEIPT), "index": 3}, 1, "does not hold"),
    "bent growth": (
        {**handed_json(GROWTH), "earlier": head_json(head(61))},
        1,
        "does not hold",
    ),
    "half a head": ({"kind": "gap-and-lining ledger head"}, 2, "It is not a gap-and-lining"),
    "stranger": (
        head_json(signed_head(head(60).head, SigningKey.drawn())),
        6,
        "is not among the trusted keys",
    ),
    "of the future": (
        head_json(head(60, at=dt.datetime(2030, 1, 1, tzinfo=dt.UTC))),
        4,
        "later than this machine’s clock",
    ),
}


@pytest.mark.parametrize("kind", FILES)
def test_the_command_tells_them_apart(tmp_path, capsys, monkeypatch, kind):
    """`verify` on a head, a receipt, a growth: a sentence, and the exit codes of records."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path))
    found, wanted, sentence = FILES[kind]
    (tmp_path / "file.json").write_text(json.dumps(found))
    words = [str(tmp_path / "file.json"), "--issuer", KEY.public.did, "--on", "2027-01-01"]

    assert main(["verify", *words]) == wanted
    assert sentence in capsys.readouterr().out


def test_an_auditor_brings_heads_back_as_codes_and_files(tmp_path):
    """Typed from paper or kept as files, mixed: the ledger is held against all of them."""
    for name, found in {
        "head.json": head_json(head(60)),
        "receipt.json": handed_json(RECEIPT),
        "growth.json": handed_json(growth(LEAVES[:80], head(20), head(80))),
    }.items():
        (tmp_path / name).write_text(json.dumps(found))
    names = [str(tmp_path / name) for name in ("head.json", "receipt.json", "growth.json")]
    kept = kept_heads([head(40).head.code.lower(), *names])
    sizes = [finding.size for finding in held_against(LEDGER, ENTRIES, kept).findings]

    assert sizes == [20, 40, 60, 80, 100]
    assert held_against(LEDGER, ENTRIES, kept).sound
    check = held_against(LEDGER, [*ENTRIES[:70], b"bent", *ENTRIES[71:]], kept)
    assert (check.first_bad, check.last_bad) == (61, 80)


def test_what_an_auditor_cannot_bring_is_refused(tmp_path):
    """No code, no such file, a file of something else, a bent one."""
    (tmp_path / "else.json").write_text("{}")
    (tmp_path / "bent.json").write_text(json.dumps({**head_json(head(60)), "root": "x"}))
    for word, words in {
        "soon": "A head’s code is",
        str(tmp_path / "none.json"): "A head’s code is",
        str(tmp_path / "else.json"): "else.json is not a head",
        str(tmp_path / "bent.json"): "bent.json is not a gap-and-lining ledger head",
    }.items():
        with pytest.raises(ValueError, match=words):
            kept_heads([word])
