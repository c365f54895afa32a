"""The board of the stage: the act in large words, and the keys that step, show and hide."""

from pathlib import Path

from widgets.page.prompt_panel import FormPanel
from widgets.page.style import joined_style

_HERE = Path(__file__).parent
_PANEL = Path(__file__).parents[3] / "widgets" / "page" / "prompt_panel.css"


class StageBoard(FormPanel):
    """A form whose style lays out the whole stage for a projector."""

    _css = joined_style(_PANEL, _HERE / "stage.css")
