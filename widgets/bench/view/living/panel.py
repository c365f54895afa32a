"""A living drawing on a page: it sends tables when the page asks, and hears nothing else."""

from collections.abc import Mapping
from typing import Any

from widgets.page.panel import Panel

from .scene import Scene, scene_module, scene_style


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
