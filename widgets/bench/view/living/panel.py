"""A living drawing on a page: it sends tables when the page asks, and hears nothing else."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from widgets.page.joining import joined_file
from widgets.page.panel import Panel
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


class Living(Panel):
    """One living drawing. The page asks for tables, and then for courses; it can set nothing."""

    _css = scene_style()

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._esm = scene_module(scene.name)  # the library makes a trait of it
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Send what was asked for; anything else gets no answer."""
        if content.get("ask") == "tables":
            self.send(self._scene.told())
        elif content.get("ask") == "courses":
            self.send({"courses": dict(self._scene.courses())})
