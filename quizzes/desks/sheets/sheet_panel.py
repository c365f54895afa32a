"""A panel that draws a sheet and hands over its paper form as a file."""

from pathlib import Path

from widgets.page.panel import Panel
from widgets.page.style import joined_style

_SHARED = Path(__file__).with_name("sheet_parts.css")


def sheet_style(own: Path) -> str:
    """Return a sheet's style: what all parts share, what all sheets share, and its own file."""
    return joined_style(_SHARED, own)


class SheetPanel(Panel):
    """A sheet on the page; a file goes to the browser over the same line as everything else."""

    def hand_over(self, name: str, file: bytes) -> None:
        """Send a PDF file for the browser to save.

        Parameters
        ----------
        name : str
            What the file is to be called.
        file : bytes
            The file.
        """
        self.send({"file": {"name": name, "kind": "application/pdf"}}, buffers=[file])

    def refuse(self, words: str) -> None:
        """Say why there is no file."""
        self.send({"trouble": words})
