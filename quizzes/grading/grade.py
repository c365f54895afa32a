"""The grade of one job: a pure function of case and log, with its reasons."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from quizzes.cases.case import Case
from widgets.bench.session import Event
from widgets.brake.rules import Outcome, conclude

from .critical import GROSS_Z, CriticalError, find_critical
from .elements import ENOUGH_PLACES, Element, false_alarms, judge_elements
from .evidence import Evidence, gather, places_apart
from .misconceptions import Misconception, find_misconceptions
from .truth import left_careless, left_wrong

EDITION = "1"  # edition of the grading rules; a change in what a log earns raises it
WEIGHTS = {"M": 30, "D": 40, "P": 20, "W": 10}  # marks a channel; a choice of this scheme


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
    words: str


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
    """

    standing: Standing
    marks: int
    elements: tuple[Element, ...]
    critical: tuple[CriticalError, ...]
    faults: tuple[Fault, ...]
    misconceptions: tuple[Misconception, ...]
    left_wrong: tuple[str, ...]
    decided: str
    own_readings_support: str
    edition: str = EDITION

    def to_json(self) -> dict[str, Any]:
        """Return the grade as plain JSON, as it is kept. It holds no hidden number."""
        return {
            "edition": self.edition,
            "standing": self.standing.value,
            "marks": self.marks,
            "decided": self.decided,
            "own_readings_support": self.own_readings_support,
            "elements": [
                {
                    "id": element.id,
                    "title": element.title,
                    "channel": element.channel,
                    "score": round(element.score, 4),
                    "reached": element.reached,
                    "lines": list(element.lines),
                }
                for element in self.elements
            ],
            "critical": [{"code": error.code, "words": error.words} for error in self.critical],
            "faults": [{"kind": fault.kind, "words": fault.words} for fault in self.faults],
            "misconceptions": [{"name": m.name, "says": m.says} for m in self.misconceptions],
            "left_wrong": list(self.left_wrong),
        }


def grade_case(case: Case, events: Iterable[Event]) -> CaseGrade:
    """Return the grade of a finished job.

    Raises
    ------
    AlteredLogError
        If the log does not come out of the case.
    """
    evidence = gather(case, events)
    elements = judge_elements(evidence)
    critical = find_critical(evidence)
    wrong = left_wrong(evidence.setup, evidence.end)
    decided = evidence.decision
    own = evidence.own_conclusion.outcome
    return CaseGrade(
        standing=_standing(evidence, elements, critical, wrong),
        marks=marks(elements),
        elements=elements,
        critical=critical,
        faults=tuple(_faults(evidence, elements)),
        misconceptions=find_misconceptions(evidence),
        left_wrong=wrong,
        decided=decided.after.decision if decided else "",
        own_readings_support=own.value if own else "",
    )


def marks(elements: Iterable[Element]) -> int:
    """Return the marks of a job, 0 to 100: each channel the mean of its elements, weighted."""
    by_channel: dict[str, list[float]] = {}
    for element in elements:
        by_channel.setdefault(element.channel, []).append(element.score)
    total = sum(
        WEIGHTS[channel] * sum(scores) / len(scores) for channel, scores in by_channel.items()
    )
    return round(100 * total / sum(WEIGHTS[channel] for channel in by_channel))


def _standing(
    evidence: Evidence,
    elements: tuple[Element, ...],
    critical: tuple[CriticalError, ...],
    wrong: tuple[str, ...],
) -> Standing:
    if critical or not evidence.end.handed_over or evidence.decision is None:
        return Standing.NOT_YET
    if wrong:
        # Never "right" with an unsafe brake in service; never a failure for an unlucky truth.
        return Standing.NO_VERDICT if _unlucky(evidence, elements) else Standing.NOT_YET
    if any(element.needed and not element.reached for element in elements):
        return Standing.NOT_YET
    return _of_decision(evidence)


def _of_decision(evidence: Evidence) -> Standing:
    own = evidence.own_conclusion
    taken = Outcome(evidence.decision.after.decision) if evidence.decision else Outcome.FIT
    if own.outcome is None:
        return Standing.NOT_YET
    if taken is own.outcome or taken in own.arguable:
        return Standing.RIGHT
    return Standing.FALSE_ALARM if taken in false_alarms(own.outcome) else Standing.NOT_YET


def _unlucky(evidence: Evidence, elements: tuple[Element, ...]) -> bool:
    """Whether fair readings of a brake that was left in order support passing it."""
    if left_careless(evidence.setup, evidence.end):
        return False
    left = evidence.gaps_as_left or evidence.gaps_as_found
    fair = all(abs(one.z) < GROSS_Z and one.supported for one in left) and all(
        abs(one.z) < GROSS_Z and one.supported for one in evidence.discs_as_found
    )
    reached = all(element.reached for element in elements if element.needed and element.id != "A1")
    own = conclusion_as_left(evidence)
    return fair and reached and places_apart(left) >= ENOUGH_PLACES and own is Outcome.FIT


def conclusion_as_left(evidence: Evidence) -> Outcome | None:
    """Return what the candidate's own last readings support."""
    left = evidence.gaps_as_left or evidence.gaps_as_found
    return conclude(
        evidence.case.size,
        [one.reading for one in left],
        [one.reading for one in evidence.discs_as_found],
    ).outcome


def _faults(evidence: Evidence, elements: tuple[Element, ...]) -> Iterator[Fault]:
    """Trace what went wrong to the reading, the decision or the procedure."""
    decided, own = evidence.decision, evidence.own_conclusion
    competent = evidence.competent_conclusion
    if decided is not None:
        taken = Outcome(decided.after.decision)
        on_own = taken is own.outcome or taken in own.arguable
        if on_own and taken is not competent.outcome and taken not in competent.arguable:
            yield Fault(
                "reading",
                "The decision follows from the readings, but a competent person's readings of "
                "this brake would have said something else: look at how they were taken.",
            )
        if not on_own:
            lucky = " (it came out right by luck)" if taken is competent.outcome else ""
            yield Fault(
                "decision",
                f"The readings written down support “{own.outcome or 'nothing yet'}”, "
                f"the decision was “{taken}”{lucky}.",
            )
    missed = [e.title.lower() for e in elements if e.channel in {"P", "W"} and not e.reached]
    if missed:
        yield Fault("procedure", f"Left out or out of order: {'; '.join(missed)}.")
