"""Two people who are alike in all that a brake asks of them do the same there.

How somebody works at a case depends on what they see and on those of their habits that the work
comes to. So the work of people who give the same answers is done once.
"""

from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from typing import Any, NamedTuple, cast

from quizzes.cases.case import Case
from quizzes.grading.evidence.gathering import Evidence
from widgets.bench import actions as do

from .habits import Habits
from .people.stranger import Stranger

# What follows from the brake as it was found, whatever was done there.
OF_THE_BRAKE = frozenset({"true_signs", "competent_conclusion", "growth_mm", "order", "load_stuck"})
# What follows from everything before a decision that ends the case, whatever was decided.
OF_ALL_BEFORE = OF_THE_BRAKE | {
    "gaps", "discs", "values", "gaps_as_found", "discs_as_found", "gaps_as_left", "gap_readings",
    "discs_shown", "disc_readings", "own_signs", "overlooked", "looked_at", "named_by_readings",
    "by_readings", "by_notes", "own_conclusion", "referred_by_sign", "hands_in", "first_work",
    "last_gap_work", "last_work", "decided_at", "as_found_until", "struck_at",
}  # fmt: skip


def ends_with_its_decision(evidence: Evidence) -> bool:
    """Return whether the one decision is the last thing that was done, and ends the case."""
    steps = evidence.steps
    if not evidence.setup.order.ends_at_decision or not steps:
        return False
    if not steps[-1].done or steps[-1].action.kind != "decide":
        return False
    return all(step.action.kind != "decide" for step in steps[:-1])


def take_over(evidence: Evidence, known: Evidence, names: AbstractSet[str]) -> None:
    """Take over what has already been worked out elsewhere, and is the same here."""
    for name in names & vars(known).keys():
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
