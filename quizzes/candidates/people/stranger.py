"""One virtual person: careful but for a habit of mind (`Habits`) or of the hands (other acts)."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from quizzes.candidates.habits import CAREFUL, Habits
from quizzes.cases.case import Case, Depth
from widgets.bench import actions as do
from widgets.bench.observed import Observation

# What somebody does in place of an act: others, or none.
Instead = Callable[[do.Action, Case], list[do.Action]]
Act = Callable[[do.Action], Observation]
# The hands of somebody who remembers: from what carries an act out and the case to what is asked.
Hands = Callable[[Act, Case], Act]
HALF_THE_CASES = 0.5
# What somebody takes for seen who has left an act out.
_TAKEN_FOR_SEEN: Mapping[str, Mapping[str, Any]] = {
    "test_hold": {"holds": True},
    "test_run": {"symptoms": ()},
    "energise": {"released": True},
    "de_energise": {"applied": "prompt"},
    "turn_shaft": {"turns": "freely"},
}


@dataclass(frozen=True)
class Stranger:
    """One habit: what it changes, and where.

    Attributes
    ----------
    changes : mapping
        Of the careful one's `Habits`.
    instead : callable, optional
        Other acts in place of some.
    hands : callable, optional
        In place of `instead`: other acts that depend on what was done and seen before.
    unsafe : bool
        Whether it can end unsafe, as `ends` tells it from the true brake.
    share : float
        In which share of the cases it shows, 0 to 1.
    depths : tuple of Depth
        At which cases it shows; at all, if empty.
    where : callable, optional
        At which cases it shows, by what the person has in front of them; at all, if not given.
    """

    changes: Mapping[str, Any] = field(default_factory=dict)
    instead: Instead | None = None
    unsafe: bool = True
    share: float = 1.0
    depths: tuple[Depth, ...] = ()
    where: Callable[[Case], bool] | None = None
    hands: Hands | None = None

    @cached_property
    def habits(self) -> Habits:
        """The careful one's habits with the changes."""
        return replace(CAREFUL, **self.changes)


def acting(act: Act, case: Case, instead: Instead | None) -> Act:
    """Return `act` as somebody does it who does other things in place of some."""
    if instead is None:
        return act

    def other(action: do.Action) -> Observation:
        seen = [act(one) for one in instead(action, case)]
        if seen:
            return seen[-1]
        done = action.kind != "find_release"  # nobody takes a percentage for seen
        return Observation(done, "left.out", _TAKEN_FOR_SEEN.get(action.kind, {}))

    return other


def left_out(action: do.Action, **facts: Any) -> Observation:  # noqa: ANN401 (facts of an act)
    """Return what somebody takes for seen who has left an act out."""
    taken = {**_TAKEN_FOR_SEEN.get(action.kind, {}), **facts}
    return Observation(done=True, code="left.out", facts=taken)


def without(*kinds: str) -> Instead:
    """Return the way of somebody who leaves acts of these kinds out."""
    return lambda action, _: [] if action.kind in kinds else [action]


def changed(kind: str, **fields: Any) -> Instead:  # noqa: ANN401 (fields of an act)
    """Return the way of somebody who does acts of a kind with these fields."""

    def instead(action: do.Action, _: Case) -> list[do.Action]:
        return [replace(action, **fields)] if action.kind == kind else [action]

    return instead


def both(first: Instead, second: Instead) -> Instead:
    """Return the way of somebody who has two ways."""
    return lambda action, case: [last for one in first(action, case) for last in second(one, case)]
