"""The grade of one job: a pure function of case, log and edition, with its reasons."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from quizzes.cases.case import Case
from widgets.bench.session import Event
from widgets.brake.judgement import ONE_SIDED_95, distance
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome, conclude

from .critical import GROSS_Z, CriticalError, find_critical, read_too_late, too_late
from .editions import EDITION, Rules, rules_of
from .elements.called_for import judge_elements
from .elements.deciding import false_alarms
from .elements.scoring import Element
from .elements.working import was_replaced
from .evidence.as_left import ENDANGERS, Wrong, left_wrong, parts_badly_fitted
from .evidence.gathering import Evidence, JudgedDisc, JudgedGap, gather, places_apart
from .misconceptions.catalogue import Misconception, find_misconceptions

__all__ = [
    "EDITION", "CaseGrade", "Fault", "Standing", "grade_case", "grade_evidence", "marks",
]  # fmt: skip


# Codes of decisions that count as a habit once they come up again.
IN_GUARD_BAND, WILL_NOT_LAST = "fault.in-guard-band", "fault.will-not-last"


class Standing(StrEnum):
    """How one job ended."""

    RIGHT = "right"
    FALSE_ALARM = "false alarm"
    NO_VERDICT = "no verdict"
    NOT_YET = "not yet"


@dataclass(frozen=True, slots=True)
class Fault:
    """What went wrong and where: reading, decision or procedure."""

    kind: str
    what: Remark


@dataclass(frozen=True, slots=True)
class CaseGrade:
    """The grade of one job.

    Attributes
    ----------
    standing : Standing
        "right" and "false alarm" count for the candidate, "not yet" against;
        "no verdict" asks for another case.
    marks : int
        0 to 100, for feedback; no mark makes up for a critical error.
    overlooked : tuple of Remark
        What was there to be found where nobody looked.
    depth : str
        How much of the job the case asked for.
    """

    standing: Standing
    marks: int
    elements: tuple[Element, ...]
    critical: tuple[CriticalError, ...]
    faults: tuple[Fault, ...]
    misconceptions: tuple[Misconception, ...]
    left_wrong: tuple[Remark, ...]
    decided: str
    own_readings_support: str
    overlooked: tuple[Remark, ...] = ()
    depth: str = "work order"
    edition: str = EDITION

    def to_json(self) -> dict[str, Any]:
        """Return the grade as plain JSON, as it is kept: codes, numbers, and no hidden one."""
        return {
            "edition": self.edition,
            "depth": self.depth,
            "standing": self.standing.value,
            "marks": self.marks,
            "decided": self.decided,
            "own_readings_support": self.own_readings_support,
            "elements": [_element_json(element) for element in self.elements],
            "critical": [{"code": e.code, "what": e.what.to_json()} for e in self.critical],
            "faults": [{"kind": f.kind, "what": f.what.to_json()} for f in self.faults],
            "misconceptions": [one.name for one in self.misconceptions],
            "left_wrong": [one.to_json() for one in self.left_wrong],
            "overlooked": [one.to_json() for one in self.overlooked],
        }


def _element_json(element: Element) -> dict[str, Any]:
    return {
        "id": element.id,
        "channel": element.channel,
        "score": round(element.score, 4),
        "reached": element.reached,
        "lines": [line.to_json() for line in element.lines],
    }


def grade_case(case: Case, events: Iterable[Event], edition: str = EDITION) -> CaseGrade:
    """Return the grade of a job from its log, by an edition of the rules.

    Raises
    ------
    AlteredLogError
        If the log does not come out of the case.
    ValueError
        If there is no such edition.
    """
    rules_of(edition)
    return grade_evidence(gather(case, events), edition)


def grade_evidence(evidence: Evidence, edition: str = EDITION) -> CaseGrade:
    """Return the grade of a job from its evidence, by an edition of the rules.

    Raises
    ------
    ValueError
        If there is no such edition.
    """
    rules = rules_of(edition)
    elements = judge_elements(evidence, rules)
    wrong = left_wrong(evidence.setup, evidence.end, rules)
    excused = bool(wrong) and _unlucky(evidence, elements, wrong, rules)
    critical = find_critical(evidence, rules, wrong=() if excused else wrong)
    own = evidence.own_conclusion.outcome
    return CaseGrade(
        standing=_standing(evidence, elements, critical, wrong=wrong, excused=excused),
        marks=marks(elements, rules),
        elements=elements,
        critical=critical,
        faults=tuple(_faults(evidence, elements, rules)),
        misconceptions=find_misconceptions(evidence),
        left_wrong=tuple(one.what for one in wrong),
        decided=evidence.taken or "",
        own_readings_support=own or "",
        overlooked=_overlooked(evidence),
        depth=str(evidence.case.depth),
        edition=edition,
    )


def marks(elements: Iterable[Element], rules: Rules) -> int:
    """Return the marks of a job, 0 to 100: each channel the mean of its elements, weighted."""
    by_channel: dict[str, list[float]] = {}
    for element in elements:
        by_channel.setdefault(element.channel, []).append(element.score)
    total = sum(
        rules.weights[channel] * sum(scores) / len(scores) for channel, scores in by_channel.items()
    )
    return round(100 * total / sum(rules.weights[channel] for channel in by_channel))


def _overlooked(evidence: Evidence) -> tuple[Remark, ...]:
    return tuple(one.remark for one in evidence.overlooked)


def _standing(
    evidence: Evidence,
    elements: tuple[Element, ...],
    critical: tuple[CriticalError, ...],
    *,
    wrong: tuple[Wrong, ...],
    excused: bool,
) -> Standing:
    if critical or not evidence.end.handed_over or evidence.decision is None:
        return Standing.NOT_YET
    if wrong:
        # Never "right" with an unsafe brake in service; never a failure for an unlucky truth.
        return Standing.NO_VERDICT if excused else Standing.NOT_YET
    if any(element.needed and not element.reached for element in elements):
        return Standing.NOT_YET
    if _missed(evidence):
        return Standing.NOT_YET
    return _of_decision(evidence)


def _missed(evidence: Evidence) -> bool:
    """Return whether something overlooked would have changed the decision."""
    if not any(one.sign.needs is not None for one in evidence.overlooked):
        return False
    competent, taken = evidence.competent_conclusion, evidence.taken
    return taken is not competent.outcome and taken not in competent.arguable


def _of_decision(evidence: Evidence) -> Standing:
    own, taken = evidence.own_conclusion, evidence.taken
    if own.outcome is None or taken is None:
        return Standing.NOT_YET
    if taken is own.outcome or taken in own.arguable:
        # What is left to others costs a case; what was spoilt before it was left is not right.
        if not evidence.given_back and _spoilt(evidence):
            return Standing.NOT_YET
        return Standing.FALSE_ALARM if _given_up(evidence) else Standing.RIGHT
    return Standing.FALSE_ALARM if taken in false_alarms(own.outcome) else Standing.NOT_YET


def _spoilt(evidence: Evidence) -> bool:
    """Return whether parts were left, for others to find, as they would keep it from holding."""
    badly = parts_badly_fitted(evidence.setup, evidence.end)
    return was_replaced(evidence) and any(what.code in ENDANGERS for what in badly)


def _given_up(evidence: Evidence) -> bool:
    """Return whether a job that was decided to be done was locked out with nothing against it."""
    decided = evidence.did("decide")
    later = decided[-1].after.decision if decided else ""
    if evidence.taken is Outcome.REFER or later != Outcome.REFER:
        return False
    return evidence.as_left is Outcome.FIT


def _unlucky(
    evidence: Evidence, elements: tuple[Element, ...], wrong: tuple[Wrong, ...], rules: Rules
) -> bool:
    """Return whether fair readings and a careful look gave every reason to pass it."""
    if any(one.in_sight for one in wrong) or _unseen(evidence):
        return False
    own = evidence.own_conclusion
    if evidence.taken is not own.outcome and evidence.taken not in own.arguable:
        return False
    left = evidence.gaps_as_left or evidence.gaps_as_found
    fair = _fair(left, GROSS_Z) and _fair(evidence.discs_as_found, GROSS_Z)
    reached = all(element.reached for element in elements if element.needed and element.id != "A1")
    enough = places_apart(left) >= rules.places
    return fair and reached and enough and evidence.as_left is Outcome.FIT


def _unseen(evidence: Evidence) -> bool:
    return any(one.sign.needs is not None for one in evidence.overlooked)


def _faults(evidence: Evidence, elements: tuple[Element, ...], rules: Rules) -> Iterator[Fault]:
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
    if _unseen(evidence) or (_fair(gaps, GROSS_Z) and _fair(discs, GROSS_Z) and not few):
        return False
    competent = evidence.competent_conclusion
    return taken is not competent.outcome and taken not in competent.arguable


def _fair(judged: Iterable[JudgedGap | JudgedDisc], most_z: float) -> bool:
    """Return whether readings are as good as their uncertainty says, and as they were felt."""
    return all(abs(one.z) < most_z and one.supported for one in judged)
