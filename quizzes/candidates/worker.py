"""Virtual candidates: programs that work the bench through its actions and nothing else.

Each sees what a person sees: observations, its own notes, the limits sheet, what the order
says. They fill the demo class, and they are the measure of the grading.
"""

from dataclasses import replace

from quizzes.cases.case import WHOLE_ORDER
from quizzes.cases.given import size_given
from quizzes.cases.on_record import believed, record_fits
from widgets.bench import actions as do
from widgets.bench.setup import Order, Start
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

from .adjusting import reset_lever, set_gap, try_lever, try_locks
from .closing import close_and_hand_over, isolate, try_supply
from .habits import CAREFUL, HABITS, Habits
from .job import Act, Job, made
from .judging import decide, refer_after_all, take_notes_over
from .measuring import check_tools, gauge_as_found, measure_coil, measure_disc
from .own_rules import RECORD_OFF
from .replacing import put_back, replace_disc

__all__ = ["CAREFUL", "HABITS", "Act", "Habits", "work"]


def work(act: Act, sheet: LimitsSheet, habits: Habits = CAREFUL, order: Order = WHOLE_ORDER) -> Job:
    """Do one case through `act`, from where its order begins to where it ends.

    Returns what the candidate knows at the end.

    Parameters
    ----------
    act : callable
        Carries out one action and returns what is seen.
    sheet : LimitsSheet
        The sheet that everybody has.
    habits : Habits
        How this candidate works.
    order : Order
        What else the work order says, and the notes that came with it.
    """
    at_work = order.start is Start.WORK_ORDER
    job = Job(act, sheet, habits, order, sheet.sizes[0], sheet.sizes[0])
    job.locked_off = not at_work
    job.box_on = at_work
    job.body_on = order.start is not Start.BODY_OFF
    if order.start is Start.NOTES:
        _decide_from_notes(job)
        return job
    if at_work:
        if not _make_safe(job):
            _keep_away(job)
            return job
        _open(job)
    _read_plate(job)
    _inspect(job)
    outcome = decide(job)
    if not order.ends_at_decision:
        _carry_out(job, outcome)
    return job


def _decide_from_notes(job: Job) -> None:
    size = size_given(job.order, job.sheet)
    job.plate = size or job.plate
    job.row = _row(job, job.plate)
    take_notes_over(job)
    decide(job)


def _make_safe(job: Job) -> bool:
    """Make the hoist safe; return False where the load cannot be landed, and nothing else done."""
    if job.habits.lands_load:
        comes = job.act(made(do.LandLoad)).facts.get("comes", True)
        if not comes and job.habits.keeps_away:
            return False
    job.otherwise |= not (job.habits.lands_load and job.habits.isolates and job.habits.proves_dead)
    hot = "hot-to-the-hand" in job.look("running", "outside")
    isolate(job)
    if hot and job.habits.lets_cool:
        job.act(made(do.LetCool))
    return True


def _keep_away(job: Job) -> None:
    """Send people away, bar, call; lock the switch; refer. The cover stays on."""
    job.notice(["load-stuck"])
    job.act(made(do.KeepClear))
    job.supply_off()
    job.look("outside")
    _read_plate(job)
    decide(job)
    job.act(do.HandOver(into_service=False))


def _open(job: Job) -> None:
    job.fan_there = bool(job.act(made(do.RemoveCover)).facts.get("fan_there", True))
    job.look("fan", "leads")
    if job.fan_there:
        job.act(made(do.RemoveRing))
        job.act(made(do.RemoveFan))
    job.band_there = "seal-missing" not in job.look("seal")
    if job.band_there:
        job.act(made(do.RemoveSeal))


def _read_plate(job: Job) -> None:
    seen = job.act(made(do.ReadPlate)).facts
    job.plate = job.sheet.size(seen["size"])
    read = {"torque_nm": job.plate.torque_nm, **seen}
    if job.habits.doubts_records and not record_fits(job.order, read):
        job.notice([RECORD_OFF])
        job.order = believed(job.order, read)
    job.row = _row(job, job.plate)


def _row(job: Job, size: BrakeSize) -> BrakeSize:
    """Return the limits-sheet row that the candidate uses for a size, or their record's."""
    record = job.order.record
    if record is not None and not job.habits.doubts_records:
        return replace(size, gap=replace(size.gap, max_mm=record.gap_max_mm))
    if not job.habits.row_below:
        return size
    sizes = job.sheet.sizes
    return sizes[(sizes.index(size) + 1) % len(sizes)]


def _inspect(job: Job) -> None:
    """Look at everything, clean, and measure what can be measured."""
    if job.order.start is not Start.WORK_ORDER:
        job.look("outside", "fan", "leads")
        job.band_there = "seal-missing" not in job.look("seal")
    job.look("dust", "edge", "screws", "lever", "springs", "hub", "wear_plate")
    if job.habits.heeds_water and not {"track-of-water", "wet-inside"}.isdisjoint(job.noticed):
        job.act(made(do.StopWater))
        job.act(made(do.DryOut))
    if job.habits.cleans:
        job.act(made(do.Clean, job.habits.cleans))
    check_tools(job, "leaves", "caliper")
    job.otherwise |= _measures_otherwise(job.habits)
    if job.habits.disc_first:
        measure_disc(job)
    if job.body_on:
        try_locks(job)
        try_lever(job)
        # With the lever drawn there is no gap to be found: a leaf would say nothing.
        if not job.lever_drawn:
            gauge_as_found(job)
    if not job.habits.disc_first:
        measure_disc(job)
    if job.body_on:
        measure_coil(job)
    if job.body_on and not job.asks_to_refer() and job.habits.isolates:
        try_supply(job)


def _measures_otherwise(habits: Habits) -> bool:
    """Return whether somebody cleans or measures as the careful one never does."""
    names = ("cleans", "places", "disc_places", "disc_tool", "fine", "step_is_exact", "hand",
             "gauges_energised", "row_below")  # fmt: skip
    return any(getattr(habits, name) != getattr(CAREFUL, name) for name in names)


def _carry_out(job: Job, outcome: Outcome) -> None:
    """Do what was decided, and close the job."""
    good = outcome is not Outcome.REFER
    worked = ("order_of_parts", "closes_up", "torque_share", "measures_again", "each_screw")
    job.otherwise |= any(
        getattr(job.habits, name) != getattr(CAREFUL, name) for name in worked
    ) and outcome in {Outcome.ADJUST, Outcome.REPLACE}
    job.otherwise |= not (job.habits.closes_up and job.habits.proves)
    if outcome is Outcome.REPLACE:
        good = replace_disc(job)
    elif outcome is not Outcome.REFER and not job.body_on:
        good = put_back(job, adjusted=outcome is Outcome.ADJUST)
    elif outcome is Outcome.ADJUST:
        good = set_gap(job) if job.gaps else False
        reset_lever(job)
    if not good and outcome is not Outcome.REFER:
        if job.habits.gives_up:
            _give_up(job)
        else:
            good = True  # whoever makes do hands it over as it has come out
    close_and_hand_over(job, into_service=good)


def _give_up(job: Job) -> None:
    """Say so if the setting does not come: a careful person does not go on forever."""
    refer_after_all(job, "The gap does not come to its setting.", Finding.GAP_UNEVEN)
