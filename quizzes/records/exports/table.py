"""Tables as CSV that every program reads and no spreadsheet computes.

Source: RFC 4180 (2005) for the format. Common practice for the apostrophe: a cell that begins with
= + - @ or a control character would be taken for a formula.
"""

import csv
import datetime as dt
import io
import math
import unicodedata
from collections.abc import Iterable, Sequence

Cell = str | int | float | bool | dt.date | None
_FORMULA = ("=", "+", "-", "@")
_MARK = "\ufeff"  # tells spreadsheets that the file is UTF-8


def csv_bytes(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    r"""Return a table as a CSV file: UTF-8, a heading, lines that end with CR LF.

    Parameters
    ----------
    heads : sequence of str
        One name a column.
    rows : iterable of rows
        Texts, whole and other numbers, truth values, days, moments with a time zone, None.

    Raises
    ------
    ValueError
        If a row is longer or shorter than the heading, or a number is none.

    Examples
    --------
    >>> csv_bytes(["name", "gap_mm"], [["=1+1", 0.3]]).decode()
    '\ufeff"name","gap_mm"\r\n"\'=1+1",0.3\r\n'
    """
    held = io.StringIO(newline="")
    # Texts in quotes: where a semicolon parts cells, one inside a text begins no cell.
    writer = csv.writer(held, lineterminator="\r\n", strict=True, quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow([_plain(head) for head in heads])
    for number, row in enumerate(rows, start=1):
        if len(row) != len(heads):
            raise ValueError(f"row {number} must have {len(heads)} cells, got {len(row)}")
        writer.writerow([_cell(value) for value in row])
    return (_MARK + held.getvalue()).encode("utf-8", "replace")  # half a sign becomes ?


def _cell(value: Cell) -> str | int | float:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dt.datetime):
        if value.utcoffset() is None:
            raise ValueError(f"a moment must have a time zone, got {value}")
        return f"{value.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, (int, float)):
        if not math.isfinite(value):
            raise ValueError(f"a number must be finite, got {value}")
        return value
    return _plain(value)


def _plain(text: str) -> str:
    """Return a text that a spreadsheet shows and does not compute."""
    shown = text.replace("\0", "")
    # Wide forms of the signs count as well in some spreadsheets, and so do blanks before them.
    first = unicodedata.normalize("NFKC", shown.lstrip())[:1]
    computed = first in _FORMULA and first != ""
    if computed or (shown[:1] != "" and unicodedata.category(shown[0]) == "Cc"):
        return f"'{shown}"
    return shown
