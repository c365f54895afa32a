"""Numbers that the model worked out, as a small table: what they are, and a value a column."""

import html
import re
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Numbers:
    """A small table: a head, and rows that begin with what they are of.

    Parameters
    ----------
    head : sequence of str
        A word for each column, its unit in it; the first may be empty.
    rows : sequence of sequence of str
        What a row is of, then its values, already rounded; never taken for markup.
    """

    head: Sequence[str]
    rows: Sequence[Sequence[str]]

    def __post_init__(self) -> None:
        if not self.rows:
            raise ValueError("rows must hold at least one row, got none")
        for row in self.rows:
            if len(row) != len(self.head):
                raise ValueError(
                    f"a row must have {len(self.head)} values like the head, got {row!r}"
                )

    def _repr_html_(self) -> str:
        head = "".join(_head(words) for words in self.head)
        rows = "".join(_row(row) for row in self.rows)
        # On a phone a wide table is scrolled, which a key can do only where the focus can go.
        return (
            f'<table class="numbers" tabindex="0"><thead><tr>{head}</tr></thead>'
            f"<tbody>{rows}</tbody></table>"
        )

    def __str__(self) -> str:
        return "\n".join(" | ".join(row) for row in (self.head, *self.rows))

    def __repr__(self) -> str:
        return str(self)


def _head(words: str) -> str:
    return f'<th scope="col">{html.escape(words)}</th>' if words else "<td></td>"


def _set(value: str) -> str:
    """Return a value as a page sets it: a true minus, and a space before a per cent sign."""
    return re.sub(r"(?<=\d)%", "\N{NO-BREAK SPACE}%", re.sub(r"^-(?=\d)", "\N{MINUS SIGN}", value))


def _row(row: Sequence[str]) -> str:
    values = "".join(f"<td>{html.escape(_set(value))}</td>" for value in row[1:])
    return f'<tr><th scope="row">{html.escape(row[0])}</th>{values}</tr>'


def numbers(head: Sequence[str], *rows: Sequence[str]) -> Numbers:
    """Return a small table of numbers.

    Examples
    --------
    >>> print(numbers(("gap, mm", "force, N"), ("0.30", "1080"), ("0.80", "876")))
    gap, mm | force, N
    0.30 | 1080
    0.80 | 876
    """
    return Numbers(head, rows)
