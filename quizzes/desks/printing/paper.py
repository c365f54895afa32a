"""What all printed sheets share: paper sizes, letters, headings, cautions, page numbers."""

import importlib.util
import io
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    Paragraph,
    SimpleDocTemplate,
    Table,
    TableStyle,
)

PAPERS = {"A4": A4, "Letter": LETTER}
MARGIN_PT = 14 * mm  # wide enough for any office printer; common practice, no source
INK, PENCIL = colors.HexColor("#18212b"), colors.HexColor("#55606e")
RULE, WASH, DANGER = (
    colors.HexColor("#9aa3ad"),
    colors.HexColor("#eceff1"),
    colors.HexColor("#b3261e"),
)
FACE, BOLD = "PlateSans", "PlateSans-Bold"
_FEW_ROWS_PT = 120.0  # heading, head of the table, and a few rows
_FILES = {FACE: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}


@cache
def _take_fonts() -> None:
    """Take the letters that come with matplotlib: signs of physics and more than one alphabet."""
    found = importlib.util.find_spec("matplotlib")
    if found is None or found.origin is None:  # pragma: no cover - it is in requirements.txt
        raise RuntimeError("matplotlib is needed for its fonts, got none installed")
    folder = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"
    for name, file in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(folder / file)))
    pdfmetrics.registerFontFamily(FACE, normal=FACE, bold=BOLD, italic=FACE, boldItalic=BOLD)


def style(size_pt: float = 9.0, **more: Any) -> ParagraphStyle:  # noqa: ANN401 (reportlab's own options)
    """Return the look of a paragraph of a letter size in points."""
    _take_fonts()
    given = {"fontName": FACE, "textColor": INK, "leading": 1.28 * size_pt, **more}
    return ParagraphStyle("plate", fontSize=size_pt, **given)


def words(text: str, size_pt: float = 9.0, *, bold: bool = False, **more: Any) -> Paragraph:  # noqa: ANN401
    """Return a text as a paragraph; whatever is in it is printed as it stands, never as markup."""
    face = BOLD if bold else FACE
    lines = escape(text).replace("\n", "<br/>")
    return Paragraph(lines, style(size_pt, fontName=face, **more))


def unbroken(name: str) -> str:
    """Return a name that stays on one line: its hyphens and blanks are ones that do not break."""
    return name.replace("-", "\N{NON-BREAKING HYPHEN}").replace(" ", "\N{NO-BREAK SPACE}")


def heading(text: str, size_pt: float = 12.0) -> Paragraph:
    """Return a heading that stays with what follows it."""
    return words(text, size_pt, bold=True, spaceBefore=0.8 * size_pt, spaceAfter=3, keepWithNext=1)


def over_table(text: str, size_pt: float = 12.0) -> list[Any]:
    """Return a heading over a table of many rows, which begins on this page if a few rows fit."""
    over = words(text, size_pt, bold=True, spaceBefore=0.8 * size_pt, spaceAfter=3)
    return [CondPageBreak(_FEW_ROWS_PT), over]


def boxed(lead: str, text: str, *, danger: bool, size_pt: float = 9.0) -> Table:
    """Return a caution or a notice: a word, a double edge, and colour where there is some."""
    edge = DANGER if danger else PENCIL
    said = Paragraph(f"<b>{escape(lead)}</b> {escape(text)}", style(size_pt))
    box = Table([[said]], colWidths=["100%"])
    box.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 1.2, edge),
                ("LINEBEFORE", (0, 0), (0, -1), 5, edge),
                ("LEFTPADDING", (0, 0), (-1, -1), 10),
                ("TOPPADDING", (0, 0), (-1, -1), 4),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
            ]
        )
    )
    return box


def ruled(
    rows: Sequence[Sequence[Any]],
    widths_pt: Sequence[float],
    *,
    head_rows: int = 1,
    spans: Sequence[tuple[int, int]] = (),
) -> Table:
    """Return a table whose head comes again on each page, with hairlines between its rows.

    Parameters
    ----------
    rows : sequence of rows
        Head first; cells are paragraphs.
    widths_pt : sequence of float
        Width of each column, points.
    head_rows : int
        Rows of the head, 1 or more.
    spans : sequence of (int, int)
        First and last column that a cell of the first row stands over.
    """
    table = Table([list(row) for row in rows], colWidths=list(widths_pt), repeatRows=head_rows)
    last = head_rows - 1
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, last), "BOTTOM"),
                ("VALIGN", (0, head_rows), (-1, -1), "TOP"),
                ("LINEABOVE", (0, 0), (-1, 0), 1.2, INK),
                ("LINEBELOW", (0, last), (-1, last), 1.2, INK),
                ("LINEBELOW", (0, head_rows), (-1, -1), 0.5, RULE),
                ("ROWBACKGROUNDS", (0, head_rows), (-1, -1), [colors.white, WASH]),
                ("LEFTPADDING", (0, 0), (-1, -1), 4),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3),
                ("TOPPADDING", (0, 0), (-1, -1), 3),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
                *(("SPAN", (first, 0), (final, 0)) for first, final in spans),
                *(("LINEBELOW", (first, 0), (final, 0), 0.5, INK) for first, final in spans),
            ]
        )
    )
    return table


def width_pt(paper: str, *, wide: bool) -> float:
    """Return the width between the margins of a paper, points.

    Raises
    ------
    ValueError
        If there is no such paper.
    """
    return float(_page(paper, wide=wide)[0] - 2 * MARGIN_PT)


def printed(story: Sequence[Flowable], paper: str, title: str, foot: str, *, wide: bool) -> bytes:
    """Return a sheet as a PDF file: the same bytes for the same story.

    Parameters
    ----------
    story : sequence of Flowable
        What is on it, in order.
    paper : str
        `A4` or `Letter`.
    title : str
        Title of the document.
    foot : str
        What is at the foot of each page beside its number.
    wide : bool
        Whether the long side lies.

    Raises
    ------
    ValueError
        If there is no such paper.
    """
    held = io.BytesIO()
    document = SimpleDocTemplate(
        held,
        pagesize=_page(paper, wide=wide),
        leftMargin=MARGIN_PT,
        rightMargin=MARGIN_PT,
        topMargin=MARGIN_PT,
        bottomMargin=MARGIN_PT + 16,
        title=title,
        author="Gap and Lining",
        lang="en",
        invariant=1,  # no time and no chance in the file
    )
    document.build(list(story), canvasmaker=_numbered(foot))
    return held.getvalue()


def _page(paper: str, *, wide: bool) -> tuple[float, float]:
    if paper not in PAPERS:
        raise ValueError(f"paper must be {' or '.join(PAPERS)}, got {paper!r:.20}")
    size: tuple[float, float] = PAPERS[paper]
    return landscape(size) if wide else size


def _numbered(foot: str) -> type[Canvas]:
    """Return a canvas that numbers its pages once it knows how many there are."""

    class Numbered(Canvas):  # type: ignore[misc]  # untyped base
        def __init__(self, *given: Any, **named: Any) -> None:  # noqa: ANN401 (reportlab's own)
            super().__init__(*given, **named)
            self._pages: list[dict[str, Any]] = []

        def showPage(self) -> None:  # noqa: N802 (reportlab's name)
            self._pages.append(dict(self.__dict__))
            self._startPage()

        def save(self) -> None:
            for number, page in enumerate(self._pages, start=1):
                self.__dict__.update(page)
                self._draw_foot(number, len(self._pages))
                super().showPage()
            super().save()

        def _draw_foot(self, number: int, of: int) -> None:
            wide, low = self._pagesize[0], MARGIN_PT
            self.setStrokeColor(INK)
            self.setLineWidth(0.8)
            self.line(MARGIN_PT, low + 10, wide - MARGIN_PT, low + 10)
            self.setFillColor(INK)
            self.setFont(FACE, 7.5)
            self.drawString(MARGIN_PT, low, foot)
            self.drawRightString(wide - MARGIN_PT, low, f"Page {number} of {of}")

    return Numbered
