"""Names, labels, codes and canonical JSON: what is let in, and in which one form."""

import json
import math
import string
import unicodedata
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.records import Start
from quizzes.records.canonical import canonical
from quizzes.records.checks import person_name, plain_text
from quizzes.records.codes import ALPHABET, new_return_code, return_code_sha256

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)

# Outside check. Unicode Standard Annex 15 (Unicode normalization forms), table of section 1.2,
# figures 3 to 6 (from memory): canonical equivalents and their composed form NFC.
NFC = [
    ("\u212b", "\u00c5"),  # angstrom sign
    ("A\u030a", "\u00c5"),  # A with ring above
    ("s\u0323\u0307", "\u1e69"),  # s with dot below and dot above
    ("s\u0307\u0323", "\u1e69"),  # the same in another order
    ("\ufb01", "\ufb01"),  # the fi ligature is a compatibility character: NFC leaves it
]


@pytest.mark.parametrize(("typed", "kept"), NFC)
def test_two_ways_to_type_a_name_are_one_name(typed, kept):
    """A name from another keyboard compares equal."""
    assert person_name(f"  {typed}n ") == f"{kept}n"


@pytest.mark.parametrize(
    "name",
    [
        "",
        "   ",
        "x" * 81,
        "x" * 10_000_000,
        "a\nb",
        "a\x00b",
        "a\x1b[31mb",
        "a\x9fb",
        "a\u2028b",
        "a\u202eb",
        "a\ud800b",
        "\u200d\u200d",
        "\u0301",
        None,
        7,
        b"Ada",
    ],
)
def test_what_is_no_name_is_refused(name):
    """Empty, endless, unseen or turned-round text, and what is not text at all."""
    with pytest.raises(ValueError, match=r"^name must ") as caught:
        person_name(name)

    assert len(str(caught.value)) < 120


@pytest.mark.parametrize(
    "name", ["x" * 80, "Åsa", "李小龍", "O'Loft-Ade", "محمد", "می\u200cخواهم", "Ω", "José Nuñez"]
)
def test_names_of_all_scripts_are_kept(name):
    """What people are called is not for us to judge; joiners are part of some spellings."""
    assert person_name(name) == unicodedata.normalize("NFC", name)


@given(st.text(st.characters(), max_size=100))
def test_a_kept_name_is_kept_again_as_it_is(typed):
    """To take a kept name in once more changes nothing."""
    try:
        kept = person_name(typed)
    except ValueError:
        return

    assert person_name(kept) == kept
    assert 1 <= len(kept) <= 80
    assert kept == kept.strip()
    kept.encode("utf-8")


def begin(**changed):
    usual = {
        "name": "Ada",
        "form_id": "form",
        "form_edition": "1",
        "place": "test",
        "owner": "0" * 64,
        "software_version": "0.1",
        "rules_edition": "1",
        "started_at": NOON,
    }
    return Start(**(usual | changed))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"form_id": ""}, "form_id must be 1 to 80 characters"),
        ({"form_edition": "a\tb"}, "form_edition must hold no control characters"),
        ({"place": "home"}, "place must be one of web, lab, binder, test, got 'home'"),
        ({"software_version": 1.0}, "software_version must be text, got float"),
        ({"rules_edition": "x" * 81}, "rules_edition must be 1 to 80 characters"),
        ({"started_at": datetime(2026, 1, 1)}, "started_at must be a datetime with a time zone"),
    ],
)
def test_an_impossible_start_is_refused_by_name(changed, said):
    """Each field is named with what it may be."""
    with pytest.raises(ValueError, match=said):
        begin(**changed)


def test_a_reason_may_be_longer_than_a_label():
    """The limit is part of the sentence."""
    assert plain_text("reason", "x" * 500, 500) == "x" * 500
    with pytest.raises(ValueError, match="reason must be 1 to 500 characters, got 501"):
        plain_text("reason", "x" * 501, 500)


def test_a_return_code_has_55_bits_and_no_signs_alike():
    """Three groups of four; none of the signs that handwriting confuses."""
    codes = {new_return_code() for _ in range(200)}
    signs = set("".join(codes)) - {"-"}

    assert len(codes) == 200
    assert all([len(group) for group in code.split("-")] == [4, 4, 4] for code in codes)
    assert signs <= set(string.ascii_uppercase + string.digits) - set("0O1ILU")
    # 2400 draws miss one of 30 signs with a chance of 30 (29/30)^2400 = 1e-34.
    assert 12 * math.log2(len(signs)) >= 55
    assert signs == set(ALPHABET)


def test_each_sign_of_a_return_code_counts():
    """To change any one sign opens nothing."""
    code = "2345-6789-ABCD"

    for place, sign in enumerate(code):
        if sign != "-":
            other = code[:place] + "Z" + code[place + 1 :]
            assert return_code_sha256(other) != return_code_sha256(code)


# Outside check. RFC 8785 (JCS, 2020) section 3.2.3 sorts keys and drops spaces; for ASCII keys
# and these values its text and ours are the same by the RFC's rules, worked out by hand.
JCS = [
    ({"b": 1, "a": [True, None, "x"]}, '{"a":[true,null,"x"],"b":1}'),
    ({"10": 0, "1": 0, "A": 0, "a": 0, "": 0}, '{"":0,"1":0,"10":0,"A":0,"a":0}'),
    ({"gap_mm": 0.35}, '{"gap_mm":0.35}'),
    ({"t": 'a\nb"c\\'}, '{"t":"a\\nb\\"c\\\\"}'),
]


@pytest.mark.parametrize(("value", "spelt"), JCS)
def test_an_object_has_one_spelling(value, spelt):
    """Sorted keys, no spaces; the order in which a page built it makes no difference."""
    assert canonical("action", value) == spelt
    assert canonical("action", dict(reversed(value.items()))) == spelt


_TEXT = st.text(st.characters(exclude_categories=("Cs",)))


@given(st.dictionaries(_TEXT, st.integers(-(2**53) + 1, 2**53 - 1) | _TEXT))
def test_a_spelling_holds_no_control_character_and_reads_back(value):
    """PostgreSQL would refuse a NUL in text; as an escape any database holds it."""
    text = canonical("action", value)

    assert all(sign >= " " for sign in text)
    assert json.loads(text) == value


def test_a_size_limit_counts_bytes():
    """An object of exactly the limit passes, one byte more does not."""
    assert len(canonical("x", {"a": "b" * 12}, 20)) == 20
    with pytest.raises(ValueError, match="x must be <= 20 bytes of JSON, got 21"):
        canonical("x", {"a": "b" * 13}, 20)
