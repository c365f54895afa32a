"""Cover, fan and seal: each comes off and goes on in its order; plate and dust."""

from dataclasses import replace

from .actions import (
    Clean,
    ReadPlate,
    RefitCover,
    RefitFan,
    RefitSeal,
    RemoveCover,
    RemoveFan,
    RemoveSeal,
)
from .state import Observation, Outcome, Setup, State, refused


def remove_cover(_: Setup, state: State, __: RemoveCover) -> Outcome:
    """Return the brake with the cover off."""
    if not state.cover_on:
        return refused(state, "The cover is off already.")
    return _changed(replace(state, cover_on=False), "Cover off. The fan is in front of you.")


def refit_cover(_: Setup, state: State, __: RefitCover) -> Outcome:
    """Return the brake with the cover on."""
    if state.cover_on:
        return refused(state, "The cover is on already.")
    words = "Cover on, screws tight."
    if not state.fan_on:
        words += " Something is left over on the bench: the fan."
    return _changed(replace(state, cover_on=True), words)


def remove_fan(_: Setup, state: State, __: RemoveFan) -> Outcome:
    """Return the brake with the fan off."""
    if not state.fan_on:
        return refused(state, "The fan is off already.")
    if state.cover_on:
        return refused(state, "You cannot reach the fan: the cover is on.")
    return _changed(replace(state, fan_on=False), "Ring off, fan drawn off its key. Key kept.")


def refit_fan(_: Setup, state: State, __: RefitFan) -> Outcome:
    """Return the brake with the fan on."""
    if state.fan_on:
        return refused(state, "The fan is on already.")
    if state.cover_on:
        return refused(state, "The cover is on: the fan cannot go onto the shaft.")
    return _changed(replace(state, fan_on=True), "Fan on its key, ring in its groove.")


def remove_seal(_: Setup, state: State, __: RemoveSeal) -> Outcome:
    """Return the brake with the seal band rolled back."""
    if not state.seal_on:
        return refused(state, "The seal band is off already.")
    if state.fan_on or state.cover_on:
        in_the_way = "cover" if state.cover_on else "fan"
        return refused(state, f"You cannot get at the seal band: the {in_the_way} is in the way.")
    words = "Seal band rolled back; it is whole. The edge of the disc and the gap lie open."
    if state.dust_mm > 0:
        words += " Grey dust sits on the edge and in the gap."
    return _changed(replace(state, seal_on=False), words)


def refit_seal(_: Setup, state: State, __: RefitSeal) -> Outcome:
    """Return the brake with the seal band seated."""
    if state.seal_on:
        return refused(state, "The seal band is on already.")
    if state.fan_on or state.cover_on:
        in_the_way = "cover" if state.cover_on else "fan"
        return refused(state, f"The seal band cannot be seated: the {in_the_way} is in the way.")
    return _changed(replace(state, seal_on=True), "Seal band seated in both grooves all round.")


def read_plate(setup: Setup, state: State, _: ReadPlate) -> Outcome:
    """Return what is stamped on the brake's plate."""
    size = setup.size
    words = (
        f"The plate says: {size.name}, {size.torque_nm:g} N·m, coil {size.coil.voltage_v:g} V DC."
    )
    return replace(state, plate_read=True), Observation(
        done=True, words=words, seen={"size": size.name}
    )


_CLEANING = {
    "vacuum": "Dust drawn off with the dust-class vacuum. The faces are clean.",
    "damp_wipe": "Dust taken up with a damp cloth, cloth bagged. The faces are clean.",
    "air_blast": "A grey cloud stands in the room. The brake is clean; the air you breathe is not.",
    "dry_brush": "Dust flies from the brush. The brake is clean; the air you breathe is not.",
}


def clean(_: Setup, state: State, action: Clean) -> Outcome:
    """Return the brake without its dust."""
    if state.seal_on:
        return refused(state, "The seal band is on: there is no dust to be got at.")
    alarm = "Brake dust was blown into the air." if action.method in _AIRBORNE else ""
    observation = Observation(done=True, words=_CLEANING[action.method], alarm=alarm)
    return replace(state, dust_mm=0.0), observation


_AIRBORNE = {"air_blast", "dry_brush"}


def _changed(state: State, words: str) -> Outcome:
    return state, Observation(done=True, words=words)
