"""What a candidate decides, and what they write under the decision."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from quizzes.cases.next_due import growth_until_next_mm
from widgets.bench import actions as do
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.judgement.signs import Finding
from widgets.instruments.written import disc_reading, gap_reading

from .habits import CAREFUL
from .job import Job
from .measuring import EXACT_U_MM, discs_believed
from .own_rules import concluded, findings_of, told_by

MOST_FINDINGS = 8
ALL_NOTES_FROM = 6  # places: whoever gauges at fewer reads no more of a colleague's either


def decide(job: Job) -> Outcome:
    """Write the decision that the candidate comes to, and return it."""
    habits, discs = job.habits, discs_believed(job)
    # With the body off there is no gap to judge: the order was a disc, unless something refers.
    unknown = Outcome.REFER if job.body_on else Outcome.REPLACE
    outcome = concluded(job.row, job.order, job.gaps, discs, job.noticed, habits) or unknown
    if habits.keeps_worn_disc and outcome is Outcome.REPLACE:
        outcome = Outcome.ADJUST
    outcome = habits.instead_of.get(outcome, outcome)
    outcome = habits.always or outcome
    meant = concluded(job.plate, job.order, job.gaps, job.discs or discs, job.noticed, CAREFUL)
    if outcome is not (meant or unknown):
        job.otherwise = True
    found = findings_of(job.row, job.gaps, discs, job.noticed, habits)
    _write(job, outcome, found, _why(job, discs))
    return outcome


def _why(job: Job, discs: Sequence[Reading]) -> str:
    """Return the numbers that the decision rests on, in a line."""
    parts = list(job.noticed)
    if job.gaps:
        parts.append(f"gap up to {max(one.value_mm for one in job.gaps):.3f} mm")
    if discs:
        parts.append(f"disc down to {min(one.value_mm for one in discs):.2f} mm")
    growth_mm = growth_until_next_mm(job.row, job.order)
    if growth_mm:
        parts.append(f"grows {growth_mm:.2f} mm until the next inspection")
    return ", ".join(parts)


def refer_after_all(job: Job, why: str, finding: Finding) -> None:
    """Write a later decision below the first: out of service."""
    found = findings_of(job.row, (), (), job.noticed, job.habits)
    _write(job, Outcome.REFER, (*found, finding), why)


def _write(job: Job, outcome: Outcome, found: Sequence[Finding], why: str) -> None:
    job.act(_decided(outcome, job.row.name, why[:600], tuple(found)))


@lru_cache(maxsize=1024)
def _decided(outcome: Outcome, row: str, why: str, found: tuple[Finding, ...]) -> do.Decide:
    names: Any = tuple(dict.fromkeys(one.value for one in found))[:MOST_FINDINGS] or ("nothing",)
    return do.Decide(outcome.value, row, why, names)


def take_notes_over(job: Job) -> None:
    """Take what a colleague has read and seen for one's own."""
    order, habits = job.order, job.habits
    few = len(habits.places) < ALL_NOTES_FROM
    notes = order.gap_notes[: len(habits.places)] if few else order.gap_notes
    job.gaps = [gap_reading(n.angle_deg, n.go_mm, n.no_go_mm) for n in notes]
    if habits.step_is_exact:
        job.gaps = [Reading(n.angle_deg, n.go_mm, EXACT_U_MM) for n in notes]
    job.discs = [disc_reading(n.angle_deg, n.value_mm) for n in order.disc_notes]
    job.notice(told_by(job.plate, order))
