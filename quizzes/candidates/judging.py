"""What a candidate concludes from readings and signs, and the findings they write down."""

from collections.abc import Sequence
from typing import Any

from quizzes.cases.given import signs_given
from quizzes.cases.next_due import growth_until_next_mm
from quizzes.cases.rounds import looks_clamped, looks_warped, plane_through
from widgets.bench import actions as do
from widgets.brake.judgement import Zone, zone
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.judgement.signs import Finding, conclude_all, findings_of
from widgets.brake.judgement.words import sentences
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import DISC_U_MM, disc_reading, gap_reading

from .job import Job
from .measuring import EXACT_U_MM, discs_believed

MOST_FINDINGS = 8
TAPERED_FROM_U = 6.0  # thickest less thinnest, in uncertainties of a reading; a choice of ours


def decide(job: Job) -> Outcome:
    """Write the decision that the candidate comes to, and return it."""
    signs = tuple(job.signs) if job.habits.heeds_signs else ()
    discs = discs_believed(job)
    growth_mm = growth_until_next_mm(job.row, job.order) if job.habits.looks_ahead else 0.0
    concluded = conclude_all(job.row, job.gaps, discs, signs, growth_mm)
    # With the body off there is no gap to judge: the order was a disc, unless something refers.
    unknown = Outcome.REFER if job.body_on else Outcome.REPLACE
    outcome = concluded.outcome or unknown
    if job.habits.keeps_worn_disc and outcome is Outcome.REPLACE:
        outcome = Outcome.ADJUST
    outcome = job.habits.always or outcome
    found = tuple(dict.fromkeys((*findings_of(signs), *_of_readings(job.row, job.gaps, discs))))
    _write(job, outcome, found, " ".join(sentences(concluded.reasons)))
    return outcome


def refer_after_all(job: Job, why: str, finding: Finding) -> None:
    """Write a later decision below the first: out of service."""
    _write(job, Outcome.REFER, (*findings_of(job.signs), finding), why)


def _write(job: Job, outcome: Outcome, found: Sequence[Finding], why: str) -> None:
    names: Any = tuple(dict.fromkeys(one.value for one in found))[:MOST_FINDINGS] or ("nothing",)
    job.act(do.Decide(outcome.value, job.row.name, why[:600], names))


def _of_readings(
    row: BrakeSize, gaps: Sequence[Reading], discs: Sequence[Reading]
) -> tuple[Finding, ...]:
    """Return what gap and disc readings by themselves are called."""
    found: list[Finding] = []
    if gaps:
        found += _of_gaps(row, gaps)
    thinnest = min(discs, key=lambda reading: reading.value_mm)
    thickest_mm = max(reading.value_mm for reading in discs)
    if zone(thinnest.value_mm, thinnest.u_mm, lower=row.disc.min_mm) is not Zone.CONTINUE:
        found.append(Finding.DISC_WORN)
    if thickest_mm - thinnest.value_mm > TAPERED_FROM_U * DISC_U_MM:
        found.append(Finding.DISC_TAPERED)
    return tuple(found)


def _of_gaps(row: BrakeSize, gaps: Sequence[Reading]) -> list[Finding]:
    found = []
    widest = max(gaps, key=lambda reading: reading.value_mm)
    if zone(widest.value_mm, widest.u_mm, upper=row.gap.max_mm) is not Zone.CONTINUE:
        found.append(Finding.GAP_LARGE)
    if min(reading.value_mm for reading in gaps) < row.gap.min_mm:
        found.append(Finding.GAP_SMALL)
    if is_uneven(row, gaps):
        found.append(Finding.GAP_UNEVEN)
    if looks_warped(row, gaps):
        found.append(Finding.WARPED)
    elif looks_clamped(row, gaps):
        found.append(Finding.GAP_UNEVEN)
    return found


def is_uneven(row: BrakeSize, gaps: Sequence[Reading]) -> bool:
    """Return whether the readings leave it open that the gap is tilted by more than allowed."""
    if len(gaps) < 3:
        return False
    u_mm = max(reading.u_mm for reading in gaps)
    spread_u_mm = 2 * u_mm * (2 / len(gaps)) ** 0.5
    tilt_mm = 2 * plane_through(gaps).tilt_mm
    return zone(tilt_mm, spread_u_mm, upper=row.gap.evenness_mm) is not Zone.CONTINUE


def take_notes_over(job: Job) -> None:
    """Take what a colleague has read and seen for one's own."""
    order, habits = job.order, job.habits
    notes = order.gap_notes[: len(habits.places)]
    job.gaps = [gap_reading(n.angle_deg, n.go_mm, n.no_go_mm) for n in notes]
    if habits.step_is_exact:
        job.gaps = [Reading(n.angle_deg, n.go_mm, EXACT_U_MM) for n in notes]
    job.discs = [disc_reading(n.angle_deg, n.value_mm) for n in order.disc_notes]
    job.notice(signs_given(job.plate, order))
