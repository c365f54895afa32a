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
from widgets.bench.observed import (
    Outcome,
    already,
    harmed,
    not_possible,
    not_there,
    seen,
    wrong_order,
)
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
    if state.box_on:
        return wrong_order(state, "terminals.box-shut")
    if state.leads in {"off", "torn"}:
        return already(state, "leads.already-off")
    if state.energised or not state.isolated:
        changed = state._replace(leads="off", energised=False, released=False)
        return harmed(changed, "leads.off-live", "arc-at-leads")
    return seen(state._replace(leads="off"), "leads.off")


def connect_leads(_: Setup, state: State, action: ConnectLeads) -> Outcome:
    """Return the coil with its leads on the direct or the alternating side."""
    if state.box_on:
        return wrong_order(state, "terminals.box-shut")
    if not state.body_on:
        return wrong_order(state, "leads.body-off")
    if state.leads == "torn":
        return not_possible(state, "leads.torn")
    return seen(state._replace(leads=action.side), "leads.on", side=action.side)


def remove_lever(_: Setup, state: State, __: RemoveLever) -> Outcome:
    """Return the magnet body without its hand release."""
    if not state.lever_on:
        return already(state, "lever.already-off")
    part = in_the_way(state, "lever")
    if part:
        return wrong_order(state, "lever.bolts-in-the-way", part=part)
    tray = taken_off(state, "hand release")
    return seen(state._replace(lever_on=False, tray=tray), "lever.off")


def refit_lever(_: Setup, state: State, __: RefitLever) -> Outcome:
    """Return the magnet body with its hand release, its nuts run on and no play set yet."""
    if state.lever_on:
        return already(state, "lever.already-on")
    if not state.body_on:
        return wrong_order(state, "lever.body-off")
    part = in_the_way(state, "lever")
    if part:
        return wrong_order(state, "lever.in-the-way", part=part)
    tray = put_back(state, "hand release")
    brake = replace(state.brake, release_lever_play_mm=0.0)
    return seen(state._replace(lever_on=True, tray=tray, brake=brake), "lever.on")


def hold_body(_: Setup, state: State, __: HoldBody) -> Outcome:
    """Return the magnet body with its weight in a sling."""
    if state.body_held:
        return already(state, "body.already-held")
    part = in_the_way(state, "sling")
    if part:
        return wrong_order(state, "body.sling-in-the-way", part=part)
    cocked = state.body_cocked and any(state.lock_nm)
    return seen(state._replace(body_held=True, body_cocked=cocked), "body.held")


def draw_lock(_: Setup, state: State, action: DrawLock) -> Outcome:  # noqa: PLR0911 (one a finding)
    """Return the brake with one retaining screw out; the springs follow."""
    part = in_the_way(state, "screws")
    if part:
        return wrong_order(state, "screws.in-the-way", part=part)
    index, screw = action.screw - 1, action.screw
    if not state.body_on or state.drawn[index]:
        return already(state, "lock.already-out", screw=screw)
    if state.lock_nm[index] > 0:
        return wrong_order(state, "lock.still-tight", screw=screw)
    drawn = [*state.drawn]
    drawn[index] = True
    changed = state._replace(drawn=(drawn[0], drawn[1], drawn[2]))
    others = [nm for place, nm in enumerate(state.lock_nm) if place != index]
    if any(others):
        return seen(changed._replace(body_cocked=True), "lock.out", screw=screw, cocks=True)
    if all(drawn) and not state.load_landed:
        return harmed(changed, "lock.out", "load-falls", screw=screw, cocks=False)
    if all(drawn) and not state.body_held:
        return harmed(changed, "lock.out", "body-drops", screw=screw, cocks=False)
    return seen(changed, "lock.out", screw=screw, cocks=False)


def remove_body(_: Setup, state: State, __: RemoveBody) -> Outcome:
    """Return the brake with magnet body, springs and pressure plate off as one."""
    if not state.body_on:
        return already(state, "body.already-off")
    if state.seal_on:
        return wrong_order(state, "body.tied-by-seal")
    if not all(state.drawn):
        return wrong_order(state, "body.held-by-screws")
    if state.lever_on:
        return wrong_order(state, "body.hooked-by-lever")
    tears = state.leads in {"dc", "ac"}
    leads = "torn" if tears else state.leads
    tray = taken_off(state, "magnet body")
    return seen(
        state._replace(body_on=False, body_held=False, leads=leads, body_cocked=False,
                       energised=False, released=False, tray=tray),
        "body.off", lead_tears=tears,
    )  # fmt: skip


def remove_disc(_: Setup, state: State, __: RemoveDisc) -> Outcome:
    """Return the hub without its disc."""
    if state.body_on:
        return wrong_order(state, "disc.behind-body")
    if not state.disc_on:
        return not_there(state, "disc.none")
    return seen(state._replace(disc_on=False, tray=taken_off(state, "disc")), "disc.off")


def remove_wear_plate(setup: Setup, state: State, _: RemoveWearPlate) -> Outcome:
    """Return the motor end without its wear plate."""
    if setup.size.wear_plate_mm == 0:
        return not_there(state, "wear-plate.none-of-this-size")
    if state.body_on or state.disc_on:
        return wrong_order(state, "wear-plate.behind-disc")
    if not state.wear_plate_on:
        return not_there(state, "wear-plate.none")
    changed = state._replace(
        brake=replace(state.brake, wear_plate_mm=0.0),
        wear_plate_on=False,
        tray=taken_off(state, "wear plate"),
    )
    return seen(changed, "wear-plate.off")


def clean_spline(_: Setup, state: State, __: CleanSpline) -> Outcome:
    """Return the hub with a clean, dry spline."""
    if state.disc_on or state.body_on:
        return wrong_order(state, "spline.behind-disc")
    if state.spline_cleaned:
        return already(state, "spline.already-clean")
    worn = state.brake.spline_play_deg >= 1.0
    return seen(state._replace(spline_cleaned=True), "spline.cleaned", stepped=worn)


def fit_wear_plate(setup: Setup, state: State, action: FitWearPlate) -> Outcome:
    """Return the motor end with a wear plate; turned round, its screw heads stand out."""
    size = setup.size
    if size.wear_plate_mm == 0:
        return not_there(state, "wear-plate.none-of-this-size")
    if state.body_on or state.disc_on:
        return wrong_order(state, "wear-plate.before-disc")
    if state.wear_plate_on:
        return already(state, "wear-plate.already-on")
    proud_mm = 0.0 if action.smooth_to_disc else HEADS_PROUD_MM
    changed = state._replace(
        brake=replace(state.brake, wear_plate_mm=size.wear_plate_mm + proud_mm),
        wear_plate_on=True,
        plate_smooth_to_disc=action.smooth_to_disc,
        tray=put_back(state, "wear plate"),
    )
    return seen(changed, "wear-plate.on", smooth_to_disc=action.smooth_to_disc)


def fit_disc(setup: Setup, state: State, action: FitDisc) -> Outcome:
    """Return the hub with a disc on it: the old one or a new one, the right way or turned."""
    if state.body_on:
        return wrong_order(state, "disc.before-body")
    if state.disc_on:
        return already(state, "disc.already-on")
    if action.part not in {"old", setup.size.name}:
        return not_possible(state, "disc.of-another-size", size=action.part)
    brake = _with_part(setup, state, action.part)
    if action.reversed:
        brake = _turned_round(brake)
    changed = state._replace(
        brake=brake,
        disc_on=True,
        disc_part=action.part,
        disc_reversed=action.reversed,
        tray=put_back(state, "disc") if action.part == "old" else state.tray,
    )
    return seen(
        changed,
        "disc.on",
        new=action.part != "old",
        reversed=action.reversed,
        catches=not state.spline_cleaned,
    )


def fit_body(_: Setup, state: State, __: FitBody) -> Outcome:
    """Return the brake with its magnet body, springs and plate in front of the disc."""
    if state.body_on:
        return already(state, "body.already-on")
    if not state.disc_on:
        return wrong_order(state, "body.no-disc")
    changed = state._replace(
        body_on=True, faces_wiped=False, tray=put_back(state, "magnet body"), place_deg=-1.0
    )
    return seen(changed, "body.on")


def start_lock(setup: Setup, state: State, action: StartLock) -> Outcome:
    """Return the brake with one retaining screw in its thread, as slack as one let off."""
    if not state.body_on:
        return wrong_order(state, "lock.body-off")
    index, screw = action.screw - 1, action.screw
    if not state.drawn[index]:
        return already(state, "lock.already-started", screw=screw)
    if action.by == "wrench":
        return seen(state, "lock.crossed", screw=screw, crossed=True)
    drawn = [*state.drawn]
    first = all(drawn)
    drawn[index] = False
    tips = first and screw != 1 and not state.body_held
    cocked = state.body_cocked or tips
    slack_mm = [*state.slack_mm]
    slack_mm[index] = setup.size.screws.slack_mm
    changed = state._replace(
        drawn=(drawn[0], drawn[1], drawn[2]),
        slack_mm=(slack_mm[0], slack_mm[1], slack_mm[2]),
        body_cocked=cocked,
    )
    return seen(changed, "lock.started", screw=screw, crossed=False, tips=tips)


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
