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
from widgets.bench.observed import Observation, Outcome, harmed, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State

from .looking import in_the_way


def taken_off(state: State, part: str) -> tuple[str, ...]:
    """Return the tray with one part more."""
    return (*state.tray, part)


def put_back(state: State, part: str) -> tuple[str, ...]:
    """Return the tray without a part."""
    return tuple(one for one in state.tray if one != part)


def remove_cover(_: Setup, state: State, __: RemoveCover) -> Outcome:
    """Return the brake with the cover off."""
    if not state.cover_on:
        return refused(state, "The cover is off already.")
    words = "Cover off. The fan is in front of you."
    if not state.fan_on:
        words = "Cover off. There is no fan on the shaft."
    return seen(state._replace(cover_on=False, tray=taken_off(state, "cover")), words)


def refit_cover(_: Setup, state: State, __: RefitCover) -> Outcome:
    """Return the brake with the cover on."""
    if state.cover_on:
        return refused(state, "The cover is on already.")
    left = [part for part in put_back(state, "cover") if part != "seal band"]
    words = "Cover on, screws tight."
    if left:
        words += f" Left over on the bench: {', '.join(left)}."
    return seen(state._replace(cover_on=True, tray=put_back(state, "cover")), words)


def remove_ring(_: Setup, state: State, __: RemoveRing) -> Outcome:
    """Return the fan without the ring that keeps it."""
    if not state.ring_on:
        return refused(state, "There is no ring on the shaft.")
    if state.cover_on:
        return refused(state, "You cannot reach the ring: the cover is on.")
    words = "Ring out of its groove and in the tray."
    return seen(state._replace(ring_on=False, tray=taken_off(state, "ring")), words)


def refit_ring(_: Setup, state: State, __: RefitRing) -> Outcome:
    """Return the fan kept by its ring."""
    if state.ring_on:
        return refused(state, "The ring is in its groove already.")
    if state.cover_on:
        return refused(state, "You cannot reach the groove: the cover is on.")
    if not state.fan_on:
        return refused(state, "Without the fan the ring has nothing to keep.")
    return seen(
        state._replace(ring_on=True, tray=put_back(state, "ring")),
        "The ring snaps into its groove.",
    )


def remove_fan(_: Setup, state: State, __: RemoveFan) -> Outcome:
    """Return the brake with the fan off."""
    if not state.fan_on:
        return refused(state, "There is no fan on the shaft.")
    if state.cover_on:
        return refused(state, "You cannot reach the fan: the cover is on.")
    if state.ring_on:
        return refused(state, "The fan will not come: its ring is still in the groove.")
    words = "Fan drawn off its key. Key kept."
    return seen(state._replace(fan_on=False, tray=taken_off(state, "fan")), words)


def refit_fan(_: Setup, state: State, action: RefitFan) -> Outcome:
    """Return the brake with the fan on."""
    if state.fan_on:
        return refused(state, "The fan is on already.")
    if state.cover_on:
        return refused(state, "The cover is on: the fan cannot go onto the shaft.")
    words = "Fan on its key." if action.on_key else "Fan pushed on; the key is still in the tray."
    # A fan that was found loose or missing is put right by fitting it on its key.
    brake = replace(state.brake, fan_ok=True) if action.on_key else state.brake
    changed = state._replace(
        brake=brake, fan_on=True, fan_keyed=action.on_key, tray=put_back(state, "fan")
    )
    return seen(changed, words)


def remove_seal(_: Setup, state: State, __: RemoveSeal) -> Outcome:
    """Return the brake with the seal band rolled back."""
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"You cannot get at the seal band: the {part} is in the way.")
    if not state.seal_on:
        return refused(state, "There is no seal band on.")
    words = "Seal band rolled back; it is whole. The edge of the disc and the gap lie open."
    if state.dust_mm > 0:
        words += " Grey dust sits on the edge and in the gap."
    return seen(state._replace(seal_on=False, tray=taken_off(state, "seal band")), words)


def refit_seal(_: Setup, state: State, action: RefitSeal) -> Outcome:
    """Return the brake with a seal band on, its lip seated or not."""
    if state.seal_on:
        return refused(state, "A seal band is on already.")
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"The seal band cannot be seated: the {part} is in the way.")
    if not state.body_on:
        return refused(state, "The magnet body is off: the band has only one groove to sit in.")
    if action.band == "old" and "seal band" not in state.tray:
        return refused(state, "There is no old seal band: it was missing. Take a new one.")
    words = "Seal band seated in both grooves all round."
    if not action.seated:
        words = "Seal band on; its lip stands out of the groove on the far side."
    brake = replace(state.brake, seal_ok=True) if action.band == "new" else state.brake
    changed = state._replace(
        brake=brake, seal_on=True, seal_seated=action.seated, tray=put_back(state, "seal band")
    )
    return seen(changed, words)


def read_plate(setup: Setup, state: State, _: ReadPlate) -> Outcome:
    """Return what is stamped on the brake's plate."""
    size = setup.size
    words = (
        f"The plate says: {size.name}, {size.torque_nm:g} N·m, coil {size.coil.voltage_v:g} V DC."
    )
    return seen(state._replace(plate_read=True), words, size=size.name)


_CLEANING = {
    "vacuum": "Dust drawn off with the vacuum cleaner for harmful dust.",
    "damp_wipe": "Dust taken up with a damp cloth, cloth bagged.",
    "air_blast": "A grey cloud stands in the room. The brake is clean; the air you breathe is not.",
    "dry_brush": "Dust flies from the brush. The brake is clean; the air you breathe is not.",
    "solvent": "The dust is gone. Solvent has run onto the lining and soaks in.",
}
_AIRBORNE = {"air_blast", "dry_brush"}


def clean(_: Setup, state: State, action: Clean) -> Outcome:
    """Return the brake without its dust; what solvent does to a lining, it does."""
    if state.seal_on:
        return refused(state, "The seal band is on: there is no dust to be got at.")
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"You cannot get at the dust: the {part} is in the way.")
    cleaned = state._replace(dust_mm=0.0)
    if state.brake.pole_dust_mm:  # the poles face the gap: what clears one clears the other
        cleaned = cleaned._replace(brake=replace(state.brake, pole_dust_mm=0.0))
    if action.method == "damp_wipe" and not state.body_on:
        cleaned = cleaned._replace(faces_wiped=True)
    if action.method == "solvent":
        cleaned = cleaned._replace(brake=replace(cleaned.brake, surface="oiled"))
    if action.method in _AIRBORNE:
        return harmed(cleaned, _CLEANING[action.method], "Brake dust was blown into the air.")
    return cleaned, Observation(done=True, words=_CLEANING[action.method])
