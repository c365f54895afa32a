"""The record of a job sheet on paper: what was typed, what it comes to, room for signatures."""

import datetime as dt
import io
from typing import Any

from reportlab.platypus import Image, KeepTogether, Spacer

from quizzes.job_sheet.block import Block
from quizzes.job_sheet.entry import JobEntry, PastVisit
from quizzes.job_sheet.words import CALCULATION
from widgets.brake.days import day_words
from widgets.brake.judgement import COVERAGE_FACTOR
from widgets.brake.sizes.table import CAUTIONS, INVENTED_WORDS

from .paper import boxed, heading, printed, ruled, width_pt, words

_FIGURE_PT = 230.0  # width of the chart
_LABELS = {
    "hoist": "Hoist",
    "name": "Read by",
    "gap_instrument": "Gap read with",
    "disc_instrument": "Disc read with",
}


def record_pdf(
    entry: JobEntry,
    found: tuple[Block, ...],
    chart_png: bytes,
    paper: str,
    printed_on: dt.date,
) -> bytes:
    """Return the record of a job as a PDF file.

    Parameters
    ----------
    entry : JobEntry
        What was typed.
    found : tuple of Block
        Conclusion first, then the rest.
    chart_png : bytes
        The readings round the rim.
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
    conclusion, *rest = found
    story: list[Any] = [
        words("Brake job sheet", 18, bold=True, spaceAfter=4),
        *_who(entry, wide_pt),
        Spacer(0, 6),
    ]
    if entry.size.invented:
        story += [boxed("Invented.", INVENTED_WORDS, danger=True), Spacer(0, 4)]
    story += [heading(f"Conclusion: {conclusion.title}", 14)]
    story += [words(line, 9, spaceAfter=2) for line in conclusion.lines]
    story += [Spacer(0, 4), boxed("A calculation.", CALCULATION, danger=False)]
    for block in rest:
        story += _block(block, wide_pt)
    story += _typed(entry, wide_pt)
    chart = Image(io.BytesIO(chart_png), width=_FIGURE_PT, height=_FIGURE_PT * 6.8 / 6.4)
    story += [KeepTogether([heading("Readings round the rim"), chart])]
    story += [KeepTogether([boxed("Danger.", CAUTIONS[0], danger=True), *_signatures(wide_pt)])]
    title = f"Brake job sheet, {entry.size.name}, {entry.on.isoformat()}"
    foot = f"Gap and Lining · {title} · lengths in mm · printed {day_words(printed_on)}"
    return printed(story, paper, title, foot, wide=False)


def _who(entry: JobEntry, wide_pt: float) -> list[Any]:
    pairs = [("Size of brake", entry.size.name), ("Readings of", f"{day_words(entry.on)}")]
    pairs += [(label, entry.texts[name] or "-") for name, label in _LABELS.items()]
    pairs += [("Limits used", _limits(entry)), ("Also stated", _stated(entry))]
    rows = [[words(label, 8, bold=True), words(text, 9)] for label, text in pairs]
    head = [words("What", 8, bold=True), words("As stated", 8, bold=True)]
    made: list[Any] = [ruled([head, *rows], [0.25 * wide_pt, 0.75 * wide_pt])]
    if entry.texts["remarks"]:
        made += [heading("Remarks", 10), words(entry.texts["remarks"], 9)]
    return made


def _limits(entry: JobEntry) -> str:
    gap, disc, guessed = entry.size.gap, entry.size.disc, entry.size.estimated

    def said(field: str, value_mm: float) -> str:
        return f"{value_mm:.4g} mm{' (estimated)' if field in guessed else ''}"

    return (
        f"gap least {said('gap_min_mm', gap.min_mm)}, to set "
        f"{said('gap_setting_mm', gap.setting_mm)}, largest {gap.max_mm:.4g} mm, uneven by "
        f"{said('gap_evenness_mm', gap.evenness_mm)}; disc least {disc.min_mm:.4g} mm"
    )


def _stated(entry: JobEntry) -> str:
    code = f"{entry.code_days} days" if entry.code_days else "not stated"
    ahead = f"{entry.stops_ahead:g} stops a day" if entry.stops_ahead else "not stated"
    return (
        f"code interval {code}; duty from now on {ahead}; declared error of the caliper "
        f"± {entry.caliper_error_mm:g} mm; work since the last visit: {entry.work_since}"
    )


def _block(block: Block, wide_pt: float) -> list[Any]:
    made: list[Any] = [heading(block.title)]
    made += [words(line, 9, spaceAfter=2) for line in block.lines]
    if block.rows:
        made.append(_table(block.heads, block.rows, wide_pt))
    return [KeepTogether(made)]


def _table(heads: tuple[str, ...], rows: tuple[tuple[str, ...], ...], wide_pt: float) -> Any:  # noqa: ANN401 (reportlab has no types)
    first = 0.26 * wide_pt if len(heads) > 5 else wide_pt / len(heads)
    others = (wide_pt - first) / (len(heads) - 1)
    cells = [[words(head, 7.5, bold=True) for head in heads]]
    cells += [[words(cell, 8.5) for cell in row] for row in rows]
    return ruled(cells, [first, *([others] * (len(heads) - 1))])


def _typed(entry: JobEntry, wide_pt: float) -> list[Any]:
    """Return the readings as they were typed, so that anybody can check the rest."""
    gaps = [(*_place(place.angle_deg), place.reading, "") for place in entry.first]
    gaps += [(*_place(place.angle_deg), place.reading, "half a turn") for place in entry.turned]
    rows = tuple(
        (
            angle,
            f"{one.go_mm:g}",
            f"{one.no_go_mm:g}",
            str(one.leaves),
            f"{one.estimate_mm:.2f} ± {COVERAGE_FACTOR * one.uncertainty_mm:.2f}",
            note,
        )
        for angle, one, note in gaps
    )
    made: list[Any] = [heading("As typed: air gap")]
    heads: tuple[str, ...] = (
        "Angle",
        "Go, mm",
        "No-go, mm",
        "Leaves",
        "Gap with its uncertainty (k = 2), mm",
        "Rotor",
    )
    made.append(_table(heads, rows, wide_pt))
    made.append(heading("As typed: disc over both linings"))
    discs = tuple((*_place(place.angle_deg), f"{place.value_mm:g}") for place in entry.discs)
    made.append(_table(("Angle", "Thickness, mm"), discs, wide_pt))
    if entry.history:
        made.append(heading("As typed: earlier visits"))
        heads = ("Date", "Gap, mm", "Disc, mm", "Work before it", "Stops a day or counter")
        made.append(_table(heads, tuple(_visit(visit) for visit in entry.history), wide_pt))
    return made


def _place(angle_deg: float) -> tuple[str]:
    return (f"{angle_deg:g}°",)


def _visit(visit: PastVisit) -> tuple[str, ...]:
    disc = "" if visit.disc_mm is None else f"{visit.disc_mm:g}"
    duty = "" if visit.duty is None else f"{visit.duty:g}"
    return (visit.on.isoformat(), f"{visit.gap_mm:g}", disc, visit.work, duty)


def _signatures(wide_pt: float) -> list[Any]:
    lines = ["Read by, date", "Decided by, licensed for it, date"]
    rows = [[words("Signature", 8, bold=True), words("", 8)]]
    rows += [[words(line, 9), words(" ", 20)] for line in lines]
    return [Spacer(0, 8), ruled(rows, [0.35 * wide_pt, 0.65 * wide_pt])]
