"""The board on the page: it asks, the kernel answers with the rows as they are now."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from widgets.page.panel import Panel
from widgets.page.style import joined_style

_HERE = Path(__file__).parent
LONGEST_ID = 40  # characters of a pseudonym


class BoardPanel(Panel):
    """A table of the class; `board` is asked for its rows, `person` is told who was chosen."""

    _esm = (_HERE / "class_board.js").read_text(encoding="utf-8")
    _css = joined_style(
        Path(__file__).parents[3] / "widgets" / "page" / "prompt_panel.css",
        _HERE / "class_board.css",
    )

    def __init__(
        self,
        board: Callable[[], Mapping[str, Any]],
        person: Callable[[str], None],
        **kwargs: Any,  # noqa: ANN401 (traits of any kind)
    ) -> None:
        self._board, self._person = board, person
        super().__init__(**kwargs)

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer with the board, or lay a person open."""
        if content.get("ask") == "board":
            self.send({"board": dict(self._board())})
        elif isinstance(content.get("person"), str):
            self._person(content["person"][:LONGEST_ID])
