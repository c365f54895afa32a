"""The observer's sheet of a practical on paper: an element a line, room for readings, notes."""

import datetime as dt
from typing import Any

from reportlab.platypus import Spacer

from quizzes.grading.words import TITLES
from quizzes.records.decisions.practical import CRITICAL
from widgets.brake.days import day_words

from .paper import boxed, over_table, printed, ruled, width_pt, words

_ROW_PT = 22.0  # height in which a hand can write
_CAUTION = (
    "Make safe first, by the maker’s data and the local rules. This sheet is not a permit: whoever "
    "observes stops the work as soon as somebody could be hurt."
)


def checklist_pdf(name: str, sitting_id: str, paper: str, printed_on: dt.date) -> bytes:
    """Return the sheet as a PDF file, to be filled by hand and typed in afterwards.

    Parameters
    ----------
    name : str
        Of the candidate.
    sitting_id : str
        The sitting to which the practical is joined.
    paper : str
        `A4` or `Letter`.
    printed_on : date
        Day printed on the paper; the same day gives the same bytes.

    Raises
    ------
    ValueError
        If there is no such paper.
    """
    wide_pt = width_pt(paper, wide=False)
    story: list[Any] = [
        words("Observed practical", 18, bold=True, spaceAfter=4),
        words(f"Candidate: {name}", 12, spaceAfter=6),
        boxed("Danger.", _CAUTION, danger=True),
        _blank(("Observer, role", "Date, hoist, size", "Instruments, calibration"), wide_pt),
        *over_table("Elements: mark shown, not shown or not asked"),
        _elements(wide_pt),
        *over_table("Readings, mm"),
        _blank(("Gap: angle, goes, does not", "Disc: angle, thickness", "Notes"), wide_pt),
        Spacer(0, 6),
        _blank(("Signature of the observer",), wide_pt),
    ]
    title = f"Observed practical, {name}"
    foot = f"sitting {sitting_id} · printed {day_words(printed_on)}"
    return printed(story, paper, title, foot, wide=False)


def _elements(wide_pt: float) -> Any:  # noqa: ANN401 (reportlab has no types)
    heads = ("Element", "Shown", "Not shown", "Not asked", "Note")
    rows: list[list[Any]] = [[words(head, 8, bold=True) for head in heads]]
    for name, title in TITLES.items():
        critical = name in CRITICAL
        told = words(f"{title}{' (critical)' if critical else ''}", 9, bold=critical)
        rows.append([told, *(words("☐", 11) for _ in range(3)), ""])
    shares = (0.42, 0.1, 0.12, 0.12, 0.24)
    return ruled(rows, [share * wide_pt for share in shares])


def _blank(labels: tuple[str, ...], wide_pt: float) -> Any:  # noqa: ANN401 (as above)
    rows = [[words("What", 8, bold=True), words("Written by hand", 8, bold=True)]]
    rows += [[words(label, 9), Spacer(0, _ROW_PT)] for label in labels]
    return ruled(rows, [0.35 * wide_pt, 0.65 * wide_pt])
