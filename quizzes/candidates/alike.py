"""Two people who are alike in all that a brake asks of them do the same there.

How somebody works at a case depends on what they see and on those of their habits that the work
comes to. So the work of people who give the same answers is done once.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple, cast

from quizzes.cases.case import Case
from quizzes.grading.evidence.gathering import Evidence
from widgets.bench import actions as do

from .habits import Habits
from .people.stranger import Stranger

# What follows from a colleague's notes, whatever was decided on them.
_OF_THE_NOTES = frozenset(
    {"gaps", "discs", "values", "gaps_as_found", "discs_as_found", "gaps_as_left", "gap_readings",
     "disc_readings", "own_signs", "true_signs", "overlooked", "looked_at", "named_by_readings",
     "growth_mm", "by_readings", "by_notes", "own_conclusion", "competent_conclusion", "order",
     "referred_by_sign", "load_stuck"}
)  # fmt: skip


def decided_on_notes_alone(evidence: Evidence) -> bool:
    """Return whether a decision on a colleague's notes is all that was done."""
    return evidence.on_paper and [step.action.kind for step in evidence.steps] == ["decide"]


def take_over(evidence: Evidence, known: Evidence | None) -> None:
    """Take over what has already been worked out of the same notes, for another decision."""
    if known is not None:
        for name in _OF_THE_NOTES & vars(known).keys():
            vars(evidence)[name] = vars(known)[name]


class Asked:
    """Somebody's habits, and which of them the work has come to so far."""

    def __init__(self, habits: Habits) -> None:
        self._habits = habits

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 (each habit has its own type)
        """Return a habit that is asked for the first time; from then on it is an attribute."""
        answer = getattr(self._habits, name)
        setattr(self, name, answer)
        return answer

    @property
    def answers(self) -> dict[str, Any]:
        """The habits that were asked for, by name."""
        return {name: answer for name, answer in vars(self).items() if name != "_habits"}

    def as_habits(self) -> Habits:
        """Return itself for who works by habits: it answers as they would."""
        return cast("Habits", self)


class Way(NamedTuple):
    """How a case was worked by somebody who did no other act in place of one.

    Attributes
    ----------
    answers : mapping
        The habits that the work came to, by name.
    acts : tuple of Action
        What was done, in order.
    """

    answers: Mapping[str, Any]
    acts: tuple[do.Action, ...]

    def is_of(self, stranger: Stranger, case: Case) -> bool:
        """Return whether somebody would work the case in exactly this way."""
        habits, instead = stranger.habits, stranger.instead
        if stranger.hands:  # what these do is known once they have done it
            return False
        if any(getattr(habits, name) != answer for name, answer in self.answers.items()):
            return False
        return instead is None or all(instead(act, case) == [act] for act in self.acts)
