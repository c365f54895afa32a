"""Critical errors: acts and decisions that no score makes up for."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from widgets.bench.words import alarm_words
from widgets.brake.faults import fault
from widgets.brake.judgement.rules import Outcome

from .editions import Rules
from .elements.safety import HANDS_IN
from .elements.scoring import at, named
from .elements.working import was_adjusted, was_replaced
from .evidence.as_left import Wrong, slack_locks
from .evidence.gathering import Evidence, places_apart
from .evidence.plane import disc_tapers
from .misconceptions.thinking import by_mean_disc

GROSS_Z = 3.0  # a reading this many uncertainties off was taken wrongly (ISO 13528, from memory)


@dataclass(frozen=True, slots=True)
class CriticalError:
    """An act or decision that ends in "not yet competent": its code, and what was done."""

    code: str
    words: str


def find_critical(
    evidence: Evidence, rules: Rules, *, wrong: Iterable[Wrong]
) -> tuple[CriticalError, ...]:
    """Return every critical error of a job; `wrong` is what counts against it as it was left."""
    return tuple(dict.fromkeys(_find(evidence, rules, wrong)))


def _find(evidence: Evidence, rules: Rules, wrong: Iterable[Wrong]) -> Iterator[CriticalError]:
    yield from _unsafe_decision(evidence, rules)
    yield from _invented_readings(evidence)
    if not evidence.on_paper:
        yield from _unsafe_acts(evidence)
        yield from _careless_work(evidence, rules)
    if rules.signs_count:
        for one in wrong:
            if one.dangerous:
                yield CriticalError("left-dangerous", one.words)


def _unsafe_decision(evidence: Evidence, rules: Rules) -> Iterator[CriticalError]:
    taken, own = evidence.taken, evidence.own(rules)
    if taken is None or evidence.decision is None:
        return
    if taken in own.unsafe and own.outcome is None:
        words = f"Decided “{taken}” without the readings to say so: {own.reasons[0]}"
        if rules.tells_why and read_too_late(evidence):
            words = f"Decided “{taken}”. {too_late(evidence)}"
        yield CriticalError("unsafe-decision", words)
    elif taken in own.unsafe:
        code, why = "unsafe-decision", "although own readings and findings rule it out"
        if evidence.decision.after.decision_row != evidence.case.size.name:
            code, why = "unsafe-wrong-row", "by the limits of another size"
        yield CriticalError(code, f"Decided “{taken}” {why}.")
    if rules.signs_count and taken is Outcome.FIT:
        yield from _passed_unseen(evidence)
    if rules.signs_count and by_mean_disc(evidence) and disc_tapers(evidence.disc_readings):
        words = f"Decided “{taken}” by the mean of a tapered disc, not by its least place."
        yield CriticalError("mean-not-least", words)
    gross = any(abs(z) >= GROSS_Z for z in evidence.zs_as_found)
    if gross and taken in evidence.competent_conclusion.unsafe and taken not in own.unsafe:
        yield CriticalError(
            "unsafe-reading", f"Decided “{taken}” on readings that were taken wrongly."
        )


def too_late(evidence: Evidence) -> str:
    """Return the sentence for readings that came after work on the brake."""
    return (
        f"The gap was read only after step {evidence.first_work + 1} had changed the brake: "
        "nothing tells how it was found."
    )


def read_too_late(evidence: Evidence) -> bool:
    """Return whether the gap was read before deciding, and only after work on it."""
    read = [one for one in evidence.gaps if one.step < evidence.decided_at]
    return bool(read) and not evidence.gaps_as_found


def _passed_unseen(evidence: Evidence) -> Iterator[CriticalError]:
    """Yield what a careful look would have shown, on a brake that was passed as it is."""
    rows = [fault(fault_id) for fault_id in evidence.case.faults]
    if rows and not any(Outcome.FIT in row.critical for row in rows):
        return
    for one in evidence.overlooked:
        if one.sign.dangerous:
            yield CriticalError("unsafe-decision", f"Passed as fit. {one.words}")


def _unsafe_acts(evidence: Evidence) -> Iterator[CriticalError]:
    hands = evidence.did(*HANDS_IN)
    hanging = next((step for step in hands if not step.before.load_landed), None)
    if hanging:
        words = f"{named(hanging)} at {at(hanging)} with the load on the hook."
        yield CriticalError("load-hanging", words)
    live = next((step for step in hands if not step.before.isolated), None)
    unproved = next((step for step in hands if not step.before.proved_dead), None)
    if live:
        words = f"{named(live)} at {at(live)} with the supply on."
        yield CriticalError("not-isolated", words)
    elif unproved:
        words = f"{named(unproved)} at {at(unproved)} without proving it dead."
        yield CriticalError("not-proved-dead", words)
    for alarm in dict.fromkeys(step.observation.alarm for step in evidence.steps):
        if alarm:
            yield CriticalError("harm", alarm_words(alarm))
    if any(one.energised for one in evidence.gaps):
        yield CriticalError("measured-energised", "Measured the gap with the coil energised.")


def _invented_readings(evidence: Evidence) -> Iterator[CriticalError]:
    for what, judged in (("gap", evidence.gaps), ("disc", evidence.discs)):
        places = [f"{one.reading.angle_deg:.0f}°" for one in judged if not one.gauged]
        if places:
            words = f"Wrote down a {what} reading at {', '.join(places)} that was never taken."
            yield CriticalError("reading-made-up", words)
    for value in evidence.values:
        if not value.gauged:
            words = f"Wrote down {value.what.replace('_', ' ')} that was never measured."
            yield CriticalError("reading-made-up", words)


def _careless_work(evidence: Evidence, rules: Rules) -> Iterator[CriticalError]:
    turned = evidence.did("turn_screw")
    if turned and not any(one.step < turned[0].number for one in evidence.discs):
        yield CriticalError(
            "disc-not-measured", f"Adjusted at {at(turned[0])} without measuring the disc."
        )
    if not (was_adjusted(evidence) or was_replaced(evidence)) or not evidence.end.into_service:
        return
    places = places_apart(evidence.gaps_as_left)
    if places < rules.places / 2:
        words = "Into service without measuring again after locking."
        if places:
            words = f"Into service, measured again after locking at {places} of the places only."
        yield CriticalError("not-measured-again", words)
    if slack_locks(evidence.setup, evidence.end, rules):
        yield CriticalError("lock-loose", "Into service with a retaining screw not tight.")
    proofs = evidence.did("test_hold", "test_run")
    if rules.signs_count and not any(step.number > evidence.last_work for step in proofs):
        yield CriticalError("not-tested", "Into service after work on it, without any test.")
