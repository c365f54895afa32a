"""A figure on a page: drawn when it comes into view, and under it the words that say the same."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from widgets.charts.picture import Picture
from widgets.page.panel import Panel
from widgets.page.style import joined_style

_HERE = Path(__file__).parent


class FigurePanel(Panel):
    """A picture with its caption; a page is ready before its figures are drawn.

    Parameters
    ----------
    draw : callable
        Gives the picture; called once, when a page first asks for it.
    """

    _esm = (_HERE / "figure.js").read_text(encoding="utf-8")
    _css = joined_style(_HERE / "figure.css")

    def __init__(self, draw: Callable[[], Picture]) -> None:
        self._draw = draw
        self._drawn: Picture | None = None
        super().__init__()

    @property
    def drawn(self) -> Picture:
        """The picture; drawn now, if nobody has asked for it before."""
        if self._drawn is None:
            self._drawn = self._draw()
        return self._drawn

    def heard(self, content: Mapping[str, Any]) -> None:
        """Send the picture to a page that asks for it."""
        if content.get("ask") == "figure":
            self.send({"figure": {"url": self.drawn.data_url, "alt": self.drawn.alt}})


def figure(drawn: Picture | Callable[..., Picture], *given: Any, **named: Any) -> FigurePanel:  # noqa: ANN401 (arguments of any figure)
    """Return a figure as a widget: a picture, or a function that draws it and what it is given.

    `figure(stop_figure, size)` leaves the drawing until the figure comes into
    view; `figure(stop_figure(size))` draws at once.
    """
    if isinstance(drawn, Picture):
        picture = drawn
        return FigurePanel(lambda: picture)
    draw = drawn
    return FigurePanel(lambda: draw(*given, **named))
