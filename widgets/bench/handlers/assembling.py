"""Taking apart and putting together; what comes of a wrong order or a reversed part."""

from dataclasses import replace

from widgets.bench.actions import (
    CleanSpline,
    ConnectLeads,
    DisconnectLeads,
    DrawLock,
    FitBody,
    FitDisc,
    FitWearPlate,
    HoldBody,
    RefitLever,
    RemoveBody,
    RemoveDisc,
    RemoveLever,
    RemoveWearPlate,
    StartLock,
)
from widgets.bench.observed import Outcome, harmed, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State
from widgets.brake.condition import Condition, Disc
from widgets.brake.draws import Draws
from widgets.brake.sizes.size import BrakeSize

from .looking import in_the_way
from .opening import put_back, taken_off

NEW_DISC_SCATTER_MM = 0.02  # mm, one new disc from the next; invented
COLLAR_PROUD_MM = 0.6  # mm, what a disc turned round stands higher on the hub's collar; invented
HEADS_PROUD_MM = 0.3  # mm, screw heads that stand out of a wear plate turned round; invented


def disconnect_leads(_: Setup, state: State, __: DisconnectLeads) -> Outcome:
    """Return the coil with its leads marked and off."""
    if in_the_way(state, "cover"):
        return refused(state, "The terminals are behind the cover.")
    if state.leads in {"off", "torn"}:
        return refused(state, "The leads are off already.")
    if state.energised or not state.isolated:
        alarm = "The coil's leads were taken off live: an arc as long as a finger."
        return harmed(state._replace(leads="off", energised=False, released=False), "", alarm)
    return seen(state._replace(leads="off"), "Leads marked, taken off, ends covered.")


def connect_leads(_: Setup, state: State, action: ConnectLeads) -> Outcome:
    """Return the coil with its leads on the direct or the alternating side."""
    if in_the_way(state, "cover"):
        return refused(state, "The terminals are behind the cover.")
    if not state.body_on:
        return refused(state, "The magnet body is off: its leads do not reach.")
    if state.leads == "torn":
        return refused(state, "A lead is torn from its terminal: this is not mended at the bench.")
    side = {"dc": "direct", "ac": "alternating"}[action.side]
    words = f"Leads on the {side} side of the rectifier, screws tight."
    return seen(state._replace(leads=action.side), words)


def remove_lever(_: Setup, state: State, __: RemoveLever) -> Outcome:
    """Return the magnet body without its hand release."""
    if not state.lever_on:
        return refused(state, "The hand release is off already.")
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"You cannot get at the lever's bolts: the {part} is in the way.")
    tray = taken_off(state, "hand release")
    return seen(state._replace(lever_on=False, tray=tray), "Hand release off, its nuts counted.")


def refit_lever(_: Setup, state: State, __: RefitLever) -> Outcome:
    """Return the magnet body with its hand release."""
    if state.lever_on:
        return refused(state, "The hand release is on already.")
    if not state.body_on:
        return refused(state, "The magnet body is off: the lever has nothing to stand on.")
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"The lever cannot be put on: the {part} is in the way.")
    words = "Hand release on. Its play is not set."
    tray = put_back(state, "hand release")
    return seen(state._replace(lever_on=True, tray=tray), words)


def hold_body(_: Setup, state: State, __: HoldBody) -> Outcome:
    """Return the magnet body with its weight in a sling."""
    if state.body_held:
        return refused(state, "The sling has the weight already.")
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"You cannot get a sling round the body: the {part} is in the way.")
    words = "The sling has the weight of the magnet body."
    cocked = state.body_cocked and any(state.lock_nm)
    return seen(state._replace(body_held=True, body_cocked=cocked), words)


def draw_lock(_: Setup, state: State, action: DrawLock) -> Outcome:  # noqa: PLR0911 (one a finding)
    """Return the brake with one retaining screw out; the springs follow."""
    part = in_the_way(state, "cover", "fan")
    if part:
        return refused(state, f"You cannot get a key on the screws: the {part} is in the way.")
    index, screw = action.screw - 1, action.screw
    if not state.body_on or state.drawn[index]:
        return refused(state, f"Retaining screw {screw} is out already.")
    if state.lock_nm[index] > 0:
        return refused(state, f"Retaining screw {screw} is tight: slacken it first.")
    drawn = [*state.drawn]
    drawn[index] = True
    changed = state._replace(drawn=(drawn[0], drawn[1], drawn[2]))
    words = f"Retaining screw {screw} out and in the tray."
    others = [nm for place, nm in enumerate(state.lock_nm) if place != index]
    if any(others):
        words += " The springs push the body off on this side; it cocks and jams on the others."
        return seen(changed._replace(body_cocked=True), words)
    if all(drawn) and not state.load_landed:
        return harmed(changed, words, "The brake is off with the load on the hook: the load falls.")
    if all(drawn) and not state.body_held:
        alarm = "Nothing held the magnet body: the springs throw it off and it drops."
        return harmed(changed, words, alarm)
    return seen(changed, words)


def remove_body(_: Setup, state: State, __: RemoveBody) -> Outcome:
    """Return the brake with magnet body, springs and pressure plate off as one."""
    if not state.body_on:
        return refused(state, "The magnet body is off already.")
    if state.seal_on:
        return refused(state, "The seal band still ties the body to the motor end.")
    if not all(state.drawn):
        return refused(state, "It is still held by its retaining screws.")
    if state.lever_on:
        return refused(state, "The hand release still hooks it to the motor end.")
    words = "Magnet body, springs and pressure plate off as one, laid down face up."
    leads = state.leads
    if leads in {"dc", "ac"}:
        leads = "torn"
        words += " A lead that was still on tears from its terminal."
    tray = taken_off(state, "magnet body")
    return seen(
        state._replace(body_on=False, body_held=False, leads=leads, body_cocked=False,
                       energised=False, released=False, tray=tray),
        words,
    )  # fmt: skip


def remove_disc(_: Setup, state: State, __: RemoveDisc) -> Outcome:
    """Return the hub without its disc."""
    if state.body_on:
        return refused(state, "The disc will not come: the magnet body is in front of it.")
    if not state.disc_on:
        return refused(state, "There is no disc on the hub.")
    words = "Disc off the hub. You can see where its collar pointed."
    return seen(state._replace(disc_on=False, tray=taken_off(state, "disc")), words)


def remove_wear_plate(setup: Setup, state: State, _: RemoveWearPlate) -> Outcome:
    """Return the motor end without its wear plate."""
    if setup.size.wear_plate_mm == 0:
        return refused(state, "This size has no wear plate.")
    if state.body_on or state.disc_on:
        return refused(state, "You cannot reach the wear plate: the disc is in front of it.")
    if not state.wear_plate_on:
        return refused(state, "There is no wear plate on.")
    changed = state._replace(
        brake=replace(state.brake, wear_plate_mm=0.0),
        wear_plate_on=False,
        tray=taken_off(state, "wear plate"),
    )
    return seen(changed, "Wear plate off; the motor end behind it is clean.")


def clean_spline(_: Setup, state: State, __: CleanSpline) -> Outcome:
    """Return the hub with a clean, dry spline."""
    if state.disc_on or state.body_on:
        return refused(state, "The disc covers the spline.")
    if state.spline_cleaned:
        return refused(state, "The spline is clean already.")
    worn = state.brake.spline_play_deg >= 1.0
    words = "Spline wiped clean with a damp cloth, and dried. "
    words += "Its teeth are stepped where the disc ran." if worn else "Its flanks are whole."
    return seen(state._replace(spline_cleaned=True), words)


def fit_wear_plate(setup: Setup, state: State, action: FitWearPlate) -> Outcome:
    """Return the motor end with a wear plate; turned round, its screw heads stand out."""
    size = setup.size
    if size.wear_plate_mm == 0:
        return refused(state, "This size has no wear plate.")
    if state.body_on or state.disc_on:
        return refused(state, "The wear plate goes on before the disc.")
    if state.wear_plate_on:
        return refused(state, "The wear plate is on already.")
    proud_mm = 0.0 if action.smooth_to_disc else HEADS_PROUD_MM
    words = "Wear plate on, smooth side to the disc, screw heads below the face."
    if not action.smooth_to_disc:
        words = "Wear plate on, smooth side to the motor."
    changed = state._replace(
        brake=replace(state.brake, wear_plate_mm=size.wear_plate_mm + proud_mm),
        wear_plate_on=True,
        plate_smooth_to_disc=action.smooth_to_disc,
        tray=put_back(state, "wear plate"),
    )
    return seen(changed, words)


def fit_disc(setup: Setup, state: State, action: FitDisc) -> Outcome:
    """Return the hub with a disc on it: the old one or a new one, the right way or turned."""
    if state.body_on:
        return refused(state, "The disc goes on before the magnet body.")
    if state.disc_on:
        return refused(state, "There is a disc on the hub already.")
    if action.part not in {"old", setup.size.name}:
        return refused(state, f"A disc of {action.part} will not go on this spline.")
    brake = _with_part(setup, state, action.part)
    if action.reversed:
        brake = _turned_round(brake)
    words = f"{'Old' if action.part == 'old' else 'New'} disc on the hub"
    words += ", collar to the brake. " if action.reversed else ", collar to the motor. "
    words += "It slides freely." if state.spline_cleaned else "It slides, with a catch on the way."
    changed = state._replace(
        brake=brake,
        disc_on=True,
        disc_part=action.part,
        disc_reversed=action.reversed,
        tray=put_back(state, "disc") if action.part == "old" else state.tray,
    )
    return seen(changed, words)


def fit_body(_: Setup, state: State, __: FitBody) -> Outcome:
    """Return the brake with its magnet body, springs and plate in front of the disc."""
    if state.body_on:
        return refused(state, "The magnet body is on already.")
    if not state.disc_on:
        return refused(
            state, "You look at the bare hub: without the disc there is nothing to press."
        )
    words = "Plate in its guides, body in front of the disc. The screws are not started."
    changed = state._replace(
        body_on=True, faces_wiped=False, tray=put_back(state, "magnet body"), place_deg=-1.0
    )
    return seen(changed, words)


def start_lock(_: Setup, state: State, action: StartLock) -> Outcome:
    """Return the brake with one retaining screw in its thread, still slack."""
    if not state.body_on:
        return refused(state, "The magnet body is off: there is nothing to screw down.")
    index, screw = action.screw - 1, action.screw
    if not state.drawn[index]:
        return refused(state, f"Retaining screw {screw} is in its thread already.")
    if action.by == "wrench":
        words = f"Retaining screw {screw} goes hard at half a turn: the thread crosses. Out again."
        return seen(state, words, screw=screw, crossed=True)
    drawn = [*state.drawn]
    first = all(drawn)
    drawn[index] = False
    words = f"Retaining screw {screw} started by hand, finger-tight."
    cocked = state.body_cocked
    if first and screw != 1 and not state.body_held:
        words += " With nothing at the top the body tips out of its guides."
        cocked = True
    changed = state._replace(drawn=(drawn[0], drawn[1], drawn[2]), body_cocked=cocked)
    return seen(changed, words, screw=screw, crossed=False)


def _with_part(setup: Setup, state: State, part: str) -> Condition:
    """Return the brake with the disc that was found, or with a new one of its size."""
    brake, found = state.brake, setup.condition
    if part == "old":
        return replace(
            brake, disc=found.disc, swelling_mm=found.swelling_mm, hub_share=found.hub_share,
            radius_factor=found.radius_factor, static_over_dynamic=found.static_over_dynamic,
        )  # fmt: skip
    # Oil on the faces behind the lining wets a new one, unless they were wiped.
    oily = brake.surface == "oiled" and not state.faces_wiped
    return replace(
        brake,
        disc=_new_disc(setup.size, setup.draws.child("new disc")),
        swelling_mm=0.0,
        static_over_dynamic=1.0,
        radius_factor=1.0,
        hub_share=found.hub_share,
        friction=setup.size.lining.friction,
        surface="oiled" if oily else "unbedded",
    )


def _new_disc(size: BrakeSize, draws: Draws) -> Disc:
    return Disc(
        size.disc.new_mm + NEW_DISC_SCATTER_MM * draws.normal("thickness"),
        0.003 * draws.uniform("taper"),
        360.0 * draws.uniform("thick"),
    )


def _turned_round(brake: Condition) -> Condition:
    """Return the brake whose disc stands on its collar: the hub carries the springs."""
    return replace(brake, hub_share=1.0, swelling_mm=brake.swelling_mm + COLLAR_PROUD_MM)
