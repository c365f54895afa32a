"""A competency record on paper: one person's, the same bytes each time, checkable from the file."""

import dataclasses
import datetime as dt
import hashlib
import io
import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pypdf
import pypdfium2
import pytest
import zxingcpp

from quizzes.desks.printing.competency import competency_pdf
from quizzes.records.credentials.document import issued
from quizzes.records.credentials.from_pdf import ATTACHED, attached_record
from quizzes.records.credentials.pointer import pointer_of, pointer_to
from quizzes.records.credentials.reading import UnreadableError
from quizzes.records.credentials.record import PLACES, ElementShown, Outcome
from quizzes.records.keys.signing import SigningKey
from tests.records.credentials.records import DECIDED, HOUSE, person, record

KEY = SigningKey.of_secret(bytes(range(32)))
ON = dt.date(2026, 11, 28)
ISSUED = issued(record(), KEY, HOUSE, DECIDED)
POINTER = pointer_to(ISSUED, KEY)


def sheet(paper="A4", of=None, **more):
    """Return the printed record as a PDF file."""
    signed = {"credential": ISSUED, "pointer": POINTER} if of is None else {}
    return competency_pdf(of or record(), HOUSE, paper, ON, **(signed | more))


def text_of(content):
    """Return what a PDF says, as one text."""
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


@pytest.mark.parametrize(
    ("paper", "size_mm"), [("A4", (210.0, 297.0)), ("Letter", (215.9, 279.4))], ids=["A4", "Letter"]
)
def test_it_is_on_the_paper_asked_for(paper, size_mm):
    """ISO 216 and ANSI/ASME Y14.1, to the tenth of a millimetre."""
    for page in pypdf.PdfReader(io.BytesIO(sheet(paper))).pages:
        found = [float(side) / 72 * 25.4 for side in page.mediabox[2:]]
        assert found == pytest.approx(size_mm, abs=0.1)


def test_it_says_all_that_the_record_says():
    """Every text of the record stands on the paper."""
    said = text_of(sheet())
    found = record()
    texts = [
        found.holder.name,
        f"{found.assessor.name}, assessor",
        f"{found.second.name}, second assessor",
        HOUSE,
        found.criteria,
        found.scope.design,
        *found.scope.sizes,
        *found.shows,
        *found.shows_not,
        found.reasons,
        found.deference,
        *(line for element in found.elements for line in element.evidence),
        "24 of 24",
        "22 of 24",
        *dataclasses.astuple(dataclasses.replace(found.basis, place=PLACES[found.basis.place])),
        found.id,
        "28 November 2027",
        KEY.public.did,
    ]

    assert [text for text in texts if text not in said] == []


def test_printing_one_person_prints_nobody_else():
    """Another person's record printed before leaves nothing in this one."""
    other = record(holder=person(9, "Alex Winterbourne", "candidate"))
    competency_pdf(other, HOUSE, "A4", ON)
    content = sheet()

    assert "Winterbourne" not in text_of(content)
    assert b"Winterbourne" not in content


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_code_on_the_paper_is_read_and_names_the_record(paper):
    """Printed, scanned at 100 dots an inch, read by another library: the signed pointer."""
    pages = pypdfium2.PdfDocument(sheet(paper))
    found = [
        code.text
        for number in range(len(pages))
        for code in zxingcpp.read_barcodes(
            np.array(pages[number].render(scale=100 / 72).to_pil().convert("L"))
        )
    ]
    pages.close()

    assert found == [POINTER.text]
    assert pointer_of(found[0]).fits(ISSUED)


def test_the_signed_record_is_inside_byte_for_byte():
    """Taken out again, it is the credential; the paper and the file belong together."""
    assert json.loads(attached_record(sheet(), "record.pdf")) == ISSUED


def test_the_same_record_is_the_same_file():
    """Twice in this process and once in another: no time and no dice in it."""
    script = (
        "import hashlib, sys\n"
        "from tests.desks.printing.test_competency import sheet\n"
        "sys.stdout.write(hashlib.sha256(sheet()).hexdigest())\n"
    )
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, cwd=root, check=True
    )

    assert sheet() == sheet()
    assert done.stdout == hashlib.sha256(sheet()).hexdigest()


def test_a_record_of_not_yet_carries_no_award():
    """It says so, has no code, nothing attached and no date until which it would be valid."""
    missing = ElementShown("S1", "Isolated", 3, 4, ("Not locked once.",), critical=True)
    content = sheet(of=record(outcome=Outcome.NOT_YET, elements=(missing,)))

    assert "Robin Ashdown: not yet competent" in text_of(content)
    assert "Valid until" not in text_of(content)
    assert pypdf.PdfReader(io.BytesIO(content)).attachments == {}


def test_what_does_not_belong_together_is_not_printed():
    """Another person's credential, another's code, an award beside not yet, half of the pair."""
    other = issued(record(id="3f8b2a54-6f3e-4f0b-9d3e-2f1c5b7a9e11"), KEY, HOUSE, DECIDED)
    elsewhere = {**ISSUED, "name": "Crane driver"}

    for more in (
        {"credential": other, "pointer": pointer_to(other, KEY)},
        {"credential": ISSUED, "pointer": pointer_to(other, KEY)},
        {"credential": elsewhere, "pointer": POINTER},
    ):
        with pytest.raises(ValueError, match="one and the same record"):
            sheet(**more)
    with pytest.raises(ValueError, match="give both or neither"):
        sheet(pointer=None)
    with pytest.raises(ValueError, match="competent outcome only"):
        sheet(of=record(outcome=Outcome.NOT_YET), credential=ISSUED, pointer=POINTER)


def test_a_text_that_a_person_typed_is_never_markup():
    """Tags and entities are printed as they were typed."""
    typed = "<b>bold</b> &amp; <img src='x'/> <para>"

    assert typed in text_of(sheet(of=record(reasons=typed)))


def test_sixty_elements_of_the_longest_kind_are_printed():
    """Long evidence flows over pages; nothing is cut and nothing fails."""
    elements = tuple(
        ElementShown(f"E{number}", "title " * 30, 5, 5, ("word " * 150,) * 2)
        for number in range(60)
    )
    said = text_of(sheet("Letter", of=record(elements=elements)))

    assert said.count("word") == 60 * 2 * 150
    assert "E59:" in said


def bent_pdfs():
    """Return files that are not printed records, by kind."""
    good = sheet()
    double = pypdf.PdfWriter(clone_from=pypdf.PdfReader(io.BytesIO(good)))
    double.add_attachment(ATTACHED, b"{}")
    held = io.BytesIO()
    double.write(held)
    return {
        "cut": good[:2000],
        "head": b"%PDF-1.4\n",
        "noise": b"%PDF-1.4\n" + bytes(range(256)) * 40,
        "none inside": sheet(of=record()),
        "two inside": held.getvalue(),
        "large": b"%PDF-" + bytes(5_000_000),
    }


@pytest.mark.parametrize("kind", ["cut", "head", "noise", "none inside", "two inside", "large"])
def test_a_pdf_without_one_record_is_refused_in_a_sentence(kind):
    """Cut off, hollow, noise, nothing attached, two attached, too large."""
    with pytest.raises(UnreadableError, match=r"^paper\.pdf .*\.$"):
        attached_record(bent_pdfs()[kind], "paper.pdf")
