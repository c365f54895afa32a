"""What is seen of a part whether or not something is wrong with it: facts for its picture."""

from collections.abc import Callable, Mapping
from typing import Any

from widgets.bench.setup import Setup
from widgets.bench.state import State

Facts = dict[str, Any]
SHADES = 1000  # so many pictures of one place, alike but for light marks that mean nothing


def shade(setup: Setup, place: str) -> int:
    """Return which of the many sound looks a place has: the same each time, and no sign."""
    return int(setup.draws.uniform("shade", place) * SHADES)


def plain_facts(setup: Setup, state: State, place: str) -> Facts:
    """Return what is seen of a part as it stands: there or off, which way round, how many."""
    return _FACTS[place](setup, state) if place in _FACTS else {}


def _running(_: Setup, state: State) -> Facts:
    return {} if state.load_landed else {"loaded": True}


def _outside(_: Setup, state: State) -> Facts:
    if state.cover_on:
        return {}
    return {"off": True} if state.fan_on else {"off": True, "fan_off": True}


def _springs(setup: Setup, state: State) -> Facts:
    if state.body_on:
        return {}
    return {"springs": setup.size.springs.count, "springs_whole": state.brake.springs_intact}


def _wear_plate(_: Setup, state: State) -> Facts:
    there = state.brake.wear_plate_mm > 0
    return {"smooth_to_disc": state.plate_smooth_to_disc} if there else {}


def _fan(_: Setup, state: State) -> Facts:
    if not state.fan_on:
        return {"off": True}
    facts: Facts = {} if state.ring_on else {"ring_off": True}
    return facts | {"keyed": False} if state.brake.fan_ok and not state.fan_keyed else facts


def _seal(_: Setup, state: State) -> Facts:
    if not state.seal_on:
        return {"off": True}
    return {} if state.seal_seated else {"seated": False}


def _hub(_: Setup, state: State) -> Facts:
    return {} if state.disc_on else {"off": True}


def _lever(_: Setup, state: State) -> Facts:
    return {} if state.lever_on else {"off": True}


def _leads(_: Setup, state: State) -> Facts:
    return {} if state.leads in {"dc", "torn"} else {"leads": state.leads}


def _screws(_: Setup, state: State) -> Facts:
    out = [screw + 1 for screw in (0, 1, 2) if state.drawn[screw]]
    fretted = [screw + 1 for screw in (0, 1, 2) if state.brake.lock_share[screw] == 0]
    facts: Facts = {"out": out} if out else {}
    return facts | {"fretted": fretted} if fretted else facts


_FACTS: Mapping[str, Callable[[Setup, State], Facts]] = {
    "running": _running,
    "outside": _outside,
    "springs": _springs,
    "wear_plate": _wear_plate,
    "fan": _fan,
    "seal": _seal,
    "hub": _hub,
    "lever": _lever,
    "leads": _leads,
    "screws": _screws,
}
