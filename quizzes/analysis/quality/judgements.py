"""What judges say of a borderline candidate: tables checked cell by cell, or read from CSV."""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from quizzes.analysis.counts import whole
from widgets.brake.ranges import in_range

MOST_CHARACTERS = 1_000_000  # of a CSV text; a thousand judges on a hundred items need less
EBEL_COLUMNS = ("relevance", "difficulty", "n_items", "p_borderline")
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Judgements:
    """Chances that a borderline candidate gets each item right, as each judge sees them.

    Attributes
    ----------
    judges, items : tuple of str
        Names, each only once; two or more judges, one or more items.
    chances : tuple of tuple of float
        0 to 1, one row for each judge, one number for each item.
    """

    judges: tuple[str, ...]
    items: tuple[str, ...]
    chances: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        _check_names("judge", self.judges, least=2)
        _check_names("item", self.items, least=1)
        if len(self.chances) != len(self.judges):
            raise ValueError(
                f"There are {len(self.judges)} judges and {len(self.chances)} rows of chances: "
                "each judge needs one"
            )
        for judge, row in zip(self.judges, self.chances, strict=True):
            self._check_row(judge, row)

    def _check_row(self, judge: str, row: Sequence[float]) -> None:
        if len(row) < len(self.items):
            left_out = self.items[len(row)]
            raise ValueError(f"Judge {judge!r} has no chance for item {left_out!r}")
        if len(row) > len(self.items):
            raise ValueError(
                f"Judge {judge!r} gives {len(row)} chances for {len(self.items)} items"
            )
        for item, chance in zip(self.items, row, strict=True):
            in_range(f"Judge {judge!r}, item {item!r}: the chance", chance, "", 0, 1)

    @property
    def table(self) -> NDArray[np.float64]:
        """The chances as an array of shape (n_judges, n_items), 0 to 1."""
        return np.array(self.chances, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class EbelCell:
    """Items of one relevance and difficulty, and the share a borderline candidate gets right.

    Attributes
    ----------
    relevance, difficulty : str
        In the words of the judges.
    items : int
        How many, 0 or more.
    chance : float
        0 to 1.
    """

    relevance: str
    difficulty: str
    items: int
    chance: float

    def __post_init__(self) -> None:
        where = f"Cell {self.relevance!r}, {self.difficulty!r}"
        whole(f"{where}: the number of items", self.items, high=10_000)
        in_range(f"{where}: the chance", self.chance, "", 0, 1)


def read_judgements(text: str) -> Judgements:
    r"""Return the judgements of a CSV text: a head `judge,item,item,...`, then a line a judge.

    Parameters
    ----------
    text : str
        Commas between cells, points in numbers; empty lines are passed over.

    Raises
    ------
    ValueError
        If a cell is missing, too many, no number or no chance; the sentence
        names line and column.

    Examples
    --------
    >>> read_judgements("judge,gap,disc\nA,0.9,0.7\nB,0.8,0.6\n").items
    ('gap', 'disc')
    >>> read_judgements("judge,gap,disc\nA,0.9,0.7\nB,0.8,sixty\n")
    Traceback (most recent call last):
    ...
    ValueError: Line 3, column 'disc': a chance from 0 to 1 was expected, got 'sixty'
    """
    (_, head), *lines = _lines_of(text)
    if head[0].lower() != "judge" or len(head) < 2:
        raise ValueError(
            f"Line 1 must be 'judge' and the names of the items, got {','.join(head)!r:.80}"
        )
    _check_columns(head)
    rows = [(cells[0], _chances(number, head, cells)) for number, cells in lines]
    return Judgements(
        tuple(judge for judge, _ in rows), tuple(head[1:]), tuple(row for _, row in rows)
    )


def read_ebel(text: str) -> tuple[EbelCell, ...]:
    r"""Return the cells of a CSV text with the head `relevance,difficulty,n_items,p_borderline`.

    Raises
    ------
    ValueError
        If the head is another, or a cell is missing or wrong; the sentence
        names line and column.

    Examples
    --------
    >>> head = "relevance,difficulty,n_items,p_borderline"
    >>> read_ebel(head + "\nessential,easy,6,0.95\n")[0].items
    6
    """
    (_, head), *lines = _lines_of(text)
    if tuple(name.lower() for name in head) != EBEL_COLUMNS:
        raise ValueError(f"Line 1 must be {','.join(EBEL_COLUMNS)!r}, got {','.join(head)!r:.80}")
    cells = tuple(_ebel_cell(number, head, row) for number, row in lines)
    places = [(cell.relevance, cell.difficulty) for cell in cells]
    for (number, _), place in zip(lines, places, strict=True):
        if places.count(place) > 1:
            raise ValueError(f"Line {number}: {place[0]!r}, {place[1]!r} appears more than once")
    return cells


def _ebel_cell(number: int, head: Sequence[str], row: Sequence[str]) -> EbelCell:
    _check_width(number, head, row)
    count = _number(row[2])
    if count is None or not 0 <= count <= 10_000 or count != int(count):
        raise ValueError(
            f"Line {number}, column {head[2]!r}: a whole number from 0 to 10000 was expected, "
            f"got {row[2]!r:.40}"
        )
    return EbelCell(row[0], row[1], int(count), _chance(number, head[3], row[3]))


def _lines_of(text: str) -> list[tuple[int, list[str]]]:
    """Return line number and stripped cells of each line that is not empty; at least two."""
    if len(text) > MOST_CHARACTERS:
        raise ValueError(f"A text of {MOST_CHARACTERS} characters at most was expected")
    found = list(_split(text))
    if len(found) < 2:
        raise ValueError("The text needs a head and at least one line below it")
    return found


def _split(text: str) -> Iterator[tuple[int, list[str]]]:
    # A spreadsheet may put a byte order mark before the first cell.
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    try:
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                yield reader.line_num, stripped
    except csv.Error as error:
        raise ValueError(f"Line {reader.line_num} is not CSV: {error}") from error


def _chances(number: int, head: Sequence[str], cells: Sequence[str]) -> tuple[float, ...]:
    _check_width(number, head, cells)
    if not cells[0]:
        raise ValueError(f"Line {number}, column {head[0]!r}: the judge has no name")
    return tuple(
        _chance(number, column, cell) for column, cell in zip(head[1:], cells[1:], strict=True)
    )


def _chance(number: int, column: str, cell: str) -> float:
    value = _number(cell)
    if value is None or not 0 <= value <= 1:
        hint = "; write a point, not a comma" if re.fullmatch(r"\d+,\d+", cell) else ""
        raise ValueError(
            f"Line {number}, column {column!r}: a chance from 0 to 1 was expected, "
            f"got {cell!r:.40}{hint}"
        )
    return value


def _number(cell: str) -> float | None:
    return float(cell) if _NUMBER.fullmatch(cell) else None


def _check_width(number: int, head: Sequence[str], cells: Sequence[str]) -> None:
    if len(cells) < len(head):
        raise ValueError(f"Line {number}, column {head[len(cells)]!r}: the cell is missing")
    if len(cells) > len(head):
        raise ValueError(
            f"Line {number} has {len(cells)} cells under a head of {len(head)}; "
            f"{cells[len(head)]!r:.40} is too many"
        )


def _check_columns(head: Sequence[str]) -> None:
    for at, name in enumerate(head):
        if not name:
            raise ValueError(f"Line 1, column {at + 1}: the item has no name")
        if name in head[:at]:
            raise ValueError(f"Line 1, column {at + 1}: item {name!r:.40} appears twice")


def _check_names(what: str, names: Sequence[str], least: int) -> None:
    if len(names) < least:
        raise ValueError(f"The least number of {what}s is {least}, got {len(names)}")
    for at, name in enumerate(names):
        if not name:
            raise ValueError(f"The {what} at place {at + 1} has no name")
        if name in names[:at]:
            raise ValueError(f"{what.capitalize()} {name!r:.40} appears twice")
