"""The brake as the work order finds it: closed, or already safe and open, or its body off."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from .setup import Setup, Start
from .state import State


def at_start(setup: Setup) -> State:
    """Return the state in which a job begins."""
    return _AT_START[setup.order.start](setup, _closed(setup))


def _closed(setup: Setup) -> State:
    """Return a closed brake in service, locked as its last adjuster left it."""
    proper_nm, as_found = setup.size.screws.retaining_torque_nm, setup.condition
    first, second, third = (share * proper_nm for share in as_found.lock_share)
    return State(
        brake=as_found,
        screw_height_mm=as_found.screw_height_mm,
        lock_nm=(first, second, third),
        take_up_mm=as_found.take_up_mm,
        dust_mm=as_found.dust_mm,
        fan_on=as_found.fan_ok,
        fan_keyed=as_found.fan_ok,
        ring_on=as_found.fan_ok,
        seal_on=as_found.seal_ok,
        lever_drawn=not as_found.release_lever_returns,
        wear_plate_on=as_found.wear_plate_mm > 0,
        released=as_found.coil_live,
        energised=as_found.coil_live,
    )


def _open(setup: Setup, closed: State) -> State:
    """Return the brake safe, open and clean, its plate read: only the skill itself is left."""
    brake = closed.brake
    return closed._replace(
        brake=replace(brake, coil_live=False) if brake.coil_live else brake,
        load_landed=True,
        isolated=True,
        second_isolated=True,
        second_sought=True,
        proved_dead=True,
        area_barred=True,
        locked=True,
        start_tried=True,
        waited=True,
        box_on=False,
        protected=True,
        energised=False,
        released=False,
        cover_on=False,
        fan_on=False,
        ring_on=False,
        seal_on=False,
        plate_read=True,
        dust_mm=0.0,
        tray=tuple(
            part
            for part, was_on in (
                ("cover", True),
                ("ring", closed.ring_on),
                ("fan", closed.fan_on),
                ("seal band", closed.seal_on),
            )
            if was_on
        ),
        gap_notes=setup.order.gap_notes,
        disc_notes=setup.order.disc_notes,
        value_notes=setup.order.value_notes,
    )


def _body_off(setup: Setup, closed: State) -> State:
    """Return the brake open with its magnet body taken off in good order."""
    opened = _open(setup, closed)
    return opened._replace(
        lock_nm=(0.0, 0.0, 0.0),
        in_one_go=(False, False, False),
        lock_known=(True, True, True),
        drawn=(True, True, True),
        lever_on=False,
        leads="off",
        body_on=False,
        tray=(*opened.tray, "hand release", "magnet body"),
    )


_AT_START: Mapping[Start, Callable[[Setup, State], State]] = {
    Start.WORK_ORDER: lambda _, closed: closed,
    Start.OPEN: _open,
    Start.BODY_OFF: _body_off,
    Start.NOTES: _open,
}
