"""Landing the load, isolating, proving dead, and giving the supply back."""

from dataclasses import replace

from widgets.bench.actions import (
    CloseBox,
    Isolate,
    IsolateSecond,
    KeepClear,
    LandLoad,
    LetCool,
    OpenBox,
    ProveDead,
    RestoreSupply,
)
from widgets.bench.observed import (
    Observation,
    Outcome,
    already,
    harmed,
    seen,
    wrong_order,
)
from widgets.bench.setup import Setup
from widgets.bench.standing import ROOM_C
from widgets.bench.state import State
from widgets.bench.symptoms import load_is_stuck


def land_load(setup: Setup, state: State, action: LandLoad) -> Outcome:  # noqa: PLR0911 (one a finding)
    """Return the hoist with an empty hook at rest, if all that proves it was done."""
    bars = action.bar_area and not state.area_barred
    if state.load_landed and bars:
        return seen(state._replace(area_barred=True), "load.area-barred")
    if state.load_landed:
        return already(state, "load.already-down")
    if state.isolated:
        return wrong_order(state, "load.hoist-locked-off")
    if load_is_stuck(setup, state):
        return seen(state._replace(load_stuck=True), "load.will-not-come-down", comes=False)
    changed = state._replace(area_barred=state.area_barred or action.bar_area)
    if not action.unhook:
        return seen(changed, "load.down-on-the-hook", barred=changed.area_barred)
    if not action.prove_slack:
        return seen(changed, "load.rope-not-proved", barred=changed.area_barred)
    changed = changed._replace(load_landed=True)
    return seen(changed, "load.landed", barred=changed.area_barred)


def keep_clear(_: Setup, state: State, action: KeepClear) -> Outcome:
    """Return the hoist with nobody near load, rope and drum; barred and help called, or not."""
    barred, called = state.area_barred or action.bar_area, state.called or action.call
    if (state.kept_clear, state.area_barred, state.called) == (True, barred, called):
        return already(state, "area.already-clear")
    changed = state._replace(kept_clear=True, area_barred=barred, called=called)
    return seen(changed, "area.kept-clear", barred=barred, called=called)


def let_cool(_: Setup, state: State, __: LetCool) -> Outcome:
    """Return the brake at room temperature."""
    if state.brake.surface_c <= ROOM_C and state.brake.coil_c <= ROOM_C:
        return already(state, "brake.already-cold")
    if state.energised:
        return wrong_order(state, "brake.still-heated")
    cold = replace(state.brake, surface_c=ROOM_C, coil_c=ROOM_C)
    return seen(state._replace(brake=cold), "brake.cooled")


def burnt(state: State, observation: Observation) -> Outcome:
    """Return what was seen by whoever laid a hand on metal that burns."""
    return harmed(state, observation.code, "burnt-hand", **observation.facts)


def isolate(_: Setup, state: State, action: Isolate) -> Outcome:
    """Return the hoist with the main switch off, and locked, tried and waited for or not."""
    locked, tried = state.locked or action.lock, state.start_tried or action.try_start
    waited = state.waited or action.wait
    done = (state.locked, state.start_tried, state.waited) == (locked, tried, waited)
    if state.isolated and done:
        return already(state, "supply.already-locked")
    changed = state._replace(isolated=True, locked=locked, start_tried=tried, waited=waited)
    facts = {"locked": locked, "tried": tried, "waited": waited}
    if state.isolated:
        return seen(changed, "supply.locked", drops_in=False, **facts)
    still_fed = state.brake.coil_live
    return seen(
        changed._replace(energised=still_fed, released=still_fed),
        "supply.locked",
        drops_in=state.released and not still_fed,
        **facts,
    )


def isolate_second(_: Setup, state: State, __: IsolateSecond) -> Outcome:
    """Return the brake without the feed that somebody had left on its coil, if there is one."""
    if state.second_isolated:
        return already(state, "second-feed.already-locked")
    if not state.brake.coil_live:
        return seen(state._replace(second_sought=True), "second-feed.none")
    changed = state._replace(
        brake=replace(state.brake, coil_live=False),
        second_isolated=True,
        second_sought=True,
        energised=False,
        released=False,
    )
    return seen(changed, "second-feed.locked")


def open_box(_: Setup, state: State, action: OpenBox) -> Outcome:
    """Return the terminals laid bare; under supply they are live."""
    if not state.box_on:
        return already(state, "box.already-open")
    changed = state._replace(box_on=False)
    if state.isolated:
        return seen(changed, "box.open", by=action.by)
    return harmed(changed, "box.open", "live-terminals-bare", by=action.by)


def close_box(_: Setup, state: State, __: CloseBox) -> Outcome:
    """Return the terminal box with its cover on."""
    if state.box_on:
        return already(state, "box.already-closed")
    return seen(state._replace(box_on=True), "box.closed")


def prove_dead(setup: Setup, state: State, action: ProveDead) -> Outcome:
    """Return what the tester says at the terminals; only the right one, proved, proves anything."""
    volts, both = setup.size.coil.voltage_v, action.sides == "both"
    if action.tester == "contactless":
        lights = not state.isolated
        return seen(state, "tester.pen", live=lights, dc_live=False)
    if state.box_on:
        return wrong_order(state, "terminals.box-shut")
    if not state.isolated:
        return seen(state, "tester.supply-live", live=True, dc_live=both, supply_v=volts)
    if state.brake.coil_live and both:
        return seen(state, "tester.coil-live", live=True, dc_live=True, supply_v=volts)
    code = "tester.dead"
    if not state.waited:
        code = "tester.still-charged"
    elif not action.known_source:
        code = "tester.silent-not-proved"
    elif not both:
        code = "tester.one-side-only"
    proved = state._replace(proved_dead=True) if code == "tester.dead" else state
    return seen(proved, code, live=False, dc_live=False)


def restore_supply(_: Setup, state: State, __: RestoreSupply) -> Outcome:
    """Return the hoist with the supply back on."""
    if not state.isolated:
        return already(state, "supply.already-on")
    if state.energised and not state.brake.coil_live:
        return wrong_order(state, "supply.test-supply-on")
    changed = state._replace(
        isolated=False, proved_dead=False, locked=False, start_tried=False, waited=False
    )
    return seen(changed, "supply.restored")
