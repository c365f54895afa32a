"""What went wrong in one job, traced to the reading, the decision or the procedure."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from widgets.brake.judgement import ONE_SIDED_95, distance
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome, conclude

from .critical import GROSS_Z, read_too_late, too_late
from .editions import Rules
from .elements.scoring import Element
from .evidence.gathering import Evidence, JudgedDisc, JudgedGap, places_apart

# Codes of decisions that count as a habit once they come up again.
IN_GUARD_BAND, WILL_NOT_LAST = "fault.in-guard-band", "fault.will-not-last"


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
    yield from _too_little(elements, rules)
    missed = [e.id for e in elements if e.channel in {"P", "W"} and not e.reached]
    if missed:
        yield Fault("procedure", remark("fault.left-out", elements=missed))
    for one in evidence.overlooked:
        if one.sign.needs is not None:
            yield Fault("procedure", one.remark)


def _habitual(evidence: Evidence, taken: Outcome) -> str:
    """Return the code of a decision that a single time is a slip, and again and again a habit.

    To pass a reading in the guard band, or a brake that will not last until it is seen again.
    """
    own, growth_mm = evidence.own_conclusion, evidence.growth_mm
    if taken in own.unsafe or taken not in {Outcome.FIT, Outcome.ADJUST}:
        return ""
    if growth_mm:
        now = conclude(evidence.case.size, evidence.gap_readings, evidence.disc_readings)
        if taken is now.outcome or taken in now.arguable:
            return WILL_NOT_LAST
    return IN_GUARD_BAND if taken is Outcome.FIT and _within_guard_band(evidence) else ""


def _within_guard_band(evidence: Evidence) -> bool:
    """Return whether the worst reading lies inside its limit, by less than the guard band."""
    size, gaps, discs = evidence.case.size, evidence.gap_readings, evidence.disc_readings
    growth_mm = evidence.growth_mm
    inside = [distance(r.value_mm + growth_mm, r.u_mm, upper=size.gap.max_mm) for r in gaps]
    inside += [distance(r.value_mm - growth_mm, r.u_mm, lower=size.disc.min_mm) for r in discs]
    return bool(inside) and 0 <= min(inside) < ONE_SIDED_95


def _too_little(elements: Iterable[Element], rules: Rules) -> Iterator[Fault]:
    """Name each element of measuring, and a look, without which the case cannot be right."""
    for element in elements:
        if element.needed and not element.reached and element.channel == "M":
            places = rules.places if element.id == "M2" else rules.disc_places
            what = remark("fault.too-little", lines=element.lines, places=places)
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
