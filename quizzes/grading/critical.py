"""Critical errors: acts and decisions that no score makes up for."""

from collections.abc import Iterator
from dataclasses import dataclass

from widgets.brake.rules import Outcome

from .elements import ENOUGH_PLACES, HANDS_IN
from .evidence import SCREW_WORK, Evidence, places_apart
from .truth import TORQUE_TOLERANCE

GROSS_Z = 3.0  # a reading this many uncertainties off was taken wrongly (ISO 13528, from memory)


@dataclass(frozen=True, slots=True)
class CriticalError:
    """An act or decision that ends in "not yet competent": its code, and what was done."""

    code: str
    words: str


def find_critical(evidence: Evidence) -> tuple[CriticalError, ...]:
    """Return every critical error of a job, in the order of their codes."""
    return tuple(_find(evidence))


def _find(evidence: Evidence) -> Iterator[CriticalError]:
    yield from _unsafe_decision(evidence)
    yield from _unsafe_acts(evidence)
    yield from _invented_readings(evidence)
    yield from _careless_adjusting(evidence)


def _unsafe_decision(evidence: Evidence) -> Iterator[CriticalError]:
    decided = evidence.decision
    if decided is None:
        return
    taken, own = Outcome(decided.after.decision), evidence.own_conclusion
    wrong_row = decided.after.decision_row != evidence.case.size.name
    if taken in own.unsafe and own.outcome is not None:
        code, why = "unsafe-decision", "although the readings written down rule it out"
        if wrong_row:
            code, why = "unsafe-wrong-row", "by the limits of another size"
        yield CriticalError(code, f"Decided “{taken}” {why}.")
    elif taken is Outcome.FIT and own.outcome is None:
        yield CriticalError("unsafe-decision", "Passed as fit without the readings to say so.")
    zs = [one.z for one in evidence.gaps_as_found]
    zs += [one.z for one in evidence.discs_as_found]
    gross = any(abs(z) >= GROSS_Z for z in zs)
    if gross and taken in evidence.competent_conclusion.unsafe and taken not in own.unsafe:
        yield CriticalError(
            "unsafe-reading", f"Decided “{taken}” on readings that were taken wrongly."
        )


def _unsafe_acts(evidence: Evidence) -> Iterator[CriticalError]:
    hands = evidence.did(*HANDS_IN)
    if any(not step.before.load_landed for step in hands):
        yield CriticalError("load-hanging", "Worked on the brake with the load on the hook.")
    if any(not step.before.isolated for step in hands):
        yield CriticalError("not-isolated", "Worked on the brake with the supply on.")
    elif any(not step.before.proved_dead for step in hands):
        yield CriticalError("not-proved-dead", "Worked on the brake without proving it dead.")
    for alarm in dict.fromkeys(step.observation.alarm for step in evidence.steps):
        if alarm:
            yield CriticalError("harm", alarm)


def _invented_readings(evidence: Evidence) -> Iterator[CriticalError]:
    for what, judged in (("gap", evidence.gaps), ("disc", evidence.discs)):
        places = [f"{one.reading.angle_deg:.0f}°" for one in judged if not one.gauged]
        if places:
            yield CriticalError(
                "reading-made-up",
                f"Wrote down a {what} reading at {', '.join(places)} that was never taken.",
            )


def _careless_adjusting(evidence: Evidence) -> Iterator[CriticalError]:
    turned = evidence.did("turn_screw")
    if turned and not any(one.step < turned[0].number for one in evidence.discs):
        yield CriticalError("disc-not-measured", "Adjusted without measuring the disc.")
    moved = evidence.did("turn_screw", "loosen_lock") and evidence.end.into_service
    if moved and places_apart(evidence.gaps_as_left) < ENOUGH_PLACES / 2:
        yield CriticalError(
            "not-measured-again", "Into service without measuring again after locking."
        )
    least_nm = (1 - TORQUE_TOLERANCE) * evidence.case.size.screws.retaining_torque_nm
    worked = evidence.did(*SCREW_WORK)
    if worked and evidence.end.into_service and min(evidence.end.lock_nm) < least_nm:
        yield CriticalError("lock-loose", "Into service with a retaining screw not tight.")
    if any(one.energised for one in evidence.gaps):
        yield CriticalError("measured-energised", "Measured the gap with the coil energised.")
