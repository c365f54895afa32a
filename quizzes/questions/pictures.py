"""Our own line drawings for questions: the brake in section, and seen from its end."""

import math

from .figure import Drawing, Place, Shape, circle, line, path, rect

_GAUGED_DEG = tuple(range(0, 360, 45))
_CENTRE = 320.0


def _polar(radius: float, angle_deg: float) -> tuple[float, float]:
    turn = math.radians(angle_deg)
    x, y = _CENTRE + radius * math.sin(turn), _CENTRE - radius * math.cos(turn)
    return round(x, 1), round(y, 1)


def _end_view() -> Drawing:
    shapes: list[Shape] = [
        circle(_CENTRE, _CENTRE, 300),
        circle(_CENTRE, _CENTRE, 205, "thin"),
        circle(_CENTRE, _CENTRE, 62),
        circle(_CENTRE, _CENTRE, 28, "hatch"),
    ]
    places = []
    for number, angle in enumerate((0, 120, 240), start=1):
        x, y = _polar(252, angle)
        shapes.append(circle(x, y, 34, "thin"))
        clock = {0: 12, 120: 4, 240: 8}[angle]
        name = f"screw {number}, at {clock} o’clock, {angle}°"
        places.append(Place(f"screw-{number}", "screws", str(number), name, x, y, x, y))
    for angle in _GAUGED_DEG:
        x, y = _polar(134, angle)
        inner, outer = _polar(188, angle), _polar(205, angle)
        shapes.append(line(*inner, *outer))
        name = f"{angle}°, clockwise from 12 o’clock"
        places.append(Place(f"angle-{angle}", "angles", f"{angle}°", name, x, y, *outer))
    title = "The brake seen from its fan end, screw 1 at the top, angles clockwise."
    return Drawing("end_view", title, 640, 640, tuple(shapes), tuple(places))


# The section: half of the brake over its axis, motor at the left. Gaps are drawn much too wide.
_PARTS: tuple[tuple[str, str, float, float, float, float], ...] = (
    ("end-face", "motor end face, fixed to the motor", 44, 34, 76, 130),
    ("hollow-screw", "sleeve that stands on the motor end and screws into the magnet body",
     172, 34, 190, 92),
    ("pressure-plate", "plate between disc and magnet body, free to move", 300, 34, 243, 150),
    ("coil", "winding in the magnet body", 428, 34, 320, 170),
    ("retaining-screw", "screw through the sleeve, its head on the magnet body", 556, 34, 436, 92),
    ("wear-plate", "thin plate on the motor end face", 44, 466, 109, 300),
    ("lining", "lining of the disc", 150, 466, 140, 240),
    ("hub", "toothed hub on the shaft", 256, 466, 180, 336),
    ("spring", "spring in a pocket of the magnet body", 384, 466, 320, 262),
    ("magnet-body", "magnet body, held by the three screws", 512, 466, 392, 300),
)  # fmt: skip
_GAPS: tuple[tuple[str, str, float, float, float, float], ...] = (
    ("disc-motor-side", "between the disc and the wear plate", 110, 466, 119, 220),
    ("disc-plate-side", "between the disc and the pressure plate", 220, 466, 214, 220),
    ("air-gap", "between the pressure plate and the magnet body", 330, 34, 276, 124),
    ("fan-gap", "between the magnet body and the fan", 480, 34, 462, 124),
)


def _section() -> Drawing:
    shapes = (
        line(20, 380, 620, 380, "axis"),
        rect(20, 356, 600, 48, "thick"),
        rect(50, 70, 52, 286, "hatch"),
        rect(102, 110, 14, 226, "solid"),
        rect(122, 122, 34, 160, "band"),
        rect(156, 122, 20, 214, "thick"),
        rect(176, 122, 34, 160, "band"),
        rect(140, 318, 80, 38, "thick"),
        rect(218, 118, 50, 210, "hatch"),
        rect(284, 70, 150, 270, "thick"),
        rect(284, 136, 76, 68, "solid"),
        rect(284, 236, 80, 52, "thin"),
        path("M268 262 L280 240 L292 284 L304 240 L316 284 L328 240 L340 284 L352 240 L362 262"),
        rect(102, 80, 230, 24, "thin"),
        rect(60, 87, 374, 10, "solid"),
        rect(434, 76, 20, 32, "thick"),
        rect(470, 100, 26, 256, "thin"),
        path("M496 120 L540 112 L540 330 L496 340", "thin"),
    )
    places = tuple(
        Place(name, group, "", words, x, y, to_x, to_y)
        for group, rows in (("parts", _PARTS), ("gaps", _GAPS))
        for name, words, x, y, to_x, to_y in rows
    )
    title = "Half of the brake in section over its axis, motor at the left; gaps not to scale."
    return Drawing("section", title, 640, 500, shapes, places)


DRAWINGS: dict[str, Drawing] = {one.name: one for one in (_end_view(), _section())}
