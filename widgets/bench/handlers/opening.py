"""Cover, fan with its ring, and seal: each comes off and goes on in its order; plate and dust."""

from dataclasses import replace

from widgets.bench.actions import (
    Clean,
    ReadPlate,
    RefitCover,
    RefitFan,
    RefitRing,
    RefitSeal,
    RemoveCover,
    RemoveFan,
    RemoveRing,
    RemoveSeal,
)
from widgets.bench.observed import (
    Outcome,
    already,
    harmed,
    not_there,
    seen,
    wrong_order,
)
from widgets.bench.setup import Setup
from widgets.bench.state import State

from .looking import in_the_way


def taken_off(state: State, part: str) -> tuple[str, ...]:
    """Return the tray with one part more."""
    return (*state.tray, part)


def put_back(state: State, part: str) -> tuple[str, ...]:
    """Return the tray without a part."""
    return tuple(one for one in state.tray if one != part)


def remove_cover(_: Setup, state: State, action: RemoveCover) -> Outcome:
    """Return the brake with the cover off."""
    if not state.cover_on:
        return already(state, "cover.already-off")
    changed = state._replace(
        cover_on=False, protected=action.protected, tray=taken_off(state, "cover")
    )
    return seen(changed, "cover.off", fan_there=state.fan_on, protected=action.protected)


def refit_cover(_: Setup, state: State, __: RefitCover) -> Outcome:
    """Return the brake with the cover on."""
    if state.cover_on:
        return already(state, "cover.already-on")
    left = [part for part in put_back(state, "cover") if part != "seal band"]
    changed = state._replace(cover_on=True, tray=put_back(state, "cover"))
    return seen(changed, "cover.on", left_over=left)


def remove_ring(_: Setup, state: State, __: RemoveRing) -> Outcome:
    """Return the fan without the ring that keeps it."""
    if not state.ring_on:
        return not_there(state, "ring.none")
    if state.cover_on:
        return wrong_order(state, "ring.behind-cover")
    return seen(state._replace(ring_on=False, tray=taken_off(state, "ring")), "ring.off")


def refit_ring(_: Setup, state: State, __: RefitRing) -> Outcome:
    """Return the fan kept by its ring."""
    if state.ring_on:
        return already(state, "ring.already-on")
    if state.cover_on:
        return wrong_order(state, "ring.groove-behind-cover")
    if not state.fan_on:
        return wrong_order(state, "ring.fan-off")
    return seen(state._replace(ring_on=True, tray=put_back(state, "ring")), "ring.on")


def remove_fan(_: Setup, state: State, __: RemoveFan) -> Outcome:
    """Return the brake with the fan off."""
    if not state.fan_on:
        return not_there(state, "fan.none")
    if state.cover_on:
        return wrong_order(state, "fan.behind-cover")
    if state.ring_on:
        return wrong_order(state, "fan.kept-by-ring")
    return seen(state._replace(fan_on=False, tray=taken_off(state, "fan")), "fan.off")


def refit_fan(_: Setup, state: State, action: RefitFan) -> Outcome:
    """Return the brake with the fan on."""
    if state.fan_on:
        return already(state, "fan.already-on")
    if state.cover_on:
        return wrong_order(state, "fan.shaft-behind-cover")
    # A fan that was found loose or missing is put right by fitting it on its key.
    brake = replace(state.brake, fan_ok=True) if action.on_key else state.brake
    changed = state._replace(
        brake=brake, fan_on=True, fan_keyed=action.on_key, tray=put_back(state, "fan")
    )
    return seen(changed, "fan.on", on_key=action.on_key)


def remove_seal(_: Setup, state: State, __: RemoveSeal) -> Outcome:
    """Return the brake with the seal band rolled back."""
    part = in_the_way(state, "seal")
    if part:
        return wrong_order(state, "seal.in-the-way", part=part)
    if not state.seal_on:
        return not_there(state, "seal.none")
    changed = state._replace(seal_on=False, tray=taken_off(state, "seal band"))
    return seen(changed, "seal.off", dusty=state.dust_mm > 0)


def refit_seal(_: Setup, state: State, action: RefitSeal) -> Outcome:
    """Return the brake with a seal band on, its lip seated or not."""
    if state.seal_on:
        return already(state, "seal.already-on")
    part = in_the_way(state, "seal")
    if part:
        return wrong_order(state, "seal.seat-in-the-way", part=part)
    if not state.body_on:
        return wrong_order(state, "seal.body-off")
    if action.band == "old" and "seal band" not in state.tray:
        return not_there(state, "seal.no-old-band")
    brake = replace(state.brake, seal_ok=True) if action.band == "new" else state.brake
    changed = state._replace(
        brake=brake, seal_on=True, seal_seated=action.seated, tray=put_back(state, "seal band")
    )
    return seen(changed, "seal.on", seated=action.seated)


def read_plate(setup: Setup, state: State, _: ReadPlate) -> Outcome:
    """Return what is stamped on the brake's plate."""
    size = setup.size
    return seen(
        state._replace(plate_read=True),
        "plate.read",
        size=size.name,
        torque_nm=size.torque_nm,
        coil_v=size.coil.voltage_v,
        **({"built": state.brake.around.built} if state.brake.around.built else {}),
    )


_AIRBORNE = {"air_blast", "dry_brush"}


def clean(_: Setup, state: State, action: Clean) -> Outcome:
    """Return the brake without its dust; what solvent does to a lining, it does."""
    if state.seal_on:
        return wrong_order(state, "dust.behind-seal")
    part = in_the_way(state, "screws")
    if part:
        return wrong_order(state, "dust.in-the-way", part=part)
    cleaned = state._replace(dust_mm=0.0)
    if state.brake.pole_dust_mm:  # the poles face the gap: what clears one clears the other
        cleaned = cleaned._replace(brake=replace(state.brake, pole_dust_mm=0.0))
    if action.method == "damp_wipe" and not state.body_on:
        cleaned = cleaned._replace(faces_wiped=True)
    if action.method == "solvent":
        cleaned = cleaned._replace(brake=replace(cleaned.brake, surface="oiled"))
    if action.method in _AIRBORNE:
        return harmed(cleaned, "dust.gone", "dust-in-the-air", method=action.method)
    return seen(cleaned, "dust.gone", method=action.method)
