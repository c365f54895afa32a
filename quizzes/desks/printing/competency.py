"""A competency record on paper, for one person, to be signed by hand; the signed file is inside."""

import datetime as dt
import io
import json
import re
from collections.abc import Mapping
from typing import Any

from pypdf import PdfReader, PdfWriter
from reportlab.platypus import KeepTogether, Spacer, Table, TableStyle

from quizzes.records.credentials.from_pdf import ATTACHED
from quizzes.records.credentials.pointer import Pointer, qr_modules
from quizzes.records.credentials.record import (
    PLACES,
    CompetencyRecord,
    ElementShown,
    Outcome,
    Person,
)
from widgets.brake.days import day_words

from .paper import boxed, heading, over_table, printed, ruled, unbroken, width_pt, words
from .qr import QrCode

_QR_MM = 46.0  # read by a telephone at arm's length: 0.7 mm a module
_SIGNING_PT = 26.0  # height in which a hand can sign
_CHECKING = (
    "This code says which record this is and is signed. The whole record, signed, is attached to "
    f"the PDF as {ATTACHED}: save it and run python -m quizzes verify on it. Paper alone proves "
    "nothing; compare it with the file."
)
_UNSIGNED = "No signed file belongs to this record: it was printed as a working paper."


def competency_pdf(
    record: CompetencyRecord,
    house: str,
    paper: str,
    printed_on: dt.date,
    *,
    credential: Mapping[str, Any] | None = None,
    pointer: Pointer | None = None,
) -> bytes:
    """Return a competency record as a PDF file.

    Parameters
    ----------
    record : CompetencyRecord
        Of one person.
    house : str
        The body that issues.
    paper : str
        `A4` or `Letter`.
    printed_on : date
        Day printed on the paper; the same day gives the same bytes.
    credential : mapping, optional
        The signed credential, to be attached.
    pointer : Pointer, optional
        What the QR code says; goes with the credential.

    Raises
    ------
    ValueError
        If there is no such paper, or credential, pointer and record do not belong together.
    """
    if (credential is None) is not (pointer is None):
        raise ValueError("credential and pointer go together: give both or neither")
    if credential and pointer:
        _belong_together(record, credential, pointer)
    wide_pt = width_pt(paper, wide=False)
    story: list[Any] = [
        words("Competency record", 18, bold=True, spaceAfter=4),
        words(f"{record.holder.name}: {record.outcome.value}", 14, bold=True, spaceAfter=2),
        words(record.scheme, 10, spaceAfter=6),
        *_who(record, house, wide_pt),
        *_elements(record, wide_pt),
        *_said("What the evidence shows", record.shows),
        *_said("What it does not show", record.shows_not),
        *_said("Reasons of the assessor", (record.reasons,)),
        *_basis(record, wide_pt),
        Spacer(0, 6),
        boxed("What comes first.", record.deference, danger=True),
        KeepTogether([*_code(pointer, wide_pt), *_signatures(record, wide_pt)]),
    ]
    title = f"Competency record, {record.holder.name}, {record.decided_at:%Y-%m-%d}"
    foot = f"{house} · record {record.id} · printed {day_words(printed_on)}"
    sheet = printed(story, paper, title, foot, wide=False)
    return sheet if credential is None else _attached(sheet, credential)


def _belong_together(
    record: CompetencyRecord, credential: Mapping[str, Any], pointer: Pointer
) -> None:
    if record.outcome is not Outcome.COMPETENT:
        raise ValueError("a credential goes with a competent outcome only")
    ids = {f"urn:uuid:{record.id}", credential.get("id"), pointer.credential_id}
    if len(ids) != 1 or not pointer.fits(credential):
        raise ValueError("record, credential and pointer must be of one and the same record")


def _table(pairs: list[tuple[str, str]], wide_pt: float) -> Any:  # noqa: ANN401 (reportlab has no types)
    head = [words("What", 8, bold=True), words("As recorded", 8, bold=True)]
    rows = [[words(label, 8, bold=True), words(text, 9)] for label, text in pairs]
    return ruled([head, *rows], [0.25 * wide_pt, 0.75 * wide_pt])


def _who(record: CompetencyRecord, house: str, wide_pt: float) -> list[Any]:
    scope = record.scope
    pairs = [
        ("Holder", record.holder.name),
        ("Decided by", _person(record.assessor)),
        *([("Second assessor", _person(record.second))] if record.second else []),
        ("Body", house),
        ("Scheme", f"{record.scheme}, edition {record.scheme_edition}"),
        ("Design of brake", scope.design),
        ("Sizes", ", ".join(map(unbroken, scope.sizes))),
        ("Tasks", ", ".join(scope.tasks)),
        ("Required", record.criteria),
        ("Decided on", f"{day_words(record.decided_at)} {record.decided_at:%H:%M} UTC"),
    ]
    if record.outcome is Outcome.COMPETENT:
        pairs.append(("Valid until", f"{day_words(record.valid_until)}"))
    return [_table(pairs, wide_pt)]


def _person(person: Person) -> str:
    return f"{person.name}, {person.role}"


def _elements(record: CompetencyRecord, wide_pt: float) -> list[Any]:
    heads = ("Element", "Shown", "Evidence")
    rows = [[words(head, 8, bold=True) for head in heads]]
    rows += [_element(element) for element in record.elements]
    return [
        *over_table("Elements"),
        ruled(rows, [0.32 * wide_pt, 0.13 * wide_pt, 0.55 * wide_pt]),
    ]


def _element(element: ElementShown) -> list[Any]:
    note = "\nCritical: cannot be missed." if element.critical else ""
    return [
        words(f"{element.id}: {element.title}{note}", 8.5),
        words(f"{element.shown} of {element.asked}", 8.5),
        words("\n".join(map(_counted, element.evidence)) or "-", 8.5),
    ]


def _counted(line: str) -> str:
    """Return a line of evidence whose count, `(3 times)`, stays together."""
    return re.sub(r"\((\d+) times\)$", "(\\1\N{NO-BREAK SPACE}times)", line)


def _said(title: str, lines: tuple[str, ...]) -> list[Any]:
    first, *rest = lines
    made = [KeepTogether([heading(title), words(first, 9, spaceAfter=2)])]
    return [*made, *(words(line, 9, spaceAfter=2) for line in rest)]


def _basis(record: CompetencyRecord, wide_pt: float) -> list[Any]:
    basis = record.basis
    pairs = [
        ("Sitting", basis.sitting_id),
        ("Form", f"{basis.form_id}, edition {basis.form_edition}"),
        ("Rules", f"edition {basis.rules_edition}"),
        ("Limits sheet", basis.limits_sheet),
        ("Place", PLACES.get(basis.place, basis.place)),
        ("Observed practical", basis.practical or "none"),
        ("Head of the ledger", basis.ledger_head),
    ]
    return [*over_table("What the decision rests on"), _table(pairs, wide_pt)]


def _code(pointer: Pointer | None, wide_pt: float) -> list[Any]:
    if pointer is None:
        return [Spacer(0, 8), words(_UNSIGNED, 9)]
    code = QrCode(qr_modules(pointer.text), _QR_MM)
    said = words(f"{_CHECKING}\n\nKey of the issuer:\n{pointer.key.did}", 8.5)
    table = Table([[code, said]], colWidths=[code.width + 8, wide_pt - code.width - 8])
    table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "MIDDLE")]))
    return [heading("How to check this record"), table]


def _signatures(record: CompetencyRecord, wide_pt: float) -> list[Any]:
    people = [person for person in (record.assessor, record.second, record.holder) if person]
    rows = [[words("Name", 8, bold=True), words("Signature, date", 8, bold=True)]]
    rows += [[words(_person(person), 9), Spacer(0, _SIGNING_PT)] for person in people]
    return [Spacer(0, 6), ruled(rows, [0.4 * wide_pt, 0.6 * wide_pt])]


def _attached(sheet: bytes, credential: Mapping[str, Any]) -> bytes:
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(sheet)))
    text = json.dumps(credential, indent=1, ensure_ascii=False)
    writer.add_attachment(ATTACHED, text.encode())
    held = io.BytesIO()
    writer.write(held)
    return held.getvalue()
