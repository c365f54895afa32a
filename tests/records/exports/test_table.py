"""CSV that is read back as it was, and that no spreadsheet computes."""

import csv
import datetime as dt
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.records.exports.table import csv_bytes

# Common practice (the OWASP page on CSV injection, from memory): what a spreadsheet computes.
FORMULAS = [
    '=HYPERLINK("http://else.example","click")',
    "=1+1",
    "+1+1",
    "-2+3",
    "@SUM(A1:A9)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    " =1+1",
    "＝1+1",
    "＋1",
    "－1",
    "＠SUM(A1)",
    "\u00a0=1+1",
    "=cmd|' /C calc'!A0",
]


def read(content):
    """Return what another program reads: Python's own reader, strict."""
    text = content.decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_is_shown_and_not_computed(formula):
    """In a cell and in the heading: an apostrophe stands before it, and nothing is lost."""
    heads, [cell] = read(csv_bytes([formula], [[formula]]))

    assert heads == [cell] == [f"'{formula}"]


@pytest.mark.parametrize(
    "text", ["Robin", "a = b", "3-2", "x@y", "'quoted'", "", "0.3", 'Zoë, "Z"']
)
def test_a_harmless_text_stays_as_it_is(text):
    """Signs inside a text, commas, quotes, letters beyond ASCII."""
    assert read(csv_bytes(["a", "b"], [[text, "x"]]))[1] == [text, "x"]


def test_a_semicolon_begins_no_cell_where_semicolons_part_cells():
    """A spreadsheet set to semicolons must not find a formula after one."""
    content = csv_bytes(["note"], [["gap;=1+1"]]).decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(content, newline=""), delimiter=";", strict=True))

    assert rows[1] == ["gap;=1+1"]


def test_a_negative_number_stays_a_number():
    """Numbers come from us, texts from people."""
    assert read(csv_bytes(["mm"], [[-0.25], [3], [1e-7]])) == [["mm"], ["-0.25"], ["3"], ["1e-07"]]


def test_moments_days_and_truth_values_have_one_spelling():
    """ISO 8601 in UTC, true and false, nothing for nothing."""
    at = dt.datetime(2026, 11, 28, 10, 30, tzinfo=dt.timezone(dt.timedelta(hours=1)))
    [_, row] = read(csv_bytes(list("abcd"), [[at, dt.date(2026, 11, 28), True, None]]))

    assert row == ["2026-11-28T09:30:00Z", "2026-11-28", "true", ""]


def test_lines_end_as_the_standard_says():
    """RFC 4180, 2.1 and 2.6: CR LF; a line break inside a cell stays inside its quotes."""
    content = csv_bytes(["a"], [["one\ntwo"]])

    assert content == b'\xef\xbb\xbf"a"\r\n"one\ntwo"\r\n'


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (["a"], "2 cells, got 1"),
        (["a", "b", "c"], "2 cells, got 3"),
        (["a", float("nan")], "finite"),
        (["a", float("inf")], "finite"),
        (["a", dt.datetime(2026, 11, 28, 9, 30)], "time zone"),
    ],
)
def test_a_row_that_does_not_fit_is_refused(row, words):
    """Too short, too long, no number, a moment that nobody can place."""
    with pytest.raises(ValueError, match=words):
        csv_bytes(["x", "y"], [row])


def test_half_a_sign_stops_no_export():
    """A browser can send one; the rest of the table is not lost for it."""
    assert read(csv_bytes(["a"], [["gap \ud800"]])) == [["a"], ["gap ?"]]


@given(
    st.lists(
        st.lists(
            st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"])),
            min_size=2,
            max_size=2,
        )
    )
)
def test_whatever_people_type_is_read_back(rows):
    """But for the apostrophe, every text is the same again, and no cell begins a formula."""
    found = read(csv_bytes(["a", "b"], rows))[1:]

    assert [[c.removeprefix("'") for c in row] for row in found] == [
        [c.removeprefix("'") for c in row] for row in rows
    ]
    assert not any(cell.lstrip()[:1] in {"=", "+", "-", "@"} for row in found for cell in row)
