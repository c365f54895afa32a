"""The measuring hands of a virtual candidate: leaves, caliper, meter, and what they write down."""

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from functools import lru_cache

from quizzes.cases.rounds import STEPS_MM, looks_warped
from widgets.bench import actions as do
from widgets.bench.actions.fields import Tool
from widgets.brake.judgement.rules import Reading
from widgets.instruments.feeler import marks_for
from widgets.instruments.written import DISC_U_MM, disc_reading, gap_reading

from .job import Job, made
from .own_rules import coil_says, insulation_says

ZERO_WITHIN_MM = 0.02  # mm, a caliper that shows more with its jaws closed is set; common practice
WRENCH_WITHIN = 0.04  # of its setting; ISO 6789-1 for a click wrench, from memory
EXACT_U_MM = 0.001  # mm, what somebody allows who takes a leaf for the gap itself
COARSE_MM = tuple(step / 20 for step in range(1, 41))  # 0.05 to 2.00 in steps of one leaf
# Hundredths of a millimetre: from one leaf of the set to the next, from one stack to the next when
# two leaves are as near as they come, and beyond the thickest stack.
LEAF, STACK_STEP, END_OF_SET = 5, 2, 200
_COPIED_FROM_DEG = 90.0  # whoever makes readings up takes the first quarter and copies the rest


@lru_cache(maxsize=16384)
def _gauge(angle_deg: float, thickness_mm: float, hand: str) -> do.GaugeGap:
    return do.GaugeGap(angle_deg, marks_for(thickness_mm), hand)  # type: ignore[arg-type]


@lru_cache(maxsize=16384)
def _written(angle_deg: float, go_mm: float, no_go_mm: float) -> do.WriteGap:
    return do.WriteGap(angle_deg, go_mm, no_go_mm)


@lru_cache(maxsize=64)
def _measure(angle_deg: float, tool: str) -> do.MeasureDisc:
    return do.MeasureDisc(angle_deg, tool)  # type: ignore[arg-type]


def check_tools(job: Job, *tools: Tool) -> None:
    """Look instruments over before they are used, and take others where they are off."""
    if not job.habits.checks_tools:
        return
    for tool in tools:
        seen = job.act(made(do.CheckTool, tool)).facts
        bent = seen.get("straight") is False
        off = abs(seen.get("zero_mm", 0.0)) > ZERO_WITHIN_MM
        wrong = abs(seen.get("clicks_nm", 0.0) - seen.get("set_nm", 0.0)) > (
            WRENCH_WITHIN * seen.get("set_nm", 1.0)
        )
        if bent or off or wrong:
            job.act(made(do.ChangeTool, tool))


def gauge_as_found(job: Job) -> None:
    """Gauge all round; a round that makes a part look bent is read again before it is believed."""
    gauge_round(job)
    if looks_warped(job.row, job.gaps):
        gauge_round(job)


def gauge_round(job: Job, places: Sequence[float] = ()) -> None:
    """Gauge the gap at every place, write each bracket down, and keep the readings."""
    if job.habits.gauges_energised:
        job.supply_on()
        job.act(made(do.Energise))
    job.gaps.clear()
    bracket = (0.0, 0.0)
    for angle_deg in places or job.habits.places:
        if not (job.habits.invents_readings and angle_deg > _COPIED_FROM_DEG):
            bracket = _bracket(job, angle_deg)
        else:
            job.otherwise = True
        _write_down(job, angle_deg, *bracket)
    if job.habits.gauges_energised:
        job.act(made(do.DeEnergise))
        if job.habits.isolates:
            job.supply_off()


def _write_down(job: Job, angle_deg: float, go_mm: float, no_go_mm: float) -> None:
    """Write a bracket down and keep it; or hide it, as some do with one out of limits."""
    habits, limits = job.habits, job.row.gap
    read = gap_reading(angle_deg, go_mm, no_go_mm)
    bad = read.value_mm + habits.factor * read.u_mm > limits.max_mm
    if bad and habits.hides.startswith("gap"):
        job.otherwise = True
        if habits.hides == "gap unwritten" and (angle_deg != habits.places[-1] or job.gaps):
            return
        go_mm = math.floor(100 * (limits.max_mm - 4 * read.u_mm)) / 100
        no_go_mm = round(go_mm + 0.01, 2)
        read = gap_reading(angle_deg, go_mm, no_go_mm)
    job.act(_written(angle_deg, go_mm, no_go_mm))
    job.gaps.append(Reading(angle_deg, go_mm, EXACT_U_MM) if habits.step_is_exact else read)


def _bracket(job: Job, angle_deg: float) -> tuple[float, float]:
    """Return the thickest stack that goes and the thinnest that will not, mm."""
    if job.habits.leaf_by_leaf:
        return _by_leaves(job, angle_deg)
    steps = STEPS_MM[:: job.habits.step_of] if job.habits.fine else COARSE_MM
    hand = job.habits.hand

    def feel(at: int) -> str:
        seen = job.act(_gauge(angle_deg, steps[at], hand)).facts
        return str(seen.get("feel", "will-not-enter"))

    if job.habits.first_drag:
        low = job.last_step = _first_that_drags(feel, len(steps), _guess(job, steps))
        job.otherwise = True
    else:
        low = job.last_step = _last_that_goes(feel, len(steps), _guess(job, steps))
    go_mm = steps[low] if low >= 0 else 0.0
    no_go_mm = steps[low + 1] if low + 1 < len(steps) else round(go_mm + 0.05, 2)
    return go_mm, no_go_mm


def _by_leaves(job: Job, angle_deg: float) -> tuple[float, float]:
    """Return the bracket that leaves of the set close in on, and stacks by two hundredths then."""
    went, stuck = 0, END_OF_SET
    at = job.last_step if job.last_step is not None else _middle_leaf(job)
    while went + STACK_STEP < stuck and at > went:
        stack = _gauge(angle_deg, at / 100, job.habits.hand)
        felt = job.act(stack).facts.get("feel", "will-not-enter")
        went, stuck = (went, at) if felt == "will-not-enter" else (at, stuck)
        leaf_on, leaf_back = (went // LEAF + 1) * LEAF, (stuck - 1) // LEAF * LEAF
        if went and (felt == "drags" or leaf_on >= stuck):
            at = went + STACK_STEP if at == went else stuck - STACK_STEP
        else:
            at = leaf_on if went else leaf_back
    job.last_step = went
    return went / 100, min(stuck, went + LEAF) / 100


def _middle_leaf(job: Job) -> int:
    """Return the leaf to try first, hundredths of a millimetre: the middle of what is usual."""
    limits = job.row.gap
    return round(100 * (limits.setting_mm + limits.max_mm) / 2 / LEAF) * LEAF


def _guess(job: Job, steps: Sequence[float]) -> int:
    """Return where to try first: what went last, or the middle of what is usual."""
    if job.last_step is not None:
        return min(max(0, job.last_step), len(steps) - 1)
    limits = job.row.gap
    middle_mm = (limits.setting_mm + limits.max_mm) / 2
    above = min(bisect_left(steps, middle_mm), len(steps) - 1)
    return min(max(0, above - 1), above, key=lambda at: abs(steps[at] - middle_mm))


def _last_that_goes(feel: Callable[[int], str], count: int, start: int) -> int:
    """Return the last step that goes in, -1 if none does: strides from `start`, then halves."""
    low, high, at, stride = -1, count, start, 1
    while high - low > 1:
        felt = feel(at)
        if felt == "will-not-enter":
            high, ahead = at, at - stride
        else:
            # A drag says that the gap is no more than a hundredth wider: try the next one.
            low, ahead = at, at + (1 if felt == "drags" else max(2, stride))
        unbounded = low == -1 or high == count
        near = felt == "drags" and ahead < high
        at = ahead if unbounded or near else (low + high) // 2
        at = min(max(at, low + 1), high - 1)
        stride *= 2
    return low


def _first_that_drags(feel: Callable[[int], str], count: int, start: int) -> int:
    """Return the first step that is felt to drag, or what goes by strides and halves."""
    dragged: list[int] = []

    def once(at: int) -> str:
        if dragged:
            return "slides" if at <= dragged[0] else "will-not-enter"
        felt = feel(at)
        if felt == "drags":
            dragged.append(at)
        return felt

    return _last_that_goes(once, count, start)


def measure_disc(job: Job) -> None:
    """Measure the disc at every place with the candidate's tool and write the scale down."""
    job.discs.clear()
    tool = job.habits.disc_tool
    shown_mm = None
    for angle_deg in job.habits.disc_places:
        if shown_mm is None or not job.habits.disc_copied:
            shown_mm = job.act(_measure(angle_deg, tool)).facts.get("shown_mm")
        else:
            job.otherwise = True
        if shown_mm is not None:
            _write_disc_down(job, angle_deg, shown_mm)


def _write_disc_down(job: Job, angle_deg: float, shown_mm: float) -> None:
    """Write a disc reading down and keep it; or hide it, as some do with one out of limits."""
    habits, least_mm = job.habits, job.row.disc.min_mm
    if habits.hides.startswith("disc") and shown_mm - habits.factor * DISC_U_MM < least_mm:
        job.otherwise = True
        if habits.hides == "disc unwritten" and (angle_deg != habits.disc_places[-1] or job.discs):
            return
        shown_mm = round(least_mm + 4 * DISC_U_MM, 2)
    job.act(made(do.WriteDisc, angle_deg, shown_mm, habits.disc_tool))
    job.discs.append(disc_reading(angle_deg, shown_mm))


def discs_believed(job: Job) -> list[Reading]:
    """Return the disc readings as this candidate takes them: least, mean, or a new disc's label."""
    if not job.habits.disc_places or not job.discs:
        return [Reading(0.0, job.row.disc.new_mm, DISC_U_MM)]
    if job.habits.disc_by_mean:
        mean_mm = sum(reading.value_mm for reading in job.discs) / len(job.discs)
        return [Reading(0.0, mean_mm, DISC_U_MM)]
    return job.discs


def measure_coil(job: Job) -> None:
    """Read resistance with its temperature, and insulation; write both; keep what they say."""
    job.open_box()
    seen = job.act(made(do.MeasureCoil, "resistance")).facts
    if "coil_c" in seen:
        job.coil_c = seen["coil_c"]
        if seen["shown_ohm"] is not None:
            job.act(made(do.WriteValue, "coil_ohm", seen["shown_ohm"]))
            job.act(made(do.WriteValue, "coil_c", job.coil_c))
        job.notice([coil_says(job.plate, seen["shown_ohm"], job.coil_c)])
    seen = job.act(made(do.MeasureCoil, "insulation")).facts
    if seen.get("shown_mohm") is not None:
        job.act(made(do.WriteValue, "insulation_mohm", seen["shown_mohm"]))
        job.notice([insulation_says(seen["shown_mohm"])])
