"""What went wrong in one job, traced to the reading, the decision or the procedure."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from widgets.brake.judgement import ONE_SIDED_95, distance
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome, conclude
from widgets.brake.judgement.signs import Finding

from .critical import GROSS_Z, read_too_late, too_late
from .editions import Rules
from .elements.scoring import Element, on
from .evidence.as_left import UNBEDDED, parts_badly_fitted
from .evidence.gathering import Evidence, JudgedDisc, JudgedGap, places_apart
from .evidence.signs_seen import with_leads_on

# Codes of decisions that count as a habit once they come up again.
IN_GUARD_BAND, WILL_NOT_LAST = "fault.in-guard-band", "fault.will-not-last"
TOO_TIGHT, BEYOND_LIMIT = "fault.too-tight", "fault.beyond-limit"
TOO_LITTLE, UNHEEDED = "fault.too-little", "fault.unheeded"
DISC_KEPT = "fault.disc-kept"
_TIGHT_ALONE = {frozenset({Finding.GAP_SMALL})}


@dataclass(frozen=True, slots=True)
class Fault:
    """What went wrong and where: reading, decision or procedure."""

    kind: str
    what: Remark


def unseen(evidence: Evidence) -> bool:
    """Return whether something was overlooked that needs an answer."""
    return any(one.sign.needs is not None for one in evidence.overlooked)


def faults_of(evidence: Evidence, elements: tuple[Element, ...], rules: Rules) -> Iterator[Fault]:
    """Trace what went wrong to the reading, the decision or the procedure."""
    taken, own = evidence.taken, evidence.own_conclusion
    if read_too_late(evidence):
        yield Fault("procedure", too_late(evidence))
    if taken is not None:
        on_own = taken is own.outcome or taken in own.arguable
        if on_own and not evidence.on_paper and _misread(evidence, taken, rules):
            yield Fault("reading", remark("fault.misread"))
        if not on_own:
            lucky = evidence.competent_conclusion.outcome is taken
            supported = own.outcome or ""
            what = remark("fault.against-own", supported=supported, taken=taken, lucky=lucky)
            code = _habitual(evidence, taken)
            yield Fault("decision", remark(code, supported=supported) if code else what)
            made_nothing_of = _made_nothing_of(evidence, taken)
            if made_nothing_of:
                yield Fault("decision", remark(UNHEEDED, findings=made_nothing_of))
    yield from _too_little(elements, rules)
    missed = [e.id for e in elements if e.channel in {"P", "W"} and not e.reached]
    if missed:
        yield Fault("procedure", remark("fault.left-out", elements=missed))
    for one in evidence.overlooked:
        if one.sign.needs is not None:
            yield Fault("procedure", one.remark)
    yield from (Fault("procedure", what) for what in spoilt(evidence))


def spoilt(evidence: Evidence) -> tuple[Remark, ...]:
    """Return what the candidate's own hands spoilt on a brake that was left locked out.

    What was fitted badly, if it was decided to go back: whoever then finds that it does not pass
    its tests has not found a fault of the brake. A rectifier that 500 V went through, anyhow.
    """
    for step in evidence.did("measure_coil"):
        if with_leads_on(step) and getattr(step.action, "what", "") == "insulation":
            return (on("spoilt.rectifier", step),)
    closed = evidence.did("refit_fan", "refit_seal", "connect_leads", "fit_disc")
    if evidence.given_back or evidence.taken is Outcome.REFER or not closed:
        return ()
    badly = parts_badly_fitted(evidence.setup, evidence.end)
    before = parts_badly_fitted(evidence.setup, evidence.start)
    return tuple(what for what in badly if what not in before and what.code != UNBEDDED)


def _made_nothing_of(evidence: Evidence, taken: Outcome) -> list[Finding]:
    """Return what was found and asks for more than was decided, where gap and disc ask for that."""
    alone = evidence.by_readings
    if taken is not alone.outcome and taken not in alone.arguable:
        return []
    asking = [sign for sign in evidence.own_signs if sign.needs is evidence.own_conclusion.outcome]
    return list(dict.fromkeys(sign.finding for sign in asking if taken not in sign.also))


def _habitual(evidence: Evidence, taken: Outcome) -> str:
    """Return the code of a decision that a single time is a slip, and again and again a habit.

    To pass a reading in the guard band, a brake that will not last until it is seen again, or a
    gap under its least; to set a gap where the disc was due.
    """
    own, growth_mm = evidence.own_conclusion, evidence.growth_mm
    if taken in own.unsafe or taken not in {Outcome.FIT, Outcome.ADJUST}:
        return ""
    if growth_mm:
        now = conclude(evidence.case.size, evidence.gap_readings, evidence.disc_readings)
        if taken is now.outcome or taken in now.arguable:
            return WILL_NOT_LAST
    if taken is not Outcome.FIT:
        return DISC_KEPT if own.outcome is Outcome.REPLACE else ""
    if own.outcome is Outcome.ADJUST and set(evidence.named_by_readings.asked) == _TIGHT_ALONE:
        return TOO_TIGHT
    distance_u = _worst_distance(evidence)
    if distance_u is None or abs(distance_u) >= ONE_SIDED_95:
        return ""
    return IN_GUARD_BAND if distance_u >= 0 else BEYOND_LIMIT


def _worst_distance(evidence: Evidence) -> float | None:
    """Return how far inside its limit the worst reading lies, in uncertainties; None of none."""
    size, gaps, discs = evidence.case.size, evidence.gap_readings, evidence.disc_readings
    growth_mm = evidence.growth_mm
    inside = [distance(r.value_mm + growth_mm, r.u_mm, upper=size.gap.max_mm) for r in gaps]
    inside += [distance(r.value_mm - growth_mm, r.u_mm, lower=size.disc.min_mm) for r in discs]
    return min(inside, default=None)


def _too_little(elements: Iterable[Element], rules: Rules) -> Iterator[Fault]:
    """Name each element of measuring, and a look, without which the case cannot be right."""
    for element in elements:
        if element.needed and not element.reached and element.channel == "M":
            places = rules.places if element.id == "M2" else rules.disc_places
            what = remark(TOO_LITTLE, lines=element.lines, places=places)
            yield Fault("reading", what)
        elif element.needed and not element.reached and element.id == "D2":
            yield Fault("procedure", element.lines[-1])


def _misread(evidence: Evidence, taken: Outcome, rules: Rules) -> bool:
    """Return whether unfair readings, and not an unlucky brake, led to another decision."""
    gaps, discs = evidence.gaps_as_found, evidence.discs_as_found
    few = places_apart(gaps) < rules.places and not evidence.referred_by_sign
    if unseen(evidence) or (fair(gaps, GROSS_Z) and fair(discs, GROSS_Z) and not few):
        return False
    competent = evidence.competent_conclusion
    return taken is not competent.outcome and taken not in competent.arguable


def fair(judged: Iterable[JudgedGap | JudgedDisc], most_z: float) -> bool:
    """Return whether readings are as good as their uncertainty says, and as they were felt."""
    return all(abs(one.z) < most_z and one.supported for one in judged)
