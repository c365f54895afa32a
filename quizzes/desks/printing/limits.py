"""The limits sheet for the wall: one landscape page for a handful of sizes, more if it must be."""

import datetime as dt
from itertools import groupby
from typing import Any
from xml.sax.saxutils import escape

from reportlab.platypus import Paragraph, Spacer

from widgets.brake.sizes.table import (
    CAUTIONS,
    COLUMNS,
    ESTIMATED_WORDS,
    INVENTED_WORDS,
    Cell,
    SheetInForce,
)

from .paper import boxed, printed, ruled, style, width_pt, words

_CELL_PT, _HEAD_PT = 11.0, 7.5
_NAME_SHARE = 2.0  # widths, in those of a column of numbers
_WORDY_SHARE = 1.3  # where a group has one column, its name must fit over it


def limits_pdf(
    in_force: SheetInForce, paper: str, printed_on: dt.date, *, inches: bool = False
) -> bytes:
    """Return the limits sheet as a PDF file.

    Parameters
    ----------
    in_force : SheetInForce
        The sheet, with source, file and date.
    paper : str
        `A4` or `Letter`.
    printed_on : date
        Day that stands on the paper; the same day gives the same bytes.
    inches : bool
        Whether inches stand under the millimetres.

    Raises
    ------
    ValueError
        If there is no such paper.
    """
    sheet = in_force.sheet
    title = f"Limits sheet: {sheet.title}"
    body = [
        [_bold(escape(name.text), _CELL_PT), *(_printed_cell(cell, inches=inches) for cell in row)]
        for name, *row in in_force.rows()
    ]
    table = ruled([*_head(), *body], _widths_pt(paper), head_rows=2, spans=_spans())
    story: list[Any] = [words(title, 18, bold=True, spaceAfter=4), words(in_force.origin, 9)]
    if sheet.invented:
        story += [Spacer(0, 6), boxed("Invented.", INVENTED_WORDS, danger=True)]
    story += [Spacer(0, 8), table, Spacer(0, 6)]
    if in_force.any_estimated:
        story += [words(ESTIMATED_WORDS, 8), Spacer(0, 6)]
    story += [words(one, 8) for one in in_force.asked]
    story += [boxed("Danger.", CAUTIONS[0], danger=True), Spacer(0, 4)]
    story += [boxed("Whose word counts.", CAUTIONS[1], danger=False)]
    units = "mm, inches below" if inches else "mm"
    foot = f"Gap and Lining · {title} · lengths in {units} · printed {printed_on:%d %B %Y}"
    return printed(story, paper, title, foot, wide=True)


def _groups() -> list[tuple[str, int]]:
    """Return the groups of columns in order, with how many columns each has."""
    return [(name, len(list(of))) for name, of in groupby(column.group for column in COLUMNS)]


def _widths_pt(paper: str) -> list[float]:
    shares = [_NAME_SHARE]
    for _, count in _groups():
        shares += [1.0] * count if count > 1 else [_WORDY_SHARE]
    unit = width_pt(paper, wide=True) / sum(shares)
    return [share * unit for share in shares]


def _head() -> list[list[Any]]:
    groups: list[Any] = [_bold("")]
    for name, count in _groups():
        groups += [_bold(name), *([""] * (count - 1))]
    heads = [f"{column.head}<br/>{column.unit}" for column in COLUMNS]
    return [groups, [_bold("Size"), *(_bold(head) for head in heads)]]


def _bold(markup: str, size_pt: float = _HEAD_PT) -> Paragraph:
    return Paragraph(f"<b>{markup}</b>", style(size_pt))


def _spans() -> list[tuple[int, int]]:
    """Return first and last column of each group that has more than one."""
    spans, first = [], 1
    for _, count in _groups():
        if count > 1:
            spans.append((first, first + count - 1))
        first += count
    return spans


def _printed_cell(cell: Cell, *, inches: bool) -> Paragraph:
    text = escape(cell.text)
    if cell.estimated:
        text += " <font size=7>est.</font>"
    if inches and cell.inches:
        text += f'<br/><font size="7">{cell.inches} in</font>'
    return Paragraph(text, style(_CELL_PT))
