"""Competency records as a table: every element a row, every column in the code book."""

import csv
import io

from quizzes.records.credentials.record import ElementShown, Outcome
from quizzes.records.exports.competency_table import code_book_csv, competency_csv
from tests.records.credentials.records import person, record


def read(content):
    """Return the rows of a CSV file, by column."""
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True))


def test_each_element_is_a_row_with_its_record():
    """Two records, three elements."""
    missing = ElementShown("S1", "Isolated", 3, 4, ("Not locked once.",), critical=True)
    not_yet = record(outcome=Outcome.NOT_YET, elements=(missing,), second=None)
    rows = read(competency_csv([record(), not_yet]))

    assert [(row["element"], row["shown"], row["asked"]) for row in rows] == [
        ("S1", "24", "24"),
        ("M1", "22", "24"),
        ("S1", "3", "4"),
    ]
    assert rows[0]["decided_at"] == "2026-11-28T09:30:00Z"
    assert rows[0]["valid_until"] == "2027-11-28T09:30:00Z"
    assert rows[0]["sizes"].split("|") == ["QL 16", "QL 40"]
    assert (rows[2]["valid_until"], rows[2]["second_assessor"]) == ("", "")
    assert (rows[0]["critical"], rows[1]["critical"]) == ("true", "false")


def test_every_column_is_in_the_code_book():
    """In order, each with a word on what it holds."""
    [heads] = csv.reader(io.StringIO(competency_csv([]).decode("utf-8-sig"), newline=""))
    book = read(code_book_csv())

    assert [row["column"] for row in book] == heads
    assert all(row["what it holds"] for row in book)


def test_a_name_that_is_a_formula_is_not_computed():
    """What a person typed as a name stands there as text."""
    rows = read(competency_csv([record(holder=person(1, "=HYPERLINK(A1)", "candidate"))]))

    assert rows[0]["holder"] == "'=HYPERLINK(A1)"
