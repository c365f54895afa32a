"""A finished figure: an SVG for the page, and the words that say the same."""

import base64
import io
from dataclasses import dataclass
from pathlib import Path
from typing import Any

STYLE = Path(__file__).parent / "figures.mplstyle"
INK, PENCIL, ACCENT, DANGER = "#1c2430", "#5b6675", "#0b6e75", "#b3261e"


@dataclass(frozen=True, slots=True)
class Picture:
    """An SVG image and its text alternative."""

    svg: bytes
    alt: str

    @property
    def data_url(self) -> str:
        """The image as an address that asks no server."""
        return "data:image/svg+xml;base64," + base64.b64encode(self.svg).decode()


def picture(figure: Any, alt: str) -> Picture:  # noqa: ANN401 (matplotlib is imported late)
    """Return a matplotlib figure as an SVG with its text alternative, and close it.

    Raises
    ------
    ValueError
        If the text alternative is empty.
    """
    if not alt.strip():
        raise ValueError("alt must say what the figure shows, got nothing")
    held = io.BytesIO()
    figure.savefig(held, format="svg", metadata={"Date": None, "Creator": None})
    return Picture(held.getvalue(), alt)


def new_figure(width_in: float, height_in: float, *, laid_out: bool = True) -> Any:  # noqa: ANN401 (imported late)
    """Return an empty figure of a size in inches; no window, no global list of figures.

    With `laid_out` the library finds room for every word, which takes as long as drawing
    again; a figure that is drawn while somebody works places its axes itself.
    """
    from matplotlib.figure import Figure  # noqa: PLC0415 (slow to import; pages must open fast)

    return Figure(figsize=(width_in, height_in), layout="constrained" if laid_out else None)


def in_style() -> Any:  # noqa: ANN401 (imported late)
    """Return the context in which a figure takes the suite's look."""
    from matplotlib import style  # noqa: PLC0415 (slow to import; pages must open fast)

    return style.context(STYLE)
