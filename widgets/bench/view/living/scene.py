"""What a page needs to draw one scene: its module, its style, its tables. Knows no widget."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from widgets.page.joining import joined_file
from widgets.page.style import joined_style

_HERE = Path(__file__).parent
Plain = Mapping[str, Any]  # numbers, texts, lists and mappings of them: what a message can hold


@dataclass(frozen=True, slots=True)
class Scene:
    """What a page needs to draw one scene.

    Parameters
    ----------
    name : str
        Its module in `scenes/`, without `.js`.
    caption : str
        What is drawn larger than life, and what the model leaves out.
    size : mapping
        Lengths and ratings of the brake that the drawing is made from.
    controls : tuple of mapping
        Sliders and choices, each with `start`.
    tables, courses : callable
        Each gives plain tables by name; tables are asked for first, courses once they are drawn.
    """

    name: str
    caption: str
    size: Plain
    controls: tuple[Plain, ...]
    tables: Callable[[], Plain]
    courses: Callable[[], Plain]

    def told(self) -> dict[str, Any]:
        """Return what a page gets first."""
        return {
            "scene": self.name,
            "caption": self.caption,
            "size": dict(self.size),
            "controls": [dict(one) for one in self.controls],
            "tables": dict(self.tables()),
        }


def scene_module(name: str) -> str:
    """Return the ES module of a scene, with all that it imports, as one text."""
    return joined_file(_HERE / "scenes" / f"{name}.js")


def scene_style() -> str:
    """Return the style of a living drawing: shared tokens, the lines of the brake, its own."""
    return joined_style(_HERE.parent / "drawing" / "lines.css", _HERE / "living.css")
