"""What an action brought: done or not, in words, and what can be seen or felt."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from .state import State


@dataclass(frozen=True, slots=True)
class Observation:
    """What an action brought: whether it could be done, in words, and what can be seen or felt.

    `seen` holds plain JSON values for the page, never more than the words say
    or an instrument shows. `alarm` is set when somebody could have been hurt.
    """

    done: bool
    words: str
    seen: Mapping[str, Any] = field(default_factory=dict)
    alarm: str = ""

    def to_json(self) -> dict[str, Any]:
        """Return the JSON form kept in the log."""
        return {
            "done": self.done,
            "words": self.words,
            "seen": dict(self.seen),
            "alarm": self.alarm,
        }


Outcome = tuple[State, Observation]


def refused(state: State, words: str) -> Outcome:
    """Return the state as it was, and what the person finds instead."""
    return state, Observation(done=False, words=words)


def seen(state: State, words: str, **what: Any) -> Outcome:  # noqa: ANN401 (plain JSON values)
    """Return a state with what was seen on the way to it."""
    return state, Observation(done=True, words=words, seen=what)


def harmed(state: State, words: str, alarm: str, **what: Any) -> Outcome:  # noqa: ANN401
    """Return a state in which somebody could have been hurt, with the alarm that says so."""
    after = state._replace(accidents=(*state.accidents, alarm))
    return after, Observation(done=True, words=f"{words} {alarm}", seen=what, alarm=alarm)
