"""What an action brought, as a code and facts: no prose, so that nothing depends on a wording."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from .state import State

# Why something was refused: what a reader of the log can ask about.
ALREADY = "already-so"  # it is as it was to become
WRONG_ORDER = "wrong-order"  # something else must come off, go on or be done first
NOT_THERE = "not-there"  # the part or the line is missing
NOT_POSSIBLE = "not-possible"  # it cannot be done so, whatever comes before
NOT_TAKEN = "not-taken"  # the wish was not an action, or it could not be kept
REFUSALS = frozenset({ALREADY, WRONG_ORDER, NOT_THERE, NOT_POSSIBLE, NOT_TAKEN})


@dataclass(frozen=True, slots=True)
class Observation:
    """What an action brought: done or not, a code, and the facts that belong to it.

    Attributes
    ----------
    done : bool
        Whether it was carried out.
    code : str
        The result, `thing.what`, in lower-case words and hyphens; `words` has its sentence.
    facts : mapping
        Numbers with their units in their names, identifiers, codes: plain JSON values, never
        more than a person at the brake sees or an instrument shows.
    alarm : str
        Code of how somebody could have been hurt; empty if nobody could.
    refusal : str
        Why it was refused, one of `REFUSALS`; empty if it was done.
    """

    done: bool
    code: str
    facts: Mapping[str, Any] = field(default_factory=dict)
    alarm: str = ""
    refusal: str = ""

    def to_json(self) -> dict[str, Any]:
        """Return the JSON form kept in the log."""
        return {
            "done": self.done,
            "code": self.code,
            "facts": dict(self.facts),
            "alarm": self.alarm,
            "refusal": self.refusal,
        }


Outcome = tuple[State, Observation]


def seen(state: State, code: str, **facts: Any) -> Outcome:  # noqa: ANN401 (plain JSON values)
    """Return a state with what was seen on the way to it."""
    return state, Observation(True, code, facts)  # noqa: FBT003 (hot path)


def harmed(state: State, code: str, alarm: str, **facts: Any) -> Outcome:  # noqa: ANN401
    """Return a state in which somebody could have been hurt, with the alarm that says so."""
    after = state._replace(accidents=(*state.accidents, alarm))
    return after, Observation(True, code, facts, alarm)  # noqa: FBT003 (hot path)


def already(state: State, code: str, **facts: Any) -> Outcome:  # noqa: ANN401
    """Return the state as it was: it is so already."""
    return _refused(state, code, ALREADY, facts)


def wrong_order(state: State, code: str, **facts: Any) -> Outcome:  # noqa: ANN401
    """Return the state as it was: something else comes first."""
    return _refused(state, code, WRONG_ORDER, facts)


def not_there(state: State, code: str, **facts: Any) -> Outcome:  # noqa: ANN401
    """Return the state as it was: what is asked for is missing."""
    return _refused(state, code, NOT_THERE, facts)


def not_possible(state: State, code: str, **facts: Any) -> Outcome:  # noqa: ANN401
    """Return the state as it was: it cannot be done so."""
    return _refused(state, code, NOT_POSSIBLE, facts)


def _refused(state: State, code: str, why: str, facts: Mapping[str, Any]) -> Outcome:
    return state, Observation(False, code, facts, "", why)  # noqa: FBT003 (hot path)
