"""One element of competency as shown in one case, and the words for what was done."""

from collections.abc import Iterable
from dataclasses import dataclass

from quizzes.grading.editions import PASS
from quizzes.grading.evidence.log import Step
from widgets.bench import actions as do


@dataclass(frozen=True, slots=True)
class Element:
    """One part of the competency as shown in one case.

    Attributes
    ----------
    id, title, channel : str
        `channel` is M, D, P or W: measuring, deciding, procedure, written record.
    score : float
        0 to 1.
    lines : tuple of str
        What was done or not, in words that the candidate could dispute.
    needed : bool
        Whether the case cannot be right without it.
    """

    id: str
    title: str
    channel: str
    score: float
    lines: tuple[str, ...]
    needed: bool = True

    @property
    def reached(self) -> bool:
        """Whether enough of it was shown."""
        return self.score >= PASS


def mean(values: Iterable[float]) -> float:
    """Return the mean of values, 0 if there are none."""
    listed = list(values)
    return sum(listed) / len(listed) if listed else 0.0


def at(step: Step) -> str:
    """Return where in the log a step stands, as it is shown, from 1."""
    return f"step {step.number + 1}"


_NAMES = {
    "remove_cover": "Cover taken off",
    "remove_ring": "Ring taken out",
    "remove_fan": "Fan drawn",
    "remove_seal": "Seal band rolled back",
    "gauge_gap": "Gap gauged",
    "measure_disc": "Disc measured",
    "try_lock": "Retaining screw tried",
    "loosen_lock": "Retaining screw slackened",
    "turn_screw": "Hollow screw turned",
    "tighten_lock": "Retaining screw tightened",
    "set_lever": "Hand release set",
    "disconnect_leads": "Leads taken off",
    "draw_lock": "Retaining screw drawn",
    "remove_body": "Magnet body taken off",
    "remove_disc": "Disc taken off",
    "fit_disc": "Disc fitted",
    "fit_body": "Magnet body put on",
    "refit_seal": "Seal band seated",
    "refit_fan": "Fan refitted",
    "refit_cover": "Cover refitted",
}


def named(step: Step) -> str:
    """Return what a step was, in words."""
    if isinstance(step.action, do.Clean):
        return f"Cleaned by {step.action.method.replace('_', ' ')}"
    return _NAMES.get(step.action.kind, step.action.kind.replace("_", " ").capitalize())
