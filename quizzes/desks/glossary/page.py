"""The page of the glossary: a field that narrows the list, and the list."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from widgets.page.panel import Panel
from widgets.page.style import joined_style

from .terms import glossary

_HERE = Path(__file__).parent


class GlossaryPanel(Panel):
    """The list of words with a field that narrows it; the browser does the narrowing."""

    _esm = (_HERE / "glossary.js").read_text(encoding="utf-8")
    _css = joined_style(_HERE / "glossary.css")

    def heard(self, content: Mapping[str, Any]) -> None:
        """Send the words to a page that was just opened."""
        if content.get("ask") == "terms":
            self.send({"terms": [term.brief() for term in glossary()]})


def glossary_page() -> GlossaryPanel:
    """Return the glossary, for a notebook to show."""
    return GlossaryPanel()
