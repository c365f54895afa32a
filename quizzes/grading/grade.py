"""The grade of one job: a pure function of case, log and edition, with its reasons."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from quizzes.cases.case import Case
from widgets.bench.session import Event
from widgets.brake.judgement.remark import Remark
from widgets.brake.judgement.rules import Outcome

from .critical import GROSS_Z, CriticalError, find_critical
from .editions import EDITION, PASS, Rules, rules_of
from .elements.called_for import judge_elements
from .elements.deciding import false_alarms
from .elements.scoring import Element
from .evidence.as_left import Wrong, left_wrong
from .evidence.gathering import Evidence, gather, places_apart
from .faults import Fault, fair, faults_of, spoilt, unseen
from .misconceptions.catalogue import Misconception, find_misconceptions

__all__ = [
    "EDITION", "CaseGrade", "Fault", "Standing", "grade_case", "grade_evidence", "marks",
    "marks_shown",
]  # fmt: skip
MOST_IF_NOT_RIGHT = round(100 * PASS) - 1  # marks: fewer than what reaches an element


class Standing(StrEnum):
    """How one job ended."""

    RIGHT = "right"
    FALSE_ALARM = "false alarm"
    NO_VERDICT = "no verdict"
    NOT_YET = "not yet"


@dataclass(frozen=True, slots=True)
class CaseGrade:
    """The grade of one job.

    Attributes
    ----------
    standing : Standing
        "right" and "false alarm" count for the candidate, "not yet" against;
        "no verdict" asks for another case.
    marks : int
        0 to 100, for feedback; they never say more than `standing` does, see `marks_shown`.
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
    standing = _standing(evidence, elements, critical, wrong=wrong, excused=excused)
    return CaseGrade(
        standing=standing,
        marks=marks_shown(standing, elements, rules, critical=bool(critical)),
        elements=elements,
        critical=critical,
        faults=tuple(faults_of(evidence, elements, rules)),
        misconceptions=find_misconceptions(evidence),
        left_wrong=tuple(one.what for one in wrong),
        decided=evidence.taken or "",
        own_readings_support=own or "",
        overlooked=_overlooked(evidence),
        depth=str(evidence.case.depth),
        edition=edition,
    )


def marks_shown(
    standing: Standing, elements: Sequence[Element], rules: Rules, *, critical: bool
) -> int:
    """Return the marks that stand beside a verdict, 0 to 100, so that the two never disagree.

    A job that is not right has no more of them than the part that it failed by, and fewer than a
    right one must reach; a critical error leaves none. All others have what their parts come to.
    """
    if critical:
        return 0
    earned = marks(elements, rules)
    if standing is not Standing.NOT_YET:
        return earned
    failed_by = [round(100 * one.score) for one in elements if one.needed and not one.reached]
    return min(earned, MOST_IF_NOT_RIGHT, *failed_by)


def marks(elements: Iterable[Element], rules: Rules) -> int:
    """Return what the parts of a job come to, 0 to 100: each channel's mean, weighted."""
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
    if spoilt(
        evidence
    ):  # what is left to others costs a case; what was spoilt before, is not right
        return Standing.NOT_YET
    if taken is own.outcome or taken in own.arguable:
        return Standing.FALSE_ALARM if _given_up(evidence) else Standing.RIGHT
    return Standing.FALSE_ALARM if taken in false_alarms(own.outcome) else Standing.NOT_YET


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
    if any(one.in_sight for one in wrong) or unseen(evidence):
        return False
    own = evidence.own_conclusion
    if evidence.taken is not own.outcome and evidence.taken not in own.arguable:
        return False
    left = evidence.gaps_as_left or evidence.gaps_as_found
    as_felt = fair(left, GROSS_Z) and fair(evidence.discs_as_found, GROSS_Z)
    reached = all(element.reached for element in elements if element.needed and element.id != "A1")
    enough = places_apart(left) >= rules.places
    return as_felt and reached and enough and evidence.as_left is Outcome.FIT
