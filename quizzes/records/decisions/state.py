"""Where a sitting stands after all that people decided about it: pure, from acts in their order."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import StrEnum

from quizzes.records.decisions.acts import (
    Act,
    Circumstances,
    Decision,
    Entered,
    Issued,
    Seat,
    Statement,
    Verdict,
)
from quizzes.records.decisions.observing import Observers, observers_of
from quizzes.records.decisions.practical import Practical


class Stage(StrEnum):
    """What a sitting waits for."""

    OPEN = "nobody has decided"
    SECOND = "a second assessor is to decide"
    DIFFER = "the two assessors differ"
    DECIDED = "decided"
    APPEALED = "an appeal waits for its ruling"
    REOPENED = "the appeal was upheld: to be decided again"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class State:
    """Where a sitting stands.

    Parameters
    ----------
    stage : Stage
        What it waits for.
    standing : Entered or None
        The decision that stands now; None while there is none, or once it was withdrawn.
    acts : tuple of Entered
        All of them that count, in order.
    unsigned : tuple of Entered
        Those that count for nothing, since no signed head vouches for them.
    """

    stage: Stage = Stage.OPEN
    standing: Entered | None = None
    acts: tuple[Entered, ...] = field(default=())
    unsigned: tuple[Entered, ...] = field(default=())

    @property
    def claimed(self) -> Verdict | None:
        """The last decision that no signed head vouches for."""
        found = [one.act for one in self.unsigned if isinstance(one.act, Decision)]
        return found[-1].verdict if found else None

    @property
    def verdict(self) -> Verdict | None:
        """What stands."""
        decision = self.standing and self.standing.act
        return decision.verdict if isinstance(decision, Decision) else None

    @property
    def decisions(self) -> tuple[Decision, ...]:
        """Every decision, in order."""
        return tuple(one.act for one in self.acts if isinstance(one.act, Decision))

    def seat(self, seat: Seat) -> Decision | None:
        """Return the last decision in a seat."""
        found = [one for one in self.decisions if one.seat is seat]
        return found[-1] if found else None

    @property
    def circumstances(self) -> Circumstances | None:
        """The circumstances that were stated last."""
        found = [one.act for one in self.acts if isinstance(one.act, Circumstances)]
        return found[-1] if found else None

    @property
    def practicals(self) -> tuple[Entered, ...]:
        """The last sheet of each observer, in order."""
        by_observer = {
            one.act.person_id: one for one in self.acts if isinstance(one.act, Practical)
        }
        return tuple(by_observer.values())

    @property
    def observers(self) -> Observers:
        """Who observed a practical first and who second."""
        return observers_of(one.act for one in self.acts if isinstance(one.act, Practical))

    @property
    def issued(self) -> tuple[Issued, ...]:
        """Every credential that was handed out."""
        return tuple(one.act for one in self.acts if isinstance(one.act, Issued))

    def shown(self) -> tuple[Entered, ...]:
        """Return the acts that may be shown: what the first did, only after the second.

        Notes
        -----
        The second assessor is to decide by the evidence alone, so nobody sees the first decision
        before, not even its verdict. The same holds for two observers of a practical.
        """
        hidden: tuple[type, ...] = (Decision,) if self.stage is Stage.SECOND else ()
        hidden += (Practical,) if self.observers.awaited else ()
        return tuple(one for one in self.acts if not isinstance(one.act, hidden))


def state_of(acts: Iterable[Entered]) -> State:
    """Return where a sitting stands after these acts, in their order.

    Notes
    -----
    An act that does not fit the stage in which it was kept counts for nothing, and stays listed.
    """
    state = State()
    for one in acts:
        state = replace(_after(state, one), acts=(*state.acts, one))
    return state


def _after(state: State, one: Entered) -> State:
    act = one.act
    if isinstance(act, Decision):
        return _decided(state, one, act)
    if isinstance(act, Statement):
        if one.kind is Act.APPEAL and state.stage is Stage.DECIDED:
            return replace(state, stage=Stage.APPEALED)
        if one.kind is Act.RULING and state.stage is Stage.APPEALED:
            return replace(state, stage=Stage.REOPENED if act.upheld else Stage.DECIDED)
        if one.kind is Act.WITHDRAWAL and state.stage is Stage.DECIDED:
            return replace(state, stage=Stage.WITHDRAWN, standing=None)
    return state


def _decided(state: State, one: Entered, act: Decision) -> State:
    stage = state.stage
    if act.seat is Seat.FIRST and stage is Stage.OPEN:
        if act.second_wanted:
            return replace(state, stage=Stage.SECOND)
        return replace(state, stage=Stage.DECIDED, standing=one)
    if act.seat is Seat.SECOND and stage is Stage.SECOND:
        first = state.seat(Seat.FIRST)
        if first and first.verdict is act.verdict:
            standing = next(x for x in state.acts if x.act is first)
            return replace(state, stage=Stage.DECIDED, standing=standing)
        return replace(state, stage=Stage.DIFFER)
    fits = (act.seat is Seat.SETTLEMENT and stage is Stage.DIFFER) or (
        act.seat is Seat.CORRECTION and stage in (Stage.DECIDED, Stage.REOPENED)
    )
    return replace(state, stage=Stage.DECIDED, standing=one) if fits else state


SEATS = {
    Stage.OPEN: Seat.FIRST,
    Stage.SECOND: Seat.SECOND,
    Stage.DIFFER: Seat.SETTLEMENT,
    Stage.DECIDED: Seat.CORRECTION,
    Stage.REOPENED: Seat.CORRECTION,
}


def refused(state: State, kind: Act, person_id: str, candidate_id: str) -> str:
    """Return why a person may not do this now, a whole sentence; empty if they may.

    Parameters
    ----------
    state : State
        Where the sitting stands.
    kind : Act
        What is to be done.
    person_id, candidate_id : str
        Who would do it, and whose sitting it is.
    """
    if kind is not Act.APPEAL and person_id == candidate_id:
        return "Nobody decides on a sitting of their own. Ask another assessor."
    if kind is Act.DECISION:
        return _not_deciding(state, person_id)
    wanted = {Act.APPEAL: Stage.DECIDED, Act.RULING: Stage.APPEALED, Act.WITHDRAWAL: Stage.DECIDED}
    if kind in wanted and state.stage is not wanted[kind]:
        return f"That cannot be done now: {state.stage.value}."
    if kind is Act.RULING and person_id in {one.person_id for one in state.decisions}:
        return "Whoever decided does not rule on the appeal against it. Ask somebody else."
    if kind is Act.WITHDRAWAL and state.verdict is not Verdict.COMPETENT:
        return "Only a competent outcome is withdrawn. Correct this decision instead."
    return ""


def _not_deciding(state: State, person_id: str) -> str:
    if state.stage not in SEATS:
        return f"It cannot be decided now: {state.stage.value}."
    first = state.seat(Seat.FIRST)
    if state.stage is Stage.SECOND and first and first.person_id == person_id:
        return "You decided first. The second assessor must be somebody else."
    return ""
