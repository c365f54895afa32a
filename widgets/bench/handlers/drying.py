"""Water: where it comes in, and drying out."""

from dataclasses import replace

from widgets.bench.actions import DryOut, StopWater
from widgets.bench.observed import Outcome, already, seen, wrong_order
from widgets.bench.setup import Setup
from widgets.bench.state import State
from widgets.brake.around import WET

from .looking import in_the_way


def stop_water(_: Setup, state: State, __: StopWater) -> Outcome:
    """Return the hoist with no water coming to its brake any more, if any did."""
    around = state.brake.around
    if not around.water_comes:
        return seen(state, "water.none")
    dry = replace(state.brake, around=replace(around, water_comes=False))
    return seen(state._replace(brake=dry), "water.stopped")


def dry_out(_: Setup, state: State, __: DryOut) -> Outcome:
    """Return the brake dry, unless water still comes in."""
    if state.brake.surface != WET:
        return already(state, "brake.already-dry")
    part = in_the_way(state, "edge")
    if part:
        return wrong_order(state, "dry.in-the-way", part=part)
    if state.brake.around.water_comes:
        return seen(state, "brake.wet-again", dry=False)
    return seen(
        state._replace(brake=replace(state.brake, surface="bedded")), "brake.dried", dry=True
    )
