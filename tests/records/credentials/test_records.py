"""What a competency record may be, the QR pointer to it, and files that are none."""

import dataclasses
import datetime as dt
import json
import os
import tracemalloc

import numpy as np
import pytest
import zxingcpp

from quizzes.records.credentials.document import issued
from quizzes.records.credentials.pointer import (
    digest_of,
    pointer_of,
    pointer_to,
    qr_modules,
    trusted_pointer,
)
from quizzes.records.credentials.reading import LARGEST_BYTES, UnreadableError, file_bytes, parsed
from quizzes.records.credentials.record import ElementShown, Outcome, Person, Scope
from quizzes.records.keys.signing import SigningKey
from quizzes.records.keys.trust import TrustedKey, TrustList
from tests.records.credentials.records import DECIDED, HOUSE, UNTIL, person, record

KEY = SigningKey.drawn()
ISSUED = issued(record(), KEY, HOUSE, DECIDED)
TRUST = TrustList((TrustedKey(KEY.public, HOUSE, dt.datetime(2026, 1, 1, tzinfo=dt.UTC)),))
ELEMENT = ElementShown("S1", "Isolated", 3, 4, ("Locked in three of four.",), critical=True)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"assessor": person(1, "Robin Ashdown", "assessor")}, "must be different people"),
        ({"second": person(2, "Sam Okoro", "second assessor")}, "must be different people"),
        ({"second": person(1, "Robin Ashdown", "second assessor")}, "must be different people"),
        ({"elements": (ELEMENT,)}, "needs every critical element"),
        ({"elements": ()}, "elements must be 1 to 60"),
        ({"elements": (dataclasses.replace(ELEMENT, shown=4),) * 2}, "an id of their own"),
        ({"valid_until": DECIDED}, "valid_until must be after"),
        ({"decided_at": DECIDED.replace(tzinfo=None)}, "with a time zone"),
        ({"shows_not": ()}, "shows_not must be"),
        ({"shows": "One text"}, "shows must be a tuple"),
        ({"reasons": " "}, "reasons must be 1 to 1000"),
        ({"reasons": "x" * 1001}, "reasons must be 1 to 1000"),
        ({"scheme": "Hoists\u202e"}, "no control characters"),
        ({"id": "17"}, "id must be a UUID"),
    ],
)
def test_a_record_that_cannot_stand_is_refused(changes, words):
    """Decided by oneself, without evidence or bound, without reasons, out of time."""
    with pytest.raises(ValueError, match=words):
        record(**changes)


def test_not_yet_may_miss_a_critical_element():
    """The record of what is missing is a record too."""
    assert record(outcome=Outcome.NOT_YET, elements=(ELEMENT,)).elements == (ELEMENT,)


@pytest.mark.parametrize(
    "make",
    [
        lambda: ElementShown("S1", "Isolated", 5, 4, ()),
        lambda: ElementShown("S1", "Isolated", 0, 0, ()),
        lambda: ElementShown("S1", "Isolated", -1, 4, ()),
        lambda: Scope("Disc brake", (), ("inspect",)),
        lambda: Person("17", "Robin", "candidate"),
        lambda: Person("00000000-0000-4000-8000-000000000001", "", "candidate"),
    ],
)
def test_a_part_that_cannot_be_is_refused(make):
    """More shown than asked, no size, nobody."""
    with pytest.raises(ValueError, match="must be"):
        make()


def test_the_pointer_names_one_credential_and_no_other():
    """Word for word: with one letter changed it points elsewhere, whatever its proofs."""
    pointer = pointer_of(pointer_to(ISSUED, KEY).text)

    assert pointer == pointer_to(ISSUED, KEY)
    assert pointer.holds
    assert trusted_pointer(pointer, TRUST) == HOUSE
    assert pointer.fits(ISSUED)
    assert pointer.fits({**ISSUED, "proof": ISSUED["proof"][:1]})
    assert not pointer.fits({**ISSUED, "validUntil": "2037-11-28T09:30:00Z"})
    assert (pointer.valid_from, pointer.valid_until) == (DECIDED, UNTIL)


def test_a_pointer_with_one_part_changed_does_not_hold():
    """Each of its words is signed."""
    words = pointer_to(ISSUED, KEY).text.split(" ")
    other = pointer_to({**ISSUED, "id": f"urn:uuid:{'0' * 8}-0000-4000-8000-{'0' * 12}"}, KEY)
    others = [None, *other.text.split(" ")[1:2], "20270101T000000Z", "20370101T000000Z"]
    others += [pointer_to({**ISSUED, "name": "x"}, KEY).text.split(" ")[4]]
    others += [SigningKey.drawn().public.multibase, other.text.split(" ")[6]]
    for place, word in enumerate(others):
        if word is not None:
            bent = pointer_of(" ".join([*words[:place], word, *words[place + 1 :]]))
            assert not bent.holds
            assert not trusted_pointer(bent, TRUST)


def test_a_strangers_pointer_is_nobodys():
    """It holds by itself, and no trusted house stands behind it."""
    pointer = pointer_to(ISSUED, SigningKey.drawn())

    assert pointer.holds
    assert trusted_pointer(pointer, TRUST) == ""


@pytest.mark.parametrize(
    "text", ["", "https://else.example/1", "gap-and-lining-record/1 a b c d e f", "x" * 5000]
)
def test_what_is_no_pointer_is_refused(text):
    """Another code that somebody scanned."""
    with pytest.raises(ValueError, match="expected"):
        pointer_of(text)


def test_the_qr_code_is_read_by_another_library():
    """Drawn by one library, read by another, at the size that is printed."""
    text = pointer_to(ISSUED, KEY).text
    modules = np.array(qr_modules(text))
    image = np.kron(np.pad(~modules, 4, constant_values=True), np.ones((4, 4))) * 255
    [found] = zxingcpp.read_barcodes(image.astype(np.uint8))

    assert found.text == text
    assert len(text) < 360
    assert len(modules) <= 77  # version 15: 0.55 mm a module on 42 mm of paper


def test_50_megabytes_are_refused_before_they_are_read(tmp_path):
    """With the size in the sentence, and nothing of the file in memory."""
    path = tmp_path / "large.json"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    tracemalloc.start()
    try:
        with pytest.raises(UnreadableError, match=r"50,000,000 bytes.*at most 256,000.*not read"):
            file_bytes(path)
        _, most_bytes = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()

    assert most_bytes < 1_000_000


def test_a_record_too_long_to_be_read_is_not_signed():
    """Whatever is handed out can be checked; a long one, with sixty elements, still can."""
    line = "é" * 1000

    def long(lines):
        elements = tuple(
            ElementShown(f"E{number}", "t" * 200, 1, 1, (line,) * lines) for number in range(60)
        )
        return issued(record(elements=elements, reasons=line), KEY, HOUSE, DECIDED)

    assert len(json.dumps(long(1), indent=1, ensure_ascii=False).encode()) < LARGEST_BYTES
    with pytest.raises(ValueError, match="must be <= 256000 bytes"):
        long(3)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is empty"),
        (b"\xff\xfe{}", "not a text file in UTF-8"),
        (json.dumps(ISSUED).encode()[:1500], "was cut off"),
        (b'{"a": 1, "a": 2}', "a key comes twice"),
        (b'{"a": NaN}', "NaN is not a number"),
        (b"[" * 100_000, "nested too deeply"),
        (b" " * (LARGEST_BYTES + 1), "at most 256,000"),
        (b"\x89PNG\r\n\x1a\n", "not a text file in UTF-8"),
        (b"9" * 10_000, "not valid JSON"),
    ],
    ids=["empty", "utf-16", "cut", "twice", "nan", "deep", "large", "picture", "digits"],
)
def test_a_file_that_is_no_json_is_refused_in_a_sentence(content, words):
    """The sentence names the file."""
    with pytest.raises(UnreadableError, match=f"record.json.*{words}"):
        parsed(content, "record.json")


def test_what_is_no_file_is_refused(tmp_path):
    """A folder, a pipe that nobody writes to, nothing at all: none is waited for."""
    os.mkfifo(tmp_path / "pipe")

    for path in (tmp_path, tmp_path / "pipe", tmp_path / "none"):
        with pytest.raises(UnreadableError, match=r"There is no file|is a folder"):
            file_bytes(path)


def test_the_hash_of_a_credential_is_of_what_it_says():
    """Not of its proofs or their order."""
    assert digest_of(ISSUED) == digest_of({**ISSUED, "proof": []})
    with pytest.raises(ValueError, match="no canonical form"):
        digest_of({"a": float("nan")})
