"""Other ways of working that are as good: other leaves, factors, orders, more readings."""

from collections.abc import Mapping

from .stranger import Stranger, changed, without
from .ways import twice

_TWELVE = tuple(30.0 * n for n in range(12))
HONEST: Mapping[str, Stranger] = {
    "careful": Stranger(unsafe=False),
    "factor 1.645": Stranger({"factor": 1.645}, unsafe=False),
    "factor 2": Stranger({"factor": 2.0}, unsafe=False),
    "twelve places": Stranger({"places": _TWELVE}, unsafe=False),
    "six places": Stranger({"places": tuple(60.0 * n for n in range(6))}, unsafe=False),
    "places between": Stranger({"places": tuple(22.5 + 45.0 * n for n in range(8))}, unsafe=False),
    "anticlockwise": Stranger({"places": tuple(45.0 * n for n in range(7, -1, -1))}, unsafe=False),
    "disc at three places": Stranger({"disc_places": (30.0, 150.0, 270.0)}, unsafe=False),
    "disc at eight places": Stranger(
        {"disc_places": tuple(45.0 * n for n in range(8))}, unsafe=False
    ),
    "disc before gap": Stranger({"disc_first": True}, unsafe=False),
    "steps of two hundredths": Stranger({"step_of": 2}, unsafe=False),
    "measured twice": Stranger(instead=twice, unsafe=False),
    "release not found": Stranger(instead=without("find_release"), unsafe=False),
    "more play": Stranger(instead=changed("set_lever", play_mm=1.5), unsafe=False),
}
