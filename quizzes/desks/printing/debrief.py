"""The debrief of a class on paper."""

from collections.abc import Sequence
from typing import Any

from reportlab.platypus import Flowable, Spacer

from quizzes.grading.words import STANDINGS, TITLES, called
from widgets.brake.days import day_words
from widgets.instruments.written import GAP_U_MM

from .paper import FACE, INK, RULE, WASH, heading, printed, ruled, width_pt, words

_PAPER = "A4"
_HIGH_PT, _LEFT_PT, _FOOT_PT = 150.0, 40.0, 22.0  # of the figure


class Readings(Flowable):  # type: ignore[misc]  # untyped base
    """A class's readings round the truth, as on the page.

    Parameters
    ----------
    deviations : sequence of (float, float)
        Place, degrees, and reading minus truth, mm.
    width_pt : float
        Of the whole, points.
    """

    def __init__(self, deviations: Sequence[tuple[float, float]], width_pt: float) -> None:
        super().__init__()
        self._deviations, self.width, self.height = deviations, width_pt, _HIGH_PT
        self._most_mm = 1.1 * max(3 * GAP_U_MM, *(abs(off) for _, off in deviations))

    def wrap(self, _width_pt: float, _height_pt: float) -> tuple[float, float]:
        """Return width and height, points."""
        return self.width, self.height

    def _x(self, place_deg: float) -> float:
        return _LEFT_PT + (place_deg % 360 + 15) / 375 * (self.width - _LEFT_PT)

    def _y(self, off_mm: float) -> float:
        high = self.height - _FOOT_PT
        return float(_FOOT_PT + high * (0.5 + off_mm / (2 * self._most_mm)))

    def draw(self) -> None:
        """Draw band, axes and a dot a reading."""
        canvas, careful_mm = self.canv, 2 * GAP_U_MM
        canvas.setFont(FACE, 7.5)
        canvas.setFillColor(WASH)
        low, high = self._y(-careful_mm), self._y(careful_mm)
        canvas.rect(_LEFT_PT, low, self.width - _LEFT_PT, high - low, stroke=0, fill=1)
        canvas.setStrokeColor(INK)
        canvas.line(_LEFT_PT, self._y(0), self.width, self._y(0))
        canvas.setFillColor(INK)
        for off_mm in (-careful_mm, 0.0, careful_mm):
            canvas.drawRightString(
                _LEFT_PT - 4, self._y(off_mm) - 2.5, f"{off_mm:+.2f}" if off_mm else "0.00"
            )
        for at_deg in range(0, 360, 45):
            canvas.drawCentredString(self._x(at_deg), 8, f"{at_deg}°")
        canvas.setStrokeColor(RULE)
        for place_deg, off_mm in self._deviations:
            canvas.circle(self._x(place_deg), self._y(off_mm), 1.8, stroke=1, fill=1)


def debrief_pdf(debrief: Any, figure: Any | None) -> bytes:  # noqa: ANN401 (a desk's own facts)
    """Return a debrief as a PDF file.

    Parameters
    ----------
    debrief : Debrief
        What the class showed.
    figure : Picture or None
        Its readings round the truth.
    """
    one = debrief.school_class
    story: list[Any] = [
        words(f"Debrief: {one.name}", 18, bold=True, spaceAfter=6),
        words(
            f"{day_words(one.on_day)}. {debrief.sat} of {debrief.people} "
            f"{'person' if debrief.people == 1 else 'people'} began, "
            f"{debrief.finished} finished. No names are shown."
        ),
    ]
    story += _table(
        "Misunderstandings that showed",
        ("What", "People"),
        [(called(name).capitalize(), str(people)) for name, people in debrief.misunderstandings],
    )
    if figure is not None:
        drawn = Readings(debrief.deviations, width_pt(_PAPER, wide=False) - 12)
        story += [heading("Where the readings lie: place, and reading minus truth in mm"), drawn]
        story += [words(figure.alt), Spacer(0, 6)]
    story += _table(
        "Worst cases",
        ("Work order", "Size", "Ended", "Reached"),
        [
            (
                case.title,
                case.size,
                STANDINGS[case.standing] + ("; critical error" if case.critical else ""),
                f"{100 * case.score:.0f} %",
            )
            for case in debrief.cases
        ],
    )
    story += _table(
        "Worst questions",
        ("Asked", "Right answer", "Reached"),
        [(text, answer, f"{100 * share:.0f} %") for text, answer, share, _ in debrief.questions],
    )
    story += _table(
        "By element, weakest first",
        ("Element", "Reached", "Cases"),
        [
            (TITLES[name], f"{100 * mean:.0f} %", str(count))
            for name, mean, count in debrief.elements
        ],
    )
    return printed(
        story, _PAPER, f"Debrief: {one.name}", f"Gap and Lining · {one.name}", wide=False
    )


def _table(title: str, head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[Any]:
    if not rows:
        return []
    full = width_pt(_PAPER, wide=False)
    narrow = 0.14 * full
    widths = [full - narrow * (len(head) - 1), *([narrow] * (len(head) - 1))]
    if len(head) >= 3:
        widths = [0.5 * full, *([0.5 * full / (len(head) - 1)] * (len(head) - 1))]
    cells = [[words(word, 9, bold=True) for word in head]]
    cells += [[words(word, 9) for word in row] for row in rows]
    return [heading(title), ruled(cells, widths), Spacer(0, 6)]
