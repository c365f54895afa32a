"""`python -m quizzes verify`: each finding told by a sentence and an exit code of its own."""

import copy
import datetime as dt
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from quizzes.__main__ import main
from quizzes.desks.printing.competency import competency_pdf
from quizzes.records.credentials.audit import EXIT_CODES
from quizzes.records.credentials.document import issued
from quizzes.records.credentials.pointer import pointer_to
from quizzes.records.credentials.proofs import proved
from quizzes.records.credentials.status import Withdrawals, status_list
from quizzes.records.credentials.verifying import Finding
from quizzes.records.keys.keeping import PUBLIC, SECRET, change_key, issuer_key
from quizzes.records.keys.signing import SigningKey
from tests.records.credentials.records import DECIDED, HOUSE, LIST, record

ROOT = Path(__file__).parents[3]
DAY = ["--on", "2027-03-01"]


@pytest.fixture(autouse=True)
def no_keys_of_this_machine(tmp_path, monkeypatch):
    """No test looks at the keys of whoever runs it."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "none"))


@pytest.fixture
def house(tmp_path):
    """Return a house's folder: its key, its list of issuers, a record of it."""
    key = issuer_key(tmp_path / "keys", HOUSE, dt.datetime(2026, 1, 1, tzinfo=dt.UTC))
    found = issued(record(), key, HOUSE, DECIDED)
    written(tmp_path / "record.json", found)
    pointer = pointer_to(found, key)
    sheet = competency_pdf(
        record(), HOUSE, "A4", dt.date(2026, 11, 28), credential=found, pointer=pointer
    )
    (tmp_path / "record.pdf").write_bytes(sheet)
    return tmp_path


def written(path, found):
    """Write JSON to a file and return its name."""
    path.write_text(json.dumps(found, indent=1, ensure_ascii=False), encoding="utf-8")
    return str(path)


def signed(house):
    """Return the record of the house."""
    return json.loads((house / "record.json").read_text(encoding="utf-8"))


def own_key(house):
    """Return the key of the house."""
    return issuer_key(house / "keys", HOUSE, DECIDED)


def said(capsys, *words):
    """Return the exit code of a command and what it printed."""
    code = main(["verify", *words])
    out = capsys.readouterr()
    assert not out.err
    assert "Traceback" not in out.out
    return code, out.out


def issuers(house):
    """Return the words that name the house's public keys."""
    return ["--issuer", str(house / "keys" / PUBLIC)]


@pytest.mark.parametrize("name", ["record.json", "record.pdf", "with a mark.json"])
def test_a_good_record_is_told_with_all_it_says(house, capsys, name):
    """From the file, or from the PDF that carries it, or after an editor put its mark in; code 0."""
    marked = b"\xef\xbb\xbf" + (house / "record.json").read_bytes()
    (house / "with a mark.json").write_bytes(marked)
    code, out = said(capsys, str(house / name), *issuers(house), *DAY)

    assert code == 0
    assert out.startswith(f"GOOD: Authentic and unchanged, signed by {HOUSE}.")
    for text in ("Robin Ashdown", "QL 16", "22 of 24", "812-7K3M", "not a licence", "14 %"):
        assert text in out


def test_each_finding_has_a_code_of_its_own():
    """A script can tell them apart."""
    assert len(set(EXIT_CODES.values())) == len(Finding)


def _tampered(house):
    found = signed(house)
    found["credentialSubject"]["result"][1]["value"] = "24"
    return [written(house / "bent.json", found), *issuers(house), *DAY]


def _withdrawn(house):
    listed = status_list(
        LIST,
        Withdrawals.of({94_567}),
        own_key(house),
        HOUSE,
        dt.datetime(2027, 2, 1, tzinfo=dt.UTC),
    )
    name = written(house / "status.json", listed)
    return [str(house / "record.json"), *issuers(house), "--status", name, *DAY]


def _strangers(house):
    (house / "else").mkdir()
    issuer_key(house / "else" / "keys", "Else House", DECIDED)
    return [str(house / "record.json"), *issuers(house / "else"), *DAY]


FOUND = {
    "tampered": (_tampered, 1, "It was altered: the eddsa-jcs-2022 signature does not fit"),
    "expired": (
        lambda house: [str(house / "record.json"), *issuers(house), "--on", "2028-01-01"],
        3,
        "expired: it ended on 28 November 2027",
    ),
    "not yet valid": (
        lambda house: [str(house / "record.json"), *issuers(house), "--on", "2026-11-01"],
        4,
        "it begins on 28 November 2026",
    ),
    "withdrawn": (_withdrawn, 5, "in its status list of 1 February 2027"),
    "unknown issuer": (_strangers, 6, "is not among the trusted keys"),
    "no issuer named": (
        lambda house: [str(house / "record.json"), *DAY],
        6,
        "No issuer was named. Give --issuer",
    ),
}


@pytest.mark.parametrize("kind", FOUND)
def test_each_finding_is_told_apart(house, capsys, kind):
    """One sentence and one code each."""
    words, wanted, sentence = FOUND[kind]
    code, out = said(capsys, *words(house))

    assert code == wanted
    assert sentence in out


def test_a_status_list_is_told_with_its_date(house, capsys):
    """Not withdrawn as of the list's date, and nothing is claimed of later."""
    listed = status_list(
        LIST, Withdrawals.of(()), own_key(house), HOUSE, dt.datetime(2027, 2, 1, tzinfo=dt.UTC)
    )
    name = written(house / "status.json", listed)
    code, out = said(
        capsys, str(house / "record.json"), *issuers(house), "--status", name, *DAY, "--json"
    )
    found = json.loads(out)

    assert code == 0
    assert found["finding"] == "good"
    assert found["issuer"] == HOUSE
    assert found["status_as_of"] == "2027-02-01T00:00:00Z"
    assert "status as of 1 February 2027 00:00 UTC" in found["sentences"][1]
    assert ["Holder", "Robin Ashdown"] in found["says"]


def test_a_public_key_is_named_in_any_of_three_ways(house, capsys):
    """A list, a PEM as other programs write it, the identifier as printed on the record."""
    key = own_key(house).public
    pem = Ed25519PublicKey.from_public_bytes(key.raw).public_bytes(
        Encoding.PEM, PublicFormat.SubjectPublicKeyInfo
    )
    (house / "issuer.pub").write_bytes(pem)
    for named in (str(house / "keys" / PUBLIC), str(house / "issuer.pub"), key.did):
        assert said(capsys, str(house / "record.json"), "--issuer", named, *DAY)[0] == 0


def test_a_record_signed_before_a_change_of_keys_stays_good(house, capsys):
    """With the list as it is handed out after the change."""
    change_key(house / "keys", dt.datetime(2027, 1, 1, tzinfo=dt.UTC))

    assert said(capsys, str(house / "record.json"), *issuers(house), *DAY)[0] == 0


def test_the_keys_of_this_machine_are_taken_if_none_is_named(house, capsys, monkeypatch):
    """The house itself needs no option."""
    monkeypatch.setenv("GAL_KEYS", str(house / "keys"))

    assert said(capsys, str(house / "record.json"), *DAY)[0] == 0


def _large(path):
    with path.open("wb") as file:
        file.truncate(50_000_000)
    return path


UNREADABLE = {
    "missing": (lambda house: house / "none.json", "There is no file"),
    "folder": (lambda house: house, "is a folder"),
    "50 MB": (lambda house: _large(house / "large.json"), "50,000,000 bytes"),
    "50 MB as PDF": (lambda house: _large(house / "large.pdf"), "50,000,000 bytes"),
    "empty": (lambda house: _content(house, b""), "is empty"),
    "cut": (
        lambda house: _content(house, (house / "record.json").read_bytes()[:-200]),
        "not JSON, or was cut off",
    ),
    "list of keys": (lambda house: house / "keys" / PUBLIC, "a list of issuers’ keys: give it as"),
    "picture": (lambda house: _content(house, b"\x89PNG\r\n\x1a\n"), "Expected a record as it was"),
    "other context": (
        lambda house: _content(
            house, (house / "record.json").read_bytes().replace(b"context-3.0.3", b"context-9")
        ),
        "@context is not the one",
    ),
    "endless number": (
        lambda house: _content(house, b'{"x": ' + b"9" * 5000 + b"}"),
        "a number has 5000 digits",
    ),
    "a sitting": (
        lambda house: _content(house, b'{"kind": "sitting", "cases": [], "kept": {}}'),
        "a sitting saved as a file: python -m quizzes replay",
    ),
    "no PDF": (lambda house: _content(house, b"%PDF-1.4 nothing"), "damaged PDF"),
}


def _content(house, content):
    path = house / "bent.json"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize("kind", UNREADABLE)
def test_what_is_no_record_is_refused_in_a_sentence(house, capsys, kind):
    """Code 2, one line, the file named; nothing is read of what is too large."""
    make, sentence = UNREADABLE[kind]
    code, out = said(capsys, str(make(house)), *issuers(house), *DAY)

    assert code == 2
    assert out.startswith("UNREADABLE: ")
    assert sentence in out
    assert out.count("\n") == 1


BAD_KEYS = {
    "secret": (
        lambda house: (house / "keys" / SECRET).read_bytes(),
        "holds a secret key. It is not needed",
    ),
    "another kind": (
        lambda _: (
            generate_private_key(SECP256R1())
            .public_key()
            .public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo)
        ),
        "another kind of key",
    ),
    "damaged": (lambda _: b"-----BEGIN PUBLIC KEY-----\nAAAA\n", "not a public key in PEM"),
    "no key": (lambda _: b"robin@else.example", "holds no public key. Expected the issuer’s"),
    "picture": (lambda _: b"\x89PNG\r\n\x1a\n", "holds no public key. Expected the issuer’s"),
    "a record": (
        lambda house: (house / "record.json").read_bytes(),
        "key cannot be used as the issuer’s key. It is not a list of trusted issuers",
    ),
    "empty": (lambda _: b"", "holds no public key"),
}


@pytest.mark.parametrize("kind", BAD_KEYS)
def test_a_key_file_that_is_none_is_refused_in_a_sentence(house, capsys, kind):
    """Code 7; a secret key is called what it is, and is not repeated."""
    make, sentence = BAD_KEYS[kind]
    (house / "key").write_bytes(make(house))
    code, out = said(capsys, str(house / "record.json"), "--issuer", str(house / "key"), *DAY)

    assert code == 7
    assert out.startswith("KEY NOT USABLE: ")
    assert sentence in out
    assert "BEGIN" not in out


@pytest.mark.parametrize(
    "named", ["did:web:else.example", "did:key:z6Mk", "nothing.json", "nonsense", ""]
)
def test_an_issuer_that_is_none_is_refused(house, capsys, named):
    """Another method, a cut identifier, no file, no key: what was expected is said."""
    code, out = said(capsys, str(house / "record.json"), "--issuer", named, *DAY)

    assert code == 7
    assert f"“{named}” is not a public key. Expected did:key:z6Mk and 44 more" in out


def test_a_list_of_withdrawals_that_is_none_is_told_from_a_record_that_is_none(house, capsys):
    """The record itself, in the list's place; code 8."""
    record = str(house / "record.json")
    code, out = said(capsys, record, *issuers(house), "--status", record, *DAY)

    assert code == 8
    assert out.startswith("LIST NOT USABLE: ")


def test_a_text_cannot_steer_the_terminal(house, capsys):
    """Even a trusted house's record: escape signs and turned text are shown as question marks."""
    found = copy.deepcopy(signed(house))
    found["evidence"][0]["narrative"] = "\x1b[2J\x1b[31mGOOD\u202e"
    found.pop("proof")
    again = proved(found, own_key(house), "2026-11-28T09:30:00Z")
    code, out = said(capsys, written(house / "odd.json", again), *issuers(house), *DAY)

    assert code == 0
    assert "?[2J?[31mGOOD?" in out
    assert "\x1b" not in out


def test_a_day_that_is_none_is_refused(house, capsys):
    """By the command line itself."""
    with pytest.raises(SystemExit) as stop:
        main(["verify", str(house / "record.json"), "--on", "soon"])
    assert stop.value.code == 2
    assert "expected a day like 2026-11-28" in capsys.readouterr().err


def test_another_machine_needs_the_file_and_the_key_only(house):
    """Another process with an empty home, no store, no keys and no network of ours."""
    (house / "home").mkdir()
    did = own_key(house).public.did
    done = subprocess.run(
        [
            *(sys.executable, "-m", "quizzes", "verify", str(house / "record.pdf")),
            *("--issuer", did, *DAY),
        ],
        capture_output=True,
        text=True,
        cwd=house / "home",
        env={"PATH": os.environ["PATH"], "HOME": str(house / "home"), "PYTHONPATH": str(ROOT)},
    )

    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("GOOD: ")
    assert not done.stderr
    assert list((house / "home").iterdir()) == []


def test_somebody_elses_record_of_the_same_person_is_not_ours(house, capsys):
    """A stranger signs the very same words; the finding names the stranger."""
    stranger = issued(record(), SigningKey.drawn(), HOUSE, DECIDED)
    code, out = said(capsys, written(house / "theirs.json", stranger), *issuers(house), *DAY)

    assert code == 6
    assert "calls itself 'Quince Lane Hoist Training'" in out
    assert "Robin" not in out
