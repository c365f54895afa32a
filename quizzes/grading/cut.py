"""The cut of a sitting's questions: the share asked for, by whom it was set, and how sure it is."""

from dataclasses import dataclass
from typing import Literal

PANEL: Literal["panel"] = "panel"
BANK: Literal["bank"] = "bank"


@dataclass(frozen=True, slots=True)
class Cut:
    """The share of the points that is asked for, and where it comes from.

    Attributes
    ----------
    share : float
        Asked for, 0 to 1.
    by : str
        `panel`, or `bank` for the bank's own estimates.
    said : float or None
        Share that the judges arrived at, before their error was added.
    error : float or None
        Standard error of that share.
    judges, judged : int
        How many judges, and how many of these questions they judged.
    panel : str
        Title of the panel.
    invented : bool
        Whether judges and numbers are made up, for a demonstration.
    """

    share: float
    by: Literal["panel", "bank"] = BANK
    said: float | None = None
    error: float | None = None
    judges: int = 0
    judged: int = 0
    panel: str = ""
    invented: bool = False

    @property
    def words(self) -> str:
        """Which cut this is, a sentence."""
        if self.by == BANK or self.said is None or self.error is None:
            return (
                f"{self.share:.0%} asked: the bank’s own estimates of what somebody just competent "
                "earns; no panel of judges has looked at these questions."
            )
        whose = "an invented panel" if self.invented else "the panel"
        return (
            f"{self.share:.0%} asked: {whose} “{self.panel}” of {self.judges} judges says "
            f"{self.said:.0%} (standard error {self.error:.1%}) of {self.judged} of these "
            "questions, and one standard error is added."
        )
