"""What moves the setting in a virtual candidate's hands: screws, shims or a ring, by design."""

import math
from collections.abc import Sequence

from quizzes.cases.rounds import plane_through
from widgets.bench import actions as do
from widgets.brake.gap.levelling import levelling_changes_mm, steps_of, turn_for_change_deg
from widgets.brake.gap.profile import SCREW_ANGLES_DEG
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.size import ISO_COARSE_PITCH_MM

from .job import Job
from .own_rules import is_uneven

LONGEST_PUSH_DEG = 720.0  # two turns out, then the next one, so that the body stays square
LONGEST_PULL_DEG = 120.0  # a screw is turned in by no more than this before the next has its turn
OPENING_DEG = 60.0  # a flat at a time; a choice
THICKEST_PUSHED_MM = 0.2  # of shims that go under a spacer let off by a quarter turn; a choice
_BEYOND = frozenset({"hollow-screw.home", "shim.home", "adjusting-ring.home"})


def believed(job: Job) -> Design:
    """Return what the candidate takes the brake for: whoever does not heed it looks for screws."""
    return job.plate.design if job.habits.heeds_design else Design.HOLLOW_SCREWS


def changes_mm(job: Job) -> tuple[float, float, float]:
    """Return what the readings in hand ask at each of the three places, mm, plus is wider."""
    gaps, row = job.gaps, job.row
    if job.habits.each_screw and len(gaps) >= 3:
        one, two, three = (_at_its_own_place(job, angle) for angle in SCREW_ANGLES_DEG)
        return one, two, three
    ring = believed(job) is Design.ADJUSTING_RING
    if len(gaps) < 3 or job.habits.equal_turns or ring:
        job.otherwise |= job.habits.equal_turns and is_uneven(row, gaps)
        change_mm = row.gap.setting_mm - sum(one.value_mm for one in gaps) / len(gaps)
        return change_mm, change_mm, change_mm
    return levelling_changes_mm(plane_through(gaps), row.gap.setting_mm, row.screws.radius_ratio)


def _at_its_own_place(job: Job, angle_deg: float) -> float:
    """Return what the reading nearest to one place asks of it, mm, the others left alone."""
    near = min(job.gaps, key=lambda one: abs((one.angle_deg - angle_deg + 180) % 360 - 180))
    return job.row.gap.setting_mm - near.value_mm


def move(job: Job, by_mm: Sequence[float]) -> None:
    """Move the setting at the three places by so much, mm, as the design has it."""
    design = believed(job)
    if design is Design.SHIMS:
        _change_shims(job, by_mm)
    elif design is Design.ADJUSTING_RING:
        _turn_ring(job, sum(by_mm) / 3)
    elif design is Design.HOLLOW_SCREWS:
        turn(job, turns_deg(job, by_mm))


def turns_deg(job: Job, by_mm: Sequence[float]) -> list[float]:
    """Return what a change at each place is in degrees of its hollow screw, plus is out."""
    # Whoever looks for screws where there are none takes those of a middle size.
    pitch_mm = job.row.screws.pitch_mm or job.plate.screws.pitch_mm or ISO_COARSE_PITCH_MM["M10"]
    return [turn_for_change_deg(change, pitch_mm) for change in by_mm]


def turn(job: Job, by_deg: Sequence[float]) -> None:
    """Turn the hollow screws: what goes out first, then in by short pulls in turn."""
    left = [round(turn_deg, 1) for turn_deg in by_deg]
    while max(left) > 0:
        for index, turn_deg in enumerate(left):
            push_deg = min(turn_deg, LONGEST_PUSH_DEG)
            if push_deg > 0 and not job.act(do.TurnScrew(index + 1, push_deg)).done:
                push_deg = turn_deg  # it would come out of its thread: leave this one, and measure
            left[index] = round(turn_deg - max(0.0, push_deg), 1)
    while min(left) < 0:
        for index, turn_deg in enumerate(left):
            pull_deg = max(turn_deg, -LONGEST_PULL_DEG)
            if pull_deg < 0:
                seen = job.act(do.TurnScrew(index + 1, pull_deg))
                job.cannot_be_set |= seen.code in _BEYOND
                if not seen.done:
                    pull_deg = turn_deg  # it has gone solid: leave this one, and measure
            left[index] = round(turn_deg - pull_deg, 1)


def _change_shims(job: Job, by_mm: Sequence[float]) -> None:
    """Put shims in first, as thick as go under; then take out."""
    step_mm = job.plate.step_mm
    steps = [steps_of(change, step_mm) for change in by_mm]
    most = max(1, math.floor(THICKEST_PUSHED_MM / step_mm + 1e-9)) if job.body_on else max(steps)
    for index in sorted(range(3), key=lambda place: -steps[place]):
        left = steps[index]
        while left:
            now = min(left, most) if left > 0 else left
            seen = job.act(do.ChangeShim(index + 1, round(now * step_mm, 4)))
            job.cannot_be_set |= seen.code in _BEYOND
            if not seen.done:
                break
            left -= now


def _turn_ring(job: Job, by_mm: float) -> None:
    notches = steps_of(by_mm, job.plate.step_mm)
    job.act(do.LoosenAdjustingRing())
    if notches:
        seen = job.act(do.TurnAdjustingRing(notches))
        job.cannot_be_set |= seen.code in _BEYOND
    job.act(do.LockAdjustingRing())


def open_a_little(job: Job, screw: int) -> bool:
    """Set one place a little wider, where the plate went solid; return whether that was done."""
    design, step_mm = believed(job), job.plate.step_mm
    if design is Design.HOLLOW_SCREWS:
        return job.act(do.TurnScrew(screw, OPENING_DEG)).done
    if design is Design.SHIMS:
        return job.act(do.ChangeShim(screw, round(2 * step_mm, 4))).done
    if design is Design.ADJUSTING_RING:
        _turn_ring(job, 3 * step_mm)
    return design.adjusts
