"""One element of competency as shown in one case, and the words for what was done."""

from collections.abc import Iterable
from dataclasses import dataclass

from quizzes.grading.editions import PASS
from quizzes.grading.evidence.log import Step
from widgets.bench import actions as do

# Title and channel of each element, in the order of the competency breakdown.
ELEMENTS = {
    "S1": ("Load landed, hook empty", "P"),
    "S2": ("Isolated, locked, proved dead", "P"),
    "S3": ("Springs and weight kept in hand", "P"),
    "S4": ("Dust control", "P"),
    "S5": ("Friction faces kept clean", "P"),
    "K3": ("Right row of the limits sheet", "D"),
    "M1": ("Instruments that can tell", "M"),
    "M2": ("Gap measured all round", "M"),
    "M3": ("Tilt told from taper", "M"),
    "M4": ("Disc measured", "M"),
    "M5": ("Coil measured", "M"),
    "D1": ("Decision on own evidence", "D"),
    "D2": ("Findings", "D"),
    "D3": ("Lining to last until the next look", "D"),
    "A1": ("Gap set evenly to the setting", "P"),
    "A2": ("Retaining screws to torque", "P"),
    "A3": ("Measured again after locking", "P"),
    "R1": ("Taken apart in order", "P"),
    "R2": ("Hub, plate and part checked before fitting", "P"),
    "R3": ("Right disc, right way round", "P"),
    "R4": ("Put together and closed up", "P"),
    "T1": ("Release proved", "P"),
    "T2": ("Hold proved", "P"),
    "W1": ("Record", "W"),
    "W2": ("Next date, or tag", "W"),
}


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


def shown(name: str, score: float, *lines: str, needed: bool = True) -> Element:
    """Return how an element was shown: its score, 0 to 1, and a line for each reason."""
    title, channel = ELEMENTS[name]
    return Element(name, title, channel, score, lines, needed)


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
