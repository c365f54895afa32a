"""Other ways of working that are as good: other leaves, factors, orders, more readings."""

from collections.abc import Mapping
from dataclasses import replace

from quizzes.cases.case import Case
from widgets.bench import actions as do

from .stranger import Instead, Stranger, changed, without

_TWELVE = tuple(30.0 * n for n in range(12))


def _slip_of_the_pen(action: do.Action, _: Case) -> list[do.Action]:
    """Write the first disc reading a millimetre off, strike it out, and write it again."""
    if isinstance(action, do.WriteDisc) and action.angle_deg == 0:
        off = replace(action, value_mm=round(action.value_mm + 1, 2))
        return [off, do.StrikeOut("disc", 0), action]
    return [action]


def _sooner(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.HandOver) and action.next_days:
        return [replace(action, next_days=max(1, action.next_days // 2))]
    return [action]


def _again(*kinds: str) -> Instead:
    return lambda action, _: [action, action] if action.kind in kinds else [action]


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
    "measured twice": Stranger(instead=_again("measure_disc", "measure_coil"), unsafe=False),
    "release not found": Stranger(instead=without("find_release"), unsafe=False),
    "more play": Stranger(instead=changed("set_lever", play_mm=1.5), unsafe=False),
    "sixteen places": Stranger({"places": tuple(22.5 * n for n in range(16))}, unsafe=False),
    "disc at six places, from the bottom": Stranger(
        {"disc_places": (180.0, 240.0, 300.0, 0.0, 60.0, 120.0)}, unsafe=False
    ),
    "slip of the pen struck out": Stranger(instead=_slip_of_the_pen, unsafe=False),
    "sooner date": Stranger(instead=_sooner, unsafe=False),
    "tested and looked at twice": Stranger(instead=_again("look", "test_hold"), unsafe=False),
}
