"""The limits sheet for the wall: one landscape page for a handful of sizes, more if it must be."""

import datetime as dt
from itertools import groupby
from typing import Any
from xml.sax.saxutils import escape

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Paragraph, Spacer

from widgets.brake.days import day_words
from widgets.brake.sizes.table import (
    CAUTIONS,
    COLUMNS,
    ESTIMATED_WORDS,
    INVENTED_WORDS,
    Cell,
    SheetInForce,
)

from .paper import BOLD, FACE, boxed, printed, ruled, style, width_pt, words

_CELL_PT, _HEAD_PT = 11.0, 7.5
_BESIDE_PT = 8.0  # left and right of what is in a cell
_NAME_PT = 80.0  # that a long name has at least


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
        Day printed on the paper; the same day gives the same bytes.
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
    table = ruled(
        [*_head(), *body], _widths_pt(paper, in_force.rows()), head_rows=2, spans=_spans()
    )
    story: list[Any] = [words(title, 18, bold=True, spaceAfter=4), words(in_force.origin, 9)]
    if sheet.invented:
        story += [Spacer(0, 6), boxed("Invented.", INVENTED_WORDS, danger=True)]
    story += [Spacer(0, 8), table, Spacer(0, 6)]
    if in_force.any_estimated:
        story += [words(ESTIMATED_WORDS, 8), Spacer(0, 6)]
    story += [boxed("Danger.", CAUTIONS[0], danger=True), Spacer(0, 4)]
    story += [boxed("What comes first.", CAUTIONS[1], danger=False), Spacer(0, 6)]
    story += [words(one, 8) for one in in_force.asked]  # last: two for each size push all else away
    units = "mm, inches below" if inches else "mm"
    foot = f"Gap and Lining · {title} · lengths in {units} · printed {day_words(printed_on)}"
    return printed(story, paper, title, foot, wide=True)


def _groups() -> list[tuple[str, int]]:
    """Return the groups of columns in order, with how many columns each has."""
    return [(name, len(list(of))) for name, of in groupby(column.group for column in COLUMNS)]


def _widths_pt(paper: str, rows: list[list[Cell]]) -> list[float]:
    """Return widths in which no head and no number is cut; a name wraps if it is long."""
    words(" ")  # takes the letters, without which nothing can be measured
    said = [*zip(*(row[1:] for row in rows), strict=True)]
    needed = [
        max(
            _longest_pt(f"{column.head} {column.unit}", BOLD, _HEAD_PT),
            *(_longest_pt(cell.text, FACE, _CELL_PT) for cell in cells),
        )
        for column, cells in zip(COLUMNS, said, strict=True)
    ]
    at = 0
    for name, count in _groups():
        if count == 1:  # its group has no other column to stand over
            needed[at] = max(needed[at], _longest_pt(name, BOLD, _HEAD_PT))
        at += count
    wide_pt = width_pt(paper, wide=True)
    columns_pt = [pt + _BESIDE_PT for pt in needed]
    names_pt = max(stringWidth(row[0].text, BOLD, _CELL_PT) for row in rows) + _BESIDE_PT
    name_pt = min(names_pt, max(wide_pt - sum(columns_pt), _NAME_PT))
    share = (wide_pt - name_pt) / sum(columns_pt)  # less than 1 only for words as long as a line
    return [name_pt, *(pt * share for pt in columns_pt)]


def _longest_pt(text: str, face: str, size_pt: float) -> float:
    """Return the width of the longest word, points."""
    return max((float(stringWidth(word, face, size_pt)) for word in text.split()), default=0.0)


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
