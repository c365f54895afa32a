"""A QR code on paper: modules drawn as squares, with the quiet zone around them."""

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

_QUIET = 4  # modules of white on each side; ISO/IEC 18004


class QrCode(Flowable):  # type: ignore[misc]  # untyped base
    """A QR code of a given width.

    Parameters
    ----------
    modules : tuple of rows
        True for dark, without quiet zone.
    width_mm : float
        Of the whole, quiet zone included, mm.
    """

    def __init__(self, modules: tuple[tuple[bool, ...], ...], width_mm: float) -> None:
        super().__init__()
        self._modules = modules
        self.width = self.height = width_mm * mm
        self._module_pt = self.width / (len(modules) + 2 * _QUIET)

    def wrap(self, _width_pt: float, _height_pt: float) -> tuple[float, float]:
        """Return width and height, points."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it; a run of dark modules is one rectangle, so that no hairline parts them."""
        side = self._module_pt
        self.canv.setFillGray(0)
        for number, row in enumerate(self._modules):
            bottom = self.height - (number + 1 + _QUIET) * side
            for first, length in _runs(row):
                left = (first + _QUIET) * side
                self.canv.rect(left, bottom, length * side, side, stroke=0, fill=1)


def _runs(row: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Return where dark runs begin and how long they are."""
    runs: list[tuple[int, int]] = []
    for place, dark in enumerate(row):
        if dark and place and row[place - 1]:
            first, length = runs.pop()
            runs.append((first, length + 1))
        elif dark:
            runs.append((place, 1))
    return runs
