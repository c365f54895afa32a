"""Landing the load, isolating, proving dead, and giving the supply back."""

from dataclasses import replace

from widgets.bench.actions import Isolate, IsolateSecond, LandLoad, ProveDead, RestoreSupply
from widgets.bench.observed import Outcome, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State


def land_load(_: Setup, state: State, __: LandLoad) -> Outcome:
    """Return the hoist with an empty hook at rest."""
    if state.load_landed:
        return refused(state, "The load is down already; the rope hangs slack.")
    if state.isolated:
        return refused(state, "The hoist will not move: the main switch is locked off.")
    words = "The load is down and off the hook. The hook rests, the rope hangs slack."
    return seen(state._replace(load_landed=True), words)


def isolate(_: Setup, state: State, __: Isolate) -> Outcome:
    """Return the hoist with the main switch off, locked and tagged."""
    if state.isolated:
        return refused(state, "Your lock is on the main switch already.")
    words = "Main switch off. Your lock and your tag are on it; the key is in your pocket."
    still_fed = state.brake.coil_live
    if state.released and not still_fed:
        words += " The brake drops in with a clack."
    return seen(state._replace(isolated=True, energised=still_fed, released=still_fed), words)


def isolate_second(_: Setup, state: State, __: IsolateSecond) -> Outcome:
    """Return the brake without the feed that somebody had left on its coil."""
    if state.second_isolated:
        return refused(state, "The second feed is off and locked already.")
    if not state.brake.coil_live:
        return refused(state, "You follow the leads and the diagram: there is no second feed.")
    words = (
        "A test supply had been left on the coil, fed from another circuit. It is off now, "
        "locked and tagged. The brake drops in with a clack."
    )
    changed = state._replace(
        brake=replace(state.brake, coil_live=False),
        second_isolated=True,
        energised=False,
        released=False,
    )
    return seen(changed, words)


def prove_dead(setup: Setup, state: State, _: ProveDead) -> Outcome:
    """Return what the tester says at the terminals."""
    volts = setup.size.coil.voltage_v
    if not state.isolated:
        words = f"The tester lights up: the supply is live, {volts:.0f} V on the direct side."
        return seen(state, words, live=True, dc_live=True)
    if state.brake.coil_live:
        words = (
            f"Motor dead. At the brake the tester lights up on the direct side: {volts:.0f} V. "
            "Something feeds this coil from elsewhere."
        )
        return seen(state, words, live=True, dc_live=True)
    words = (
        "Tester proved, terminals tested, tester proved again: motor dead, "
        "brake dead on the alternating and on the direct side."
    )
    return seen(state._replace(proved_dead=True), words, live=False, dc_live=False)


def restore_supply(_: Setup, state: State, __: RestoreSupply) -> Outcome:
    """Return the hoist with the supply back on."""
    if not state.isolated:
        return refused(state, "The supply is on already.")
    words = "You take off your own locks and tags and switch on. The supply is back."
    return seen(state._replace(isolated=False, proved_dead=False), words)
