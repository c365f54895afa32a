"""The adjusting hands of a virtual candidate: slacken, turn, tighten in stages, measure, again."""

from collections.abc import Sequence
from functools import lru_cache

from widgets.bench import actions as do
from widgets.brake.gap.profile import SCREW_ANGLES_DEG
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.size import BrakeSize

from .job import Job, made
from .measuring import check_tools, gauge_round
from .own_rules import is_uneven
from .setting import believed, changes_mm, move, open_a_little

SCREWS = (1, 2, 3)
# Share of the evenness limit, or mm, that the mean may be off its setting; choices of this one.
GOOD_ENOUGH, FINEST_MM = 0.35, 0.02
FIRST_STAGE = 0.5  # of the proper torque, first time round; common practice, no source
MOST_OPENINGS = 20  # a little at a time, where the plate goes solid; a choice
LEVER_RESERVE_MM = 0.2  # play beyond what wear will take; common practice, no source
_LOOSEN = tuple(do.LoosenLock(screw) for screw in SCREWS)
_TRY = tuple(do.TryLock(screw) for screw in SCREWS)


@lru_cache(maxsize=256)
def _tighten(screw: int, torque_nm: float) -> do.TightenLock:
    return do.TightenLock(screw, torque_nm)


def try_locks(job: Job) -> None:
    """Try every retaining screw; one that gives is a finding."""
    for wish in _TRY:
        if job.act(wish).facts.get("holds") is False:
            job.notice(["screw-turns-by-hand"])


def set_gap(job: Job) -> bool:
    """Set the gap from the readings in hand, lock, measure again, until it is good.

    Returns
    -------
    bool
        Whether the last readings were near enough to the setting, and even.
    """
    if not believed(job).adjusts:
        return in_order(job.row, job.gaps)
    by_mean = job.habits.equal_turns or not believed(job).levels
    for _ in range(job.habits.rounds):
        set_once(job)
        if job.cannot_be_set and job.habits.gives_up:
            gauge_round(job)
            return False
        if not job.habits.measures_again:
            return True
        gauge_round(job, SCREW_ANGLES_DEG if job.habits.each_screw else ())
        if job.habits.each_screw:
            return True
        # Whoever measures with the coil on reads nothing again, and takes that for the end.
        if job.habits.gauges_energised or is_set(job.row, job.gaps, by_mean=by_mean):
            return True
    return False


def set_once(job: Job) -> None:
    """Move the setting by what the readings in hand ask, and lock it."""
    if believed(job) is Design.ADJUSTING_RING:  # the screws that hold the body stay tight
        move(job, changes_mm(job))
        return
    slacken(job)
    move(job, changes_mm(job))
    lock(job)


def slacken(job: Job) -> None:
    """Give each retaining screw a quarter turn."""
    for wish in _LOOSEN:
        job.act(wish)


def lock(job: Job) -> None:
    """Tighten all three in two stages, in turn; or as far as this candidate does."""
    if not job.wrench_tried:
        check_tools(job, "wrench")
        job.wrench_tried = True
    proper_nm = job.row.screws.retaining_torque_nm
    shares = (FIRST_STAGE, job.habits.torque_share)
    for share in shares if job.habits.torque_share >= 1 else shares[1:]:
        for screw in SCREWS:
            _lock_one(job, screw, round(share * proper_nm, 2))


def _lock_one(job: Job, screw: int, torque_nm: float) -> None:
    """Tighten one screw; where the plate goes solid on the disc, open its hollow screw first."""
    for _ in range(MOST_OPENINGS):
        code = job.act(_tighten(screw, torque_nm)).code
        job.cannot_be_set |= code == "lock.thread-torn"
        if code != "lock.solid":
            return
        if not open_a_little(job, screw):
            return


def is_set(row: BrakeSize, gaps: Sequence[Reading], *, by_mean: bool = False) -> bool:
    """Return whether readings after locking are near the setting and even enough to stop.

    Whoever goes `by_mean` asks for no more than that.
    """
    if len(gaps) < 3:
        return all(abs(r.value_mm - row.gap.setting_mm) <= r.u_mm * 3 for r in gaps)
    off_mm = abs(sum(reading.value_mm for reading in gaps) / len(gaps) - row.gap.setting_mm)
    tight = not by_mean and min(reading.value_mm for reading in gaps) < row.gap.min_mm
    near = off_mm <= max(GOOD_ENOUGH * row.gap.evenness_mm, FINEST_MM) and not tight
    return near and (by_mean or not is_uneven(row, gaps))


def in_order(row: BrakeSize, gaps: Sequence[Reading]) -> bool:
    """Return whether readings lie within the limits: all that can be asked where nothing sets."""
    values = [one.value_mm for one in gaps]
    within = row.gap.min_mm <= min(values) and max(values) < row.gap.max_mm
    return within and not is_uneven(row, gaps)


def try_lever(job: Job) -> None:
    """Pull the hand release, feel its play and whether it returns, and write the play down."""
    seen = job.act(made(do.WorkLever)).facts
    if "returns" not in seen:
        return
    job.lever_drawn = not seen["returns"]
    if job.lever_drawn:
        job.notice(["lever-drawn"])
        return
    job.play_mm = seen["play_mm"]
    job.act(made(do.WriteValue, "lever_play_mm", seen["play_mm"]))
    if seen["play"] == "none":
        job.notice(["lever-without-play"])


def reset_lever(job: Job, *, anyhow: bool = False) -> None:
    """Give the hand release the play that wear will take, and some; try it."""
    limits = job.row.gap
    gap_mm = job.gaps[0].value_mm if len(job.gaps) == 1 else limits.setting_mm
    wanted_mm = round(max(0.0, limits.max_mm - gap_mm) + LEVER_RESERVE_MM, 2)
    if anyhow or job.play_mm is None or job.play_mm < wanted_mm:
        job.act(made(do.SetLever, wanted_mm))
        try_lever(job)
