"""A panel that draws a sheet and hands over its paper form as a file."""

from pathlib import Path

from widgets.bench.view.joining import joined_file
from widgets.bench.view.panel import Panel
from widgets.bench.view.parts import shared_style

_HERE = Path(__file__).parent


def sheet_module(name: str) -> str:
    """Return a sheet's ES module with what it imports before it, as one text.

    Parameters
    ----------
    name : str
        The module's file beside this one, without `.js`.

    Raises
    ------
    FileNotFoundError
        If there is no such module.
    """
    return joined_file(_HERE / f"{name}.js")


def sheet_style(name: str) -> str:
    """Return a sheet's style with what all parts and all sheets share before it."""
    texts = [(_HERE / f"{file}.css").read_text(encoding="utf-8") for file in ("sheet_parts", name)]
    return "\n".join([shared_style(), *texts])


class SheetPanel(Panel):
    """A sheet on the page; a file goes to the browser over the same line as everything else."""

    def hand_over(self, name: str, file: bytes) -> None:
        """Send a PDF file for the browser to save.

        Parameters
        ----------
        name : str
            What the file shall be called.
        file : bytes
            The file.
        """
        self.send({"file": {"name": name, "kind": "application/pdf"}}, buffers=[file])

    def refuse(self, words: str) -> None:
        """Say why there is no file."""
        self.send({"trouble": words})
