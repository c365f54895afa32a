"""The fitting hands of a virtual candidate: body off, disc changed, body on, screws started."""

from widgets.bench import actions as do
from widgets.brake.sizes.design import Design

from .adjusting import SCREWS, lock, reset_lever, set_gap, slacken
from .job import Job, made
from .measuring import gauge_round
from .setting import believed, changes_mm, move

CLEAR_MM = 0.15  # wider than the setting is the first guess, so that nothing goes solid; a choice
_BOTTOM_FIRST = (2, 3, 1)


def replace_disc(job: Job) -> bool:
    """Change the disc and set the brake up again; return whether the gap came out well."""
    if job.body_on:
        take_body_off(job)
    change_disc(job)
    if believed(job) is Design.SHIMS:  # the packs lie bare while the body is off
        _set_out(job)
        put_body_on(job)
    else:
        put_body_on(job)
        _set_out(job)
    return _set_up(job)


def put_back(job: Job, *, adjusted: bool) -> bool:
    """Put the body on again over the disc that is there; return whether the gap is well."""
    put_body_on(job)
    if adjusted:
        return _set_up(job)
    lock(job)
    _lever_and_leads(job)
    return True


def _set_up(job: Job) -> bool:
    """Set the gap of a body that was off, then its lever; return whether it came out well."""
    if not job.habits.order_of_parts:
        _lever_and_leads(job)  # the play is set first, and the gap then takes it away
    if job.habits.measures_again:
        lock(job)
        gauge_round(job)
        good = set_gap(job)
    else:
        gauge_round(job)
        move(job, changes_mm(job))
        lock(job)
        good = True
    if job.habits.order_of_parts:
        _lever_and_leads(job)
    return good


def take_body_off(job: Job) -> None:
    """Take leads and lever off, sling the body, draw its screws evenly, and lay it down."""
    if not job.habits.order_of_parts:
        _pull_off(job)
        return
    job.open_box()
    job.act(made(do.DisconnectLeads))
    job.act(made(do.RemoveLever))
    job.act(made(do.HoldBody))
    slacken(job)
    for screw in SCREWS:
        job.act(made(do.DrawLock, screw))
    job.act(made(do.RemoveBody))


def _pull_off(job: Job) -> None:
    """Take the body off as it comes: one screw right out after the other, nothing to hold it."""
    for screw in SCREWS:
        job.act(made(do.LoosenLock, screw))
        job.act(made(do.DrawLock, screw))
    job.act(made(do.RemoveLever))
    job.act(made(do.DisconnectLeads))
    job.act(made(do.RemoveBody))


def change_disc(job: Job) -> None:
    """Take the old disc off, look at what it hid, clean dry, fit a new one the right way round."""
    job.act(made(do.RemoveDisc))
    job.look("faces", "hub", "wear_plate", "springs")
    job.act(do.Clean("solvent" if job.habits.cleans == "solvent" else "damp_wipe"))
    job.act(made(do.CleanSpline))
    job.look("new_disc")
    job.act(made(do.FitDisc, job.plate.name))
    job.new_disc = True


def put_body_on(job: Job) -> None:
    """Lift the body on and start its screws by hand, the top one first."""
    in_order = job.habits.order_of_parts
    if in_order:
        job.act(made(do.HoldBody))
    job.act(made(do.FitBody))
    job.body_on = True
    for screw in SCREWS if in_order else _BOTTOM_FIRST:
        job.act(made(do.StartLock, screw))


def _set_out(job: Job) -> None:
    """Set the gap out by what the new disc is thicker, so that there is a gap at all."""
    row, disc_mm, gap_mm = job.row, job.row.disc.min_mm, job.row.gap.setting_mm
    if job.discs:
        disc_mm = sum(reading.value_mm for reading in job.discs) / len(job.discs)
    if job.gaps:
        gap_mm = sum(reading.value_mm for reading in job.gaps) / len(job.gaps)
    room_mm = row.gap.setting_mm + CLEAR_MM - (gap_mm - (row.disc.new_mm - disc_mm))
    move(job, (room_mm, room_mm, room_mm))


def _lever_and_leads(job: Job) -> None:
    job.act(made(do.RefitLever))
    reset_lever(job, anyhow=True)
    job.act(made(do.ConnectLeads, "dc"))
