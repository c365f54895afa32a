"""Landing the load, isolating, proving dead, and giving the supply back."""

from dataclasses import replace

from widgets.bench.actions import Isolate, IsolateSecond, LandLoad, ProveDead, RestoreSupply
from widgets.bench.observed import Outcome, already, not_there, seen, wrong_order
from widgets.bench.setup import Setup
from widgets.bench.state import State


def land_load(_: Setup, state: State, __: LandLoad) -> Outcome:
    """Return the hoist with an empty hook at rest."""
    if state.load_landed:
        return already(state, "load.already-down")
    if state.isolated:
        return wrong_order(state, "load.hoist-locked-off")
    return seen(state._replace(load_landed=True), "load.landed")


def isolate(_: Setup, state: State, __: Isolate) -> Outcome:
    """Return the hoist with the main switch off, locked and tagged."""
    if state.isolated:
        return already(state, "supply.already-locked")
    still_fed = state.brake.coil_live
    return seen(
        state._replace(isolated=True, energised=still_fed, released=still_fed),
        "supply.locked",
        drops_in=state.released and not still_fed,
    )


def isolate_second(_: Setup, state: State, __: IsolateSecond) -> Outcome:
    """Return the brake without the feed that somebody had left on its coil."""
    if state.second_isolated:
        return already(state, "second-feed.already-locked")
    if not state.brake.coil_live:
        return not_there(state, "second-feed.none")
    changed = state._replace(
        brake=replace(state.brake, coil_live=False),
        second_isolated=True,
        energised=False,
        released=False,
    )
    return seen(changed, "second-feed.locked")


def prove_dead(setup: Setup, state: State, _: ProveDead) -> Outcome:
    """Return what the tester says at the terminals."""
    volts = setup.size.coil.voltage_v
    if not state.isolated:
        return seen(state, "tester.supply-live", live=True, dc_live=True, supply_v=volts)
    if state.brake.coil_live:
        return seen(state, "tester.coil-live", live=True, dc_live=True, supply_v=volts)
    return seen(state._replace(proved_dead=True), "tester.dead", live=False, dc_live=False)


def restore_supply(_: Setup, state: State, __: RestoreSupply) -> Outcome:
    """Return the hoist with the supply back on."""
    if not state.isolated:
        return already(state, "supply.already-on")
    if state.energised and not state.brake.coil_live:
        return wrong_order(state, "supply.test-supply-on")
    return seen(state._replace(isolated=False, proved_dead=False), "supply.restored")
