"""Labels for a class: name, number, and a code that joins, in signs and for a camera."""

from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode

import segno
from reportlab.lib.units import mm
from reportlab.platypus import Table, TableStyle

from quizzes.records.room.rows import Member, SchoolClass
from widgets.brake.days import day_words

from .paper import PENCIL, printed, width_pt, words
from .qr import QrCode

_PAPER = "A4"
ACROSS = 2
_CODE_MM, _HIGH_MM = 30.0, 36.0
_LONG_NUMBER = 14
_EDGE_PT = 6.0  # round what is in a cell, points; the printer's own
_LONG_NAME = 30  # characters; a longer one is set smaller, so that it stays inside its label


def label_address(door: str, label: str) -> str:
    """Return what the code on a label leads to.

    Examples
    --------
    >>> label_address("http://192.0.2.7:8866/", "7K3MXQ2P")
    'http://192.0.2.7:8866/join?label=7K3MXQ2P'
    """
    return f"{door}join?{urlencode({'label': label})}"


def labels_pdf(one: SchoolClass, members: Sequence[Member], door: str) -> bytes:
    """Return the labels of a class as a PDF file, to be cut along the lines.

    Parameters
    ----------
    one : SchoolClass
        The class.
    members : sequence of Member
        Its people; each has a label.
    door : str
        The address that the class opens, `/` at its end.
    """
    cells = [_label(member, door) for member in members]
    rows = [cells[at : at + ACROSS] for at in range(0, len(cells), ACROSS)]
    if rows:
        rows[-1] += [""] * (ACROSS - len(rows[-1]))
    wide = width_pt(_PAPER, wide=False) / ACROSS
    sheet = Table(rows or [["", ""]], colWidths=[wide] * ACROSS, rowHeights=_HIGH_MM * mm)
    sheet.setStyle(TableStyle([("GRID", (0, 0), (-1, -1), 0.5, PENCIL)]))
    title = f"Labels: {one.name}"
    foot = f"Gap and Lining · {one.name}, {day_words(one.on_day)} · class code {one.code}"
    return printed([sheet], _PAPER, title, foot, wide=False)


def _label(member: Member, door: str) -> Table:
    beside, wide_pt = (_CODE_MM + 4) * mm, width_pt(_PAPER, wide=False) / ACROSS - 2 * _EDGE_PT
    name = member.name or "name erased"
    code = segno.make(label_address(door, member.label), error="m", micro=False)
    modules = tuple(tuple(bool(one) for one in row) for row in code.matrix)
    told: list[Any] = [
        words(name, 12 if len(name) <= _LONG_NAME else 8, bold=True),
        words(f"Number {member.number}", 10 if len(member.number) <= _LONG_NUMBER else 8),
        words(f"{member.label[:4]}-{member.label[4:]}", 14, bold=True, spaceBefore=4),
    ]
    label = Table([[QrCode(modules, _CODE_MM), told]], colWidths=[beside, wide_pt - beside])
    edges = [
        (side, (0, 0), (-1, -1), 0) for side in ("TOPPADDING", "BOTTOMPADDING", "RIGHTPADDING")
    ]
    label.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "MIDDLE"), *edges]))
    return label
