"""What one must recognise at a brake, in pictures: glaze, oil, cracks, fretting, dust, rings."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import widgets.bench.view
from widgets.page.joining import joined_file
from widgets.page.panel import Panel
from widgets.page.style import joined_style

_HERE = Path(__file__).parent
_DRAWING = Path(widgets.bench.view.__file__).parent / "drawing"

# Source of the signs: common practice, no source.
SIGNS: Mapping[str, tuple[str, str]] = {
    "sound": ("A sound lining", "Dull, even, a little rough. It reflects nothing."),
    "glassy-brown-edge": (
        "Glaze",
        "Brown and smooth as glass; it reflects a lamp. It has been too hot.",
    ),
    "dark-shiny-edge": (
        "Oil at the edge",
        "Dark and wet, from the edge inwards, often with drops below. Find where it comes from.",
    ),
    "radial-cracks": (
        "Heat cracks",
        "Fine lines from the inside out, in the steel. A fingernail catches in them.",
    ),
    "blue-patches": ("Heat spots", "Blue or violet patches on steel: it was well over 250 °C."),
    "narrow-ring": (
        "A narrow bearing ring",
        "The lining has touched on a ring only: warped, or not bedded in.",
    ),
    "rust-red-dust": (
        "Fretting at the hub",
        "Red-brown dust between the teeth: steel has rubbed on steel.",
    ),
    "fretting-at-a-screw": (
        "Fretting at a screw",
        "A red-brown ring round the head: the joint has moved. It was not tight.",
    ),
    "dust-caked": (
        "Caked dust",
        "Lumps that do not fall when tapped: dust with oil or water in it.",
    ),
    "bright-rings": (
        "Rings on the motor end",
        "Bright, scored rings: something hard has rubbed there, a screw head or a carrier.",
    ),
}


class Signs(Panel):
    """Pictures of signs beside each other, each with its name and what to look for."""

    _esm = joined_file(_HERE / "signs.js")
    _css = joined_style(_DRAWING / "sign_pictures.css", _HERE / "signs.css")

    def __init__(self, *codes: str) -> None:
        unknown = [code for code in codes if code not in SIGNS]
        if unknown or not codes:
            raise ValueError(f"codes must be of {', '.join(SIGNS)}, got {unknown or 'none'}")
        self._told = [[code, *SIGNS[code]] for code in codes]
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Send the names and words to a page that asks for them."""
        if content.get("ask") == "signs":
            self.send({"signs": self._told})


def signs(*codes: str) -> Signs:
    """Return pictures of signs, by the codes of `SIGNS`."""
    return Signs(*codes)
