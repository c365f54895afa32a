"""Landing the load, isolating, proving dead, and giving the supply back."""

from dataclasses import replace

from .actions import Isolate, LandLoad, ProveDead, RestoreSupply
from .state import Observation, Outcome, Setup, State, refused


def land_load(_: Setup, state: State, __: LandLoad) -> Outcome:
    """Return the hoist with an empty hook at rest."""
    if state.load_landed:
        return refused(state, "The load is down already; the rope hangs slack.")
    if state.isolated:
        return refused(state, "The hoist will not move: the main switch is locked off.")
    words = "The load is down and off the hook. The hook rests, the rope hangs slack."
    return replace(state, load_landed=True), Observation(done=True, words=words)


def isolate(_: Setup, state: State, __: Isolate) -> Outcome:
    """Return the hoist with the main switch off, locked and tagged."""
    if state.isolated:
        return refused(state, "Your lock is on the main switch already.")
    words = "Main switch off. Your lock and your tag are on it; the key is in your pocket."
    if state.released:
        words += " The brake drops in with a clack."
    changed = replace(state, isolated=True, energised=False, released=False)
    return changed, Observation(done=True, words=words)


def prove_dead(setup: Setup, state: State, _: ProveDead) -> Outcome:
    """Return what the tester says at the terminals."""
    if not state.isolated:
        volts = setup.size.coil.voltage_v
        words = (
            f"The tester lights up: the supply is live, {volts:.0f} V behind the brake's contact."
        )
        return state, Observation(done=True, words=words, seen={"live": True})
    words = (
        "Tester proved, terminals tested, tester proved again: motor dead, "
        "brake dead on the alternating and on the direct side."
    )
    return replace(state, proved_dead=True), Observation(
        done=True, words=words, seen={"live": False}
    )


def restore_supply(_: Setup, state: State, __: RestoreSupply) -> Outcome:
    """Return the hoist with the supply back on."""
    if not state.isolated:
        return refused(state, "The supply is on already.")
    words = "You take off your own lock and tag and switch on. The supply is back."
    changed = replace(state, isolated=False, proved_dead=False)
    return changed, Observation(done=True, words=words)
