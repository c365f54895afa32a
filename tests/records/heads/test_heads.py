"""Heads kept elsewhere: signed, printed, typed again, and held against a ledger that was bent."""

import dataclasses
import datetime as dt
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.records.heads.checking import head_at, held_against
from quizzes.records.heads.head import head_json, head_of, signed_head, typed_code
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import TrustedKey, TrustList

LEDGER = "6f0d2c4e-1111-4222-8333-444455556666"
AT = dt.datetime(2026, 11, 28, 9, 0, 0, 123, tzinfo=dt.UTC)
KEY = SigningKey.drawn()
TRUST = TrustList((TrustedKey(KEY.public, "Quince Lane", dt.datetime(2026, 1, 1, tzinfo=dt.UTC)),))
ENTRIES = [f'{{"seq":{number},"what":"reading"}}'.encode() for number in range(1, 121)]


def head(size, entries=ENTRIES):
    """Return the signed head of the first entries."""
    return signed_head(head_at(LEDGER, entries[:size], AT), KEY)


KEPT = [head(40), head(80), head(120)]


def test_a_ledger_that_only_grew_agrees_with_all_its_heads():
    """Signed heads and printed codes, in any order."""
    check = held_against(LEDGER, ENTRIES, [KEPT[2], KEPT[0].head.code, KEPT[1]], TRUST)

    assert check.sound
    assert [finding.size for finding in check.findings] == [40, 80, 120]
    assert check.sentences()[-1] == (
        "The first 120 of 120 entries are those that were there when the head was made. That is all of them."
    )


def test_entries_after_the_newest_head_are_said_to_be_unknown():
    """A head says nothing of what came later."""
    check = held_against(LEDGER, ENTRIES, [KEPT[0]], TRUST)

    assert check.sound
    assert "No head speaks of the 80 after them yet." in check.sentences()[-1]


def test_without_a_head_nothing_is_claimed():
    """A ledger that nobody else has seen may have been made this morning."""
    check = held_against(LEDGER, ENTRIES, [], TRUST)

    assert "No head was given" in check.sentences()[0]


BENT = {
    "changed": ([*ENTRIES[:59], b'{"seq":60,"what":"competent"}', *ENTRIES[60:]], 41, 80),
    "deleted": (ENTRIES[:59] + ENTRIES[60:], 41, 80),
    "swapped": ([*ENTRIES[:58], ENTRIES[59], ENTRIES[58], *ENTRIES[60:]], 41, 80),
    "inserted": ([*ENTRIES[:59], b"{}", *ENTRIES[59:]], 41, 80),
    "made anew": ([b"anew " + entry for entry in ENTRIES], 1, 40),
    "first": ([b"{}", *ENTRIES[1:]], 1, 40),
    "last": ([*ENTRIES[:-1], b"{}"], 81, 120),
    "cut off": (ENTRIES[:100], 81, 120),
    "cut to a head": (ENTRIES[:80], 81, 120),
    "emptied": ([], 1, 40),
}


@pytest.mark.parametrize("kind", BENT)
def test_whatever_was_bent_is_found_and_its_place_named(kind):
    """By signed heads and by codes alike, between which two of them the first change lies."""
    entries, first, last = BENT[kind]

    for kept in (KEPT, [one.head.code for one in KEPT]):
        check = held_against(LEDGER, entries, kept, TRUST)
        assert not check.sound
        assert (check.first_bad, check.last_bad) == (first, last)
        assert f"entry {first} and no later than entry {last}" in check.sentences()[-1]


def test_what_was_cut_off_is_called_so():
    """The auditor reads that entries are gone, not that they changed."""
    check = held_against(LEDGER, ENTRIES[:100], [KEPT[2]], TRUST)

    assert "only 100 are left: the end was cut off" in check.sentences()[0]


def test_a_signed_head_survives_being_kept():
    """As JSON, word for word; moments to the second."""
    again = head_of(json.loads(json.dumps(head_json(KEPT[1]))))

    assert again == KEPT[1]
    assert again.holds
    assert again.head.at == AT.replace(microsecond=0)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("size", 79),
        ("root", "0" * 64),
        ("at", "2026-11-28T09:00:01Z"),
        ("ledger", "another"),
        ("key", SigningKey.drawn().public.did),
        ("signature", head_json(KEPT[0])["signature"]),
    ],
    ids=["size", "root", "at", "ledger", "key", "signature"],  # keys are drawn anew in each worker
)
def test_a_head_with_one_field_changed_no_longer_holds(field, value):
    """Each field is signed."""
    assert not head_of({**head_json(KEPT[1]), field: value}).holds


@pytest.mark.parametrize(
    "found",
    [
        None,
        [],
        {},
        {**head_json(KEPT[0]), "kind": "else"},
        {**head_json(KEPT[0]), "note": "more"},
        {**head_json(KEPT[0]), "size": "40"},
        {**head_json(KEPT[0]), "size": -1},
        {**head_json(KEPT[0]), "size": True},
        {**head_json(KEPT[0]), "root": "xyz"},
        {**head_json(KEPT[0]), "root": "A" * 64},
        {**head_json(KEPT[0]), "at": "yesterday"},
        {**head_json(KEPT[0]), "at": "2026-11-28T09:00:00"},
        {**head_json(KEPT[0]), "signature": "0"},
    ],
)
def test_what_is_no_head_is_refused(found):
    """Other kinds, fields too many, wrong types."""
    with pytest.raises(ValueError):
        head_of(found)


def test_a_head_signed_by_a_stranger_does_not_count():
    """Nor one of another ledger, nor one of a time for which its key is not trusted."""
    stranger = signed_head(KEPT[0].head, SigningKey.drawn())
    early = dataclasses.replace(KEPT[0].head, at=dt.datetime(2025, 1, 1, tzinfo=dt.UTC))
    other = dataclasses.replace(KEPT[0].head, ledger="another")

    with pytest.raises(ValueError, match="not trusted"):
        held_against(LEDGER, ENTRIES, [stranger], TRUST)
    with pytest.raises(ValueError, match="not trusted"):
        held_against(LEDGER, ENTRIES, [signed_head(early, KEY)], TRUST)
    with pytest.raises(ValueError, match="of ledger another"):
        held_against(LEDGER, ENTRIES, [signed_head(other, KEY)], TRUST)
    with pytest.raises(ValueError, match="not signed by the key"):
        held_against(
            LEDGER, ENTRIES, [dataclasses.replace(KEPT[0], key=SigningKey.drawn().public)], TRUST
        )


def test_a_code_is_read_as_it_is_typed():
    """Small letters, spaces for dashes, no dashes at all."""
    code = KEPT[0].head.code
    size, signs = code.split("-", 1)

    assert code.startswith("40-")
    for typed in (code.lower(), code.replace("-", " "), f" {size} {signs.replace('-', '')} "):
        assert typed_code(typed) == code
        assert held_against(LEDGER, ENTRIES, [typed]).sound


@pytest.mark.parametrize(
    "text", ["", "40", "40-ABCD", "x-2345-2345-2345-2345-2345-2345", "9" * 300]
)
def test_what_cannot_be_a_code_is_refused(text):
    """One sentence with an example."""
    with pytest.raises(ValueError, match="6 groups"):
        typed_code(text)


@given(st.integers(0, 23), st.data())
def test_a_code_mistyped_by_one_sign_never_agrees(place, data):
    """A slip of the pen cannot pass for agreement."""
    size, signs = KEPT[0].head.code.split("-", 1)
    plain = list(signs.replace("-", ""))
    others = [sign for sign in "23456789ABCDEFGHJKMNPQRSTVWXYZ" if sign != plain[place]]
    plain[place] = data.draw(st.sampled_from(others))

    assert not held_against(LEDGER, ENTRIES, [f"{size}-{''.join(plain)}"]).sound


def test_the_code_tells_ledgers_apart():
    """The same entries under another ledger's name have another code."""
    assert head_at("another", ENTRIES, AT).code != head_at(LEDGER, ENTRIES, AT).code


def test_a_head_of_nothing_agrees_with_any_ledger():
    """An empty ledger is the beginning of every ledger."""
    assert held_against(LEDGER, ENTRIES, [head(0)], TRUST).sound
