"""Competency records as a table: one row an element, so that a spreadsheet can count them."""

from collections.abc import Iterable

from quizzes.records.credentials.record import CompetencyRecord, Outcome
from quizzes.records.exports.table import Cell, csv_bytes

# What each column holds, in order; an export hands this out beside the table.
COLUMNS = {
    "record_id": "UUID of the record",
    "holder_id": "pseudonym of the holder, a UUID",
    "holder": "name of the holder as printed",
    "outcome": "competent, or not yet competent",
    "scheme": "scheme of assessment",
    "scheme_edition": "its edition",
    "design": "design of brake",
    "sizes": "sizes worked on, parted by |",
    "tasks": "tasks asked, parted by |",
    "element": "id of the element",
    "element_title": "what the element is",
    "critical": "true if the record cannot stand without it",
    "shown": "cases in which it was shown",
    "asked": "cases that called for it",
    "evidence": "what was done, in words, parted by |",
    "assessor": "who decided",
    "second_assessor": "who decided as well; empty if nobody",
    "decided_at": "moment of the decision, UTC",
    "valid_until": "last moment, UTC; empty if not yet competent",
    "sitting_id": "UUID of the sitting",
    "form": "form and its edition",
    "rules_edition": "edition of the rules it was graded by",
    "limits_sheet": "limits sheet and its mark",
    "ledger_head": "code of the ledger's head after the decision",
}


def competency_csv(records: Iterable[CompetencyRecord]) -> bytes:
    """Return records as a CSV file, in the order given."""
    return csv_bytes(tuple(COLUMNS), (row for record in records for row in _rows(record)))


def code_book_csv() -> bytes:
    """Return what each column of the table holds, as a CSV file."""
    return csv_bytes(("column", "what it holds"), COLUMNS.items())


def _rows(record: CompetencyRecord) -> Iterable[tuple[Cell, ...]]:
    basis, scope = record.basis, record.scope
    awarded = record.outcome is Outcome.COMPETENT
    for element in record.elements:
        yield (
            record.id,
            record.holder.id,
            record.holder.name,
            record.outcome.value,
            record.scheme,
            record.scheme_edition,
            scope.design,
            "|".join(scope.sizes),
            "|".join(scope.tasks),
            element.id,
            element.title,
            element.critical,
            element.shown,
            element.asked,
            "|".join(element.evidence),
            record.assessor.name,
            record.second.name if record.second else None,
            record.decided_at,
            record.valid_until if awarded else None,
            basis.sitting_id,
            f"{basis.form_id}, edition {basis.form_edition}",
            basis.rules_edition,
            basis.limits_sheet,
            basis.ledger_head,
        )
