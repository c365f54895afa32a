"""One element of competency as shown in one case, and the remarks on what was done."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from quizzes.grading.editions import PASS
from quizzes.grading.evidence.log import Step
from widgets.bench import actions as do
from widgets.brake.judgement.remark import Remark, remark

# Channel of each element, in the order of the competency breakdown.
ELEMENTS = {
    "S1": "P",
    "S2": "P",
    "S3": "P",
    "S4": "P",
    "S5": "P",
    "K3": "D",
    "M1": "M",
    "M2": "M",
    "M3": "M",
    "M4": "M",
    "M5": "M",
    "D1": "D",
    "D2": "D",
    "D3": "D",
    "A1": "P",
    "A2": "P",
    "A3": "P",
    "R1": "P",
    "R2": "P",
    "R3": "P",
    "R4": "P",
    "T1": "P",
    "T2": "P",
    "W1": "W",
    "W2": "W",
}


@dataclass(frozen=True, slots=True)
class Element:
    """One part of the competency as shown in one case.

    Attributes
    ----------
    id, channel : str
        `channel` is M, D, P or W: measuring, deciding, procedure, written record.
    score : float
        0 to 1.
    lines : tuple of Remark
        What was done or not, as the candidate could dispute it.
    needed : bool
        Whether the case cannot be right without it.
    """

    id: str
    channel: str
    score: float
    lines: tuple[Remark, ...]
    needed: bool = True

    @property
    def reached(self) -> bool:
        """Whether enough of it was shown."""
        return self.score >= PASS


def shown(name: str, score: float, *lines: Remark, needed: bool = True) -> Element:
    """Return how an element was shown: its score, 0 to 1, and a line for each reason."""
    return Element(name, ELEMENTS[name], score, lines, needed)


def mean(values: Iterable[float]) -> float:
    """Return the mean of values, 0 if there are none."""
    listed = list(values)
    return sum(listed) / len(listed) if listed else 0.0


def done(code: str, step: Step, **facts: object) -> Remark:
    """Return a remark on a step: what was done, and where in the log, from 1."""
    return remark(code, act=_act(step), step=step.number + 1, **facts)


def on(code: str, step: Step, **facts: object) -> Remark:
    """Return a remark with its place in the log, from 1."""
    return remark(code, step=step.number + 1, **facts)


def checked(checks: Mapping[str, bool]) -> list[Remark]:
    """Return a remark for each check, kept or not."""
    return [remark(code, kept=bool(kept)) for code, kept in checks.items()]


def _act(step: Step) -> str:
    method = step.action.method if isinstance(step.action, do.Clean) else ""
    return "_".join(filter(None, [step.action.kind, method]))
