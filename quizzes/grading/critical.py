"""Critical errors: acts and decisions that no score makes up for."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.brake.faults import fault
from widgets.brake.judgement import ONE_SIDED_95, distance
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome

from .editions import Rules
from .elements.deciding import false_alarms
from .elements.scoring import done, on
from .elements.working import was_adjusted, was_replaced
from .evidence.as_left import Wrong, slack_locks
from .evidence.gathering import Evidence, Step, places_apart
from .misconceptions.thinking import by_mean_disc

# mm, a caliper that shows more than this with its jaws closed is put right or left: a step of its
# scale; common practice, no source
ZERO_OFF_MM = 0.05
BETTER_U = 4.0  # uncertainties by which a reading written down is no rounding; a choice
# A reading this many uncertainties off was taken wrongly. ISO 13528 calls three a signal (from
# memory); of the 150 readings of a sitting a careful hand has one such in three sittings, and one
# of four in a hundred.
GROSS_Z = 4.0


@dataclass(frozen=True, slots=True)
class CriticalError:
    """An act or decision that ends in "not yet competent": its code, and what was done."""

    code: str
    what: Remark


def find_critical(
    evidence: Evidence, rules: Rules, *, wrong: Iterable[Wrong]
) -> tuple[CriticalError, ...]:
    """Return every critical error of a job; `wrong` is what counts against it as it was left."""
    return tuple(dict.fromkeys(_find(evidence, rules, wrong)))


def _find(evidence: Evidence, rules: Rules, wrong: Iterable[Wrong]) -> Iterator[CriticalError]:
    yield from _unsafe_decision(evidence)
    yield from _invented_readings(evidence)
    yield from _written_as_good(evidence)
    if not evidence.on_paper:
        yield from _unsafe_acts(evidence)
        yield from _careless_work(evidence, rules)
    for one in wrong:
        if one.dangerous:
            yield CriticalError("left-dangerous", one.what)


def _unsafe_decision(evidence: Evidence) -> Iterator[CriticalError]:
    taken, own = evidence.taken, evidence.own_conclusion
    if taken is None or evidence.decision is None:
        return
    if taken in own.unsafe and own.outcome is None:
        what = remark("decided.without-readings", taken=taken, reason=own.reasons[0])
        if read_too_late(evidence):
            what = remark("decided.too-late", taken=taken, reason=too_late(evidence))
        yield CriticalError("unsafe-decision", what)
    elif taken in own.unsafe:
        if evidence.decision.after.decision_row != evidence.case.size.name:
            yield CriticalError("unsafe-wrong-row", remark("decided.by-wrong-row", taken=taken))
        elif not _hidden(evidence):
            yield CriticalError("unsafe-decision", remark("decided.against-own", taken=taken))
    yield from _on_wrong_readings(evidence, taken)
    if taken is Outcome.FIT:
        yield from _passed_unseen(evidence)
    if taken is not Outcome.REFER:
        yield from _by_bad_tools(evidence, taken)
    if by_mean_disc(evidence):
        yield CriticalError("mean-not-least", remark("decided.by-mean", taken=taken))


def _on_wrong_readings(evidence: Evidence, taken: Outcome) -> Iterator[CriticalError]:
    """Yield what was decided by readings that nothing bears out, or that were taken wrongly."""
    if _hidden(evidence):
        yield CriticalError("reading-hidden", remark("decided.on-notes-alone", taken=taken))
    unsafe = taken in evidence.competent_conclusion.unsafe
    gross = any(abs(z) >= GROSS_Z for z in evidence.zs_as_found)
    if gross and unsafe and taken not in evidence.own_conclusion.unsafe:
        yield CriticalError("unsafe-reading", remark("decided.on-wrong-readings", taken=taken))


def _by_bad_tools(evidence: Evidence, taken: Outcome) -> Iterator[CriticalError]:
    """Yield an instrument that was seen to be wrong, and read last all the same before deciding.

    Whether the readings then came out good or bad is luck: nobody may stand on them.
    """
    for tool, kind in (("leaves", "gauge_gap"), ("caliper", "measure_disc")):
        used = [step for step in evidence.did(kind) if step.number < evidence.as_found_until
                and getattr(step.action, "tool", tool) == tool]  # fmt: skip
        seen = [step for step in evidence.did("check_tool", "change_tool")
                if used and step.number < used[-1].number
                and getattr(step.action, "tool", "") == tool]  # fmt: skip
        if seen and _seen_wrong(seen[-1]):
            what = on("decided.by-bad-tool", used[-1], taken=taken, tool=tool)
            yield CriticalError("bad-instrument", what)


def _seen_wrong(step: Step) -> bool:
    """Return whether a look at an instrument showed it bent, or off at zero."""
    shown = step.observation.facts
    return shown.get("straight") is False or abs(shown.get("zero_mm", 0.0)) > ZERO_OFF_MM


def _hidden(evidence: Evidence) -> bool:
    """Return whether only the notes bear the decision, and not what leaves and caliper told."""
    taken, own, notes = evidence.taken, evidence.own_conclusion, evidence.by_notes
    if evidence.on_paper or own.outcome is None or own is notes:
        return False
    borne_by_own = taken is own.outcome or taken in own.arguable
    borne_by_notes = notes.outcome is None or taken is notes.outcome or taken in notes.arguable
    more = taken in false_alarms(own.outcome)
    return borne_by_notes and not (borne_by_own or more)


def too_late(evidence: Evidence) -> Remark:
    """Return the remark on readings that came after work on the brake."""
    return remark("gap.read-too-late", step=evidence.first_work + 1)


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
            yield CriticalError("unsafe-decision", remark("decided.unseen", sign=one.remark))


def _unsafe_acts(evidence: Evidence) -> Iterator[CriticalError]:
    hands = evidence.hands_in
    hanging = next((step for step in hands if not step.before.load_landed), None)
    if hanging:
        yield CriticalError("load-hanging", done("hands-in.load-hanging", hanging))
    live = next((step for step in hands if not step.before.isolated), None)
    unproved = next((step for step in hands if not step.before.proved_dead), None)
    unlocked = next((step for step in hands if not step.before.locked), None)
    if unlocked and not live:
        yield CriticalError("not-isolated", done("hands-in.no-lock", unlocked))
    if live:
        yield CriticalError("not-isolated", done("hands-in.supply-on", live))
    elif unproved:
        yield CriticalError("not-proved-dead", done("hands-in.not-proved", unproved))
    yield from _beyond_authority(evidence)
    for alarm in dict.fromkeys(step.observation.alarm for step in evidence.steps):
        if alarm:
            yield CriticalError("harm", remark("harm.done", alarm=alarm))
    if any(one.energised for one in evidence.gaps):
        yield CriticalError("measured-energised", remark("gap.coil-on"))


def _beyond_authority(evidence: Evidence) -> Iterator[CriticalError]:
    """Yield what the work order leaves to others, done by the candidate all the same."""
    may = evidence.setup.order.may
    opened = [step for step in evidence.did("open_box") if getattr(step.action, "by", "") == "self"]
    if opened and "terminals" not in may:
        yield CriticalError("beyond-authority", on("authority.box", opened[0]))
    lifted = evidence.did("test_hold")
    if lifted and "load-test" not in may:
        yield CriticalError("beyond-authority", on("authority.load-test", lifted[0]))


def _invented_readings(evidence: Evidence) -> Iterator[CriticalError]:
    for what, judged in (("gap", evidence.gaps), ("disc", evidence.discs)):
        places = [one.reading.angle_deg for one in judged if not one.gauged]
        if places:
            made_up = remark("made-up.reading", what=what, angles_deg=places)
            yield CriticalError("reading-made-up", made_up)
    for value in evidence.values:
        if not value.gauged:
            yield CriticalError("reading-made-up", remark("made-up.value", what=value.what))


def _written_as_good(evidence: Evidence) -> Iterator[CriticalError]:
    """Yield the places near or beyond a limit that were written down as better than they were read.

    Whatever was decided: who reads the record next goes by it.
    """
    gap, disc = evidence.case.size.gap, evidence.case.size.disc
    gaps = [
        one.angle_deg
        for written, one in zip(evidence.gaps_as_found, evidence.gap_readings, strict=False)
        if not written.supported
        and one.value_mm - written.reading.value_mm > BETTER_U * one.u_mm
        and distance(one.value_mm, one.u_mm, upper=gap.max_mm) < ONE_SIDED_95
    ]
    discs = [
        one.angle_deg
        for written, one in zip(evidence.discs_as_found, evidence.disc_readings, strict=False)
        if not written.supported
        and written.reading.value_mm - one.value_mm > BETTER_U * one.u_mm
        and distance(one.value_mm, one.u_mm, lower=disc.min_mm) < ONE_SIDED_95
    ]
    for what, angles_deg in (("gap", gaps), ("disc", discs)):
        if angles_deg:
            better = remark("written.as-better", what=what, angles_deg=angles_deg)
            yield CriticalError("reading-hidden", better)


def _careless_work(evidence: Evidence, rules: Rules) -> Iterator[CriticalError]:
    turned = evidence.did(*SETS_THE_GAP)
    if turned and not any(one.step < turned[0].number for one in evidence.discs):
        yield CriticalError("disc-not-measured", on("adjusted.disc-unmeasured", turned[0]))
    if not (was_adjusted(evidence) or was_replaced(evidence)) or not evidence.given_back:
        return
    places = places_apart(evidence.gaps_as_left)
    if places < rules.places / 2:
        what = remark("into-service.few-places", places=places)
        yield CriticalError("not-measured-again", what)
    if slack_locks(evidence.setup, evidence.end, rules):
        yield CriticalError("lock-loose", remark("into-service.screw-loose"))
    if evidence.end.ring_loose:
        yield CriticalError("lock-loose", remark("into-service.ring-loose"))
    if evidence.end.awaits_test:
        return  # tagged: nobody lifts with it until it has been tested
    # A run without load proves no hold; it is enough only where the load test is nobody's here.
    order = evidence.setup.order
    enough = order.ends_with == "run" or "load-test" not in order.may
    proofs = evidence.did("test_hold", "test_run") if enough else evidence.did("test_hold")
    if not any(step.number > evidence.last_work for step in proofs):
        yield CriticalError("not-tested", remark("into-service.untested"))
