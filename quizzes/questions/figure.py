"""Line drawings as plain data: shapes with two line weights, and places that may be chosen."""

from dataclasses import asdict, dataclass
from typing import Any

LOOKS = ("thin", "thick", "hatch", "solid", "axis", "word", "small", "band")


@dataclass(frozen=True, slots=True)
class Shape:
    """One stroke of a drawing: `kind` line, rect, circle, path or text; numbers in its units.

    `at` holds x1 y1 x2 y2 of a line, x y width height of a rectangle, x y r of
    a circle, x y of a text; a path has its own text.
    """

    kind: str
    at: tuple[float, ...]
    look: str = "thin"
    text: str = ""

    def to_json(self) -> dict[str, Any]:
        """Return the shape as plain JSON."""
        return {"kind": self.kind, "at": list(self.at), "look": self.look, "text": self.text}


def line(x1: float, y1: float, x2: float, y2: float, look: str = "thin") -> Shape:
    """Return a straight line, coordinates in the drawing's units."""
    return Shape("line", (x1, y1, x2, y2), look)


def rect(x: float, y: float, width: float, height: float, look: str = "thick") -> Shape:
    """Return a rectangle, coordinates in the drawing's units."""
    return Shape("rect", (x, y, width, height), look)


def circle(x: float, y: float, radius: float, look: str = "thick") -> Shape:
    """Return a circle, coordinates in the drawing's units."""
    return Shape("circle", (x, y, radius), look)


def path(text: str, look: str = "thin") -> Shape:
    """Return an open or closed path from its commands."""
    return Shape("path", (), look, text)


def word(x: float, y: float, text: str, look: str = "word") -> Shape:
    """Return a text centred on a point, coordinates in the drawing's units."""
    return Shape("text", (x, y), look, text)


@dataclass(frozen=True, slots=True)
class Place:
    """A place that may be chosen: its balloon at `x`, `y`, and the point that it means.

    `name` says in words where it is, for who does not see the drawing; it
    never says whether it is right.
    """

    id: str
    group: str
    label: str
    name: str
    x: float
    y: float
    to_x: float
    to_y: float

    def to_json(self) -> dict[str, Any]:
        """Return the place as plain JSON."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing with its places."""

    name: str
    title: str
    width: float
    height: float
    shapes: tuple[Shape, ...]
    places: tuple[Place, ...] = ()
    wide: bool = False

    @property
    def groups(self) -> tuple[str, ...]:
        """The groups of places, each once."""
        return tuple(dict.fromkeys(place.group for place in self.places))

    def to_json(self, groups: tuple[str, ...] = ()) -> dict[str, Any]:
        """Return the drawing as plain JSON, with the places of some groups."""
        return {
            "title": self.title,
            "width": self.width,
            "height": self.height,
            "wide": self.wide,
            "shapes": [shape.to_json() for shape in self.shapes],
            "places": [place.to_json() for place in self.places if place.group in groups],
        }
